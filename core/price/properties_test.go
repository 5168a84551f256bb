package price_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
)

func anyRate(t *rapid.T, label string, most int64) money.Rate {
	return money.MustRate(money.Exact(rapid.Int64Range(0, most).Draw(t, label), -4).String())
}

func anyLines(t *rapid.T, least int64) []price.Line {
	var lines []price.Line
	for i := range rapid.IntRange(1, 8).Draw(t, "lines") {
		lines = append(lines, price.Line{
			Key: fmt.Sprint("line", i), Net: money.Exact(rapid.Int64Range(least, 10_000_000).Draw(t, "net"), -3),
			Fixed: rapid.Bool().Draw(t, "fixed"),
		})
	}
	return lines
}

func anyRegion(t *rapid.T) *pack.Region {
	mode := rapid.SampledFrom([]pack.TaxMode{"", pack.Inclusive, pack.Exclusive, pack.Zero}).Draw(t, "tax mode")
	if mode == "" {
		return nil
	}
	return &pack.Region{TaxMode: mode, TaxRate: anyRate(t, "tax rate", 3_000)}
}

func anyDiscounts(t *rapid.T, lines []price.Line) []price.Discount {
	keys := []string{""}
	for _, l := range lines {
		if !l.Fixed {
			keys = append(keys, l.Key)
		}
	}
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) price.Discount {
		return price.Discount{On: rapid.SampledFrom(keys).Draw(t, "on"), Title: "Any", Share: anyRate(t, "share", 10_000)}
	}), 0, 5).Draw(t, "discounts")
}

func anyPack(t *rapid.T) *pack.Pack {
	p := yard()
	p.Rounding = rapid.SampledFrom([]money.Mode{money.HalfEven, money.HalfUp}).Draw(t, "mode")
	p.Currency = rapid.SampledFrom([]string{"EUR", "JPY", "KWD"}).Draw(t, "currency")
	for i := range p.Stages {
		p.Stages[i].Share = anyRate(t, "stage", 10_000).Add(money.MustRate("0.0001"))
	}
	return p
}

// wantConsistent says that a sheet adds up: in all tax modes, and to the minor unit.
func wantConsistent(t *rapid.T, p *pack.Pack, s *price.Sheet) {
	minor, err := money.NewRounding(p.Rounding, s.Currency.Minor())
	if err != nil {
		t.Fatal(err)
	}
	var goods, discounts, stages money.Amount
	for _, l := range s.Lines {
		goods = goods.Add(l.Shown)
	}
	for _, d := range s.Discounts {
		discounts = discounts.Add(d.Amount)
		if d.Amount.Sign() < 0 {
			t.Fatalf("a discount of %s", d.Amount)
		}
	}
	for _, st := range s.Stages {
		stages = stages.Add(st.Amount)
	}
	for what, pair := range map[string][2]money.Amount{
		"goods": {s.Goods, goods}, "shown": {s.Shown, s.Goods.Sub(discounts)}, "net and tax": {s.Net.Add(s.Tax), s.Total}, "stages": {stages, s.Total},
	} {
		if !pair[0].Equal(pair[1]) {
			t.Fatalf("%s: %s, want %s", what, pair[0], pair[1])
		}
	}
	switch r := s.Region; {
	case r == nil || r.TaxMode == pack.Zero:
		if !s.Tax.IsZero() || !s.Total.Equal(s.Shown) {
			t.Fatalf("tax %s, total %s of %s", s.Tax, s.Total, s.Shown)
		}
	case r.TaxMode == pack.Exclusive:
		if !s.Tax.Equal(minor.Round(s.Shown.Share(r.TaxRate))) || !s.Total.Equal(s.Shown.Add(s.Tax)) {
			t.Fatalf("tax %s, total %s of %s", s.Tax, s.Total, s.Shown)
		}
	default:
		if !s.Tax.Equal(money.TaxInside(s.Shown, r.TaxRate, minor)) || !s.Total.Equal(s.Shown) {
			t.Fatalf("tax %s, total %s of %s", s.Tax, s.Total, s.Shown)
		}
	}
	for _, a := range []money.Amount{s.Goods, s.Shown, s.Net, s.Tax, s.Total} {
		if !minor.Round(a).Equal(a) {
			t.Fatalf("%s is not in the minor unit", a)
		}
	}
}

func TestPropertySheetAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPack(t)
		lines, region := anyLines(t, 0), anyRegion(t)
		s, err := compiled(t, p).Sheet(lines, anyDiscounts(t, lines), region)
		if err != nil {
			t.Fatal(err)
		}
		wantConsistent(t, p, s)
		// Without credits no discount takes more than there is.
		if s.Total.Sign() < 0 || s.DiscountShare.Cmp(money.MustRate("1")) > 0 {
			t.Fatalf("total %s, discounts %s", s.Total, s.DiscountShare)
		}
	})
}

// With credits and with any discounts a sheet adds up too, or says why not.
func TestPropertySheetAddsUpOrFails(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPack(t)
		lines, region := anyLines(t, -10_000_000), anyRegion(t)
		discounts := anyDiscounts(t, lines)
		for i := range discounts {
			if rapid.Bool().Draw(t, "by amount") {
				discounts[i].Share, discounts[i].Amount = money.Rate{}, money.Exact(rapid.Int64Range(-1_000, 2_000_000).Draw(t, "amount"), -2)
			}
		}
		s, err := compiled(t, p).Sheet(lines, discounts, region)
		if err == nil {
			wantConsistent(t, p, s)
		}
	})
}

// Raising a line never lowers the total.
func TestPropertyDearerLineNeverLowersTheTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPack(t)
		lines, region := anyLines(t, 0), anyRegion(t)
		pricing := compiled(t, p)
		before, err := pricing.Sheet(lines, nil, region)
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, len(lines)-1).Draw(t, "which")
		lines[i].Net = lines[i].Net.Add(money.Exact(rapid.Int64Range(0, 1_000_000).Draw(t, "more"), -3))
		after, err := pricing.Sheet(lines, nil, region)
		if err != nil {
			t.Fatal(err)
		}
		if after.Total.Cmp(before.Total) < 0 || after.Tax.Cmp(before.Tax) < 0 || after.Net.Cmp(before.Net) < 0 {
			t.Fatalf("the total went from %s to %s", before.Total, after.Total)
		}
	})
}
