package paper_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/spec"
)

// inRegion is the draft of a standard boat for a region.
func inRegion(t *testing.T, e *engine.Engine, region string) *quote.Quote {
	t.Helper()
	return quote.Draft(e, answer(t, e, spec.Spec{Format: spec.Format, Hull: e.Pack.Hulls[0].ID,
		Use: map[string]spec.Value{"region": {Choice: region}}}))
}

// footOf are the titles and amounts at the foot of the price.
func footOf(t *testing.T, q *quote.Quote) (titles, amounts []string) {
	t.Helper()
	for _, e := range parse(t, customer(t, q, paper.AsHTML)).all("table") {
		if !strings.HasPrefix(e.attr["class"], "price ") {
			continue
		}
		for _, row := range e.all("tfoot")[0].all("tr") {
			titles = append(titles, row.all("th")[0].text)
			amounts = append(amounts, row.all("td")[0].text)
		}
	}
	return titles, amounts
}

// The rates are those of the demo book.
func TestTaxModes(t *testing.T) {
	e := yardEngine()
	for _, c := range []struct {
		region, titles, note string
	}{
		{"de", "Total|of which net|of which VAT 19 %", "The total includes 19 % VAT (Germany): "},
		{"eu-trade", "Net|VAT 19 %|Total", "19 % VAT is added. A supply to a business in another member state is " +
			"normally zero-rated there"},
		{"us", "Total", "United States: no VAT is charged. Zero-rated as an export against proof"},
	} {
		q := inRegion(t, e, c.region)
		titles, amounts := footOf(t, q)
		if got := plain(strings.Join(titles, "|")); got != c.titles {
			t.Errorf("%s: the foot is %q, want %q", c.region, got, c.titles)
		}
		for i, title := range titles {
			want := map[bool]money.Amount{true: q.Price.Net,
				false: q.Price.Tax}[strings.HasSuffix(strings.ToLower(title), "net")]
			if title == "Total" {
				want = q.Price.Total
			}
			if digits(amounts[i]) != want.Fixed(2) {
				t.Errorf("%s: %s is %s, want %s", c.region, title, amounts[i], want)
			}
		}
		markup := parse(t, customer(t, q, paper.AsHTML))
		text := strings.Join(strings.Fields(customer(t, q, paper.AsText)), " ")
		if !strings.Contains(plain(markup.text), c.note) || !strings.Contains(plain(text), c.note) {
			t.Errorf("%s: %q is not said", c.region, c.note)
		}
	}
}

// plain writes ordinary spaces for those that hold a number together.
func plain(s string) string { return strings.NewReplacer("\u202f", " ", "\u00a0", " ").Replace(s) }

// digits undoes the grouping of an amount.
func digits(s string) string { return strings.NewReplacer("\u202f", "", "\u2212", "-").Replace(s) }

// A book in another currency has its digits on every paper. The demo prices stay as they are, so the sums are not of
// this world.
func TestCurrenciesWithOtherDigits(t *testing.T) {
	for _, c := range []struct {
		currency string
		amount   *regexp.Regexp
	}{
		{"JPY", regexp.MustCompile(`^-?\d+$`)},
		{"EUR", regexp.MustCompile(`^-?\d+\.\d{2}$`)},
		{"KWD", regexp.MustCompile(`^-?\d+\.\d{3}$`)},
	} {
		p := demoPack(pack.Yard)
		p.Currency = c.currency
		q, y := papersOf(t, compiled(p), frozenSpec, nil)
		for _, row := range readCSV(t, customer(t, q, paper.AsCSV))[1:] {
			priced := slices.Contains([]string{"line", "discount", "net", "tax", "total", "trade-in", "payable",
				"stage"}, row[0])
			if priced != (row[5] == c.currency) || priced != c.amount.MatchString(row[6]) || row[7] != "" &&
				!c.amount.MatchString(row[7]) {
				t.Errorf("%s: %q", c.currency, row)
			}
		}
		for _, row := range readCSV(t, yard(t, y, q, paper.AsCSV))[1:] {
			priced := row[0] == "work" || row[0] == "material" || row[0] == "purchase"
			if priced != (row[7] == c.currency) || !priced && row[8] != "" || row[8] != "" &&
				!c.amount.MatchString(row[8]) {
				t.Errorf("%s: %q", c.currency, row)
			}
		}
		_, amounts := footOf(t, q)
		for _, a := range amounts {
			if !c.amount.MatchString(digits(a)) {
				t.Errorf("%s: %s at the foot", c.currency, a)
			}
		}
		if text := customer(t, q, paper.AsText); !strings.Contains(flat(text), "Price ----- Item "+c.currency) ||
			!strings.Contains(digits(text), " "+q.Price.Total.Fixed(q.Price.Currency.Digits)+"\n") {
			t.Errorf("%s: the text has no total %s", c.currency, q.Price.Total)
		}
	}
}

// The lines of every paper add up to its total, as far as a reader can see.
func TestShownLinesAddUp(t *testing.T) {
	for _, name := range specNames(t) {
		q, _ := papersOf(t, yardEngine(), name, nil)
		sum := cents(t, q.Price.Tax.Fixed(2))
		if q.Price.TaxMode == pack.Inclusive {
			sum = 0
		}
		stages := 0 // with what the trade-in pays
		for _, row := range readCSV(t, customer(t, q, paper.AsCSV)) {
			switch row[0] {
			case "line", "discount":
				sum += cents(t, row[6])
			case "stage":
				stages += cents(t, row[6])
			case "trade-in":
				stages -= cents(t, row[6])
			}
		}
		if total := cents(t, q.Price.Total.Fixed(2)); sum != total || stages != total {
			t.Errorf("%s: the lines come to %d, the stages to %d, the total is %d", name, sum, stages, total)
		}
	}
}
