package paper

import (
	"ribband/core/doc"
	"ribband/core/msg"
	"ribband/core/render"
	"ribband/core/sheet"
)

// partList is one kind of what the shops cut, bend and coat.
type partList struct {
	kind, title string
	columns     []doc.Column // behind the material and what it is for
	rows        []partRow
}

// partRow is one line. The quantity is net, in the unit of the material.
type partRow struct {
	material, what string
	cells          []doc.Cell
	quantity       float64
	unit           string
}

// The four kinds are what a quantity of material is measured by (package takeoff); the rows are what that measure was
// taken of. What is bought follows from the same rows, so that the foreman and the office count alike.

// parts are the kinds; most boats have something of each.
func (s *Source) parts(p *sheet.ShopParts) []partList {
	if p == nil {
		return nil
	}
	// With waste is what leaves the store; all other numbers are net, as the drawing has them.
	waste := doc.Column{Title: s.Say("paper.with-waste"), Right: true}
	feet, count := unit(s.Say("paper.board-feet"), ""), unit(s.Say("paper.count"), "")
	area, length := unit(s.Say("paper.area"), "m²"), unit(s.Say("paper.length"), "m")
	foam := partList{kind: "foam", title: s.Say("paper.foam"), columns: []doc.Column{{}, area,
		unit(s.Say("paper.thickness"), "mm"), unit(s.Say("paper.litres"), ""), feet, waste}}
	// litres as foam is sold, board feet as the older pattern books have it
	for _, f := range p.Foam {
		foam.rows = append(foam.rows, partRow{f.Material, f.For, []doc.Cell{doc.Number(f.AreaM2, 2),
			doc.Exact(f.ThicknessMm), doc.Number(f.Litres, 1), doc.Number(f.BoardFeet, 1),
			doc.Used(f.Used, f.Taken.Unit)}, f.Litres, "l"})
	}
	timber := partList{kind: "timber", title: s.Say("paper.timber"), columns: []doc.Column{{},
		unit(s.Say("paper.section"), "mm"), length, count, unit(s.Say("paper.net"), "dm³"), waste, feet}}
	// net is what is built in, board feet what is bought, waste included
	for _, t := range p.Timber {
		timber.rows = append(timber.rows, partRow{t.Material, t.For, []doc.Cell{
			doc.Text(s.Number(t.ThicknessMm, msg.Exact) + " × " + s.Number(t.WidthMm, msg.Exact)),
			doc.Number(t.LengthM, 2), doc.Exact(t.Count), doc.Number(t.NetDm3, 2), doc.Used(t.Used, t.Taken.Unit),
			doc.Number(t.BoardFeet, 1)}, t.NetDm3, "dm3"})
	}
	tube := partList{kind: "tube", title: s.Say("paper.tube"), columns: []doc.Column{{},
		unit(s.Say("paper.hoops"), ""), unit(s.Say("paper.of-one"), "m"), unit(s.Say("paper.straight"), "m"),
		unit(s.Say("paper.total"), "m"),
		unit(s.Say("paper.bends"), ""), waste}}
	// straightened, since a bender cuts before he bends
	for _, t := range p.Tube {
		tube.rows = append(tube.rows, partRow{t.Material, t.For, []doc.Cell{doc.Exact(t.Hoops), doc.Number(t.HoopM, 2),
			doc.Number(t.StraightM, 2), doc.Number(t.TotalM, 2), doc.Exact(t.Bends), doc.Used(t.Used, t.Taken.Unit)},
			t.TotalM, "m"})
	}
	coats := partList{kind: "coating", title: s.Say("paper.coatings"), columns: []doc.Column{{}, area,
		unit(s.Say("paper.coats"), ""), unit(s.Say("paper.wet"), "mm"), unit(s.Say("paper.net"), ""), waste}}
	// paint has coats, gelcoat a wet thickness; the other cell is empty
	for _, c := range p.Coatings {
		coats.rows = append(coats.rows, partRow{c.Material, c.For, []doc.Cell{doc.Number(c.AreaM2, 2),
			doc.Some(c.Coats), doc.Some(c.WetMm), doc.Quantity(c.Quantity, 2, c.Unit), doc.Used(c.Used, c.Taken.Unit)},
			c.Quantity, c.Unit})
	}
	return []partList{foam, timber, tube, coats}
}

// partSections are a table for each kind that the boat has something of.
func (s *Source) partSections(p *sheet.ShopParts) (list []doc.Block) {
	// the first column holds the labels, which only a reader needs a head over
	for _, l := range s.parts(p) {
		l.columns[0].Title = s.Say("paper.material")
		list = append(list, titled(l.title, "", doc.Table{Columns: l.columns,
			Groups: doc.Rows(l.rows, func(r partRow) doc.Row {
				return row(s.Say("paper.part", msg.Text("material", r.material),
					msg.Text("for", r.what)), r.cells...)
			})}))
	}
	return list
}

// partData are the same lines for a program: the net quantity, from which waste can be worked out anew.
func (s *Source) partData(d *data, p *sheet.ShopParts) {
	// the words of a row are those of the paper; the number beside them is for calculations
	for _, l := range s.parts(p) {
		for _, r := range l.rows {
			d.add(l.kind, doc.Text(r.what), doc.Cell{},
				doc.Text(s.named(r.material, render.Line(l.columns, r.cells, s.Language))), doc.Cell{},
				doc.Exact(r.quantity),
				doc.Text(r.unit))
		}
	}
}
