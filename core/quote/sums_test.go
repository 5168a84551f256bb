package quote_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// What stands in a quotation adds up as a reader would add it: line by line with what is carried, discounts, tax,
// trade-in and stages; read back from the file, whose amounts are texts.
func TestPropertyAQuotationAddsUp(t *testing.T) {
	quoted := 0
	rapid.Check(t, func(t *rapid.T) {
		q, ok := anyQuotation(t)
		if !ok {
			return
		}
		quoted++
		sum := money.Amount{}
		for _, l := range append(q.Price.Lines, q.Price.Discounts...) {
			if sum = sum.Add(l.Amount); !l.Carried.Equal(sum) {
				t.Fatalf("%s carries %s, and the lines come to %s", l.Title, l.Carried, sum)
			}
		}
		p := q.Price
		paid, credited := money.Amount{}, money.Amount{}
		for _, st := range p.Stages {
			paid, credited = paid.Add(st.Amount), credited.Add(st.TradeIn)
		}
		allowed := money.Amount{}
		if p.TradeIn != nil {
			allowed = p.TradeIn.Amount
		}
		shown := p.Total // the lines are with tax where they are shown so
		if p.TaxMode == pack.Exclusive {
			shown = p.Net
		}
		for what, pair := range map[string][2]money.Amount{"lines": {sum, shown}, "net and tax": {p.Net.Add(p.Tax),
			p.Total}, "payable": {p.Total.Add(allowed), p.Payable}, "stages": {paid, p.Payable},
			"credited": {credited, allowed}} {
			if !pair[0].Equal(pair[1]) {
				t.Fatalf("%s: %s, want %s", what, pair[0], pair[1])
			}
		}
	})
	t.Logf("%d quotations", quoted)
	if quoted < 20 {
		t.Errorf("%d quotations say little", quoted)
	}
}

// anyQuotation draws a boat of the small book with a deal; ok is false where the deal is refused.
func anyQuotation(t *rapid.T) (q *quote.Quote, ok bool) {
	amount := func(label string, least, most int64) money.Amount {
		return money.Exact(rapid.Int64Range(least, most).Draw(t, label), -2)
	}
	s := spec.Spec{Format: spec.Format, Hull: "teasel-48"}
	if rapid.Bool().Draw(t, "abroad") {
		s = enginetest.Abroad(s)
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "extras") {
		s.Extras = append(s.Extras, spec.Extra{ID: fmt.Sprint("x", i), Title: "Extra", Price: amount("price", -5_000,
			300_000), Basis: rapid.SampledFrom([]spec.Basis{spec.Net, spec.WithTax}).Draw(t, "basis")})
	}
	for range rapid.IntRange(0, 3).Draw(t, "discounts") {
		d := spec.Discount{Title: "Any", On: rapid.SampledFrom([]string{"", "", "x0"}).Draw(t, "on")}
		if rapid.Bool().Draw(t, "share") {
			d.Share = money.MustRate(amount("per cent", 1, 30).String())
		} else {
			d.Amount = amount("off", 1, 20_000)
		}
		s.Discounts = append(s.Discounts, d)
	}
	if rapid.Bool().Draw(t, "trade-in") {
		s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: amount("allowance", 1, 200_000)}
	}
	e := enginetest.Small()[pack.Show]
	a, err := e.Answer(s)
	if err != nil || len(a.Notes) > 0 || len(a.Build.Clashes) > 0 {
		return nil, false
	}
	d := details()
	d.Approval = "Wenna Tolland"
	frozen, err := quote.Freeze(e, a, d)
	if err != nil {
		t.Fatal(err)
	}
	if q, err = quote.Decode(frozen.Encode()); err != nil {
		t.Fatal(err)
	}
	return q, true
}
