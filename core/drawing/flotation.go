package drawing

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/hull"
	"ribband/core/msg"
)

// Flotation is the deck from above with the blocks of foam below it, bow to the right: alike on both sides, and
// numbered on the port one.
type Flotation struct {
	Name    string
	Offsets hull.Offsets
	Blocks  []FoamBlock // as they are numbered, from 1
	Notes   []string
}

// FoamBlock is a block along the edge of the deck.
type FoamBlock struct {
	Aft, Fore, Inboard, Breadth float64 // m; along from the aft end, across from the edge of the deck
	Words                       string  // what stands beside its number
}

// SVG draws the plan. The error names what is wrong with offsets, or the block that lies beside the deck.
func (in Flotation) SVG(f Format) (string, error) {
	c, err := f.canvas("flotation plan")
	if err != nil {
		return "", err
	}
	k := &check{kind: c.kind}
	l := newLines(k, in.Offsets)
	if len(in.Blocks) == 0 {
		k.fail("there are no blocks; give one")
	}
	for i, b := range in.Blocks {
		if k.err == nil {
			k.within(fmt.Sprintf("fore end of block %d", i+1), b.Fore, 0, l.length(), "m")
			k.within(fmt.Sprintf("aft end of block %d", i+1), b.Aft, 0, b.Fore, "m")
			k.within(fmt.Sprintf("inner face of block %d", i+1), b.Inboard+b.Breadth, 0, 2*l.widest, "m")
		}
	}
	if k.err != nil {
		return "", k.err
	}
	// numbers above the deck, from aft, in rows where they would touch
	const left = 20.0
	scale := (c.width - 2*left) / l.length()
	order := make([]int, len(in.Blocks))
	for i := range order {
		order[i] = i
	}
	// a number stands over the middle of its block
	mid := func(i int) float64 { return float64((in.Blocks[i].Aft + in.Blocks[i].Fore) / 2) }
	slices.SortStableFunc(order, func(a, b int) int { return int(1e3 * (mid(a) - mid(b))) })
	places := make([]float64, len(order))
	for k, i := range order {
		places[k] = left + float64(scale*mid(i))
	}
	rows, levels := rowsOf(places)
	// the centre line, below the numbers and half of the deck
	middle := 20 + float64(pegRow*float64(levels)) + float64(scale*l.widest)
	at := func(x, y float64) pt { return pt{left + float64(scale*x), middle + float64(scale*y)} }
	c.deckEdge(l, at)
	for k, i := range order {
		b := &in.Blocks[i]
		// a swamped boat lists to the side that has less
		for _, side := range []float64{-1, 1} {
			c.path(b.outline(c, l, at, side), "fill", water, "fill-opacity", "0.35", "stroke", ink, "stroke-width", "1")
		}
		// to the middle of the block, wherever the deck is as narrow as it
		y := max(0, l.halfAt.Predict(l.aft+float64(mid(i)))-b.Inboard-float64(b.Breadth/2))
		tip := pt{places[k], middle - float64(scale*l.widest) - 8 - float64(pegRow*float64(rows[k]))}
		c.line(at(mid(i), -y), tip, "stroke", soft, "stroke-width", "0.8")
		c.label(pt{tip.x, tip.y - 2}, "middle", c.words.Number(float64(i+1), 0))
	}
	y := middle + float64(scale*l.widest) + 20
	// by number, as in the table beside it
	list := make([]string, len(in.Blocks))
	for i, b := range in.Blocks {
		list[i] = c.words.Say("drawing.plate", msg.Count("n", i+1), msg.Text("words", b.Words))
	}
	c.height = c.barAndNotes(y, scale, append(slices.Clone(list), in.Notes...)) + 8
	return c.finish(in.Name, msg.New("drawing.flotation", msg.Text("blocks", strings.Join(list, "; "))), caution)
}

// outline is a block on one side, its faces along the edge of the deck; never over the centre line.
func (b *FoamBlock) outline(c *canvas, l *lines, at func(x, y float64) pt, side float64) string {
	// pieces of straight foam follow the edge closely enough in eight
	const n = 8
	var outer, inner []pt
	for i := range n + 1 {
		x := b.Aft + float64((b.Fore-b.Aft)*float64(i)/n)
		y := max(0, l.halfAt.Predict(l.aft+x)-b.Inboard)
		outer = append(outer, at(x, side*y))
		inner = append(inner, at(x, side*max(0, y-b.Breadth)))
	}
	return c.pen().fair(outer).to(inner[n]).fair(reversed(inner)).close().String()
}
