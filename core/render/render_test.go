package render_test

import (
	"encoding/csv"
	"math"

	"strings"
	"testing"
	"unicode/utf8"

	"ribband/core/doc"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/render"
)

var euro = money.Currency{Code: "EUR", Digits: 2}

// table has every kind of cell, groups, a detail and a foot.
func table() doc.Table {
	amount := func(s string) doc.Cell { return doc.Money(money.MustParse(s), euro) }
	return doc.Table{Columns: []doc.Column{{Title: "Item"}, {Title: "Share", Right: true}, {Title: "EUR", Right: true},
		{Title: "Carried", Style: "carried", Right: true, Aside: true}},
		Groups: []doc.Group{
			{Title: "Hull", Rows: []doc.Row{{Label: "Keel", Detail: "oak", Cells: []doc.Cell{
				doc.Share(money.MustRate("0.125")), amount("1234.5"), amount("1234.5")}}}},
			{Title: "Deck", Sub: "aft", Rows: []doc.Row{{Label: "Hatch", Cells: []doc.Cell{{}, amount("-10")}}}}},
		Foot: []doc.Row{{Label: "Total", Style: "total", Cells: []doc.Cell{{}, amount("1224.5")}}}}
}

func document(blocks ...doc.Block) *doc.Doc { return &doc.Doc{Title: "T", Foot: "F", Blocks: blocks} }

// Every block in the two forms that are read. What stands here was read and found right; the forms have no standard.
func TestBlocks(t *testing.T) {
	for name, c := range map[string]struct {
		block      doc.Block
		html, text string
	}{
		"letterhead": {doc.Letterhead{Name: "Yard", Address: []string{"Quay 1", "", "Town"}, Note: "invented"},
			`<header class="letterhead"><p class="yard">Yard</p><p class="address">Quay 1 · Town</p>` +
				`<p class="note">invented</p></header>`, "Yard\nQuay 1, Town\ninvented\n"},
		"heading": {doc.Heading("Offer"), `<h1>Offer</h1>`, "Offer\n=====\n"},
		"section": {doc.Section{Title: "Terms", Style: "notes", Note: "read", Blocks: []doc.Block{doc.List{"one",
			"two"}}},
			`<section class="notes"><h2>Terms</h2><p class="note">read</p><ul><li>one</li><li>two</li></ul></section>`,
			"Terms\n-----\nread\n- one\n- two\n"},
		"empty section": {doc.Section{Title: "Terms", Note: "alone", Blocks: []doc.Block{doc.List{}}}, "", ""},
		"section for drawing": {doc.Section{Title: "Sun", Undrawn: true, Blocks: []doc.Block{doc.List{"x"}}}, "",
			"Sun\n---\n- x\n"},
		"chapter": {doc.Section{Title: "A", Blocks: []doc.Block{doc.Section{Title: "B", Blocks: []doc.Block{
			doc.Terms{Mark: "other", Apart: true, List: []doc.Term{{Name: "Top", Marked: true, Values: []string{"x",
				"y"}},
				{Name: "None"}}}}}}},
			`<section><h2>A</h2><div class="chapter"><h3>B</h3><dl><dt>Top<span class="changed" title="other"> •</span>` +
				`</dt><dd><div>x</div><div>y</div></dd></dl></div></section>`,
			"A\n-\nB\n• Top                               x; y\n"},
		"steps and code": {doc.Section{Title: "A", Style: "s", Blocks: []doc.Block{doc.Section{Title: "B", Style: "t",
			Blocks: []doc.Block{doc.Steps{"do", "then"}}}, doc.Code{}}},
			`<section class="s"><h2>A</h2><div class="chapter t"><h3>B</h3>` +
				`<ol><li>do</li><li>then</li></ol></div></section>`,
			"A\n-\nB\n1. do\n2. then\n"},
		"places to write on": {doc.Table{Columns: []doc.Column{{Title: "Check"}, {Title: "Found"}, {Title: "By"}},
			Groups: []doc.Group{{Rows: []doc.Row{{Label: "Gap", Cells: []doc.Cell{doc.Blank("mm"), doc.Blank("")}}}}}},
			`<table><thead><tr><th scope="col">Check</th><th scope="col">Found</th><th scope="col">By</th></tr>` +
				`</thead><tbody><tr><th scope="row">Gap</th><td class="blank">mm</td><td class="blank"></td></tr>` +
				`</tbody></table>`,
			"Gap\n    found ________\u00a0mm; by ________\n"},
		"paragraph":  {doc.Paragraph{Text: "words", Note: true}, `<p class="note">words</p>`, "words\n"},
		"signatures": {doc.Signatures{"you"}, `<div class="signatures"><div>you</div></div>`, strings.Repeat("_", 39) + "\nyou\n"},
		"footer":     {doc.Footer{"end"}, `<footer><p>end</p></footer>`, "end\n"},
		"drawings": {doc.Drawings{{ID: "a", Title: "A", SVG: "<svg></svg>", Small: true}, {ID: "b"}},
			`<div class="pictures"><section class="picture small" id="picture-a"><h2>A</h2><svg></svg></section></div>`, ""},
		"no drawings": {doc.Drawings{{ID: "b"}}, "", ""},
		"table": {table(), `<table><thead><tr><th scope="col">Item</th><th scope="col" class="number">Share</th>` +
			`<th scope="col" class="number">EUR</th><th scope="col" class="number carried">Carried</th></tr></thead>` +
			`<tbody><tr class="group"><th scope="rowgroup" colspan="4">Hull</th></tr><tr><th scope="row">Keel` +
			`<span class="detail">oak</span></th><td class="number">12.5` + "\u202f" + `%</td><td class="number">1` +
			"\u202f" + `234.50</td><td class="number carried">1` + "\u202f" + `234.50</td></tr></tbody>` +
			`<tbody><tr class="group"><th scope="rowgroup" colspan="4">Deck</th></tr><tr class="item">` +
			`<th scope="rowgroup" colspan="4">aft</th></tr><tr><th scope="row">Hatch</th><td class="number"></td>` +
			`<td class="number">−10.00</td></tr></tbody><tfoot><tr class="total"><th scope="row">Total</th>` +
			`<td class="number"></td><td class="number">1` + "\u202f" + `224.50</td></tr></tfoot></table>`,
			"Item                                                         Share         EUR\n" +
				"Hull\n" +
				"  Keel: oak                                                 12.5\u202f%    1\u202f234.50\n" +
				"Deck\n" +
				"  aft\n" +
				"    Hatch                                                               −10.00\n" +
				strings.Repeat("-", 78) + "\n" +
				"Total                                                                 1\u202f224.50\n"},
		"table of words": {doc.Table{Columns: []doc.Column{{Title: "Wire"}, {Title: "Colour"}, {Unit: "mm²"},
			{Title: "Length", Unit: "m"}, {Title: "Fuse", Unit: "A"}},
			Groups: doc.Rows([]string{"Pump +"}, func(s string) doc.Row {
				return doc.Row{Label: s, Cells: []doc.Cell{doc.Text("red"), doc.Exact(1.5), doc.Number(3.204, 2),
					doc.Some(0)}}
			})},
			`<table><thead><tr><th scope="col">Wire</th><th scope="col">Colour</th><th scope="col" class="number">mm²</th>` +
				`<th scope="col" class="number">Length, m</th><th scope="col" class="number">Fuse, A</th></tr></thead>` +
				`<tbody><tr><th scope="row">Pump +</th><td>red</td><td class="number">1.5</td><td class="number">3.20</td>` +
				`<td class="number"></td></tr></tbody></table>`,
			"Pump +\n    colour red; 1.5\u00a0mm²; length 3.20\u00a0m\n"},
	} {
		page, err := render.HTML(document(c.block), msg.English)
		if err != nil {
			t.Fatal(err)
		}
		_, body, _ := strings.Cut(string(page), "<main>")
		if body, _, _ = strings.Cut(body, "</main>"); body != c.html {
			t.Errorf("%s: the page has\n%s\nwant\n%s", name, body, c.html)
		}
		if got := string(render.Text(document(c.block), msg.English)); got != c.text {
			t.Errorf("%s: the text is\n%s\nwant\n%s", name, got, c.text)
		}
	}
}

// A head is broken over as many lines as it needs, and a label too, with its numbers on the last.
func TestColumnsOfText(t *testing.T) {
	d := document(doc.Table{Columns: []doc.Column{{Title: "Shop"}, {Title: "Standard build"}, {Title: "Hours"}},
		Groups: doc.Rows([]string{strings.Repeat("long ", 12)}, func(s string) doc.Row {
			return doc.Row{Label: s, Cells: []doc.Cell{doc.Count(1), doc.Count(12345)}}
		})})
	want := "" +
		"                                                          Standard\n" +
		"Shop                                                         build       Hours\n" +
		"long long long long long long long long long long long\n" +
		"long                                                             1      12\u202f345\n"
	if got := string(render.Text(d, msg.English)); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestCSVOfDocuments(t *testing.T) {
	if _, err := render.CSV(document()); err == nil || !strings.Contains(err.Error(), "has no table of data") {
		t.Errorf("without data: %v", err)
	}
	data := table()
	data.Groups[0].Rows[0].Label = "=1+1"
	text, err := render.CSV(&doc.Doc{Data: &data})
	want := "Item,Share,EUR,Carried\r\n'=1+1,0.125,1234.50,1234.50\r\nHatch,,-10.00,\r\n"
	if err != nil || string(text) != want {
		t.Errorf("%v, got %q, want %q", err, text, want)
	}
}

// A page is in the language of its reader: numbers, shares and the foot.
func TestLanguages(t *testing.T) {
	dutch, err := msg.Read("nl.json", []byte(`{"language.tag": "nl", "language.name": "Nederlands",
		"language.months": "jan feb mrt apr mei jun jul aug sep okt nov dec", "render.page": "{pages} bladen, dit is {page}"}`))
	if err != nil {
		t.Fatal(err)
	}
	page, err := render.HTML(document(table()), dutch)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`<html lang="nl">`, "1.234,50", "12,5%",
		`content: counter(pages) " bladen, dit is " counter(page); font`} {
		if !strings.Contains(string(page), want) {
			t.Errorf("the page has no %q", want)
		}
	}
}

// The cells of a row in a sentence: the titles of their columns are small, but not in a language that writes its nouns
// with a capital.
func TestLineKeepsCapitals(t *testing.T) {
	german, err := msg.Read("de.json", []byte(`{"language.tag": "de", "language.name": "Deutsch",
		"language.months": "J F M A M J J A S O N D", "language.titles-inside": "as-written"}`))
	if err != nil {
		t.Fatal(err)
	}
	columns := []doc.Column{{}, {Title: "Länge", Unit: "m"}, {Title: "IP code"}}
	cells := []doc.Cell{doc.Number(3.5, 2), doc.Text("67")}
	for l, want := range map[*msg.Language]string{
		german:      "Länge 3,50\u00a0m; IP code 67",
		msg.English: "länge 3.50\u00a0m; IP code 67",
	} {
		if got := render.Line(columns, cells, l); got != want {
			t.Errorf("%s: %q, want %q", l.Name(), got, want)
		}
	}
}

// Whatever stands in a document, it becomes no markup, no rule of a style sheet, no forged line and no formula; the
// page stays one element, the text keeps its width, and the table its columns.
func FuzzRender(f *testing.F) {
	f.Add("plain", 1.5)
	f.Add("</main><script>alert(1)</script>", math.Copysign(0, -1))
	f.Add("\"} body { display: none } \\", 1e300)
	f.Add("=cmd|' /C calc'!A0\r\nTotal 1.00", 12345.678)
	f.Add("-- \t\u202e\x00", 0.1)
	f.Fuzz(func(t *testing.T, s string, v float64) {
		if !utf8.ValidString(s) {
			t.Skip()
		}
		table := doc.Table{Style: "listing", Columns: []doc.Column{{Title: s}, {Title: s, Unit: s}},
			Groups: []doc.Group{{Title: s, Sub: s, Rows: []doc.Row{{Label: s, Detail: s,
				Cells: []doc.Cell{doc.Text(s), doc.Number(v, 2), doc.Text(s)}}}}},
			Foot: []doc.Row{{Label: s, Cells: []doc.Cell{doc.Date(s)}}}}
		d := &doc.Doc{Title: s, Foot: s, Data: &table, Blocks: []doc.Block{
			doc.Letterhead{Name: s, Address: []string{s}, Note: s}, doc.Heading(s),
			doc.Section{Title: s, Note: s, Blocks: []doc.Block{table, doc.List{s}, doc.Steps{s},
				doc.Terms{Mark: s, List: []doc.Term{{Name: s, Values: []string{s, s}, Marked: true}}}}},
			doc.Drawings{{ID: s, Title: s, SVG: "<svg></svg>"}}, doc.Signatures{s}, doc.Footer{s}}}
		page, err := render.HTML(d, msg.English)
		if err != nil {
			t.Fatal(err)
		}
		if a, b := strings.Count(string(page), "<"), strings.Count(string(plainPage(t, d)), "<"); a != b {
			t.Errorf("%q makes %d tags, a plain word %d", s, a, b)
		}
		if strings.Count(string(page), "</style>") != 2 {
			t.Errorf("%q ends a style sheet", s)
		}
		render.Text(d, msg.English)
		text, err := render.CSV(d)
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(strings.NewReader(string(text))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, cell := range append(rows[1][:1], rows[1][1:]...) {
			if cell != "" && strings.ContainsAny(cell[:1], "=+@\t\r\n") {
				t.Errorf("%q is a formula", cell)
			}
		}
	})
}

// plainPage is the page with a plain word in place of each text.
func plainPage(t *testing.T, d *doc.Doc) []byte {
	t.Helper()
	plain := *d
	plain.Blocks = nil
	for _, b := range d.Blocks {
		plain.Blocks = append(plain.Blocks, plained(b))
	}
	page, err := render.HTML(&plain, msg.English)
	if err != nil {
		t.Fatal(err)
	}
	return page
}

// word is "x" for a text that says something, and nothing for one that does not: as the page leaves it out.
func word(s string) string {
	if s == "" {
		return ""
	}
	return "x"
}

func plained(b doc.Block) doc.Block {
	switch b := b.(type) {
	case doc.Letterhead:
		return doc.Letterhead{Name: "x", Address: b.Address[:0], Note: word(b.Note)}
	case doc.Heading:
		return doc.Heading(word(string(b)))
	case doc.Section:
		s := doc.Section{Title: word(b.Title), Note: word(b.Note)}
		for _, x := range b.Blocks {
			s.Blocks = append(s.Blocks, plained(x))
		}
		return s
	case doc.Table:
		return doc.Table{Columns: make([]doc.Column, len(b.Columns)),
			Groups: []doc.Group{{Title: word(b.Groups[0].Title),
				Sub: word(b.Groups[0].Sub), Rows: []doc.Row{{Detail: word(b.Groups[0].Rows[0].Detail),
					Cells: make([]doc.Cell, len(b.Groups[0].Rows[0].Cells))}}}},
			Foot: []doc.Row{{Cells: make([]doc.Cell, 1)}}}
	case doc.List:
		return doc.List{"x"}
	case doc.Steps:
		return doc.Steps{"x"}
	case doc.Terms:
		return doc.Terms{List: []doc.Term{{Name: "x", Values: []string{"x"}, Marked: true}}}
	case doc.Drawings:
		return doc.Drawings{{SVG: "<svg></svg>"}}
	case doc.Signatures:
		return doc.Signatures{"x"}
	}
	return doc.Footer{"x"}
}

// The same document is written the same way each time.
func TestRenderingIsDeterministic(t *testing.T) {
	first, err := render.HTML(document(table()), msg.English)
	if err != nil {
		t.Fatal(err)
	}
	for range 3 {
		again, err := render.HTML(document(table()), msg.English)
		if err != nil || string(again) != string(first) {
			t.Fatalf("another page the second time: %v", err)
		}
	}
}
