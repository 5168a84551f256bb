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
		return price.Discount{On: rapid.SampledFrom(keys).Draw(t, "on"), Title: "Any",
			Share: anyRate(t, "share", 10_000)}
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

// failing is a test or a property.
type failing interface {
	Fatal(args ...any)
	Fatalf(format string, args ...any)
}

// wantConsistent says that a sheet adds up: in all tax modes, and to the minor unit.
func wantConsistent(t failing, p *pack.Pack, s *price.Sheet) {
	minor, err := money.NewRounding(p.Rounding, s.Currency.Minor())
	if err != nil {
		t.Fatal(err)
	}
	var goods, discounts, stages, paid, credited money.Amount
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
		stages, paid = stages.Add(st.Amount), paid.Add(st.TradeIn)
		if st.Amount.Sign() < 0 || st.TradeIn.Sign() < 0 {
			t.Fatalf("a stage of %s after %s", st.Amount, st.TradeIn)
		}
	}
	if s.TradeIn != nil {
		credited = s.TradeIn.Allowance
	}
	for what, a := range map[string]money.Amount{"goods": s.Goods, "shown": s.Shown, "net": s.Net, "total": s.Total,
		"payable": s.Payable} {
		if a.Sign() <= 0 {
			t.Fatalf("%s come to %s", what, a)
		}
	}
	for what, pair := range map[string][2]money.Amount{
		"goods": {s.Goods, goods}, "shown": {s.Shown, s.Goods.Sub(discounts)},
		"net and tax": {s.Net.Add(s.Tax), s.Total}, "stages": {stages, s.Payable},
		"payable": {s.Payable.Add(credited), s.Total}, "credited by stage": {paid, credited},
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

// anyDeal draws what a salesperson may come up with: credits, discounts by share and amount, a trade-in.
func anyDeal(t *rapid.T, least int64) price.Deal {
	d := price.Deal{Lines: anyLines(t, least)}
	for i := range d.Lines {
		d.Lines[i].Extra = rapid.Bool().Draw(t, "extra")
		d.Lines[i].BelowCost = money.Exact(rapid.Int64Range(0, 10_000).Draw(t, "below cost"), -2)
	}
	d.Discounts = anyDiscounts(t, d.Lines)
	for i := range d.Discounts {
		if rapid.Bool().Draw(t, "by amount") {
			d.Discounts[i].Share, d.Discounts[i].Amount = money.Rate{},
				money.Exact(rapid.Int64Range(-1_000, 2_000_000).Draw(t, "amount"), -2)
		}
	}
	if rapid.Bool().Draw(t, "trade-in") {
		d.TradeIn = &price.TradeIn{Title: "Dinghy",
			Allowance: money.Exact(rapid.Int64Range(-100, 2_000_000).Draw(t, "allowance"), -2),
			Value:     money.Exact(rapid.Int64Range(0, 2_000_000).Draw(t, "value"), -2)}
	}
	return d
}

// Any deal adds up to sums above zero, or is refused; and what it gives away counts in full.
func TestPropertyDealAddsUpOrFails(t *testing.T) {
	made, refused := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := anyPack(t)
		d := anyDeal(t, rapid.SampledFrom([]int64{0, -10_000_000}).Draw(t, "least"))
		s, err := compiled(t, p).Sheet(d, anyRegion(t))
		if err != nil {
			refused++
			return
		}
		made++
		wantConsistent(t, p, s)
		given := money.Amount{}
		for _, x := range s.Discounts {
			given = given.Add(x.Amount)
		}
		for _, l := range s.Lines {
			given = given.Add(compiled(t, p).Show(l.BelowCost, s.Region))
		}
		if s.TradeIn != nil && s.TradeIn.Allowance.Cmp(s.TradeIn.Value) > 0 {
			given = given.Add(s.TradeIn.Allowance.Sub(s.TradeIn.Value))
		}
		r := s.Reductions
		if !r.Total.Equal(given) || given.Sign() > 0 && r.List.Sign() <= 0 && r.Share.Cmp(money.MustRate("1")) < 0 {
			t.Fatalf("reductions of %s in %s, want %s", r.Share, r.Total, given)
		}
	})
	t.Logf("%d deals made, %d refused", made, refused)
	if made < 10 || refused < 5 {
		t.Errorf("%d deals made and %d refused say little", made, refused)
	}
}

// A trade-in changes nothing but what is payable.
func TestPropertyTradeInLeavesTheTax(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pricing, region := compiled(t, anyPack(t)), anyRegion(t)
		d := anyDeal(t, 0)
		d.TradeIn = nil
		before, err := pricing.Sheet(d, region)
		if err != nil || before.Total.Cmp(money.MustParse("2")) < 0 {
			return
		}
		d.TradeIn = &price.TradeIn{Title: "Dinghy", Allowance: money.MustParse("1")}
		after, err := pricing.Sheet(d, region)
		if err != nil {
			t.Fatal(err)
		}
		for what, pair := range map[string][2]money.Amount{"net": {before.Net, after.Net},
			"tax": {before.Tax, after.Tax}, "total": {before.Total, after.Total},
			"payable": {before.Payable, after.Payable.Add(after.TradeIn.Allowance)}} {
			if !pair[0].Equal(pair[1]) {
				t.Fatalf("%s: %s with the trade-in, %s without", what, pair[1], pair[0])
			}
		}
	})
}

// Raising a line never lowers the total.
func TestPropertyDearerLineNeverLowersTheTotal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPack(t)
		lines, region := anyLines(t, 0), anyRegion(t)
		pricing := compiled(t, p)
		lines[0].Net = lines[0].Net.Add(money.MustParse("10")) // at zero there is no sheet
		before, err := pricing.Sheet(price.Deal{Lines: lines}, region)
		if err != nil {
			t.Fatal(err)
		}
		i := rapid.IntRange(0, len(lines)-1).Draw(t, "which")
		lines[i].Net = lines[i].Net.Add(money.Exact(rapid.Int64Range(0, 1_000_000).Draw(t, "more"), -3))
		after, err := pricing.Sheet(price.Deal{Lines: lines}, region)
		if err != nil {
			t.Fatal(err)
		}
		if after.Total.Cmp(before.Total) < 0 || after.Tax.Cmp(before.Tax) < 0 || after.Net.Cmp(before.Net) < 0 {
			t.Fatalf("the total went from %s to %s", before.Total, after.Total)
		}
	})
}
