package drawing

import (
	"fmt"
	"math"
	"strings"

	"ribband/core/msg"
	"ribband/core/wiring"
)

// LoomSheet is a schematic of the wires: positive from the left, through the fuse to the consumer, negative back to the
// right. It shows what connects to what, not where it runs.
type LoomSheet struct {
	Name string
	Loom wiring.Loom
	// What the bank is called; blank: "battery bank".
	Bank  string
	Notes []string
}

// run is one circuit: its positive wire, and its negative one where there is one.
type run struct{ plus, minus *wiring.Wire }

// Where things stand on the schematic, user units.
const (
	loomBus   = 20.0 // x of the positive bus; the negative one is as far from the right
	rowHeight = 24.0 // for the wire of a circuit, below its words
)

// SVG draws the schematic: the bank above, its positive bus down the left and the negative one down the right, a
// circuit between them for each load. The error names the wire with a number that cannot be.
func (in LoomSheet) SVG(f Format) (string, error) {
	c, err := f.canvas("loom")
	if err != nil {
		return "", err
	}
	if err := in.check(); err != nil {
		return "", err
	}
	c.rect(12, 10, c.width-24, 26, "fill", "none", "stroke", ink, "stroke-width", "1.3")
	c.text(pt{c.width / 2, 27}, middle, fit(named(in.Bank, c.words.Say("drawing.bank")), c.width-90, textSize))
	c.text(pt{loomBus, 28}, middle, "+", "font-size", "15", "font-weight", "600")
	c.text(pt{c.width - loomBus, 28}, middle, "−", "font-size", "15", "font-weight", "600")
	y := 36.0
	negative := y
	for _, g := range in.groups(c.words) {
		y, negative = c.wires(g.from, g.runs, y, negative)
	}
	c.line(pt{c.width - loomBus, 36}, pt{c.width - loomBus, negative}, "stroke", ink, "stroke-width", "2.2")
	notes := append([]string{
		c.words.Say("drawing.loom-total", msg.Number("length", tenths(in.Loom.Length), msg.Exact),
			msg.Number("copper", kilos(in.Loom.Copper), msg.Exact)),
		c.words.Text(msg.Sentences(msg.New("drawing.loom-schematic"), caution))}, in.Notes...)
	if !in.Loom.Caution.Empty() {
		notes = append(notes, c.words.Text(in.Loom.Caution))
	}
	c.height = c.notes(12, y+10, c.width-12, notes) + 10
	return c.finish(in.Name, in.describe(c.words), caution)
}

// check asks for numbers that a launch can have; more wires than that would make a page nobody reads.
func (in LoomSheet) check() error {
	k := &check{kind: "loom"}
	if n := len(in.Loom.Wires); n < 1 || n > 400 {
		k.fail("it has %d wires; give 1 to 400", n)
	}
	for i, w := range in.Loom.Wires {
		place := fmt.Sprintf("wire %d, %.40q:", i+1, w.Circuit)
		k.within(place+" length", w.Length, 0, 1000, "m")
		k.within(place+" section", w.MM2, 0, 1000, "mm²")
		k.within(place+" fuse", w.Fuse, 0, 10000, "A")
	}
	k.within("length of wire", in.Loom.Length, 0, 1e6, "m")
	k.within("copper", in.Loom.Copper, 0, 1e6, "kg")
	return k.err
}

// loomGroup is the circuits that start at one place.
type loomGroup struct {
	from string
	runs []run
}

// groups puts the circuits together by where they start, in the order of the loom: each begins at a bus bar or a
// panel, and that is where the person who makes it stands. A wire without its fellow is a circuit of its own.
func (in LoomSheet) groups(words *msg.Language) []loomGroup {
	var out []loomGroup
	place, circuit := map[string]int{}, map[string]*run{}
	var order []*run
	for i := range in.Loom.Wires {
		w := &in.Loom.Wires[i]
		r := circuit[w.Circuit]
		// two wires of one name and pole are two circuits: of pumps alike each has its own
		if r == nil || w.Positive && r.plus != nil || !w.Positive && r.minus != nil {
			r = &run{}
			circuit[w.Circuit] = r
			order = append(order, r)
		}
		if w.Positive {
			r.plus = w
		} else {
			r.minus = w
		}
	}
	// a circuit without a positive wire stands where its negative one ends
	for _, r := range order {
		from := words.Say("wiring.bus-bar")
		if r.plus != nil {
			from = words.Text(r.plus.Ends[0].Place)
		}
		i, ok := place[from]
		if !ok {
			i = len(out)
			place[from] = i
			out = append(out, loomGroup{from: from})
		}
		out[i].runs = append(out[i].runs, *r)
	}
	return out
}

// wires draws the circuits from one place, with their bus from the bank above, and gives the y below them and of the
// last negative end.
func (c *canvas) wires(from string, runs []run, y, negative float64) (below, lastNegative float64) {
	y += 22
	c.text(pt{loomBus + 10, y}, start, fit(c.words.Say("drawing.loom-from", msg.Text("place",
		named(from, c.words.Say("drawing.loom-the-bank")))), c.width-2*loomBus-20, textSize),
		"font-style", "italic", "fill", soft)
	c.rect(loomBus-5, y-9, 10, 10, "fill", ink)
	last := y
	for _, r := range runs {
		y, last = c.circuit(r, y+8)
		if r.minus != nil {
			negative = last
		}
	}
	c.line(pt{loomBus, 36}, pt{loomBus, last}, "stroke", ink, "stroke-width", "2.2")
	return y, negative
}

// circuit draws one circuit from y down and gives the y below it and that of its wire.
func (c *canvas) circuit(r run, y float64) (below, wire float64) {
	left, right := loomBus+10, c.width-loomBus-10
	head, details := c.circuitWords(r)
	for i, words := range []string{head, details} {
		for _, part := range wrap(words, right-left, smallSize) {
			y += smallSize * 1.25
			c.text(pt{left, y}, start, part, "font-size", c.number(smallSize), "fill", []string{ink, soft}[i])
		}
	}
	y += rowHeight / 2
	load := loomBus + float64(0.7*(c.width-float64(2*loomBus)))
	if r.plus != nil {
		c.wire(pt{loomBus, y}, pt{load, y}, r.plus)
		c.ellipse(pt{loomBus, y}, 2.6, 2.6, "fill", ink)
		if r.plus.Fuse > 0 {
			c.rect(loomBus+22, y-4.5, 26, 9, "fill", paper, "stroke", ink, "stroke-width", "1.1")
			c.line(pt{loomBus + 22, y}, pt{loomBus + 48, y}, "stroke", ink, "stroke-width", "1")
		}
	}
	if r.minus != nil {
		c.wire(pt{load, y}, pt{c.width - loomBus, y}, r.minus)
		c.ellipse(pt{c.width - loomBus, y}, 2.6, 2.6, "fill", ink)
	}
	c.rect(load-9, y-7, 18, 14, "fill", paper, "stroke", ink, "stroke-width", "1.3")
	return y + rowHeight/2, y
}

// circuitWords say what a circuit is, and what its wires are. What the name of the circuit says already is not said
// again.
func (c *canvas) circuitWords(r run) (head, details string) {
	if r.plus == nil {
		w := r.minus
		return w.Circuit, c.words.Say("drawing.wire-back", msg.Words("colour", w.Colour.Words()),
			msg.Number("section", w.MM2, msg.Exact), msg.Number("length", w.Length, 2))
	}
	w := r.plus
	to, function := c.words.Text(w.Ends[1].Place), ""
	if w.Function != "" {
		function = c.words.Text(w.Function.Words())
	}
	head = named(w.Circuit, to)
	leads := !holds(head, to)
	does := !holds(head, function) && !(leads && holds(to, function))
	head = c.words.Say("drawing.circuit", msg.Text("circuit", head), msg.Choice("leads", yes(leads)),
		msg.Text("end", to), msg.Choice("does", yes(does)), msg.Text("function", function))
	var back wiring.Wire
	if r.minus != nil {
		back = *r.minus
	}
	return head, c.words.Say("drawing.wire", msg.Words("colour", w.Colour.Words()),
		msg.Number("section", w.MM2, msg.Exact), msg.Number("length", w.Length, 2),
		msg.Choice("fused", yes(w.Fuse > 0)), msg.Number("fuse", w.Fuse, msg.Exact),
		msg.Choice("returns", yes(r.minus != nil)), msg.Words("back", back.Colour.Words()),
		msg.Number("way", back.Length, 2))
}

// holds says whether a text has some words in it already, in whatever letters.
func holds(text, words string) bool {
	return strings.Contains(strings.ToLower(text), strings.ToLower(words))
}

// wire draws a wire in its colour, cased so that it shows on any ground, a stripe as dashes; thicker wires thicker, by
// the root of the section as in nature, but not to scale.
func (c *canvas) wire(a, b pt, w *wiring.Wire) {
	width := 2.2 + min(4, math.Sqrt(w.MM2)/3)
	body, stripe := wireColours(w.Colour)
	c.line(a, b, "stroke", soft, "stroke-width", c.number(width+1.4))
	c.line(a, b, "stroke", body, "stroke-width", c.number(width))
	if stripe != "" {
		c.line(a, b, "stroke", stripe, "stroke-width", c.number(width*0.45), "stroke-dasharray", "8 4")
	}
}

// wireColours are those of an insulation by its name, such as "brown with yellow stripe"; unknown names are drawn
// grey, and their name stands beside them all the same.
func wireColours(c wiring.Colour) (body, stripe string) {
	switch c {
	case wiring.Red:
		return "#c4281f", ""
	case wiring.Black:
		return "#191b1d", ""
	case wiring.DarkBlue:
		return "#1d3f7d", ""
	case wiring.DarkGrey:
		return "#55595c", ""
	case wiring.Brown:
		return "#6e4527", ""
	case wiring.BrownYellow:
		return "#6e4527", "#e8c21a"
	case wiring.Orange:
		return "#e07b1c", ""
	case wiring.Purple:
		return "#6d3f8f", ""
	}
	return "#8b9094", ""
}

// describe lists the circuits with their fuses in words.
func (in LoomSheet) describe(words *msg.Language) msg.Message {
	var parts []string
	for _, g := range in.groups(words) {
		for _, r := range g.runs {
			if w := r.plus; w != nil {
				parts = append(parts, words.Say("drawing.loom-circuit", msg.Text("circuit", w.Circuit),
					msg.Words("place", w.Ends[0].Place), msg.Words("colour", w.Colour.Words()),
					msg.Number("section", w.MM2, msg.Exact), msg.Number("length", w.Length, 2),
					msg.Number("fuse", w.Fuse, msg.Exact)))
			}
		}
	}
	return msg.New("drawing.loom", msg.Text("circuits", strings.Join(parts, "; ")))
}
