package paper

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/sheet"
)

// plain writes a number of the loom with so many digits.
func plain(v float64, digits int) string { return measure.Decimal(v, digits) }

// short writes a number without digits that say nothing, such as a section of 1.5 mm².
func short(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func loomTables(l *sheet.LoomPart, circuits []sheet.CircuitPart) g.Node {
	if l == nil {
		return nil
	}
	return g.Group{
		Section(H2(g.Text("Loom")),
			listing([]string{"Wire", "Colour", "mm²", "Length, m", "From", "To", "Ends", "Fuse, A"}, l.Wires,
				func(w sheet.WirePart) []string {
					return []string{w.Circuit + "\u00a0" + sign(w), msg.English.Text(w.Colour), short(w.Section), plain(w.Length, 2),
						msg.English.Text(w.From), msg.English.Text(w.To), msg.English.Text(w.Terminal), fuse(w)}
				})),
		Section(H2(g.Text("Circuits")),
			listing([]string{"Circuit", "Load, A", "V", "One way, m", "Computed, mm²", "Bought, mm²", "Carries, A",
				"Fuse, A", "Interrupts, kA", "Fault, kA", "Drop, V", "Drop, %", "Sized by"}, circuits,
				func(c sheet.CircuitPart) []string {
					return []string{titled(c), plain(c.Load, 2), short(c.Volts), plain(c.OneWay, 2),
						short(c.Cable.Computed), bought(c), strconv.Itoa(c.Cable.AllowedA), short(c.Fuse.Bought),
						known(c.Fuse.KiloAmps), known(c.Fuse.FaultKA), plain(c.Drop, 2), plain(c.Share, 1),
						msg.English.Text(c.Cable.Decides)}
				}),
			P(g.Text(circuitNote))),
		Section(H2(g.Text("Wire, ends and fuses")),
			Table(headRow("Article", "Quantity"),
				TBody(g.Map(l.Rolls, func(r sheet.RollPart) g.Node {
					return bodyRow("", roll(r),
						plain(r.Length, 2)+" m")
				}),
					g.Map(l.Terminals, article), g.Map(l.Fuses, article)),
				TFoot(bodyRow("", "Copper", plain(l.Copper, 2)+" kg")))),
		notes("Not sized", l.Faults),
		notes("Caution for the loom", []string{msg.English.Text(l.Caution)}),
	}
}

// circuitNote says how the table of circuits is to be read.
const circuitNote = "Cable and fuse are those bought: the load is at most the fuse, and the fuse at most what the cable carries where it runs. The drop is that of the cable bought. " +
	"Fault currents are estimates from the nominal voltage and the internal resistance of the battery. Conductors side by side run in pairs apart from each other, of one length."

// titled is a circuit with how many alike there are.
func titled(c sheet.CircuitPart) string {
	if c.Count > 1 {
		return fmt.Sprintf("%s, %d alike, each", c.Title, c.Count)
	}
	return c.Title
}

// bought is the copper of one pole, as so many conductors.
func bought(c sheet.CircuitPart) string {
	if n := c.Cable.Conductors; n > 1 {
		return fmt.Sprintf("%d × %s", n, short(c.Cable.Bought/float64(n)))
	}
	return short(c.Cable.Bought)
}

// known is a number that is left empty where it is not stated.
func known(v float64) string {
	if v == 0 {
		return ""
	}
	return short(v)
}

func article(a sheet.ArticlePart) g.Node {
	return bodyRow("", msg.English.Text(a.Article), strconv.Itoa(a.Count))
}

// listing is a table; a column with nothing but numbers in it stands at the right, with its title.
func listing[T any](titles []string, list []T, row func(T) []string) g.Node {
	rows := make([][]string, len(list))
	number := slices.Repeat([]bool{true}, len(titles))
	number[0] = false
	for i, item := range list {
		rows[i] = row(item)
		for j, s := range rows[i] {
			number[j] = number[j] && (s == "" || isNumber(ungrouped.Replace(s)))
		}
	}
	cell := func(j int, s string) g.Node { return Td(g.If(number[j], Class("number")), g.Text(s)) }
	var head, body []g.Node
	for j, s := range titles {
		head = append(head, Th(g.Attr("scope", "col"), g.If(number[j], Class("number")), g.Text(s)))
	}
	for _, r := range rows {
		cells := []g.Node{Th(g.Attr("scope", "row"), g.Text(r[0]))}
		for j, s := range r[1:] {
			cells = append(cells, cell(j+1, s))
		}
		body = append(body, Tr(cells...))
	}
	return Table(Class("listing"), THead(Tr(head...)), TBody(body...))
}

// ungrouped undoes the grouping of a number.
var ungrouped = strings.NewReplacer("\u202f", "")

func sign(w sheet.WirePart) string {
	if w.Pole == "-" {
		return "−"
	}
	return w.Pole
}

func fuse(w sheet.WirePart) string {
	if w.Fuse == 0 {
		return ""
	}
	return short(w.Fuse)
}

// roll names a size and colour with the cable of the yard that it is cut from.
func roll(r sheet.RollPart) string {
	words := fmt.Sprintf("Wire, %s, %s mm²", msg.English.Text(r.Colour), short(r.Section))
	if r.Cable == "" {
		return words
	}
	return words + ": " + r.Cable
}

func loomText(t *textPaper, l *sheet.LoomPart, circuits []sheet.CircuitPart) {
	if l == nil {
		return
	}
	t.heading("Loom", '-')
	for _, w := range l.Wires {
		t.indented("", fmt.Sprintf("%s %s: %s, %s mm², %s m%s", w.Circuit, sign(w), msg.English.Text(w.Colour), short(w.Section),
			plain(w.Length, 2), fused(w)))
		t.indented("    ", fmt.Sprintf("%s to %s; %s", msg.English.Text(w.From), msg.English.Text(w.To), msg.English.Text(w.Terminal)))
	}
	t.heading("Circuits", '-')
	for _, c := range circuits {
		interrupts := ""
		if c.Fuse.KiloAmps > 0 {
			interrupts = fmt.Sprintf(" for a fault current of %s kA, interrupting %s kA", short(c.Fuse.FaultKA),
				short(c.Fuse.KiloAmps))
		}
		t.indented("", fmt.Sprintf("%s: %s A at %s V over %s m one way; computed %s mm², bought %s mm², which carries %d A; fuse %s A%s; drop %s V (%s %%); sized by %s", titled(c), plain(c.Load, 2),
			short(c.Volts), plain(c.OneWay, 2), short(c.Cable.Computed), bought(c), c.Cable.AllowedA,
			short(c.Fuse.Bought), interrupts, plain(c.Drop, 2), plain(c.Share, 1), c.Cable.Decides))
	}
	t.wrapped(circuitNote)
	t.heading("Wire, ends and fuses", '-')
	for _, r := range l.Rolls {
		t.amount(roll(r), plain(r.Length, 2)+" m")
	}
	for _, list := range [][]sheet.ArticlePart{l.Terminals, l.Fuses} {
		for _, a := range list {
			t.amount(msg.English.Text(a.Article), strconv.Itoa(a.Count))
		}
	}
	t.amount("Copper", plain(l.Copper, 2)+" kg")
	t.list("Not sized", l.Faults)
	t.heading("Caution for the loom", '-')
	t.wrapped(msg.English.Text(l.Caution))
}

func fused(w sheet.WirePart) string {
	if w.Fuse == 0 {
		return ""
	}
	return ", fuse " + short(w.Fuse) + " A"
}

// loomRows are those of the yard's CSV: every wire with its circuit, then what the loom takes.
func loomRows(l *sheet.LoomPart, circuits []sheet.CircuitPart) (rows [][]string) {
	if l == nil {
		return nil
	}
	book, ids := map[string]string{}, map[string]string{}
	for _, c := range circuits {
		book[c.Title], ids[c.Title] = c.At, c.ID
		for i := range c.Count {
			one := fmt.Sprintf("%s %d", c.Title, i+1)
			book[one], ids[one] = c.At, c.ID
		}
	}
	row := func(kind, of, id, title, quantity, unit, at string) {
		rows = append(rows, []string{kind, of, id, title, "", quantity, unit, "", "", "", "", "", at})
	}
	for _, c := range circuits {
		row("circuit", titled(c), c.ID, fmt.Sprintf("load %s A, fuse %s A, cable %s mm² which carries %d A, computed %s mm², drop %s V", plain(c.Load, 2), short(c.Fuse.Bought), bought(c), c.Cable.AllowedA,
			short(c.Cable.Computed), plain(c.Drop, 2)), strconv.Itoa(c.Count), "each", c.At)
	}
	for _, w := range l.Wires {
		row("wire", w.Circuit, ids[w.Circuit], fmt.Sprintf("%s (%s), %s mm², from %s to %s, %s%s", w.Colour, sign(w),
			short(w.Section), msg.English.Text(w.From), msg.English.Text(w.To), msg.English.Text(w.Terminal), fused(w)),
			plain(w.Length, 2), "m", book[w.Circuit])
	}
	for _, r := range l.Rolls {
		row("roll", "", "", roll(r), plain(r.Length, 2), "m", "")
	}
	for _, a := range l.Terminals {
		row("terminal", "", "", msg.English.Text(a.Article), strconv.Itoa(a.Count), "each", "")
	}
	for _, a := range l.Fuses {
		row("fuse", "", "", msg.English.Text(a.Article), strconv.Itoa(a.Count), "each", "")
	}
	row("copper", "", "", "Copper in the loom", plain(l.Copper, 3), "kg", "")
	for _, f := range l.Faults {
		row("not sized", "", "", f, "", "", "")
	}
	return rows
}
