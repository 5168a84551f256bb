package supply_test

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"ribband/core/book/source"
	"ribband/core/money"
	"ribband/core/supply"
)

// An invented yard's materials, in the styles in which people write them.
const materials = `# Prices of the invented Teasel Yard.
currency: EUR
materials:
  - {id: rope-8, title: "Rope 8 mm, white", unit: m, cost: "1.30", supplier: Invented Ropes, article: R-8, price_date: 2026-01-01, breaks: [{from: 100, price: "1.10"}, {from: 500, price: "0.95"}]} # by the drum
  - {id: rope-12, title: 'Rope 12 mm', unit: m, cost: '2.40', supplier: Invented Ropes, article: R-12, price_date: "2026-01-01"}
  - id: shackle      # two spaces
    title: Shackle
    unit: each
    cost: "14.00"    # since the move
    supplier: Invented Ropes
    article: S 5
  - {id: block, title: Block, unit: each, cost: "31.00", supplier: Invented Ropes}
  - {id: paint, title: Paint, unit: l, cost: "18.00", supplier: Somebody Else, article: R-8}
`

// folder is a book of one file.
func folder(text string) fs.FS { return fstest.MapFS{"m.yaml": {Data: []byte(text)}} }

// propose takes a list into a book.
func propose(t rapid.TB, book fs.FS, list string, terms supply.Terms) *supply.Proposal {
	t.Helper()
	// nothing here asks for a whole book: what else is missing in it does not matter
	b, _, err := source.Read(book)
	if err != nil {
		t.Fatal(err)
	}
	l, err := supply.Read([]byte(list), supply.Options{})
	if err != nil || len(l.Faults) > 0 {
		t.Fatal(err, l)
	}
	if terms.Supplier, err = supply.FindSupplier(b, "invented-ropes"); err != nil {
		t.Fatal(err)
	}
	p, err := supply.Propose(b, book, l, terms)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// usual are the terms of most lists.
func usual(day string) supply.Terms { return supply.Terms{Day: day, Jump: money.MustRate("0.20")} }

// Prices, prices by quantity and days are written where they stand, and what the book has not yet behind the cost, in
// the style of the material. Everything else stays as it was.
func TestPropose(t *testing.T) {
	// two in brackets, one of them with prices by quantity, and one in block style without a day
	p := propose(t, folder(materials), "article;price;unit;from\nr-8;1.25;m;\nR-8;1.05;m;100\nR-8;0.95;m;500\n"+
		"R-12;2.40;m;\nS5;15.125;each;\n", usual("2027-01-01"))
	want := strings.NewReplacer(`cost: "1.30"`, `cost: "1.25"`, `price: "1.10"`, `price: "1.05"`,
		"price_date: 2026-01-01", "price_date: 2027-01-01", `price_date: "2026-01-01"`, `price_date: "2027-01-01"`,
		`    cost: "14.00"    # since the move`, `    cost: "15.125"    # since the move
    price_date: 2027-01-01`).Replace(materials)
	if got := string(p.Edit.Apply()["m.yaml"]); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if len(p.Changes) != 3 || p.Same != 1 || len(p.Left) != 1 || p.Left[0].Kind != supply.Unnumbered {
		t.Errorf("%+v", p)
	}
	// what the book did not have: prices by quantity
	p = propose(t, folder(materials), "article;price;from\nR-12;2.40;\nR-12;2.10;200\n", usual("2027-01-01"))
	if got := string(p.Edit.Apply()["m.yaml"]); !strings.Contains(got, `cost: '2.40', breaks: [{from: 200, price: `+
		`"2.10"}], supplier`) {
		t.Errorf("got\n%s", got)
	}
	// other quantities are for a person
	p = propose(t, folder(materials), "article;price;from\nR-8;1.30;\nR-8;1.00;250\n", usual("2027-01-01"))
	if len(p.Edit.ByHand) != 1 || !strings.Contains(p.Edit.ByHand[0], `write breaks: [{from: 250, price: "1.00"}]`) {
		t.Errorf("%q", p.Edit.ByHand)
	}
}

// What is doubtful is left out, each for its reason, and nothing of it is written.
func TestLeft(t *testing.T) {
	for list, want := range map[string]string{
		"article;price\nR-8;1.30\nR-12;2.40\nX-1;5.00\nS 5;14.00\n": "unnumbered: it has no article in the book; add " +
			"article: with his number|unmatched: no material of the book has this article",
		"article;price;unit\nR-8;130.00;drum\n": `unit: its price is for "drum", and the book keeps it in m`,
		"article;price\nR-8;£1.30\n":            "currency: its price is in GBP, and the book is in EUR",
		"article;price\nR-8;1.25\nR-8;1.20\n":   "doubled: it costs 1.2 here and 1.25 in line 2; ask which holds",
		"article;price;from\nR-8;1.25;100\n":    "incomplete: there is a price from 100 on and none for less",
		"article;price;date\nR-8;1.25;2025-12-31\n": "older: the list is of 2025-12-31, and the book has a price of " +
			"2026-01-01",
		"article;price\nR-8;1.60\n": "jump: 1.3 becomes 1.6, +23.1 %: look at it, and take it with -accept-jumps",
		"article;price\nR-8;1.00\n": "jump: 1.3 becomes 1, -23.1 %: look at it, and take it with -accept-jumps",
	} {
		p := propose(t, folder(materials), list, usual("2027-01-01"))
		var got []string
		for _, l := range p.Left {
			// what this list says nothing of stands in every report of these
			if l.Kind != supply.Missing && (l.Kind != supply.Unnumbered || strings.HasPrefix(want, "unnumbered")) {
				got = append(got, fmt.Sprintf("%s: %s", l.Kind, l.Why))
			}
		}
		if strings.Join(got, "|") != want {
			t.Errorf("%q: got\n%s\nwant\n%s", list, strings.Join(got, "|"), want)
		}
		if len(p.Changes) > 0 {
			t.Errorf("%q changes %+v", list, p.Changes)
		}
	}
	terms := usual("2027-01-01")
	terms.AcceptJumps = true
	if p := propose(t, folder(materials), "article;price\nR-8;1.60\n", terms); len(p.Changes) != 1 {
		t.Errorf("a jump that is accepted changes %+v", p.Changes)
	}
}

// A list and then one with the old prices give the same bytes, whatever the form of the list.
func TestPropertyAndBack(t *testing.T) {
	first := "R-8;1.30;\nR-8;1.10;100\nR-8;0.95;500\nR-12;2.40;\n"
	rapid.Check(t, func(t *rapid.T) {
		terms := usual("2026-01-01")
		terms.AcceptJumps = true
		cents := rapid.SliceOfN(rapid.Int64Range(1, 99_999), 4, 4).Draw(t, "prices, thousandths")
		comma := rapid.Bool().Draw(t, "comma")
		var rows strings.Builder
		for i, article := range []string{"R-8;%s;", "R-8;%s;100", "R-8;%s;500", "R-12;%s;"} {
			text := money.Exact(cents[i], -3).Fixed(4) // four decimals are never thousands
			if comma {
				text = strings.Replace(text, ".", ",", 1)
			}
			fmt.Fprintf(&rows, article+"\n", text)
		}
		p := propose(t, folder(materials), "article;price;from\n"+rows.String(), terms)
		there, err := fs.ReadFile(p.Edit.After(), "m.yaml")
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range p.Changes {
			if !strings.Contains(string(there), supply.Written(c.Now, 2)) {
				t.Fatalf("%+v is not written:\n%s", c, there)
			}
		}
		back := propose(t, folder(string(there)), "article;price;from\n"+first, terms)
		got, err := fs.ReadFile(back.Edit.After(), "m.yaml")
		if err != nil || string(got) != materials {
			t.Fatalf("%v, there\n%s\nand back\n%s", err, there, got)
		}
	})
}
