package supply_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"ribband/core/supply"
)

// read reads a list and tells its rows and faults in one line each.
func read(t *testing.T, text string, o supply.Options) (lines []string) {
	t.Helper()
	l, err := supply.Read([]byte(text), o)
	if err != nil {
		return []string{err.Error()}
	}
	for _, r := range l.Rows {
		lines = append(lines, strings.TrimSpace(fmt.Sprintf("%d %s %s %s %s %s %s", r.Line, r.Article, r.Price, r.Unit,
			r.Currency, r.From, r.Day)))
	}
	for _, f := range l.Faults {
		lines = append(lines, f.Error())
	}
	return lines
}

// headless is said of what is no price list at all.
const headless = "reading a price list: no line has the heads of columns for article and price; name them, as " +
	"-columns article=Code,price=Netto"

// Forms of lists as suppliers send them; common practice, no source.
func TestRead(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		want []string
	}{
		"English, comma, point": {"Item No,Description,Unit,Net price GBP\n" +
			"A1,\"Cleat, small\",ea,\"1,250.50\"\nA2,Bolt,pcs,0.4\n",
			[]string{"2 A1 1250.5 each GBP 0", "3 A2 0.4 each GBP 0"}},
		"Dutch, semicolon, comma": {"Bestelnr.;Omschrijving;Eenheid;Netto prijs\nA1;Kikker;stuks;€ 1.250,50\n" +
			"A2;Bout;st;12,-\n",
			[]string{"2 A1 1250.5 each EUR 0", "3 A2 12 each  0"}},
		"German, tab, byte order mark": {"\ufeffArt.-Nr.\tME\tPreis in EUR je 100\nA1\tStk\t45,80\n",
			[]string{"2 A1 0.458 each EUR 0"}},
		"Windows-1252": {"Artikelnr.;St\xfcckpreis\nA1;3,50 \x80\n", []string{"2 A1 3.5  EUR 0"}},
		"units in the row": {"code;uom;per;price\nA1;m;100;250\nA2;100 m;;250.5\nA3;kg;per 25;50\n" +
			"A4;kg;3;50\n",
			[]string{"2 A1 2.5 m  0", "3 A2 2.505 m  0", "4 A3 2 kg  0",
				`line 5: the price is for "3 kg"; write one for 1, 10, 100 or 1000 units`}},
		"discounts": {"article;list price;discount\nA1;100,00;12,5 %\nA2;100,00;10 + 5\nA3;100,00;0,35\nA4;100,00;\n",
			[]string{"2 A1 87.5   0", "3 A2 85.5   0", "5 A4 100   0",
				`line 4: the discount "0,35" is none; write it in per cent, as 12.5 %`}},
		"a net price has it off": {"article;net;discount\nA1;80.00;20 %\n", []string{"2 A1 80   0"}},
		"by quantity": {"article;price;from\nA1;2.00;\nA1;1.80;100\nA1;1.60;ab 500\n",
			[]string{"2 A1 2   0", "3 A1 1.8   100", "4 A1 1.6   500"}},
		"days": {"article;price;valid from\nA1;2.00;2027-01-31\nA2;2.00;31.1.2027\nA3;2.00;soon\n",
			[]string{"2 A1 2   0 2027-01-31", "3 A2 2   0 2027-01-31",
				`line 4: the day "soon" is none; write it as 2027-03-31 or 31.3.2027`}},
		"Swiss thousands": {"article;price\nA1;CHF 1'250.50\n", []string{"2 A1 1250.5  CHF 0"}},
		"two ways": {"article;price\nA1;1.250\n", []string{`line 2: the price "1.250" can be read in two ways, and ` +
			`no other price of the list says how; write two decimals`}},
		"told by another row": {"article;price\nA1;1.250\nA2;0,5\n", []string{"2 A1 1250   0", "3 A2 0.5   0"}},
		"two signs": {"article;price\nA1;1.25\nA2;0,5\n", []string{"2 A1 1.25   0",
			`line 3: the price "0,5" has another decimal sign than the list; write it with '.'`}},
		"a letterhead": {"Invented Weavers\nPrices 2027\n\narticle;price\n\nA1;1.25\n", []string{"6 A1 1.25   0"}},
		"an inch":      {"article;title;price\nA1;Pipe 1/2\" red;1.25\n", []string{"2 A1 1.25   0"}},
		"nobody's": {"article;price\n;1.25\n",
			[]string{"line 2: there is a price and no article; write whose it is"}},
		"below zero": {"article;price\nA1;-1.25\n", []string{`line 2: the price "-1.25" is no amount; write digits ` +
			`with one decimal sign`}},
		"other columns": {"Name;Gewicht\nA1;3\n", []string{headless}},
		"nothing":       {"", []string{headless}},
	} {
		if got := read(t, c.text, supply.Options{}); strings.Join(got, "\n") != strings.Join(c.want, "\n") {
			t.Errorf("%s: got\n%s\nwant\n%s", name, strings.Join(got, "\n"), strings.Join(c.want, "\n"))
		}
	}
}

// A column that nobody would find by its head is named.
func TestNamedColumns(t *testing.T) {
	o := supply.Options{Columns: map[string]string{"article": "Ref.", "price": "Tarif"}}
	got := read(t, "Ref.;Article;Tarif\nA1;Cleat;2.50\n", o)
	if len(got) != 1 || got[0] != "2 A1 2.5   0" {
		t.Errorf("%q", got)
	}
	o.Columns["unit"] = "Unité"
	if got := read(t, "Ref.;Tarif\nA1;2.50\n", o); !strings.Contains(got[0], "no line has all of the columns") {
		t.Errorf("%q", got)
	}
}

// Whatever comes in, reading ends, and every price has an article and is zero or more.
func FuzzRead(f *testing.F) {
	demo, err := os.ReadFile("../../testdata/prices/copperbeck.csv")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(demo)
	f.Add([]byte("article;price;from;discount;per\nA1;1.250,50;10;5 %;100\n"))
	f.Add([]byte("\ufeffBestelnr.\tprijs\n\"A\n1\"\t€ 3,-\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		l, err := supply.Read(text, supply.Options{})
		if err != nil {
			return
		}
		for _, r := range l.Rows {
			if r.Article == "" || r.Price.Sign() < 0 || r.From < 0 || r.Line < 1 {
				t.Errorf("%+v", r)
			}
		}
	})
}
