package paper

import (
	"ribband/core/sheet"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"
)

// partList is one heading of what the shops cut, bend and coat.
type partList struct {
	title, kind string
	columns     []string // behind the material and what it is for
	rows        []partRow
}

// partRow is one line; its cells stand under the columns. The quantity is net, in the unit of the material.
type partRow struct {
	material, what string
	cells          []string
	quantity, unit string
}

// size joins the cells with their columns, for the papers without a table.
func (r partRow) size(columns []string) string {
	var words []string
	for i, c := range r.cells {
		if c != "" {
			words = append(words, strings.ToLower(columns[i][:1])+columns[i][1:]+" "+c)
		}
	}
	return strings.Join(words, "; ")
}

// partLists are the headings that have something under them.
func partLists(p *sheet.ShopParts) (lists []partList) {
	if p == nil {
		return nil
	}
	for _, l := range []partList{foamList(p.Foam), timberList(p.Timber), tubeList(p.Tube), coatingList(p.Coatings)} {
		if len(l.rows) > 0 {
			lists = append(lists, l)
		}
	}
	return lists
}

func foamList(list []sheet.FoamPart) partList {
	l := partList{title: "Foam", kind: "foam", columns: []string{"Area, m²", "Thickness, mm", "Litres", "Board feet",
		"With waste"}}
	for _, f := range list {
		l.rows = append(l.rows, partRow{f.Material, f.For,
			[]string{fixed(f.AreaM2, 2), short(f.ThicknessMm), fixed(f.Litres, 1), fixed(f.BoardFeet, 1),
				used(f.Used, f.Taken.Unit)}, short(f.Litres), "l"})
	}
	return l
}

func timberList(list []sheet.TimberPart) partList {
	l := partList{title: "Timber", kind: "timber",
		columns: []string{"Section, mm", "Length, m", "Count", "Net, dm³", "With waste", "Board feet"}}
	for _, t := range list {
		l.rows = append(l.rows, partRow{t.Material, t.For,
			[]string{short(t.ThicknessMm) + " × " + short(t.WidthMm), fixed(t.LengthM, 2), short(t.Count),
				fixed(t.NetDm3, 2), used(t.Used, t.Taken.Unit), fixed(t.BoardFeet, 1)}, short(t.NetDm3), "dm3"})
	}
	return l
}

func tubeList(list []sheet.TubePart) partList {
	l := partList{title: "Frame tube", kind: "tube",
		columns: []string{"Hoops", "Of one, m", "Straight lengths, m", "Total, m", "Bends", "With waste"}}
	for _, t := range list {
		l.rows = append(l.rows, partRow{t.Material, t.For,
			[]string{short(t.Hoops), fixed(t.HoopM, 2), fixed(t.StraightM, 2), fixed(t.TotalM, 2), short(t.Bends),
				used(t.Used, t.Taken.Unit)}, short(t.TotalM), "m"})
	}
	return l
}

func coatingList(list []sheet.CoatingPart) partList {
	l := partList{title: "Coatings", kind: "coating",
		columns: []string{"Area, m²", "Coats", "Wet, mm", "Net", "With waste"}}
	for _, c := range list {
		l.rows = append(l.rows, partRow{c.Material, c.For,
			[]string{fixed(c.AreaM2, 2), some(c.Coats), some(c.WetMm), fixed(c.Quantity, 2) + " " + c.Unit,
				used(c.Used, c.Taken.Unit)}, short(c.Quantity), c.Unit})
	}
	return l
}

// some writes a number that is there.
func some(v float64) string {
	if v == 0 {
		return ""
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}

func partTables(p *sheet.ShopParts) g.Node {
	return g.Map(partLists(p), func(l partList) g.Node {
		return Section(H2(g.Text(l.title)), Table(headRow("Material", l.columns...),
			TBody(g.Map(l.rows, func(r partRow) g.Node { return bodyRow("", r.material+". "+r.what, r.cells...) }))))
	})
}

func partText(t *textPaper, p *sheet.ShopParts) {
	for _, l := range partLists(p) {
		t.heading(l.title, '-')
		for _, r := range l.rows {
			t.indented("", r.material+". "+r.what)
			t.indented("    ", r.size(l.columns))
		}
	}
}
