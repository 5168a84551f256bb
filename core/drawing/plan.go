package drawing

import (
	"ribband/core/msg"
)

// Plan is the boat from above, bow to the right, starboard below, to scale.
type Plan struct {
	Boat
	// See [Benches].
	Seats []Area
}

// plan is a plan on its way onto paper.
type plan struct {
	Plan
	*canvas
	Shape
	l      *lines
	scale  float64
	ox, oy float64  // where the aft end of the centre line lies
	keys   []string // the names of numbered areas, in their order
	marks  []pt     // where numbers stand, user units
}

// SVG draws the plan. The error names what cannot be drawn: offsets that are none, a seat or a fitting beyond the
// hull.
func (in Plan) SVG(f Format) (string, error) {
	c, err := f.canvas("plan")
	if err != nil {
		return "", err
	}
	p := &plan{Plan: in, canvas: c}
	if err := p.check(); err != nil {
		return "", err
	}
	p.Shape = Shape{&p.Boat, p.l}
	const left, right = 64.0, 14.0
	p.scale = (p.width - left - right) / p.l.length()
	p.ox, p.oy = left-float64(p.scale*p.l.aft), 14+float64(p.scale*p.l.widest)
	p.deck()
	p.cockpit()
	p.inside()
	p.hidden()
	p.roof()
	y := p.dimensions()
	p.height = p.foot(y) + 8
	return p.finish(in.Name, p.describe()...)
}

// check asks all of the boat, and the seats.
func (p *plan) check() error {
	k := &check{kind: p.kind}
	if p.l = p.newLines(k); p.l == nil {
		return k.err
	}
	for _, a := range p.Seats {
		a.check(k, p.l)
	}
	return k.err
}

// at is a point of the boat on paper: x m from its origin forward, y m from the centre line to starboard, which is
// down.
func (p *plan) at(x, y float64) pt { return pt{p.ox + float64(p.scale*x), p.oy + float64(p.scale*y)} }

// edge is the line at a distance inside the sheer, m, on one side (1 starboard, -1 port), where it is off the centre
// line: the seam of a plank that is sprung along the side.
func (p *plan) edge(inside, side float64) []pt {
	var out []pt
	const n = 48
	for i := range n + 1 {
		x := p.l.aft + p.l.length()*float64(i)/n
		if y := p.l.halfAt.Predict(x) - inside; y > 0.01 {
			out = append(out, p.at(x, side*y))
		}
	}
	return out
}

// outline is the deck at its sheer, starboard from the transom to the stem and port back.
func (p *plan) outline() string {
	var side []pt
	for i, x := range p.l.x {
		side = append(side, p.at(x, p.l.half[i]))
	}
	return p.ring(side)
}

// ring goes along a starboard side from aft and back along the same to port: a boat is as symmetrical on paper as it is
// built.
func (p *plan) ring(side []pt) string {
	port := make([]pt, len(side))
	for i, q := range side {
		port[i] = pt{q.x, 2*p.oy - q.y}
	}
	return p.pen().fair(side).fair(reversed(port)).close().String()
}

// opening is the cockpit as a path, grown or shrunk by some metres.
func (p *plan) opening(grow float64) string {
	var side []pt
	for _, q := range p.Opening(grow) {
		side = append(side, p.at(q.X, q.Y))
	}
	return p.ring(side)
}

// describe gives the main dimensions, and what the numbers on the drawing stand for.
func (p *plan) describe() []msg.Message {
	list := []msg.Message{msg.New("drawing.plan", p.long("length", p.l.length()),
		p.long("beam", p.beam()))}
	if p.LaidDeck != "" {
		list = append(list, msg.New("drawing.plan-laid"))
	}
	if legend := p.legend(); len(legend) > 0 {
		list = append(list, msg.New("drawing.plan-numbered", msg.Words("keys", msg.Sentences(legend...))))
	}
	return append(list, caution)
}

// beam is the largest at the sheer, m, of all stations.
func (p *plan) beam() float64 {
	widest := 0.0
	for _, y := range p.l.half {
		widest = max(widest, y)
	}
	return 2 * widest
}

// dimensions draws beam and length and gives the y below them. The beam is that of the sheer, which is what is seen
// from above; flare below it is narrower.
func (p *plan) dimensions() float64 {
	half := p.beam() / 2
	top, low := p.at(0, -half).y, p.at(0, half).y
	p.dimensionUp(46, low, top, p.oy-2, end, p.dimension("beam"), p.length(p.beam()))
	y := low + 22
	aft, fore := p.at(p.l.aft, 0).x, p.at(p.l.fore, 0).x
	p.extension(pt{aft, p.at(0, p.l.half[0]).y + 3}, pt{aft, y + 5})
	p.extension(pt{fore, p.oy + 6}, pt{fore, y + 5})
	p.dimensionAcross(aft, fore, y, p.words.Say("drawing.length", p.long("length", p.l.length())))
	return y + 12
}

// foot draws scale bar and legend below y and gives the y of the end. Bar and caution are those of the profile.
func (p *plan) foot(y float64) float64 {
	return p.barAndNotes(y, p.scale, []string{p.words.Text(msg.Sentences(p.legend()...))})
}
