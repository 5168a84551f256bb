package quote_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

// Everything that lowers the price counts, each worked by hand from the rates of the small book: 5 % on materials, 40 %
// on labour, 2 % contingency, 20 % tax in the price, a list price of 6672.00 and 5 % of it to give. Only discounts once
// counted.
func TestEverythingGivenAwayCounts(t *testing.T) {
	line := func(price string, basis spec.Basis, cost string, hours measure.Hours) func(*spec.Spec) {
		return func(s *spec.Spec) {
			l := spec.Extra{ID: "a", Title: "A", Price: money.MustParse(price), Basis: basis,
				Cost: money.MustParse(cost)}
			if hours > 0 {
				l.Hours = map[string]measure.Hours{"assembly": hours}
			}
			s.Extras = append(s.Extras, l)
		}
	}
	tradeIn := func(allowance, value string) func(*spec.Spec) {
		return func(s *spec.Spec) {
			s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: money.MustParse(allowance),
				Value: money.MustParse(value)}
		}
	}
	gift := enginetest.Edited(t, enginetest.Edit{"boat.yaml", `        price: "85"`,
		"        price: \"0\"\n        materials:\n          - {material: cloth-acrylic, quantity: \"2\", operation: " +
			"fit-out}"})[pack.Show]
	for name, c := range map[string]struct {
		engine *engine.Engine
		deal   func(*spec.Spec)
		parts  []string
		share  string
		over   bool // beyond authority
	}{
		"nothing":                {nil, func(*spec.Spec) {}, nil, "0", false},
		"an item above its cost": {nil, line("1000", spec.Net, "500", 0), nil, "0", false},
		"a gift: 500, 525, 535.50": {nil, line("0", spec.Net, "500", 0), []string{"A, below cost 642.60"}, "0.0963",
			true},
		"work: 88, 123.20, 125.66": {nil, line("0", spec.Net, "0", 2_000_000), []string{"A, below cost 150.79"},
			"0.0226", false},
		// of 6772: the item is charged
		"below cost: 214.20 - 83.33": {nil, line("100", spec.WithTax, "200", 0), []string{"A, below cost 157.04"},
			"0.0232", false},
		"a credit": {nil, line("-100", spec.Net, "0", 0), []string{"A, credit 120.00"}, "0.018",
			false},
		"a credit with tax": {nil, line("-120", spec.WithTax, "0", 0), []string{"A, credit 120.00"}, "0.018",
			false},
		"a large credit": {nil, line("-300", spec.Net, "0", 0), []string{"A, credit 360.00"}, "0.054",
			true},
		"a trade-in at its value": {nil, tradeIn("900", "900"), nil, "0", false},
		"a trade-in above its value": {nil, tradeIn("900", "850"), []string{"Dinghy, above its resale value 50.00"},
			"0.0075", false},
		"a trade-in of no value": {nil, tradeIn("900", "0"), []string{"Dinghy, above its resale value 900.00"},
			"0.1349", true},
		// 58.53, 61.46, 62.69
		"an option at no charge": {gift,
			func(s *spec.Spec) { s.Choices = map[string]map[string]int{"stowage": {"bag-top": 1}} },
			[]string{"Stowage, below cost 75.23"}, "0.0113", false},
		"together": {gift, func(s *spec.Spec) {
			s.Choices = map[string]map[string]int{"stowage": {"bag-top": 1}}
			line("-100", spec.Net, "0", 0)(s)
			tradeIn("900", "850")(s)
			s.Discounts = []spec.Discount{{Title: "Show", On: "boat", Amount: money.MustParse("100")}}
		}, []string{"Stowage, below cost 75.23", "A, credit 120.00", "Show 100.00",
			"Dinghy, above its resale value 50.00"}, "0.0517", true},
	} {
		t.Run(name, func(t *testing.T) {
			if c.engine == nil {
				c.engine = enginetest.Small()[pack.Show]
			}
			s := enginetest.Teasel(t)
			c.deal(&s)
			a := enginetest.Answer(t, c.engine, s)
			var parts []string
			for _, p := range a.Price.Reductions.Parts {
				parts = append(parts, p.Title.String()+" "+p.Amount.Fixed(2))
			}
			enginetest.WantList(t, "reductions", parts, c.parts)
			if got := a.Price.Reductions.Share.String(); got != c.share {
				t.Errorf("share %s, want %s", got, c.share)
			}
			_, err := quote.Freeze(c.engine, a, details())
			if c.over != (err != nil && strings.Contains(err.Error(), "your limit is 5\u202f%")) {
				t.Errorf("issued without an approval: %v", err)
			}
		})
	}
}

// What is allowed above the value of a trade-in lowers the margin; the tax and what is taxed stay.
func TestMarginWithATradeIn(t *testing.T) {
	e := enginetest.Small()[pack.Show]
	s := enginetest.Teasel(t)
	before := enginetest.Answer(t, e, s)
	s.TradeIn = &spec.TradeIn{Title: "Dinghy", Allowance: money.MustParse("1000"), Value: money.MustParse("444")}
	a := enginetest.Answer(t, e, s)
	if !a.Price.Net.Equal(before.Price.Net) || !a.Price.Tax.Equal(before.Price.Tax) ||
		a.Price.Payable.Fixed(2) != "5672.00" {
		t.Errorf("net %s, tax %s, payable %s", a.Price.Net, a.Price.Tax, a.Price.Payable)
	}
	// 556 of the net 5560 is a tenth.
	if want := before.Margin.Add(money.MustRate("-0.1")); !a.Margin.Equal(want) {
		t.Errorf("margin %s, want %s", a.Margin, want)
	}
	y := enginetest.Demo()[pack.Yard]
	s.Hull = "reed-65"
	if c := sheet.ForYard(y, enginetest.Answer(t, y, s), quote.Details{Approval: "Wenna " +
		"Tolland"}).Cost; c.TradeInOver.String() != "556" ||
		c.Approval != "Wenna Tolland" {
		t.Errorf("the sheet says %+v", c)
	}
}

// An extra item stands on the card of the shop that has to do with it, hours or none, and on no other.
func TestExtraItemsOnJobCards(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	s := enginetest.DemoSpecs(t)["sedge-46-plainest"]
	s.Extras = []spec.Extra{
		{ID: "a", Title: "Oars in ash", Price: money.MustParse("90"), Basis: spec.Net,
			Hours: map[string]measure.Hours{"wood-shop": 2_500_000, "assembly": 0}},
		{ID: "b", Title: "Storage", Price: money.MustParse("90"), Basis: spec.Net},
	}
	a := enginetest.Answer(t, e, s)
	var got []string
	for i, shop := range e.Pack.Costs.Shops {
		sheet, err := sheet.ForShop(e, a, i, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range sheet.Work {
			if w.Title == "Oars in ash" || w.Title == "Storage" {
				got = append(got, fmt.Sprint(shop.ID, " ", w.Title, " ", w.Hours))
			}
		}
	}
	enginetest.WantList(t, "extra items", got, []string{"assembly Oars in ash 0", "wood-shop Oars in ash 2.5"})
}

// Nothing of a quotation but what is private is lost on the customer's copy, whatever is added to it.
func TestCustomersCopyIsWhole(t *testing.T) {
	q := everyDetail(t, enginetest.Small()[pack.Show])
	private := " Approval Serial Built ListTestKg ListedPersons text "
	var visit func(whole, copied reflect.Value)
	visit = func(whole, copied reflect.Value) {
		for i := range whole.NumField() {
			f := whole.Type().Field(i)
			if f.Anonymous {
				visit(whole.Field(i), copied.Field(i))
			} else if lost := !whole.Field(i).IsZero() &&
				copied.Field(i).IsZero(); lost != strings.Contains(private, " "+f.Name+" ") &&
				!whole.Field(i).IsZero() {
				t.Errorf("%s is lost: %v", f.Name, lost)
			}
		}
	}
	visit(reflect.ValueOf(*q), reflect.ValueOf(*q.ForCustomer()))
}
