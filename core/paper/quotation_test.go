package paper_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// flat is a text without its line breaks and narrow spaces, as one would read it out.
func flat(s string) string { return strings.Join(strings.Fields(plain(s)), " ") }

// What a quotation must say stands in each of its forms: who sells, what is bought and what is not, on which terms, and
// where to pay.
func TestAllFormsOfAQuotationSayTheSame(t *testing.T) {
	d := readDetails(t)
	for _, name := range []string{frozenSpec, "export", "osier-76-fullest"} {
		q, _ := papersOf(t, yardEngine(), name, &d)
		says := []string{q.Number, q.Date, q.ValidUntil, q.Hull, q.Customer.Name, q.Seller, q.Yard.Name,
			q.Yard.Register, q.Yard.TaxNumber, q.Yard.Bank.IBAN, q.Acceptance}
		for _, list := range [][]string{q.Includes, q.Delivery, q.Exclusions, q.Warranty, q.Terms, q.Cautions} {
			if len(list) == 0 {
				t.Fatalf("%s lacks something of what is included, delivered, excluded, warranted, or of terms and "+
					"cautions", name)
			}
			says = append(says, list...)
		}
		for _, list := range [][]quote.SectionPart{q.Contents, q.Standard} {
			for _, sec := range list {
				for _, s := range sec.Slots {
					says = append(says, sec.Title, s.Title, s.Options[0].Title)
				}
			}
		}
		for _, list := range [][]engine.Value{q.Dimensions, q.Figures, q.Use} {
			for _, v := range list {
				says = append(says, v.Title)
			}
		}
		for _, f := range []paper.Format{paper.AsText, paper.AsHTML, paper.AsJSON, paper.AsCSV} {
			text := customer(t, q, f)
			switch f {
			case paper.AsHTML:
				text = parse(t, text).text
			case paper.AsJSON:
				text = strings.NewReplacer(`\\`, `\`, `\"`, `"`).Replace(text)
			}
			read := flat(text)
			for _, s := range says {
				// dates are written for people, and for machines
				if !strings.Contains(read, flat(s)) && !strings.Contains(read, flat(msg.English.Date(s))) {
					t.Errorf("%s as %s does not say %q", name, f, s)
				}
			}
			amounts := []money.Amount{q.Price.Total}
			if q.Price.TaxMode != pack.Zero {
				amounts = append(amounts, q.Price.Net, q.Price.Tax)
			}
			for _, a := range amounts {
				p := a.Fixed(2)
				if f == paper.AsJSON {
					p = a.String()
				}
				if !containsNumber(text, p) {
					t.Errorf("%s as %s lacks the amount %s", name, f, p)
				}
			}
		}
	}
}

// A quotation shows about a dozen figures and none that is nothing; the yard's sheet shows them all.
func TestFiguresOfAQuotation(t *testing.T) {
	for _, name := range specNames(t) {
		q, y := papersOf(t, yardEngine(), name, nil)
		if n := len(q.Figures); n < 10 || n > 14 || len(y.Figures) < 2*n {
			t.Errorf("%s: %d figures on the quotation, %d on the yard's sheet", name, n, len(y.Figures))
		}
		for _, list := range [][]engine.Value{q.Figures, q.Use, q.Dimensions} {
			for _, v := range list {
				if v.Nothing() {
					t.Errorf("%s: %s is zero", name, v.Title)
				}
			}
		}
		if len(q.Dimensions) < 4 {
			t.Errorf("%s: the dimensions are %v", name, q.Dimensions)
		}
	}
}

// The sum so far on each line of a price leads to what is paid. Cents are added up here in whole numbers.
func TestPricesAreCarried(t *testing.T) {
	for _, name := range specNames(t) {
		q, _ := papersOf(t, yardEngine(), name, nil)
		sum := 0
		for i, l := range append(append([]quote.LinePart{}, q.Price.Lines...), q.Price.Discounts...) {
			if sum += cents(t, l.Amount.Fixed(2)); cents(t, l.Carried.Fixed(2)) != sum {
				t.Errorf("%s: after %d lines stand %s, want %d cents", name, i+1, l.Carried, sum)
			}
			if l.Section == "" && i < len(q.Price.Lines) {
				t.Errorf("%s: the line %q has no section", name, l.Title)
			}
		}
		want := q.Price.Total
		if q.Price.TaxMode != "inclusive" {
			want = q.Price.Net
		}
		if sum != cents(t, want.Fixed(2)) {
			t.Errorf("%s: the lines add up to %d cents, the price is %s", name, sum, want)
		}
		doc, columns := parse(t, customer(t, q, paper.AsHTML)), 2
		if len(q.Price.Lines)+len(q.Price.Discounts) > 20 {
			columns = 3
		}
		for _, e := range doc.all("table") {
			if strings.HasPrefix(e.attr["class"], "price ") && len(e.all("thead")[0].all("th")) != columns {
				t.Errorf("%s: a table of %d lines has not %d columns", name, len(q.Price.Lines), columns)
			}
		}
	}
}

// The place to sign stands behind the words that are signed, and only on a quotation.
func TestAcceptanceStandsAboveTheSignature(t *testing.T) {
	d := readDetails(t)
	draft, _ := papersOf(t, yardEngine(), frozenSpec, nil)
	q, _ := papersOf(t, yardEngine(), frozenSpec, &d)
	for _, f := range []paper.Format{paper.AsText, paper.AsHTML} {
		text := flat(customer(t, q, f))
		accept, sign := strings.Index(text, flat(q.Acceptance)), strings.Index(text, "signature of the customer")
		if accept < 0 || sign < accept || sign-accept > 500 {
			t.Errorf("%s: the acceptance stands at %d, the signature at %d", f, accept, sign)
		}
		if text := customer(t, draft, f); strings.Contains(text, "Acceptance") || strings.Contains(text, "IBAN") {
			t.Errorf("%s: a draft can be signed or paid", f)
		}
	}
}

var pageFoot = regexp.MustCompile(`@bottom-left \{ content: "((?:[^"\\]|\\[0-9a-f]{1,6} )*)"; [^}]* \} @bottom-right \{ content: "Page " counter\(page\) " of " counter\(pages\)`)

// readCSS undoes the escapes of a string. Source: CSS Syntax Module Level 3, 4.3.7.
func readCSS(s string) string {
	return regexp.MustCompile(`\\([0-9a-f]{1,6}) `).ReplaceAllStringFunc(s, func(e string) string {
		n, _ := strconv.ParseInt(strings.Trim(e, "\\ "), 16, 32)
		return string(rune(n))
	})
}

// Each printed page has its number and that of the quotation, whatever that is; no number ends the string, the rule or
// the style sheet.
func TestEachPageHasItsNumberAndTheQuotations(t *testing.T) {
	d := readDetails(t)
	original, y := papersOf(t, yardEngine(), frozenSpec, &d)
	bench := &sheet.Card{Shop: "Lamination", Hull: "Reed 65"}
	check := func(number string) {
		q := *original
		q.Number = number
		for of, html := range map[string]string{"quotation": customer(t, &q, paper.AsHTML),
			"yard": yard(t, y, &q, paper.AsHTML), "shop": card(t, bench, &q, paper.AsHTML)} {
			style := parse(t, html).all("style")
			m := pageFoot.FindStringSubmatch(style[len(style)-1].text)
			if m == nil || !strings.Contains(readCSS(m[1]), number) {
				t.Fatalf("%s: the foot of %q is %q", of, number, style[len(style)-1].text)
			}
		}
	}
	check("HL-2027-014")
	rapid.Check(t, func(r *rapid.T) {
		check("n" + rapid.StringOf(rapid.RuneFrom([]rune(`"\{}</style>;'a0·ß 日`+"\n"), unicode.L, unicode.N)).Draw(r,
			"number"))
	})
}

// One number for one part on a sheet: what a layout's table, its drawing and the list of materials say is the same, and
// so is the length of a wire in table and drawing.
func TestOneNumberForOnePart(t *testing.T) {
	e := yardEngine()
	pieces, wires := 0, 0
	for _, name := range specNames(t) {
		a := answer(t, e, readSpec(t, name))
		pictures, err := sheet.Pictures(e, a.Build)
		if err != nil {
			t.Fatal(err)
		}
		y := sheet.ForYard(e, a, quote.Details{})
		doc := parse(t, yard(t, y, nil, paper.AsHTML, pictures...))
		tables := ""
		for _, table := range doc.all("table") {
			tables += plain(table.text) + " "
		}
		drawn := regexp.MustCompile(`(?:^|\) |; |\d{1,2}  )([A-Z][^;()×]*, [\d ]+ × [\d ]+ mm)`)
		for _, desc := range doc.all("desc") {
			if !strings.Contains(desc.text, "pieces laid to scale") {
				continue
			}
			if waste := regexp.MustCompile(`waste ([\d.]+ %)`).FindStringSubmatch(plain(desc.text)); waste == nil ||
				!strings.Contains(tables, waste[1]+" waste") {
				t.Errorf("%s: a layout is drawn with %q, and no table says so", name, waste)
			}
			for _, m := range drawn.FindAllStringSubmatch(plain(desc.text), -1) {
				pieces++
				if piece := strings.ReplaceAll(m[1], " ", ""); !strings.Contains(strings.ReplaceAll(tables, " ", ""),
					piece) {
					t.Errorf("%s: the drawing has %q, the table has not", name, m[1])
				}
			}
		}
		if y.Loom == nil {
			continue
		}
		lengths := map[string]bool{}
		for _, w := range y.Loom.Wires {
			lengths[measure.Decimal(w.Length, 2)] = true
		}
		for _, p := range pictures {
			if !strings.HasPrefix(p.ID, "loom") {
				continue
			}
			for _, m := range regexp.MustCompile(`mm², ([\d.]+) m[,;<]`).FindAllStringSubmatch(plain(p.SVG), -1) {
				wires++
				if !lengths[m[1]] {
					t.Errorf("%s: a wire of %s m is drawn, and none is in the table", name, m[1])
				}
			}
		}
	}
	if pieces < 20 || wires < 50 {
		t.Errorf("only %d pieces and %d wires were compared", pieces, wires)
	}
}

// What is taken is said in packs as a storekeeper would.
func TestPartsOfPacks(t *testing.T) {
	q := func(v float64) measure.Quantity { x, _ := measure.FromFloat[measure.Quantity](v); return x }
	for want, m := range map[string]sheet.CardMaterial{
		"Thread, part of a pack of 1500 m 597.6 m": {Title: "Thread", Unit: "m", Used: q(597.6),
			Pack: q(1500)},
		"Tape, one pack of 55 m and part of another 60.0 m": {Title: "Tape", Unit: "m", Used: q(60), Pack: q(55)},
		"Screws 200 each":  {Title: "Screws", Unit: "each", Used: q(200), Pack: q(100)},
		"Cloth 23.00 m²":   {Title: "Cloth", Unit: "m2", Used: q(22.96), Pack: q(1.52)},
		"Brushes 45.30 m²": {Title: "Brushes", Unit: "m2", Used: q(45.3), Pack: q(1)},
		"Plate 1 each":     {Title: "Plate", Unit: "each", Used: q(1), Pack: q(1)},
		"Roving, 2 packs of 50 m² and part of another 120.05 m²": {Title: "Roving", Unit: "m2", Used: q(120.001),
			Pack: q(50)},
		"Cleat 4 each": {Title: "Cleat", Unit: "each", Used: q(4)},
	} {
		text := card(t, &sheet.Card{Shop: "Shop", Hull: "Hull",
			Work: []sheet.CardWork{{Title: "Fit", Materials: []sheet.CardMaterials{{For: "Boat",
				Parts: []sheet.CardMaterial{m}}}}}}, nil,
			paper.AsText)
		if !strings.Contains(strings.ReplaceAll(flat(text), "1 500", "1500"), want) {
			t.Errorf("%q is not said in\n%s", want, text)
		}
	}
}
