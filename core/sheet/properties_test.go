package sheet_test

import (
	"fmt"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"testing"

	"pgregory.net/rapid"
)

// Hours and cost add up on the yard's sheet: base and options to the total, shops to all shops, work and materials to
// the cost.
func TestPropertyYardSheetAddsUp(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	rapid.Check(t, func(t *rapid.T) {
		s := enginetest.WithDealing(t, e.Pack, enginetest.AnySpec(t, e.Pack, 8))
		a, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		if err := sheetAddsUp(e, a, sheet.ForYard(e, a, quote.Details{})); err != nil {
			t.Fatal(err)
		}
	})
}

func sheetAddsUp(e *engine.Engine, a *engine.Answer, y *sheet.Yard) error {
	var all sheet.ShopHours
	for _, h := range y.Shops {
		if h.Total != h.Base+h.Options || h.Over != h.Total-h.Standard {
			return fmt.Errorf("shop %+v", h)
		}
		all.Base, all.Options, all.Total, all.Standard, all.Over = all.Base+h.Base, all.Options+h.Options,
			all.Total+h.Total, all.Standard+h.Standard, all.Over+h.Over
	}
	if all.Shop = y.Hours.Shop; all != y.Hours {
		return fmt.Errorf("all shops %+v, want %+v", y.Hours, all)
	}
	options := all.Base
	for _, o := range y.Options {
		options += o.Hours
	}
	hours, labour := measure.Hours(0), money.Amount{}
	for _, w := range y.Work {
		hours, labour = hours+w.Hours, labour.Add(w.Amount)
	}
	materials, leftovers := money.Amount{}, money.Amount{}
	for _, m := range y.Materials {
		materials = materials.Add(m.Amount)
	}
	for _, x := range a.Cost.Extras {
		labour, materials = labour.Add(x.Labour), materials.Add(x.Bought)
	}
	hours += a.Work.Hours().Extras
	for _, p := range y.Purchases {
		leftovers = leftovers.Add(p.Charged)
	}
	if options != all.Total || hours != all.Total {
		return fmt.Errorf("options %s and work %s h, want %s", options, hours, all.Total)
	}
	c := y.Cost
	whole := money.Sum(c.Materials, c.Leftovers, c.Labour, c.Outside, c.OverheadOnMaterials, c.OverheadOnLabour,
		c.Contingency)
	var outside money.Amount
	for _, s := range y.Sent {
		outside = outside.Add(s.Amount)
	}
	if !c.Margin.Equal(a.Margin) {
		return fmt.Errorf("the margin is %s, want %s", c.Margin, a.Margin)
	}
	for what, pair := range map[string][2]money.Amount{
		"materials": {c.Materials, materials}, "labour": {c.Labour, labour},
		"outside work": {c.Outside, outside}, "leftovers": {c.Leftovers, leftovers},
		"total": {c.Total, whole}, "net price": {c.NetPrice, a.Price.Net},
	} {
		if !pair[0].Equal(pair[1]) {
			return fmt.Errorf("%s: %s, want %s", what, pair[0], pair[1])
		}
	}
	return ratesAndPricesAddUp(e, a, y)
}

func ratesAndPricesAddUp(e *engine.Engine, a *engine.Answer, y *sheet.Yard) error {
	for i, want := range []money.Amount{y.Cost.OverheadOnMaterials, y.Cost.OverheadOnLabour, y.Cost.Contingency} {
		if !y.Rates[i].Amount.Equal(want) {
			return fmt.Errorf("%s is %s, want %s", y.Rates[i].Part, y.Rates[i].Amount, want)
		}
	}
	net := money.Amount{}
	for _, p := range y.Prices {
		net = net.Add(p.Net.Times(int64(p.Count)))
	}
	net = net.Add(enginetest.ExtrasNet(e, a))
	if want, err := enginetest.NetPrice(e, a); err != nil || !net.Equal(want) {
		return fmt.Errorf("prices come to %s, want %s (%v)", net, want, err)
	}
	return nil
}
