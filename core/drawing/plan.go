package drawing

import (
	"fmt"
	"math"
	"strings"

	"ribband/core/hull"
)

// Plan is the boat from above, bow to the right, starboard below, to scale.
type Plan struct {
	Name    string // of the boat, for the title
	Offsets hull.Offsets

	Cockpit                      Cockpit
	Deck, Sole, Coaming, Cushion Colour
	Rail                         Colour  // rubbing strake
	Laid                         Colour  // of the timber of a laid deck; blank: the deck is not laid
	Planks                       float64 // width of a plank of the deck, m; 0: 0.05 m
	Planked                      Colour  // of the timber of a planked sole; blank: it is not planked
	Seats                        []Area  // see [Benches]
	Table                        *Area
	Dash                         float64 // place of the dash, m from the aft end; 0: none
	Wheel                        *Place  // of the steering wheel
	Bank                         []Area  // drawn dashed, below seats and decks
	Motor                        *Area
	Drive                        Drive
	Tiller                       bool // on a rudder head at the aft end
	Top                          Top  // its outline is drawn dashed when it is up
	Notes                        []string
}

// Place is a point seen from above.
type Place struct{ X, Y float64 } // m from the aft end, and from the centre line to starboard

// plan is a plan on its way onto paper.
type plan struct {
	Plan
	*canvas
	l      *lines
	scale  float64
	ox, oy float64 // where the aft end of the centre line lies
	keys   []string
}

// SVG draws the plan.
func (in Plan) SVG(f Format) (string, error) {
	c, err := f.canvas("plan")
	if err != nil {
		return "", err
	}
	p := &plan{Plan: in, canvas: c}
	p.Cockpit = p.Cockpit.filled()
	if p.Planks == 0 {
		p.Planks = 0.05
	}
	if err := p.check(); err != nil {
		return "", err
	}
	const left, right = 64.0, 14.0
	p.scale = (p.width - left - right) / p.l.length()
	p.ox, p.oy = left-p.scale*p.l.aft, 14+p.scale*p.l.widest
	p.deck()
	p.cockpit()
	p.inside()
	p.hidden()
	p.roof()
	y := p.dimensions()
	p.height = p.legend(y) + 8
	return p.finish(of("Plan", in.Name), p.describe())
}

func (p *plan) check() error {
	k := &check{kind: p.kind}
	if p.l = newLines(k, p.Offsets); k.err != nil {
		return k.err
	}
	p.Cockpit.check(k, p.l)
	k.within("width of a plank", p.Planks, 0.02, 0.5, "m")
	for _, c := range []struct {
		what string
		c    Colour
	}{{"deck", p.Deck}, {"sole", p.Sole}, {"coaming", p.Coaming}, {"cushions", p.Cushion}, {"rail", p.Rail},
		{"laid deck", p.Laid}, {"planked sole", p.Planked}} {
		k.colour(c.what, c.c)
	}
	for _, list := range [][]Area{p.Seats, p.Bank, one(p.Table), one(p.Motor)} {
		for _, a := range list {
			a.check(k, p.l)
		}
	}
	if p.Dash != 0 {
		k.within("dash's place", p.Dash, p.l.aft, p.l.fore, "m")
	}
	if p.Wheel != nil {
		k.within("wheel's place", p.Wheel.X, p.l.aft, p.l.fore, "m")
		k.within("wheel's distance from the centre line", p.Wheel.Y, -p.l.widest, p.l.widest, "m")
	}
	p.Drive.check(k, p.l)
	p.Top.check(k, p.l)
	return k.err
}

func one(a *Area) []Area {
	if a == nil {
		return nil
	}
	return []Area{*a}
}

func (p *plan) at(x, y float64) pt { return pt{p.ox + p.scale*x, p.oy + p.scale*y} }

// edge is the line at a distance inside the sheer, on one side (1 starboard, -1 port), where it is off the centre line.
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

// outline is the deck at its sheer.
func (p *plan) outline() string {
	var side []pt
	for i, x := range p.l.x {
		side = append(side, p.at(x, p.l.half[i]))
	}
	port := make([]pt, len(side))
	for i, q := range side {
		port[i] = pt{q.x, 2*p.oy - q.y}
	}
	return p.pen().fair(side).fair(reversed(port)).close().String()
}

// opening is the cockpit, grown or shrunk by some metres: along the sheer at its sides, rounded at its ends.
func (p *plan) opening(grow float64) string {
	aft, fore := p.Cockpit.Aft-grow, p.Cockpit.Fore+grow
	half := func(x float64) float64 {
		return max(0.05, p.l.halfAt.Predict(min(max(x, p.l.aft), p.l.fore))-p.Cockpit.SideDeck+grow)
	}
	var side []pt
	end := func(from, radius float64) { // a quarter of a curve between circle and square
		const n = 8
		for i := range n + 1 {
			sin, cos := math.Sincos(math.Pi / 2 * float64(i) / n)
			sin, cos = math.Pow(max(0, sin), 0.7), math.Pow(max(0, cos), 0.7)
			x := from + radius*(1-cos)
			side = append(side, p.at(x, half(x)*sin))
		}
	}
	end(aft, min(0.3, (fore-aft)/4))
	k := len(side)
	radius := min(0.75, (fore-aft)/3)
	end(fore, -radius)
	foreEnd := reversed(side[k:])
	side = side[:k]
	from, to := aft+min(0.3, (fore-aft)/4), fore-radius
	for i := 1; i < 12; i++ {
		x := from + (to-from)*float64(i)/12
		side = append(side, p.at(x, half(x)))
	}
	side = append(side, foreEnd...)
	port := make([]pt, len(side))
	for i, q := range side {
		port[i] = pt{q.x, 2*p.oy - q.y}
	}
	return p.pen().fair(side).fair(reversed(port)).close().String()
}

func (p *plan) describe() string {
	var b strings.Builder
	fmt.Fprintf(&b, "View from above to scale, bow to the right, starboard below. Length of the hull %s, beam at the sheer %s.", metres(p.l.length()), metres(p.beam()))
	if p.Laid != "" {
		b.WriteString(" The decks are laid in timber.")
	}
	if len(p.keys) > 0 {
		b.WriteString(" Numbered: " + strings.Join(p.keys, ". ") + ".")
	}
	b.WriteString(" " + Caution)
	return b.String()
}

// beam is the largest at the sheer, m.
func (p *plan) beam() float64 {
	widest := 0.0
	for _, y := range p.l.half {
		widest = max(widest, y)
	}
	return 2 * widest
}

// dimensions draws beam and length and gives the y below them.
func (p *plan) dimensions() float64 {
	half := p.beam() / 2
	top, low := p.at(0, -half).y, p.at(0, half).y
	p.dimensionUp(46, low, top, p.oy-2, end, "beam", metres(p.beam()))
	y := low + 22
	aft, fore := p.at(p.l.aft, 0).x, p.at(p.l.fore, 0).x
	p.extension(pt{aft, p.at(0, p.l.half[0]).y + 3}, pt{aft, y + 5})
	p.extension(pt{fore, p.oy + 6}, pt{fore, y + 5})
	p.dimensionAcross(aft, fore, y, "length "+metres(p.l.length()))
	return y + 12
}

// legend draws scale bar, keys and notes below y and gives the y of the end.
func (p *plan) legend(y float64) float64 {
	notes := p.Notes
	if len(p.keys) > 0 {
		notes = append([]string{strings.Join(p.keys, ". ") + "."}, notes...)
	}
	return p.barAndNotes(y, p.scale, notes)
}
