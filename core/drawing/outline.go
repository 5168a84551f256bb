package drawing

import (
	"math"

	"ribband/core/msg"
)

// Outline is a boat from its starboard side in few lines, bow to the right, so that several stand to one scale beside
// each other: the hull on its water with its top, and one person for the eye to measure by.
type Outline struct {
	Boat
	Drafts *Drafts // nil: no water is drawn
	Seat   float64 // height of the seats above the base line, m; 0: 0.28 m below the sheer
	// Length that the width of the drawing stands for, m: of all that stand beside each other, that of the longest and
	// a little more.
	Over float64
}

// outlineAir is what is left above the head and below the keel, m.
const outlineAir = 0.12

// outlineDeep is the water drawn below the surface, m: that of launches of usual draught. A deeper keel is drawn whole.
const outlineDeep = 0.75

// SVG draws the outline. The error names what cannot be drawn.
func (in Outline) SVG(f Format) (string, error) {
	c, err := f.canvas("outline")
	if err != nil {
		return "", err
	}
	person := float64(0.75*in.Cockpit.Aft) + float64(0.25*in.Cockpit.Fore)
	p := &profile{Profile: Profile{Boat: in.Boat, Drafts: in.Drafts, Seat: in.Seat, Persons: []float64{person}},
		canvas: c}
	if err := p.check(); err != nil {
		return "", err
	}
	k := &check{kind: p.kind}
	if k.within("length of the width", in.Over, p.l.length(), 50, "m"); k.err != nil {
		return "", k.err
	}
	p.Shape = Shape{&p.Boat, p.l}
	p.datum = p.l.low
	if p.Drafts != nil {
		p.slope = math.Atan2(p.Drafts.Aft-p.Drafts.Fore, p.l.length())
		p.datum = (p.Drafts.Aft + p.Drafts.Fore) / 2
	}
	p.scale = c.width / in.Over
	p.left, p.right, p.ox = 0, c.width, c.width/2
	// the head is 0.9 m above the seat
	highest := p.SeatAt(person, p.Seat) + 0.9
	if p.Top.Kind != NoTop {
		highest = max(highest, p.Crown())
	}
	p.oy = float64(p.scale * (highest + outlineAir - p.datum))
	if p.Top.Kind != NoTop {
		p.frame()
	}
	p.person(person)
	p.skegAndDrive()
	p.path(p.body(), "fill", p.Hull.Or(HullWhite), "stroke", ink, "stroke-width", "2")
	p.path(p.pen().fair(p.along(p.l.x, p.l.sheer)).String(), "fill", "none", "stroke", p.Rail.Or(Timber),
		"stroke-width", p.number(max(3, 0.05*p.scale)), "stroke-linecap", "round")
	p.top()
	// As deep as all of them, so that those that stand beside each other with their lower edges level lie on one water.
	deep := p.oy + float64(p.scale*max(p.datum-p.l.low+outlineAir, outlineDeep))
	if p.Drafts != nil {
		p.rect(0, p.oy, c.width, deep-p.oy, "fill", water, "fill-opacity", "0.13")
		p.line(pt{0, p.oy}, pt{c.width, p.oy}, "stroke", water, "stroke-width", "2")
	}
	p.height = deep
	return p.finish(in.Name, msg.New("drawing.outline", p.long("length", p.l.length())))
}
