package drawing

import (
	"math"

	"ribband/core/msg"
)

// Profile is the boat from its starboard side, bow to the right, to scale, floating at its draughts.
type Profile struct {
	Boat
	// Nil: no water is drawn, and the base line is level.
	Drafts *Drafts

	// Places of seated persons, m from the aft end.
	Persons []float64
	// Height of the seats above the base line, m; 0: 0.28 m below the sheer.
	Seat float64
	// Lights and staffs.
	Poles []Pole

	// The draughts to the base line are noted too.
	BaseLine bool

	// Figures as computed elsewhere, m; 0: as measured on the drawing.
	AirDraft, Freeboard, Draft float64

	// Height above the water with the hood folded, m; 0: not shown.
	Folded float64
	// Below the drawing.
	Notes []string
}

// Pole stands on the deck: a light or a staff. Top is the height of its head above the base line, m.
type Pole struct{ X, Top float64 }

// More than any launch carries.
const (
	mostPoles   = 20
	mostPersons = 40
)

// profile is a profile on its way onto paper.
type profile struct {
	Profile
	*canvas
	Shape
	l           *lines
	scale       float64 // user units in a metre
	left, right float64 // x between which the boat and its water lie
	ox, oy      float64 // where the middle of the water line lies on paper
	slope       float64 // angle of the base line to the water, rad, positive by the stern
	datum       float64 // height above the base line, halfway along, that lies at oy
	outline     string  // reference to the clip path of the hull
}

// SVG draws the profile. The error names what cannot be drawn: offsets that are none, a draught at which the boat does
// not float, a place beyond the hull.
func (in Profile) SVG(f Format) (string, error) {
	c, err := f.canvas("profile")
	if err != nil {
		return "", err
	}
	p := &profile{Profile: in, canvas: c}
	if err := p.check(); err != nil {
		return "", err
	}
	p.Shape = Shape{&p.Boat, p.l}
	p.layOut()
	p.behind()
	p.hull()
	p.water()
	p.top()
	p.bundle()
	bottom := p.dimensions()
	p.height = p.foot(bottom) + 8
	return p.finish(in.Name, p.describe()...)
}

// check asks all of the boat, then what only the profile shows. Heights beyond 10 m are likely in other units.
func (p *profile) check() error {
	k := &check{kind: p.kind}
	if p.l = p.newLines(k); p.l == nil {
		return k.err
	}
	p.l.checkDrafts(k, p.Drafts)
	if len(p.Persons) > mostPersons {
		k.fail("there are %d persons; give at most %d", len(p.Persons), mostPersons)
	}
	for _, x := range p.Persons {
		k.within("place of a person", x, p.l.aft, p.l.fore, "m")
	}
	k.within("seat", p.Seat, 0, 5, "m")
	if len(p.Poles) > mostPoles {
		k.fail("there are %d poles; give at most %d", len(p.Poles), mostPoles)
	}
	for _, o := range p.Poles {
		k.within("place of a pole", o.X, p.l.aft, p.l.fore, "m")
		k.within("head of a pole", o.Top, p.l.low, 20, "m above the base line")
	}
	k.within("air draught", p.AirDraft, 0, 10, "m")
	k.within("air draught with the hood folded", p.Folded, 0, 10, "m")
	k.within("freeboard", p.Freeboard, 0, 10, "m")
	k.within("draught", p.Draft, 0, 10, "m")
	return k.err
}

// Room beside the boat for its dimensions, user units.
const (
	profileLeft  = 68.0
	profileRight = 62.0
)

// layOut chooses the scale and where the water lies.
//
// The base line leans by the trim, so the boat is turned until the water is level: what is asked of a boat is how it
// lies in the water. The scale is that at which the length fits between the dimensions on either side; the height
// follows, and the paper is cut below the last line of text.
func (p *profile) layOut() {
	p.left, p.right = profileLeft, p.width-profileRight
	p.datum = p.l.low
	if p.Drafts != nil {
		p.slope = math.Atan2(p.Drafts.Aft-p.Drafts.Fore, p.l.length())
		p.datum = (p.Drafts.Aft + p.Drafts.Fore) / 2
	}
	// Measured at a scale of one about the origin, the extremes give scale and origin in one step.
	p.scale, p.ox, p.oy = 1, 0, 0
	lo, hi := pt{math.Inf(1), math.Inf(1)}, pt{math.Inf(-1), math.Inf(-1)}
	for _, q := range p.extremes() {
		lo = pt{min(lo.x, q.x), min(lo.y, q.y)}
		hi = pt{max(hi.x, q.x), max(hi.y, q.y)}
	}
	p.scale = (p.right - p.left - 12) / (hi.x - lo.x)
	p.ox = float64((p.left+p.right)/2) - float64(p.scale*(lo.x+hi.x)/2)
	p.oy = 14 - float64(p.scale*lo.y)
}

// extremes are points that the paper must hold: the hull, the heads of persons, what stands up with a little air above
// it, and what hangs below. A head is 0.88 m above its seat; the rest of 1.03 m is air.
func (p *profile) extremes() []pt {
	var out []pt
	for i, x := range p.l.x {
		out = append(out, p.at(x, p.l.keel[i]), p.at(x, p.l.sheer[i]+CoamingHeight))
	}
	for _, x := range p.Persons {
		out = append(out, p.at(x, p.SeatAt(x, p.Seat)+1.03))
	}
	for _, o := range p.Poles {
		out = append(out, p.at(o.X, o.Top+0.02))
	}
	for _, f := range p.Fittings {
		if x, z, ok := f.highest(p.l); ok {
			out = append(out, p.at(x, z+0.16))
		}
	}
	if p.Top.Kind != NoTop {
		out = append(out, p.at(p.Top.Aft, p.Crown()), p.at(p.Top.Fore, p.Crown()))
	}
	if p.Drive.Kind == Leg || p.Drive.Kind == Pod {
		out = append(out, p.at(p.Drive.X, p.l.bottomAt.Predict(p.Drive.X)-PodDepth-0.15))
	}
	return out
}

// at is a point of the boat on paper: turned by the trim about the middle of the water line.
//
// Formula: x′ = dx·cos φ − dz·sin φ, z′ = dx·sin φ + dz·cos φ, from the middle of the length and the water there, with
// φ = atan((draught aft − draught fore)/length); then to scale, and downwards.
func (p *profile) at(x, z float64) pt {
	dx, dz := x-p.l.middle(), z-p.datum
	sin, cos := math.Sincos(p.slope)
	return pt{p.ox + float64(p.scale*(float64(dx*cos)-float64(dz*sin))), p.oy - float64(p.scale*(float64(dx*sin)+
		float64(dz*cos)))}
}

// along gives the points of a curve of the table: heights z at places x, m. Both are as long.
func (p *profile) along(x, z []float64) []pt {
	out := make([]pt, len(x))
	for i := range x {
		out[i] = p.at(x[i], z[i])
	}
	return out
}

// between samples a height, m above the base line, at n equal steps from one place to another, for a curve that the
// table does not have.
func (p *profile) between(from, to float64, n int, z func(x float64) float64) []pt {
	out := make([]pt, n+1)
	for i := range out {
		x := from + (to-from)*float64(i)/float64(n)
		out[i] = p.at(x, z(x))
	}
	return out
}

// describe gives the dimensions that the drawing shows, and what stands over the cockpit.
func (p *profile) describe() []msg.Message {
	list := []msg.Message{msg.New("drawing.profile", p.long("length", p.l.length()))}
	if p.Drafts != nil {
		list = append(list, msg.New("drawing.profile-afloat", p.long("draught", p.draft()),
			p.long("freeboard", p.freeboard()), p.long("height", p.airDraft())))
	}
	if p.Top.Kind != NoTop {
		list = append(list, msg.New("drawing.profile-top", msg.Choice("top", string(p.Top.Kind))))
	}
	if p.folds() {
		list = append(list, msg.New("drawing.profile-folded", p.long("height", p.Folded)))
	}
	if p.Enclosure != NoEnclosure {
		list = append(list, msg.New("drawing.profile-enclosure", msg.Choice("enclosure", string(p.Enclosure))))
	}
	return append(list, caution)
}
