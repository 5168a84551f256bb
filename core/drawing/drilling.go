package drawing

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ribband/core/hull"
	"ribband/core/msg"
)

// Drilling is the deck from above with the plates below it that are drilled and tapped, bow to the right.
type Drilling struct {
	Name    string
	Offsets hull.Offsets
	Plates  []DeckPlate // as they are numbered, from 1
	Notes   []string
}

// DeckPlate is a plate below the deck.
type DeckPlate struct {
	X, Y  float64 // m, of its middle: from the aft end forward, from the centre line to starboard
	Words string  // what stands beside its number
}

// SVG draws the plan. The error names what is wrong with offsets, or the plate that lies beside the deck.
func (in Drilling) SVG(f Format) (string, error) {
	c, err := f.canvas("drilling plan")
	if err != nil {
		return "", err
	}
	k := &check{kind: c.kind}
	// the edge is that of all drawings, and where the book measures from
	l := newLines(k, in.Offsets)
	if len(in.Plates) == 0 {
		k.fail("there are no plates; give one")
	}
	for i, p := range in.Plates {
		if k.err == nil {
			k.within(fmt.Sprintf("place along of plate %d", i+1), p.X, 0, l.length(), "m")
			edge := l.halfAt.Predict(l.aft + p.X)
			k.within(fmt.Sprintf("place across of plate %d", i+1), p.Y, -edge, edge, "m")
		}
	}
	if k.err != nil {
		return "", k.err
	}
	// numbers outside of the deck, port ones above it and the others below, in rows where they would touch
	const left = 20.0
	scale := (c.width - 2*left) / l.length()
	// those on the centre line stand with the port ones: there is most room where no dimension is written
	sides := [2][]int{}
	for i, p := range in.Plates {
		side := 0
		if p.Y > 0 {
			side = 1
		}
		sides[side] = append(sides[side], i)
	}
	rows, levels := [2][]int{}, [2]int{}
	for side, list := range sides {
		slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(in.Plates[a].X, in.Plates[b].X) })
		var places []float64
		for _, i := range list {
			places = append(places, left+float64(scale*in.Plates[i].X))
		}
		rows[side], levels[side] = rowsOf(places)
	}
	// the deck between its numbers, as high as their rows ask for
	middle := 20 + float64(pegRow*float64(levels[0])) + float64(scale*l.widest)
	at := func(x, y float64) pt { return pt{left + float64(scale*x), middle + float64(scale*y)} }
	c.deckEdge(l, at)
	for side, list := range sides {
		up := []float64{-1, 1}[side]
		for k, i := range list {
			// a plate is drawn as a mark and not to scale: at the width of a telephone it would be a dot
			p := in.Plates[i]
			q := at(p.X, p.Y)
			tip := pt{q.x, middle + float64(up*(float64(scale*l.widest)+8+float64(pegRow*float64(rows[side][k]))))}
			c.line(q, tip, "stroke", soft, "stroke-width", "0.8")
			c.rect(q.x-5, q.y-2.5, 10, 5, "fill", paper, "stroke", ink, "stroke-width", "1.4")
			c.label(pt{tip.x, tip.y + float64(up*6) + 4}, "middle", c.words.Number(float64(i+1), 0))
		}
	}
	y := middle + float64(scale*l.widest) + 20 + float64(pegRow*float64(levels[1]))
	// by number, as in the table beside it
	list := make([]string, len(in.Plates))
	for i, p := range in.Plates {
		list[i] = c.words.Say("drawing.plate", msg.Count("n", i+1), msg.Text("words", p.Words))
	}
	c.height = c.barAndNotes(y, scale, append(slices.Clone(list), in.Notes...)) + 8
	return c.finish(in.Name, msg.New("drawing.drilling", msg.Text("plates", strings.Join(list, "; "))), caution)
}

// DeckEdge is the edge of a deck as all drawings have it: the ends of the hull, m, and its half-breadth at a place
// between them. The error says what is wrong with the offsets.
func DeckEdge(o hull.Offsets) (aft, fore float64, half func(x float64) float64, err error) {
	k := &check{kind: "edge of the deck"}
	l := newLines(k, o)
	if k.err != nil {
		return 0, 0, nil, k.err
	}
	return l.aft, l.fore, l.halfAt.Predict, nil
}

// deckEdge draws the edge of the deck from above, and the centre line from which places across are measured.
func (c *canvas) deckEdge(l *lines, at func(x, y float64) pt) {
	var port, starboard []pt
	for i, x := range l.x {
		port = append(port, at(x-l.aft, -l.half[i]))
		starboard = append(starboard, at(x-l.aft, l.half[i]))
	}
	d := c.pen().fair(port).to(starboard[len(starboard)-1]).fair(reversed(starboard)).close()
	c.path(d.String(), "fill", DeckIvory, "stroke", ink, "stroke-width", "1.4", "stroke-linejoin", "round")
	c.line(at(-0.05, 0), at(l.length()+0.05, 0), "stroke", soft, "stroke-width", "0.8", "stroke-dasharray", "10 3 2 3")
}
