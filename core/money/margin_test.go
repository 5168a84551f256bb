package money_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
)

func TestFromMarginErrors(t *testing.T) {
	for _, c := range []struct{ margin, want string }{
		{"1", "pricing with a margin of 1: a margin is a share of the price and stays below 1"},
		{"1.0", "pricing with a margin of 1: a margin is a share of the price and stays below 1"},
		{"30", "pricing with a margin of 30: a margin is a share of the price and stays below 1"},
	} {
		_, err := money.FromMargin(money.MustParse("100"), money.MustRate(c.margin),
			rounding(t, money.HalfEven, "0.01"))
		wantError(t, err, c.want)
	}
}

// Source: arithmetic, computed.
func TestShareOf(t *testing.T) {
	for _, c := range []struct {
		part, whole, want string
		ok                bool
	}{
		{"1", "3", "0.3333", true},
		{"2", "3", "0.6667", true},
		{"0", "5", "0", true},
		{"-1", "8", "-0.125", true},
		{"1", "-8", "-0.125", true},
		{"0.00005", "1", "0", true},      // a tie to even
		{"0.00015", "1", "0.0002", true}, // a tie to even
		{"1", "0", "0", false},
		{"0", "0", "0", false},
	} {
		got, ok := money.ShareOf(money.MustParse(c.part), money.MustParse(c.whole))
		if ok != c.ok || got.String() != c.want {
			t.Errorf("%s of %s: %s, %v; want %s, %v", c.part, c.whole, got, ok, c.want, c.ok)
		}
	}
}

// Source: cost-accounting e-book, Job No. 21: 4290 at 5362.50 is 20 % on the price; at a loss the margin is negative
// (computed).
func TestMarginOf(t *testing.T) {
	for _, c := range []struct {
		price, cost, want string
		ok                bool
	}{
		{"5362.50", "4290", "0.2", true},
		{"4290", "4290", "0", true},
		{"100", "125", "-0.25", true},
		{"0", "10", "0", false},
		{"-100", "150", "0", false}, // the quotient was 2.5, a gain of 250 %
		{"-0.01", "0", "0", false},
	} {
		got, ok := money.MarginOf(money.MustParse(c.price), money.MustParse(c.cost))
		if ok != c.ok || got.String() != c.want {
			t.Errorf("%s for %s: %s, %v; want %s, %v", c.cost, c.price, got, ok, c.want, c.ok)
		}
	}
}

// The VAT fraction: 20 % is 1/6, 5 % is 1/21, 25 % is 1/5, 17.5 % is 7/47. Source: tax notices.
func TestTaxFractions(t *testing.T) {
	for _, c := range []struct{ rate, gross, want string }{
		{"0.20", "6", "1"}, {"0.05", "21", "1"}, {"0.25", "5", "1"}, {"0.175", "47", "7"}, {"0", "100", "0"},
	} {
		same(t, c.rate, money.TaxInside(money.MustParse(c.gross), money.MustRate(c.rate),
			rounding(t, money.HalfEven, "0.000001")), money.MustParse(c.want))
	}
}

func anyShare(t *rapid.T, label string, most int64) money.Rate {
	return money.MustRate(money.Exact(rapid.Int64Range(0, most).Draw(t, label), -4).String())
}

func TestPropertyPrices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := anyRounding(t)
		a, b := abs(anyAmount(t, "a")), abs(anyAmount(t, "b"))
		if a.Cmp(b) > 0 {
			a, b = b, a
		}
		m := anyShare(t, "margin", 9_999)
		low, err1 := money.FromMargin(a, m, r)
		high, err2 := money.FromMargin(b, m, r)
		if err1 != nil || err2 != nil {
			t.Fatal(err1, err2)
		}
		if low.Cmp(high) > 0 {
			t.Fatalf("cost %s gives price %s, cost %s gives %s", a, low, b, high)
		}
		// The price is within half a step of cost/(1-m): multiplied out, so that the check divides nothing.
		if off := abs(low.Share(m.Complement()).Sub(a)); off.Times(2).Cmp(r.Step().Share(m.Complement())) > 0 {
			t.Fatalf("cost %s at margin %s gives %s", a, m, low)
		}
		markup := anyShare(t, "markup", 50_000)
		if money.FromMarkup(a, markup, r).Cmp(money.FromMarkup(b, markup, r)) > 0 {
			t.Fatal("a higher cost has a lower price by markup")
		}
		if off := abs(money.FromMarkup(a, markup, r).Sub(a.Add(a.Share(markup)))); off.Times(2).Cmp(r.Step()) > 0 {
			t.Fatalf("markup is off by %s", off)
		}
	})
}

func TestPropertyTaxInside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r, gross, rate := anyRounding(t), abs(anyAmount(t, "gross")), anyShare(t, "rate", 20_000)
		tax := money.TaxInside(gross, rate, r)
		// tax×(1+r) is within half a step×(1+r) of gross×r.
		off := abs(tax.Add(tax.Share(rate)).Sub(gross.Share(rate)))
		if off.Times(2).Cmp(r.Step().Add(r.Step().Share(rate))) > 0 {
			t.Fatalf("tax of %s at %s is %s", gross, rate, tax)
		}
	})
}
