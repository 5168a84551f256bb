package paper

import (
	"ribband/core/doc"
	"ribband/core/msg"
	"ribband/core/render"
	"ribband/core/sheet"
	"strings"
)

// The loom stands three times, for three people: by wire, for who cuts and crimps; by circuit, with what its size
// follows from, for who checks; by article, for who goes to the store. All of it comes from one sizing ([sheet.Loom]).

// loomSections are the wires, the circuits that they follow from, and what is taken from the store for them.
func (s *Source) loomSections(l *sheet.LoomPart, circuits []sheet.CircuitPart) []doc.Block {
	if l == nil {
		return nil
	}
	return []doc.Block{
		titled(s.Say("paper.loom"), "", s.wires(l)),
		titled(s.Say("paper.circuits"), "", s.circuits(circuits), doc.Paragraph{Text: s.Say("paper.circuits-note")}),
		titled(s.Say("paper.loom-articles"), "", s.articles(l)),
		notes(s.Say("paper.not-sized"), l.Faults),
		notes(s.Say("paper.loom-caution"), s.said(l.Caution)),
	}
}

// wires are cut from this list: lengths in metres with the slack in them, sections in mm².
func (s *Source) wires(l *sheet.LoomPart) doc.Table {
	return doc.Table{Style: "listing",
		Columns: []doc.Column{{Title: s.Say("paper.wire")}, {Title: s.Say("paper.colour")}, {Unit: "mm²"},
			{Title: s.Say("paper.length"), Unit: "m"}, {Title: s.Say("paper.from")}, {Title: s.Say("paper.to")},
			{Title: s.Say("paper.ends")}, {Title: s.Say("paper.fuse"), Unit: "A"}},
		Groups: doc.Rows(l.Wires, func(w sheet.WirePart) doc.Row {
			return row(poled(w), s.cell(w.Colour), doc.Exact(w.Section), doc.Number(w.Length, 2),
				s.cell(w.From), s.cell(w.To), s.cell(w.Terminal), doc.Some(w.Fuse))
		})}
}

// poled is the circuit of a wire with its pole: the plus and the minus of a battery, behind the name, since a cell that
// begins with them would be a formula to a spreadsheet.
func poled(w sheet.WirePart) string {
	return w.Circuit + "\u00a0" + strings.Replace(w.Pole, "-", "−", 1)
}

// circuits say what each wire and fuse follows from, so that the electrician can check them: computed beside bought.
func (s *Source) circuits(list []sheet.CircuitPart) doc.Table {
	// two columns of one name, told apart by their units: volts to measure, a share to compare with what is allowed
	drop := s.Say("paper.drop")
	return doc.Table{Style: "listing",
		Columns: []doc.Column{{Title: s.Say("paper.circuit")}, {Title: s.Say("paper.load"), Unit: "A"}, {Unit: "V"},
			{Title: s.Say("paper.one-way"), Unit: "m"}, {Title: s.Say("paper.computed"), Unit: "mm²"},
			{Title: s.Say("paper.bought"), Unit: "mm²"}, {Title: s.Say("paper.carries"), Unit: "A"},
			{Title: s.Say("paper.fuse"), Unit: "A"}, {Title: s.Say("paper.interrupts"), Unit: "kA"},
			{Title: s.Say("paper.fault"), Unit: "kA"}, {Title: drop, Unit: "V"}, {Title: drop, Unit: "%"},
			{Title: s.Say("paper.sized-by")}},
		Groups: doc.Rows(list, func(c sheet.CircuitPart) doc.Row {
			bought := doc.Exact(c.Cable.Bought)
			// the section of a pole would be looked for in vain on the drum
			if n := c.Cable.Conductors; n > 1 { // as so many conductors side by side
				bought = doc.Text(s.counted(n, s.Number(c.Cable.Bought/float64(n), msg.Exact)))
			}
			return row(s.alike(c), doc.Number(c.Load, 2), doc.Exact(c.Volts), doc.Number(c.OneWay, 2),
				doc.Exact(c.Cable.Computed), bought, doc.Count(c.Cable.AllowedA), doc.Exact(c.Fuse.Bought),
				doc.Some(c.Fuse.KiloAmps), doc.Some(c.Fuse.FaultKA), doc.Number(c.Drop, 2), doc.Number(c.Share, 1),
				s.cell(c.Cable.Decides))
		})}
}

// alike is a circuit with how many alike there are.
func (s *Source) alike(c sheet.CircuitPart) string {
	if c.Count > 1 {
		return s.Say("paper.alike", msg.Text("circuit", c.Title), msg.Count("n", c.Count))
	}
	return c.Title
}

// articles are drawn from the store for the whole loom; wire by the metre, ends and fuses by the piece.
func (s *Source) articles(l *sheet.LoomPart) doc.Table {
	var rows []doc.Row
	for _, r := range l.Rolls {
		rows = append(rows, row(s.roll(r), doc.Quantity(r.Length, 2, "m")))
	}
	// ends and fuses by the piece; the spares among them are a matter of the purchases
	for _, list := range [][]sheet.ArticlePart{l.Terminals, l.Fuses} {
		for _, a := range list {
			rows = append(rows, row(upper(s.Text(a.Article)), doc.Count(a.Count)))
		}
	}
	// copper by mass, since its price moves that of the cable
	return doc.Table{Columns: columns(s.Say("paper.article"), s.Say("paper.quantity")),
		Groups: []doc.Group{{Rows: rows}},
		Foot:   []doc.Row{row(s.Say("paper.copper"), doc.Quantity(l.Copper, 2, "kg"))}}
}

// roll names a size and colour with the cable of the yard that it is cut from.
func (s *Source) roll(r sheet.RollPart) string {
	words := s.Say("paper.roll", msg.Words("colour", r.Colour), msg.Number("mm2", r.Section, msg.Exact))
	// the yard keeps no cable of this size: the size is all that can be said
	if r.Cable == "" {
		return words
	}
	return s.named(words, r.Cable)
}

// In the file a circuit is told apart by its identifier, and several alike by the number in the name.
//
// loomData are every wire with its circuit, then what the loom takes.
func (s *Source) loomData(d *data, l *sheet.LoomPart, circuits []sheet.CircuitPart) {
	if l == nil {
		return
	}
	// The columns of money, packs and supplier stay empty: the loom's material is bought with all other (purchases).
	add := func(kind, of, id, title string, quantity doc.Cell, unit, at string) {
		d.add(kind, doc.Text(of), doc.Text(id), doc.Text(title), doc.Cell{}, quantity, doc.Text(unit), doc.Cell{},
			doc.Cell{}, doc.Cell{}, doc.Cell{}, doc.Cell{}, doc.Cell{}, doc.Text(at))
	}
	table := s.circuits(circuits)
	// the sentence is that of the paper, so that both say the same
	for i := range circuits {
		c := &circuits[i]
		add("circuit", s.alike(*c), c.ID, render.Line(table.Columns, table.Groups[0].Rows[i].Cells, s.Language),
			doc.Count(c.Count), "each", c.At)
	}
	table = s.wires(l)
	for i, w := range l.Wires {
		add("wire", w.Circuit, w.ID, s.named(poled(w), render.Line(table.Columns, table.Groups[0].Rows[i].Cells,
			s.Language)),
			doc.Number(w.Length, 2), "m", w.At)
	}
	for _, r := range l.Rolls {
		add("roll", "", "", s.roll(r), doc.Number(r.Length, 2), "m", "")
	}
	for _, a := range l.Terminals {
		add("terminal", "", "", upper(s.Text(a.Article)), doc.Count(a.Count), "each", "")
	}
	for _, a := range l.Fuses {
		add("fuse", "", "", s.Text(a.Article), doc.Count(a.Count), "each", "")
	}
	add("copper", "", "", s.Say("paper.copper"), doc.Number(l.Copper, 3), "kg", "")
	for _, f := range l.Faults {
		add("not-sized", "", "", f, doc.Cell{}, "", "")
	}
}
