package paper

import (
	"ribband/core/doc"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/sheet"
)

// laminates are the schedule of the shell and its parts; glass in g/m².
func (s *Source) laminates(l *sheet.LaminateSheet) doc.Section {
	if l == nil {
		return doc.Section{}
	}
	return titled(s.Say("paper.laminates"), "",
		doc.Table{
			Columns: []doc.Column{{Title: s.Say("paper.laminate")}, unit(s.Say("paper.area"), "m²"),
				unit(s.Say("paper.thickness"), "mm"), unit(s.Say("paper.glass-share"), ""),
				unit(s.Say("paper.glass"), "kg"), unit(s.Say("paper.resin"), "kg"), unit(s.Say("paper.mass"), "kg")},
			Groups: doc.Rows(l.Rows, func(r sheet.LaminateRow) doc.Row {
				// the plies stand with the name: a laminator reads both in one glance, and the numbers afterwards
				name := s.Say("paper.laminate-row", msg.Text("title", r.Title), msg.Text("plies", s.plies(r.Plies)),
					msg.Choice("process", r.Process))
				return row(name, doc.Number(r.AreaM2, 2),
					doc.Number(r.ThicknessMm, 2), doc.Number(r.GlassShare, 2), doc.Number(r.GlassKg, 1),
					doc.Number(r.ResinKg, 1), doc.Number(r.TotalKg, 1))
			}),
			Foot: []doc.Row{{Label: s.Say("paper.all-laminates"), Style: "total", Cells: []doc.Cell{{}, {}, {},
				doc.Number(l.GlassKg, 1), doc.Number(l.ResinKg, 1), doc.Number(l.TotalKg, 1)}}},
		},
		doc.Paragraph{Note: true, Text: s.Say("paper.laminate-sums", msg.Number("bottom", l.BottomMm, 1),
			msg.Number("keel", l.KeelMm, 1))},
		doc.Paragraph{Note: true, Text: s.Text(l.Caution)})
}

// plies joins those that follow each other and are the same: 2 × csm 450.
func (s *Source) plies(list []string) string {
	var parts []string
	for i := 0; i < len(list); {
		n := i + 1
		for n < len(list) && list[n] == list[i] {
			n++
		}
		parts = append(parts, s.counted(n-i, list[i]))
		i = n
	}
	return s.List(msg.Commas, parts)
}

// Areas and masses are as built in; what the store gives out, with laps, offcuts and what stays in the pot, is among
// the materials. The two are never put in one table, or they would be added up.

// cuts are the layouts of what is cut from rolls and sheets. One that could not be laid says why.
func (s *Source) cuts(list []sheet.CutPart) doc.Section {
	// each layout is a table of its own: it goes to the bench with its roll
	section := titled(s.Say("paper.cuts"), "")
	for _, c := range list {
		if !c.Fault.Empty() {
			section.Blocks = append(section.Blocks, doc.Paragraph{Note: true, Text: s.Say("paper.not-laid",
				msg.Text("title", c.Title), msg.Text("stock", c.Stock), msg.Words("fault", c.Fault))})
			continue
		}
		section.Blocks = append(section.Blocks, doc.Table{
			Columns: columns(s.Say("paper.cut", msg.Text("title", c.Title)), s.Say("paper.count")),
			Groups:  []doc.Group{{Rows: s.pieces(c.Pieces)}},
			Foot: []doc.Row{{Label: s.stock(c), Style: "total",
				Cells: []doc.Cell{doc.Text(s.Say("paper.waste", msg.Number("percent", 100*c.Waste, 1)))}}}})
	}
	return section
}

// stock says what a layout takes of its roll or sheets.
func (s *Source) stock(c sheet.CutPart) string {
	laid := msg.New("paper.of-roll", msg.Number("m", c.UsedMm/1000, 2))
	if c.Sheets > 0 {
		laid = msg.New("paper.sheets", msg.Count("n", c.Sheets))
	}
	words := s.Say("paper.stock", msg.Text("stock", c.Stock), msg.Words("laid", laid), msg.Number("used", c.UsedM2, 2),
		msg.Number("pieces", c.PiecesM2, 2))
	for _, f := range c.Feeds {
		words += "; " + s.Say("paper.takes", msg.Text("used", doc.Used(f.Used, f.Unit).Words(s.Language)),
			msg.Text("material", f.Title))
	}
	return words
}

// pieces are those of a layout, those of one name and size together, each as it was cut and not as it lies.
func (s *Source) pieces(list []sheet.CutPiece) (rows []doc.Row) {
	counts, at := []int{}, map[string]int{}
	for _, p := range list {
		// a piece that lies turned is measured as it is drawn on the pattern
		width, length := p.WidthMm, p.LengthMm
		if p.Turned {
			width, length = length, width
		}
		name := s.Say("paper.piece", msg.Text("name", p.Name), msg.Number("width", width, 0),
			msg.Number("length", length, 0))
		if _, ok := at[name]; !ok {
			at[name] = len(rows)
			// the first of its kind; the order is that of the layout, which is that of the cutting
			rows, counts = append(rows, row(name)), append(counts, 0)
			// the finished size is what is measured on the boat
			if p.FinishedWidthMm != width || p.FinishedLengthMm != length || p.AreaM2 < p.WidthMm*p.LengthMm/1e6-0.001 {
				rows[at[name]].Detail = s.Say("paper.piece-finished", msg.Number("width", p.FinishedWidthMm, 0),
					msg.Number("length", p.FinishedLengthMm, 0), msg.Number("area", p.AreaM2, 2))
			}
		}
		counts[at[name]]++
		rows[at[name]].Cells = []doc.Cell{doc.Count(counts[at[name]])}
	}
	return rows
}

// oneUnit is a pack of one: what is sold so is counted by the unit alone.
const oneUnit = measure.Quantity(1_000_000)

// material names what is taken, and says in words where that is part of a pack. Who takes many packs counts them
// himself.
func (s *Source) material(p sheet.CardMaterial) string {
	const many = 4
	if p.Customer {
		return s.Say("paper.from-customer", msg.Text("title", p.Title))
	}
	if p.Pack <= oneUnit {
		return p.Title
	}
	// a part of a pack is what a man looks for among the open ones
	packs, rest := p.Used.Packs(p.Pack)
	if rest == 0 || packs > many {
		return p.Title
	}
	_, symbol := p.Used.Shown(p.Unit)
	return s.Say("paper.part-of-pack", msg.Text("title", p.Title), msg.Count("whole", packs-1),
		msg.Text("size", s.Decimal(p.Pack.String())), msg.Text("unit", doc.Unit(s.Language, symbol)))
}
