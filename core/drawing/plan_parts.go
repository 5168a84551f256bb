package drawing

import (
	"math"
	"slices"
	"strconv"

	"ribband/core/msg"
)

// deck draws the deck with its planks, and the rubbing strake around it. The strake is 50 mm broad to scale, but never
// too thin to show its colour.
func (p *plan) deck() {
	outline := p.outline()
	p.path(outline, "fill", p.Deck.Or(DeckIvory))
	if p.LaidDeck != "" {
		p.laid()
	}
	width := max(2.4, 0.05*p.scale)
	p.path(outline, "fill", "none", "stroke", ink, "stroke-width", p.number(width), "stroke-linejoin", "round")
	p.path(outline, "fill", "none", "stroke", p.Rail.Or(Timber), "stroke-width", p.number(max(1, width-1.4)),
		"stroke-linejoin", "round")
}

// The planks of deck and sole, m: common practice, no source. Those of the sole are drawn broader than they are, so
// that they can be told apart.
const (
	CoveringBoard = 0.1 // the outermost plank of a laid deck
	Plank         = 0.05
	SolePlank     = 0.07
)

// laid draws planks sprung along the sheer inside a covering board, with a king plank where they meet. The seams stop
// at the centre line by themselves, since no edge crosses it.
func (p *plan) laid() {
	starboard, port := p.edge(CoveringBoard, 1), p.edge(CoveringBoard, -1)
	if len(starboard) < 2 {
		return
	}
	inner := p.pen().fair(starboard).fair(reversed(port)).close().String()
	p.path(p.outline(), "fill", string(p.LaidDeck), "fill-opacity", "0.75")
	p.path(inner, "fill", string(p.LaidDeck))
	clip := p.clip("deck", inner)
	p.group("g", func() {
		for inside := CoveringBoard; inside < p.l.widest-0.05; inside += Plank {
			for _, side := range []float64{1, -1} {
				if e := p.edge(inside, side); len(e) > 1 {
					p.path(p.pen().fair(e).String())
				}
			}
		}
	}, "fill", "none", "stroke", dark, "stroke-opacity", "0.55", "stroke-width",
		p.number(min(1, max(0.5, 0.006*p.scale))), "clip-path", clip)
	for _, ends := range [][2]float64{{p.l.aft + 0.06, p.Cockpit.Aft}, {p.Cockpit.Fore, p.l.fore - 0.12}} {
		a, b := p.at(ends[0], -0.06), p.at(ends[1], 0.06)
		if b.x > a.x {
			p.rect(a.x, a.y, b.x-a.x, b.y-a.y, "fill", string(p.LaidDeck), "stroke", dark, "stroke-opacity", "0.55",
				"stroke-width", "0.8")
		}
	}
}

// cockpit draws coaming and sole, with straight planks fore and aft where the sole has them: the coaming is 30 mm
// outside the opening and 20 mm inside.
func (p *plan) cockpit() {
	p.path(p.opening(0.03), "fill", p.Coaming.Or(Timber), "stroke", dark, "stroke-width", "0.9")
	inner := p.opening(-0.02)
	p.path(inner, "fill", p.Sole.Or(SoleGrey), "stroke", dark, "stroke-width", "0.9")
	if !p.PlankedSole {
		return
	}
	clip := p.clip("sole", inner)
	p.group("g", func() {
		n := int(p.l.widest / SolePlank)
		for i := -n; i <= n; i++ {
			y := SolePlank * (float64(i) + 0.5)
			p.line(p.at(p.Cockpit.Aft, y), p.at(p.Cockpit.Fore, y))
		}
	}, "stroke", dark, "stroke-opacity", "0.45", "stroke-width", "0.7", "clip-path", clip)
}

// inside draws seats and what stands in the cockpit. Seats are given as rectangles; the clip path gives them the shape
// of the side that they stand against.
func (p *plan) inside() {
	clip := p.clip("cockpit", p.opening(-0.02))
	p.group("g", func() {
		for _, a := range p.Seats {
			p.area(a, 0.04, "fill", p.Cushion.Or(CushionGrey), "stroke", dark, "stroke-width", "0.9")
		}
		for _, f := range p.Fittings {
			f.inCockpit(p)
		}
	}, "clip-path", clip)
	for _, f := range p.Fittings {
		f.onTop(p)
	}
}

// area draws a rectangle with round corners of some metres; attrs are as those of [canvas.rect].
func (p *plan) area(a Area, round float64, attrs ...string) {
	q, r := p.at(a.Aft, a.Port), p.at(a.Fore, a.Starboard)
	p.rect(q.x, q.y, r.x-q.x, r.y-q.y, append([]string{"rx", p.number(round * p.scale)}, attrs...)...)
}

// hidden draws dashed what lies below decks and seats, and the drive below the hull. It comes after what hides it: a
// drawing that left it out would not say where the weight lies.
func (p *plan) hidden() {
	for _, f := range p.Fittings {
		f.below(p)
	}
	if p.Drive.Kind == Leg || p.Drive.Kind == Pod {
		for _, line := range [][]string{halo, hiddenLine} {
			p.ellipse(p.at(p.Drive.X, 0), 0.2*p.scale, 0.055*p.scale, line...)
		}
	}
}

// shaftEnd is where the propeller of a shaft turns, m: aft of the skeg, or at the aft end of a hull without one.
func (p *plan) shaftEnd() float64 {
	if from, _, ok := p.l.skeg(); ok {
		return p.l.x[from]
	}
	return p.l.aft
}

// roof draws the outline of a top, dash-dotted, as is the custom for what lies above the plane that is drawn.
func (p *plan) roof() {
	if p.Top.Kind == NoTop {
		return
	}
	half := p.RoofHalf()
	p.area(Area{Aft: p.Top.Aft, Fore: p.Top.Fore, Port: -half, Starboard: half}, 0.15, "fill", "none", "stroke", dark,
		"stroke-width", "1.1", "stroke-dasharray", "10 3 2 3")
}

// key numbers an area, with its name in the legend, or what it usually is; areas of one name have one number. Names
// would not fit into areas on a telephone.
func (p *plan) key(a Area, usual msg.Message) {
	name := named(a.Name, p.words.Text(usual))
	n := slices.Index(p.keys, name)
	if n < 0 {
		n, p.keys = len(p.keys), append(p.keys, name)
	}
	at := p.free(a)
	p.marks = append(p.marks, at)
	p.ellipse(at, markRadius, markRadius, "fill", paper, "stroke", ink, "stroke-width", "0.8")
	p.text(pt{at.x, at.y + 4}, middle, strconv.Itoa(n+1), "font-size", p.number(smallSize), "fill", ink)
}

// markRadius is that of the ring round a number, user units.
const markRadius = 7.5

// free is a place for the number of an area that no other number covers: its middle, else near one of its ends.
func (p *plan) free(a Area) pt {
	centre := p.at((a.Aft+a.Fore)/2, (a.Port+a.Starboard)/2)
	for _, at := range []pt{centre,
		{p.at(a.Fore, 0).x - markRadius, centre.y}, {p.at(a.Aft, 0).x + markRadius, centre.y},
		{centre.x, p.at(0, a.Port).y + markRadius}, {centre.x, p.at(0, a.Starboard).y - markRadius}} {
		if !slices.ContainsFunc(p.marks, func(m pt) bool { return math.Hypot(m.x-at.x, m.y-at.y) < 2*markRadius+1 }) {
			return at
		}
	}
	return centre
}

// legend says what the numbers mean, and the lines; empty where there is nothing to say. It stands below the plan and
// in its description.
func (p *plan) legend() []msg.Message {
	var list []msg.Message
	for i, name := range p.keys {
		list = append(list, msg.New("drawing.plan-key", msg.Count("number", i+1), msg.Text("name", name)))
	}
	if p.Top.Kind != NoTop {
		list = append(list, msg.New("drawing.plan-top", msg.Choice("top", string(p.Top.Kind))))
	}
	return list
}

// Benches are the usual seats of a day launch: a bench across the aft end of the cockpit, a seat along either side, and
// one at the helm, its middle 0.55 m aft of the wheel; nil: none. Half the beam is in m. The aft bench is 0.5 m deep,
// the side seats 0.42 m; a seat for which there is not 0.4 m is left out.
//
// Source: usual dimensions, common practice, no source. The seats are clipped to the cockpit when drawn.
func Benches(c Cockpit, halfBeam float64, wheel *Wheel) []Area {
	half := math.Max(0.1, halfBeam-SideDeck)
	depth := math.Min(0.42, half/2)
	port := c.Aft + float64(0.62*(c.Fore-c.Aft))
	starboard := port
	if wheel != nil { // the side seat beside the helm ends aft of it
		if wheel.Y-0.22 < depth-half {
			port = math.Min(port, wheel.X-0.8)
		}
		if wheel.Y+0.22 > half-depth {
			starboard = math.Min(starboard, wheel.X-0.8)
		}
	}
	all := []Area{
		{Name: "aft bench", Aft: c.Aft, Fore: c.Aft + 0.5, Port: -half, Starboard: half},
		{Name: "port seat", Aft: c.Aft + 0.52, Fore: port, Port: -half, Starboard: depth - half},
		{Name: "starboard seat", Aft: c.Aft + 0.52, Fore: starboard, Port: half - depth, Starboard: half},
	}
	if wheel != nil {
		all = append(all, Area{Name: "helm seat", Aft: wheel.X - 0.75, Fore: wheel.X - 0.35, Port: wheel.Y - 0.22,
			Starboard: wheel.Y + 0.22})
	}
	return slices.DeleteFunc(all, func(a Area) bool { return a.Fore-a.Aft < 0.399 || a.Aft < c.Aft || a.Fore > c.Fore })
}
