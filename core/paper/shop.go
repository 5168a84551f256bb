package paper

import (
	"fmt"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/sheet"
)

// fixed writes a number of the shop with its digits.
func fixed(v float64, digits int) string { return measure.Decimal(v, digits) }

// plies joins those that follow each other and are the same: 2 × csm 450.
func plies(list []string) string {
	var parts []string
	for i := 0; i < len(list); {
		n := i + 1
		for n < len(list) && list[n] == list[i] {
			n++
		}
		if n > i+1 {
			parts = append(parts, fmt.Sprintf("%d × %s", n-i, list[i]))
		} else {
			parts = append(parts, list[i])
		}
		i = n
	}
	return strings.Join(parts, ", ")
}

func laminateSums(l *sheet.LaminateSheet) string {
	return fmt.Sprintf("Thickness of shell and bottom %s mm, along the keel %s mm. Plies from the mould inwards, glass in g/m²; csm is chopped strand mat. "+
		"As built in: laps and offcuts are in the waste of the materials.", fixed(l.BottomMm, 1), fixed(l.KeelMm, 1))
}

func laminateTable(l *sheet.LaminateSheet) g.Node {
	if l == nil {
		return nil
	}
	return Section(H2(g.Text("Laminate schedule")),
		Table(headRow("Laminate", "Area, m²", "Thickness, mm", "Glass share", "Glass, kg", "Resin, kg", "Mass, kg"),
			TBody(g.Map(l.Rows, func(r sheet.LaminateRow) g.Node {
				return bodyRow("", r.Title+": "+plies(r.Plies)+"; "+r.Process, fixed(r.AreaM2, 2),
					fixed(r.ThicknessMm, 2), fixed(r.GlassShare, 2), fixed(r.GlassKg, 1), fixed(r.ResinKg, 1),
					fixed(r.TotalKg, 1))
			})),
			TFoot(bodyRow("total", "All laminates", "", "", "", fixed(l.GlassKg, 1), fixed(l.ResinKg, 1),
				fixed(l.TotalKg, 1)))),
		P(Class("note"), g.Text(laminateSums(l))), P(Class("note"), g.Text(msg.English.Text(l.Caution))))
}

func laminateText(t *textPaper, l *sheet.LaminateSheet) {
	if l == nil {
		return
	}
	t.heading("Laminate schedule", '-')
	row := func(area, mm, share, glass, resin, total string) {
		t.line(fmt.Sprintf("%12s%12s%12s%12s%12s%12s", area, mm, share, glass, resin, total))
	}
	row("Area m²", "Thick. mm", "Glass share", "Glass kg", "Resin kg", "Mass kg")
	for _, r := range l.Rows {
		t.wrapped(r.Title + ": " + plies(r.Plies) + "; " + r.Process)
		row(fixed(r.AreaM2, 2), fixed(r.ThicknessMm, 2), fixed(r.GlassShare, 2), fixed(r.GlassKg, 1),
			fixed(r.ResinKg, 1), fixed(r.TotalKg, 1))
	}
	t.line("All laminates")
	row("", "", "", fixed(l.GlassKg, 1), fixed(l.ResinKg, 1), fixed(l.TotalKg, 1))
	t.wrapped(laminateSums(l))
	t.wrapped(msg.English.Text(l.Caution))
}

// stock says what a layout takes of its roll or sheets, or why there is none.
func stock(c sheet.CutPart) string {
	if c.Fault != "" {
		return c.Stock + ": not laid. " + c.Fault
	}
	laid := fixed(c.UsedMm/1000, 2) + " m of roll"
	if c.Sheets > 0 {
		laid = strconv.Itoa(c.Sheets) + " sheets"
		if c.Sheets == 1 {
			laid = "1 sheet"
		}
	}
	feeds := ""
	for _, f := range c.Feeds {
		feeds += fmt.Sprintf("; takes %s of %s, waste included", used(f.Used, f.Unit), f.Title)
	}
	return fmt.Sprintf("%s: %s, %s m² for %s m² of pieces%s", c.Stock, laid, fixed(c.UsedM2, 2), fixed(c.PiecesM2, 2),
		feeds)
}

// cutRow is a kind of piece with how many lie in a layout.
type cutRow struct {
	name  string
	count int
}

// cutRows are the pieces of a layout, those of one name and size together, each as it was cut and not as it lies.
func cutRows(c sheet.CutPart) []cutRow {
	var rows []cutRow
	at := map[string]int{}
	for _, p := range c.Pieces {
		width, length := p.WidthMm, p.LengthMm
		if p.Turned {
			width, length = length, width
		}
		name := fmt.Sprintf("%s, %s × %s mm", p.Name, fixed(width, 0), fixed(length, 0))
		if _, ok := at[name]; !ok {
			at[name] = len(rows)
			rows = append(rows, cutRow{name: name})
		}
		rows[at[name]].count++
	}
	return rows
}

func waste(c sheet.CutPart) string { return fixed(100*c.Waste, 1) + " % waste" }

func cutTable(list []sheet.CutPart) g.Node {
	if len(list) == 0 {
		return nil
	}
	return Section(H2(g.Text("Cut layouts")), g.Map(list, func(c sheet.CutPart) g.Node {
		if c.Fault != "" {
			return P(Class("note"), g.Text(c.Title+": "+stock(c)))
		}
		return Table(headRow(c.Title+", across × along", "Count"),
			TBody(g.Map(cutRows(c), func(r cutRow) g.Node { return bodyRow("", r.name, strconv.Itoa(r.count)) })),
			TFoot(bodyRow("total", stock(c), waste(c))))
	}))
}

func cutText(t *textPaper, list []sheet.CutPart) {
	if len(list) == 0 {
		return
	}
	t.heading("Cut layouts", '-')
	for _, c := range list {
		t.wrapped(c.Title + ". " + stock(c))
		if c.Fault != "" {
			continue
		}
		for _, r := range cutRows(c) {
			t.amount("  "+r.name, strconv.Itoa(r.count))
		}
		t.line("  " + waste(c))
	}
}
