package screen_test

import (
	"strings"
	"testing"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

func toRegion(region string) spec.Spec {
	s := standard("reed-65")
	s.Use = map[string]spec.Value{"region": {Choice: region}}
	return s
}

// The rates are those of the demo book.
func TestLedgerInEachTaxMode(t *testing.T) {
	for _, c := range []struct{ region, note, rows, sum string }{
		{"de", "including 19 % VAT, Germany", "Total in EUR|of which VAT", "% EUR"},
		{"eu-trade", "19 % VAT added, European Union", "Net|VAT|Total in EUR", "% EUR"},
		{"us", "United States, without VAT. Zero-rated as an export", "Total in EUR", "EUR %"},
	} {
		v := view(t, engines()[pack.Buyer], toRegion(c.region))
		ledger := fragment(t, v, "ledger")
		if !strings.Contains(strings.ReplaceAll(ledger.text, "\u202f", " "), c.note) {
			t.Errorf("%s: %q is not said in %q", c.region, c.note, ledger.text)
		}
		var rows []string
		for _, th := range ledger.all("tfoot")[0].all("th") {
			rows = append(rows, th.text)
		}
		if got := strings.Join(rows, "|"); got != c.rows {
			t.Errorf("%s: the foot is %q, want %q", c.region, got, c.rows)
		}
		block := fragment(t, v, "title-block")
		total := money.Grouped(v.Answer.Price.Total.Fixed(2))
		if sum := block.byID("total").text; sum != strings.NewReplacer("%", total, " ", "\u00a0").Replace(c.sum) ||
			!strings.Contains(v.Announcement(), total) || !strings.Contains(fragment(t, v, "bar").text, total) {
			t.Errorf("%s: the total is %q, spoken %q, want %s", c.region, sum, v.Announcement(), total)
		}
	}
}

func TestDealingShowsWhatWasGiven(t *testing.T) {
	v := view(t, engines()[pack.Show], demoSpecs()["extras-and-discount"])
	discounts := fragment(t, v, "discounts")
	for _, want := range []string{"Ordered at the show: 3\u202f%",
		"Name on both sides of the transom, gold leaf, 90 mm: 680.00\u00a0EUR net",
		"Margin on price" + v.Answer.Margin.Percent()} {
		if !strings.Contains(discounts.text, want) {
			t.Errorf("%q is not in %q", want, discounts.text)
		}
	}
	removable := map[string]bool{}
	for _, b := range discounts.all("button") {
		removable[b.attr["data-key"]+" "+b.attr["data-field"]+" "+b.attr["aria-label"]] = true
	}
	for _, want := range []string{"discount 0 Remove Table at half price", "discount 1 Remove Ordered at the show",
		"extra 0 Remove Name on both sides of the transom, gold leaf, 90 mm",
		"extra 1 Remove Storage under cover until the middle of May"} {
		if !removable[want] {
			t.Errorf("%q is not among %v", want, removable)
		}
	}
	if v.Answer.Warnings = plainly("Too much."); !strings.Contains(fragment(t, v, "discounts").text, "Too much.") ||
		fragment(t, v, "customer").byID("detail-approval") == nil {
		t.Error("a warning is not shown, or nobody can approve")
	}
}

func TestReopenedQuote(t *testing.T) {
	v := view(t, engines()[pack.Show], standard("reed-65"))
	if got := fragment(t, v, "reopened").text; got != "" {
		t.Errorf("without a quote it says %q", got)
	}
	v.Reopened = quote.Draft(v.Engine, v.Answer)
	v.Reopened.Number, v.Reopened.Customer.Name = "7", "Ottilie Sandmark"
	if got := fragment(t, v, "reopened").text; !strings.Contains(got, "Quotation 7, Ottilie Sandmark") ||
		!strings.Contains(got, "As quoted") {
		t.Errorf("it says %q", got)
	}
	v.Differences = []quote.Difference{{Place: msg.Plain("price.total"), Was: msg.Plain("1.00"),
		Now: msg.Plain("2.00")}}
	if got := fragment(t, v, "reopened").text; strings.Contains(got, "As quoted") ||
		!strings.Contains(got, "price.total1.002.00") {
		t.Errorf("it says %q", got)
	}
}
