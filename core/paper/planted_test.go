package paper_test

import (
	"encoding/json"
	"encoding/xml"
	"fmt"
	"github.com/xuri/excelize/v2"
	"io"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/spec"
)

// planted are texts that do harm where they are taken for something else: markup, an attribute's end, a style sheet,
// a formula, the end of a cell or line, another direction of writing, more than a line holds.
var planted = map[string]string{
	"markup":     `<script>alert(1)</script><img src=x onerror=alert(1)>`,
	"ends":       `"'></title></style></svg></main><!-- ]]> -->`,
	"entities":   `&lt;b&gt;&#60;i&#x3e;&amp;`,
	"style":      "\"; } body { display: none } \\",
	"equals":     `=1+1`,
	"plus":       `+1+1`,
	"minus":      `-1+1`,
	"at":         `@SUM(A1)`,
	"tab":        "\t=1+1",
	"semicolon":  "x;=1+1",
	"full width": "＝1+1",
	"lines":      "\r\n=1+1\nZotal                 1.00\r",
	"controls":   "\x00\x07\x1b[31m\x7f",
	"direction":  "\u202e\u2066\u200f\u202a",
	"long word":  strings.Repeat("w", 400),
}

// plant is a paper's source with a text before and behind every text of the book, of the spec and of the details.
func plant(t *testing.T, base *engine.Engine, text string) (*engine.Engine, *engine.Answer, *quote.Quote) {
	t.Helper()
	in := func(s string) string {
		if s == "" { // what is not there has no text
			return ""
		}
		return text + s + text
	}
	e := base
	if text != "" {
		e = enginetest.Reworded(t, base, in)
	}
	a := answer(t, e, readSpec(t, frozenSpec))
	q := quote.Draft(e, a)
	d := readDetails(t)
	q.Details = quote.Details{Number: in(d.Number), Date: d.Date, ValidUntil: "2027-03-08", Seller: in(d.Seller),
		Approval: in("Wenna"), Remarks: in(d.Remarks), Serial: in("00042"), Built: in("2027-03"),
		Customer: quote.Party{Name: in(d.Customer.Name), Email: in(d.Customer.Email), Phone: in(d.Customer.Phone)}}
	for _, l := range d.Customer.Address {
		q.Customer.Address = append(q.Customer.Address, in(l))
	}
	// what a spec holds as text stands on the price, as it was typed
	for i := range a.Spec.Extras {
		a.Spec.Extras[i] = spec.Extra{Title: in(a.Spec.Extras[i].Title)}
		a.Work.Extras[i].Title = in(a.Work.Extras[i].Title)
	}
	for _, list := range [][]quote.LinePart{q.Price.Lines, q.Price.Discounts} {
		for i := range list {
			list[i].Title, list[i].Detail = in(list[i].Title), in(list[i].Detail)
		}
	}
	return e, a, q
}

// everyPaper writes all papers in all formats.
func everyPaper(t *testing.T, e *engine.Engine, a *engine.Answer, q *quote.Quote,
	do func(name string, f paper.Format, text string)) {
	t.Helper()
	for _, p := range paper.Papers {
		shops := []string{""}
		if p.ID == "job-card" {
			shops = []string{"lamination", "electrical", "canvas-shop"}
		}
		for _, shop := range shops {
			s, err := p.Of(e, a, q, shop)
			if err != nil {
				t.Fatal(err)
			}
			for _, f := range p.Formats {
				text, err := p.Write(s, f)
				if err != nil {
					t.Fatal(err)
				}
				do(p.ID+shop, f, string(text))
			}
		}
	}
}

var styles = regexp.MustCompile(`(?s)<style>.*?</style>`)

// frame is what must not change with the texts on a paper: its elements but those within drawings, which break their
// labels by length.
func frame(t *testing.T, markup string) string {
	root := parse(t, markup)
	for _, svg := range root.all("svg") {
		for _, e := range svg.all("") {
			for a := range e.attr {
				if strings.HasPrefix(a, "on") {
					t.Errorf("<%s %s>", e.name, a)
				}
			}
			if slices.Contains([]string{"script", "img", "style", "foreignObject", "a"}, e.name) {
				t.Errorf("<%s> in a drawing", e.name)
			}
		}
		svg.children = nil
	}
	sheets := strings.Join(styles.FindAllString(markup, -1), "")
	return root.skeleton() + strings.Repeat("{", strings.Count(sheets, "{")) +
		strings.Repeat("}", strings.Count(sheets, "}")) + strings.Repeat(";", strings.Count(sheets, ";"))
}

// Whatever stands in a text of the book, of the spec or of the details, it stays in its cell, its line and its element,
// on every paper in every format.
func TestNoTextBreaksOut(t *testing.T) {
	base := yardEngine()
	plain := map[string]string{} // of the papers as they are: frames of HTML, kinds and numbers of rows of CSV
	e, a, q := plant(t, base, "")
	rowsOf := func(text string) (kinds []string) {
		for _, row := range readCSV(t, text) {
			kinds = append(kinds, row[0])
		}
		return kinds
	}
	everyPaper(t, e, a, q, func(name string, f paper.Format, text string) {
		switch f {
		case paper.AsHTML:
			plain[name+".html"] = frame(t, text)
		case paper.AsCSV:
			plain[name+".csv"] = strings.Join(rowsOf(text), " ")
		case paper.AsUBL:
			plain[name+".xml"] = elements(t, text)
		case paper.AsCalendar:
			plain[name+".ics"] = properties(text)
		case paper.AsWorkbook:
			plain[name+".xlsx"] = formulas(t, text)
		}
	})
	for what, text := range planted {
		t.Run(what, func(t *testing.T) {
			e, a, q := plant(t, base, text)
			everyPaper(t, e, a, q, func(name string, f paper.Format, written string) {
				switch f {
				case paper.AsHTML:
					if frame(t, written) != plain[name+".html"] {
						t.Errorf("%s: the markup is another", name)
					}
				case paper.AsCSV:
					if got := strings.Join(rowsOf(written), " "); got != plain[name+".csv"] {
						t.Errorf("%s: the rows are others", name)
					}
					checkCells(t, name, readCSV(t, written))
				case paper.AsUBL:
					if got := elements(t, written); got != plain[name+".xml"] {
						t.Errorf("%s: the elements are others", name)
					}
				case paper.AsCalendar:
					if got := properties(written); got != plain[name+".ics"] {
						t.Errorf("%s: the properties are others", name)
					}
				case paper.AsWorkbook:
					if got := formulas(t, written); got != plain[name+".xlsx"] {
						t.Errorf("%s: the cells are others: %s", name, got)
					}
				case paper.AsText:
					checkLines(t, name, written)
				case paper.AsJSON:
					if !json.Valid([]byte(written)) {
						t.Errorf("%s: no JSON", name)
					}
				}
			})
		})
	}
}

// begun is a formula at the start of a cell or of what a spreadsheet of another country takes for one.
var begun = regexp.MustCompile(`^[=+@\t\r\n\x00＝＋－＠-]|[;\t\r\n][=+@＝＋－＠-]`)

// checkCells: no cell is a formula. Numbers below zero are none.
func checkCells(t *testing.T, name string, rows [][]string) {
	t.Helper()
	number := regexp.MustCompile(`^-[0-9.]+$`)
	for _, row := range rows {
		for _, cell := range row {
			if begun.MatchString(cell) && !number.MatchString(cell) {
				t.Errorf("%s: %.60q is a formula", name, cell)
				return
			}
		}
	}
}

// checkLines: no line is forged or turned round, none has what no reader sees, and none is too long but for a word that
// is wider than its column.
func checkLines(t *testing.T, name, text string) {
	t.Helper()
	for line := range strings.Lines(text) {
		line = strings.TrimSuffix(line, "\n")
		if strings.Contains(line, "Zotal  ") {
			t.Errorf("%s: a forged line: %q", name, line)
		}
		if i := strings.IndexFunc(line, func(c rune) bool {
			return unicode.IsControl(c) || c >= '\u202a' && c <= '\u202e' || c >= '\u2066' && c <= '\u2069'
		}); i >= 0 {
			t.Errorf("%s: a control character in %.80q", name, line)
			return
		}
		words := strings.FieldsFunc(line, func(c rune) bool { return c == ' ' })
		if n := len([]rune(line)); n > 78 && !slices.ContainsFunc(words,
			func(w string) bool { return len(w) > 78-36 }) {
			t.Errorf("%s: a line of %d characters: %.100q", name, n, line)
			return
		}
	}
}

// elements are the names of the elements of XML, in order.
func elements(t *testing.T, text string) string {
	t.Helper()
	var names []string
	for d := xml.NewDecoder(strings.NewReader(text)); ; {
		token, err := d.Token()
		if err == io.EOF {
			return strings.Join(names, " ")
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			names = append(names, e.Name.Local)
		}
	}
}

// properties are the names of the properties of a calendar, in order, and BEGIN and END with what they are of.
func properties(text string) string {
	var names []string
	for line := range strings.SplitSeq(strings.ReplaceAll(text, "\r\n ", ""), "\r\n") {
		name, value, _ := strings.Cut(line, ":")
		if name == "BEGIN" || name == "END" {
			name += value
		}
		names = append(names, name)
	}
	return strings.Join(names, " ")
}

// formulas are how many rows each sheet of a workbook has, and those of its cells that are formulas.
func formulas(t *testing.T, text string) string {
	t.Helper()
	f, err := excelize.OpenReader(strings.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	var found []string
	for _, sheet := range f.GetSheetMap() {
		found = append(found, "")
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		found[len(found)-1] = fmt.Sprint(len(rows))
		for i, row := range rows {
			for j := range row {
				cell, _ := excelize.CoordinatesToCellName(j+1, i+1)
				if formula, err := f.GetCellFormula(sheet, cell); err != nil || formula != "" {
					found = append(found, cell+formula)
				}
			}
		}
	}
	slices.Sort(found) // a map of sheets
	return strings.Join(found, " ")
}
