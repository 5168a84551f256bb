package drawing

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"ribband/core/msg"
	"ribband/core/wiring"
)

// LoomBoard is the board on which the loom is tied: for each place where circuits begin their bundle straightened, to
// scale, with a numbered peg where each of them leaves it. Wires are cut to length and laid before a boat is there, so
// that all lengths are the book's. A single circuit needs no board.
type LoomBoard struct {
	Name  string
	Loom  wiring.Loom
	Notes []string // below the drawing
}

// LoomTail is what of a wire hangs free of the bundle at its end, m, with its slack: enough to reach a terminal and to
// be cut twice.
//
// Source: common practice, no source.
const LoomTail = 0.3

// Where things stand on the board, user units.
const (
	boardLeft = 24.0 // of the first peg
	pegRow    = 13.0 // between rows of numbers above the bundle
	pegApart  = 19.0 // between numbers in a row
)

// peg is where a circuit leaves the bundle.
type peg struct {
	run run
	at  float64 // m from the begin of the bundle
}

// SVG draws the board. The error names the wire with a number that cannot be, or says that there is no bundle.
func (in LoomBoard) SVG(f Format) (string, error) {
	c, err := f.canvas("loom board")
	if err != nil {
		return "", err
	}
	sheet := LoomSheet{Name: in.Name, Loom: in.Loom}
	k := &check{kind: c.kind}
	if err := sheet.check(); err != nil {
		return "", err
	}
	// one scale for all bundles, so that they can be compared and laid on one board
	var bundles []loomGroup
	longest := 0.0
	for _, g := range sheet.groups(c.words) {
		if len(g.runs) < 2 {
			continue
		}
		// in the order of the schematic
		bundles = append(bundles, g)
		for _, r := range g.runs {
			longest = max(longest, r.length())
		}
	}
	if k.within("length of the longest wire", longest, 0.05, 1000, "m"); k.err != nil {
		return "", k.err
	}
	scale := (c.width - 2*boardLeft) / longest
	y := 4.0
	var rows []string
	for _, g := range bundles {
		y, rows = c.bundle(g, scale, longest, y, rows)
	}
	// what every drawing of cables says stands on the one that they are cut by, too
	notes := append(slices.Clone(rows), c.words.Say("drawing.board-note", msg.Number("tail", LoomTail, msg.Exact)))
	if !in.Loom.Caution.Empty() {
		notes = append(notes, c.words.Text(in.Loom.Caution))
	}
	c.height = c.notes(12, y+4, c.width-12, append(notes, in.Notes...)) + 10
	return c.finish(in.Name, msg.New("drawing.board", msg.Text("circuits", strings.Join(rows, "; "))), caution)
}

// length is how long the wires of a circuit are cut.
func (r run) length() float64 {
	length := 0.0
	for _, w := range []*wiring.Wire{r.plus, r.minus} {
		if w != nil {
			length = max(length, w.Length)
		}
	}
	return length
}

// bundle draws the circuits from one place from y down, the bundle as thick as there are circuits left in it, and adds
// what their numbers mean to the rows. It gives the y below.
func (c *canvas) bundle(g loomGroup, scale, longest, y float64, rows []string) (float64, []string) {
	// a wire shorter than its tail leaves at once
	pegs := make([]peg, len(g.runs))
	for i, r := range g.runs {
		pegs[i] = peg{r, max(0, r.length()-LoomTail)}
	}
	// nearest first, as they leave the bundle; of two at one place in the order of the circuits
	slices.SortStableFunc(pegs, func(a, b peg) int { return cmp.Compare(a.at, b.at) })
	y += 18
	c.text(pt{12, y}, start, fit(c.words.Say("drawing.loom-from", msg.Text("place", named(g.from,
		c.words.Say("drawing.loom-the-bank")))), c.width-24, textSize), "font-style", "italic", "fill", soft)
	places := make([]float64, len(pegs))
	for i, p := range pegs {
		places[i] = boardLeft + float64(p.at*scale)
	}
	level, levels := rowsOf(places)
	line := y + 12 + float64(pegRow*float64(levels))
	from := 0.0
	// from peg to peg, thinner behind each
	for i, p := range pegs {
		a, b := pt{boardLeft + float64(from*scale), line}, pt{boardLeft + float64(p.at*scale), line}
		c.line(a, b, "stroke", strong, "stroke-width", c.number(3+float64(1.2*math.Sqrt(float64(len(pegs)-i)))))
		from = p.at
	}
	for i, p := range pegs {
		x := boardLeft + float64(p.at*scale)
		c.line(pt{x, line}, pt{x, line - 8 - float64(pegRow*float64(level[i]))}, "stroke", soft, "stroke-width", "0.8")
		c.label(pt{x, line - 10 - float64(pegRow*float64(level[i]))}, middle, c.words.Number(float64(len(rows)+1), 0))
		// at a slant, so that tails of neighbours stay apart; as it hangs, in the colour of its wire
		w := p.run.plus
		if w == nil {
			w = p.run.minus
		}
		hang := float64(min(LoomTail, p.run.length()) * scale * 0.7)
		c.wire(pt{x, line}, pt{min(x+hang, c.width-4), line + hang}, w)
		head, details := c.circuitWords(p.run)
		rows = append(rows, c.words.Say("drawing.board-row", msg.Count("n", len(rows)+1), msg.Text("circuit", head),
			msg.Number("at", p.at, 2), msg.Text("wires", details)))
	}
	c.ellipse(pt{boardLeft, line}, 4, 4, "fill", ink)
	y = line + float64(LoomTail*scale*0.7) + 12
	return c.metres(scale, longest, y), rows
}

// rowsOf puts numbers at places along a line, in rising order, into rows, so that none touches another: the row of
// each, from 0, and how many rows there are.
func rowsOf(places []float64) (row []int, rows int) {
	var last []float64 // place of the last number of each row
	for _, x := range places {
		i := slices.IndexFunc(last, func(before float64) bool { return x-before >= pegApart })
		if i < 0 {
			i = len(last)
			last = append(last, 0)
		}
		last[i] = x
		row = append(row, i)
	}
	return row, len(last)
}

// metres draws a rule below a bundle, with a stroke for each half metre and a number for each whole one that has room.
func (c *canvas) metres(scale, longest, y float64) float64 {
	c.line(pt{boardLeft, y}, pt{boardLeft + float64(longest*scale), y}, "stroke", ink, "stroke-width", "1")
	// numbers as close as they can be read
	step := 1
	for float64(step)*scale < 30 {
		step++
	}
	for half := 0; float64(half)/2 <= longest+1e-9; half++ {
		x := boardLeft + float64(float64(half)/2*scale)
		c.line(pt{x, y}, pt{x, y + 4}, "stroke", ink, "stroke-width", "1")
		if half%(2*step) == 0 {
			c.text(pt{x, y + 16}, middle, c.words.Number(float64(half/2), 0)+"\u00a0m", "font-size",
				c.number(smallSize), "fill", soft)
		}
	}
	return y + 20
}
