package price_test

import (
	"testing"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
)

// What is to pay in the currency of a region: rounded to the minor unit of that currency, and said with the rate and
// its day. Products were worked out by hand; the rates are invented.
func TestPriceInTheCurrencyOfARegion(t *testing.T) {
	p := &pack.Pack{Public: pack.Public{Currency: "EUR", Rounding: money.HalfEven,
		Stages: []pack.Stage{{Title: "All", Share: money.MustRate("1")}}}}
	pricing, err := price.Compile(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	english, _ := msg.Named("en")
	for _, c := range []struct{ code, rate, net, amount, says string }{
		{"SEK", "11.42", "12345.67", "140987.55",
			"About SEK\u00a0140\u202f987.55, at 11.42 SEK to one EUR on 20\u00a0November\u00a02026."},
		{"JPY", "163.5", "10000.01", "1635002",
			"About JPY\u00a01\u202f635\u202f002, at 163.5 JPY to one EUR on 20\u00a0November\u00a02026."},
		{"GBP", "0.845", "100.10", "84.58",
			"About GBP\u00a084.58, at 0.845 GBP to one EUR on 20\u00a0November\u00a02026."},
	} {
		region := &pack.Region{ID: "abroad", TaxMode: pack.Zero,
			Currency: &pack.Exchange{Code: c.code, Rate: money.MustRate(c.rate), Date: "2026-11-20"}}
		s, err := pricing.Sheet(price.Deal{Lines: []price.Line{{Key: "boat", Net: money.MustParse(c.net)}}}, region)
		if err != nil || s.Converted == nil {
			t.Fatalf("%s: %v", c.code, err)
		}
		if got := s.Converted.Amount.String(); got != c.amount {
			t.Errorf("%s EUR are %s %s, want %s", c.net, got, c.code, c.amount)
		}
		want := c.says + " The price is in EUR, and so are all payments."
		if got := english.Text(s.Converted.Message(s.Currency, region.ID)); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	s, err := pricing.Sheet(price.Deal{Lines: []price.Line{{Key: "boat", Net: money.MustParse("1")}}},
		&pack.Region{TaxMode: pack.Zero})
	if err != nil || s.Converted != nil {
		t.Errorf("a region without another currency has %v, %v", s.Converted, err)
	}
}
