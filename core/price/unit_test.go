package price_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
)

// Source: cost-accounting e-book, Job No. 21 (4290 at a margin of 20 %: 5362.50), and arithmetic, computed.
func TestSellPrices(t *testing.T) {
	p := compiled(t, yard())
	base, err := p.Base(state(2))
	if err != nil {
		t.Fatal(err)
	}
	same(t, "base boat", base, "5362.50")
	for _, c := range []struct {
		option int
		cover  float64
		want   string
	}{
		{byList, 2, "149.99"},      // a plain list price stays as it is
		{byMargin, 2, "143"},       // 142.857… to the step of 0.50
		{byMarkup, 2, "133.50"},    // 133.30 to the step
		{byLength, 2, "202.50"},    // 80 + 122.60 to the step
		{byLength, 0, "80"},        // nothing of the second term
		{byLength, -1, "18.50"},    // 18.70 to the step
		{byLength, 1.5, "172"},     // 171.95 to the step
		{byLength, 2.25, "218"},    // 217.925 to the step
		{byLength, 1e-9, "80"},     // less than a millionth
		{byLength, 0.004, "80"},    // 80.2452 to the step
		{byLength, 0.0041, "80.5"}, // 80.25133 to the step
	} {
		got, err := p.Option(state(c.cover), c.option)
		if err != nil {
			t.Errorf("option %d: %v", c.option, err)
			continue
		}
		same(t, yard().Options[c.option].ID, got, c.want)
	}
	if p.Currency() != (money.Currency{Code: "EUR", Digits: 2}) {
		t.Errorf("currency %+v", p.Currency())
	}
}

func TestPriceErrors(t *testing.T) {
	p := compiled(t, yard())
	for _, c := range []struct {
		cover float64
		want  string
	}{
		{-2, "computing the price at boats.yaml:14:7: -42.5 is negative; guard the formula"},
		{math.Inf(1), "computing the price at boats.yaml:13:7: +Inf is not a quantity; guard the formula"},
		{math.NaN(), "computing the price at boats.yaml:13:7: NaN is not a quantity; guard the formula"},
	} {
		_, err := p.Option(state(c.cover), byLength)
		wantError(t, err, c.want)
	}

	bad := yard()
	bad.Costs.Options[byMargin].Materials[0].Amount = program("n1 n0 /")
	_, err := compiled(t, bad).Option(state(2), byMargin)
	wantError(t, err, "computing the quantity at boats.yaml:11:7: +Inf is not a quantity; guard the formula so that "+
		"it gives zero or more")
}

func TestCompileErrors(t *testing.T) {
	for _, c := range []struct {
		spoil func(*pack.Pack)
		want  string
	}{
		{func(p *pack.Pack) { p.Currency = "gold" },
			`looking up currency "gold": not an alphabetic code of ISO 4217 with a minor unit, like EUR`},
		{func(p *pack.Pack) { p.Rounding = "down" },
			`making a rounding: mode "down" is unknown; want "half-even" or "half-up"`},
		{func(p *pack.Pack) { p.Costs.PriceStep = money.Amount{} }, `making a rounding: step 0 is not above zero`},
	} {
		p := yard()
		c.spoil(p)
		_, err := price.Compile(p, nil)
		wantError(t, err, c.want)
	}
}

// A cost that rises never lowers a price, by margin or by markup, whatever the step.
func TestPropertyDearerCostNeverLowersThePrice(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := yard()
		p.Rounding = rapid.SampledFrom([]money.Mode{money.HalfEven, money.HalfUp}).Draw(t, "mode")
		p.Costs.PriceStep = money.Exact(rapid.Int64Range(1, 10_000).Draw(t, "step"), -2)
		p.Costs.OnMaterials = money.MustRate(money.Exact(rapid.Int64Range(0, 9_999).Draw(t, "overhead"), -4).String())
		p.Costs.Hulls[0].Margin = method(money.Exact(rapid.Int64Range(0, 9_900).Draw(t, "margin"), -4).String())
		p.Costs.Options[byMarkup].Markup = method(money.Exact(rapid.Int64Range(0, 30_000).Draw(t, "markup"),
			-4).String())
		cost := &p.Costs.Materials[0].Cost
		*cost = money.Exact(rapid.Int64Range(0, 100_000).Draw(t, "cost"), -2)
		before := compiled(t, p)
		*cost = cost.Add(money.Exact(rapid.Int64Range(0, 10_000).Draw(t, "more"), -2))
		after := compiled(t, p)
		for _, f := range []func(*price.Pricing) (money.Amount, error){
			func(p *price.Pricing) (money.Amount, error) { return p.Base(state(2)) },
			func(p *price.Pricing) (money.Amount, error) { return p.Option(state(2), byMarkup) },
		} {
			low, err1 := f(before)
			high, err2 := f(after)
			if err1 != nil || err2 != nil {
				t.Fatal(err1, err2)
			}
			if high.Cmp(low) < 0 {
				t.Fatalf("the price fell from %s to %s", low, high)
			}
			if step, _ := money.NewRounding(p.Rounding, p.Costs.PriceStep); !step.Round(low).Equal(low) {
				t.Fatalf("%s is not on the price step %s", low, p.Costs.PriceStep)
			}
		}
	})
}
