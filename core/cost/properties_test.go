package cost_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/works"
)

func cent(t *rapid.T, label string, most int64) money.Amount {
	return money.Exact(rapid.Int64Range(0, most).Draw(t, label), -2)
}

func share(t *rapid.T, label string, most int64) money.Rate {
	return money.MustRate(money.Exact(rapid.Int64Range(0, most).Draw(t, label), -4).String())
}

// anyYard is the invented yard with other rates, wastes and packs.
func anyYard(t *rapid.T) *pack.Pack {
	p := yard()
	p.Rounding = rapid.SampledFrom([]money.Mode{money.HalfEven, money.HalfUp}).Draw(t, "mode")
	p.Currency = rapid.SampledFrom([]string{"EUR", "JPY", "KWD"}).Draw(t, "currency")
	k := p.Costs
	k.OnLabour, k.OnMaterials, k.Contingency = share(t, "on labour", 20_000), share(t, "on materials", 5_000),
		share(t, "contingency", 2_000)
	for i := range k.Materials {
		m := &k.Materials[i]
		m.Cost, m.Waste, m.Stock = cent(t, "cost", 1_000_00), share(t, "waste", 5_000), rapid.Bool().Draw(t, "stock")
		m.Pack = money.MustRate(cent(t, "pack", 200_00).String())
	}
	for i := range k.Shops {
		k.Shops[i].Rate = cent(t, "rate", 150_00)
	}
	if rapid.Bool().Draw(t, "outside") {
		sentOut(p, cent(t, "outside price", 2_000_00))
	}
	return p
}

func anyState(t *rapid.T) *formula.State {
	st := state(rapid.IntRange(0, 12).Draw(t, "cleats"), rapid.IntRange(0, 12).Draw(t, "lockers"),
		rapid.IntRange(0, 1).Draw(t, "shelves"))
	st.Hull[0] = rapid.Float64Range(4.5, 7.6).Draw(t, "length")
	st.Use[0] = rapid.Float64Range(0.5, 10).Draw(t, "locker")
	return st
}

func anyExtras(t *rapid.T) []extra {
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) extra {
		return extra{works.Extra{Title: "Extra item", Hours: map[int]measure.Hours{
			moulding: measure.Hours(rapid.Int64Range(0, 50_000_000).Draw(t, "moulding")),
			joinery:  measure.Hours(rapid.Int64Range(0, 50_000_000).Draw(t, "joinery")),
		}}, cent(t, "extra", 5_000_00)}
	}), 0, 3).Draw(t, "extras")
}

func TestPropertyPartsAddUpToWholes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, st, extras := anyYard(t), anyState(t), anyExtras(t)
		s, err := boat(compiled(t, p), st, extras...)
		if err != nil {
			t.Fatal(err)
		}
		var materials, leftovers, labour, outside money.Amount
		used := map[int]measure.Quantity{}
		for _, l := range s.Materials {
			materials = materials.Add(l.Amount)
			used[l.Material] += l.Used
			if l.Used < l.BuiltIn || l.BuiltIn <= 0 {
				t.Fatalf("%s built in, %s used", l.BuiltIn, l.Used)
			}
		}
		for _, l := range s.Work {
			if l.Shop == works.Outside {
				outside = outside.Add(l.Amount)
			} else {
				labour = labour.Add(l.Amount)
			}
		}
		for _, e := range s.Extras {
			materials = materials.Add(e.Bought)
		}
		for _, b := range s.Purchases {
			leftovers = leftovers.Add(b.Charged)
			size := measure.Quantity(p.Costs.Materials[b.Material].Pack.Millionths())
			if b.Used != used[b.Material] || b.Used <= 0 {
				t.Fatalf("%s bought of material %d, %s used", b.Used, b.Material, used[b.Material])
			}
			if size > 0 && (measure.Quantity(b.Packs)*size != b.Used+b.Leftover ||
				b.Leftover < 0 || b.Leftover >= size) {
				t.Fatalf("%d packs of %s for %s leave %s", b.Packs, size, b.Used, b.Leftover)
			}
			if (size == 0 || p.Costs.Materials[b.Material].Stock) && !b.Charged.IsZero() {
				t.Fatalf("%s is charged for a leftover of stock", b.Charged)
			}
			delete(used, b.Material)
		}
		if len(used) > 0 {
			t.Fatalf("used and not bought: %v", used)
		}
		sum := s.Summary
		for what, pair := range map[string][2]money.Amount{
			"materials": {sum.Materials, materials}, "leftovers": {sum.Leftovers, leftovers},
			"labour": {sum.Labour, labour}, "outside work": {sum.Outside, outside},
			"total": {sum.Total, money.Sum(sum.Materials, sum.Leftovers, sum.Labour, sum.Outside,
				sum.OverheadOnMaterials, sum.OverheadOnLabour, sum.Contingency)},
		} {
			if !pair[0].Equal(pair[1]) {
				t.Fatalf("%s: %s, its parts are %s", what, pair[0], pair[1])
			}
		}
		c, _ := money.CurrencyOf(p.Currency)
		minor, _ := money.NewRounding(p.Rounding, c.Minor())
		for _, a := range []money.Amount{sum.Materials, sum.Leftovers, sum.Labour, sum.Outside, sum.OverheadOnMaterials,
			sum.OverheadOnLabour, sum.Contingency} {
			if !minor.Round(a).Equal(a) {
				t.Fatalf("%s is not in the minor unit of %s", a, p.Currency)
			}
		}
	})
}

// Raising a price, an hourly rate or a share never lowers the cost of the boat.
func TestPropertyDearerInputsNeverLowerTheCost(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, st, extras := anyYard(t), anyState(t), anyExtras(t)
		before, err := boat(compiled(t, p), st, extras...)
		if err != nil {
			t.Fatal(err)
		}
		more := cent(t, "more", 100_00)
		switch rapid.IntRange(0, 3).Draw(t, "which") {
		case 0:
			m := &p.Costs.Materials[rapid.IntRange(0, 2).Draw(t, "material")]
			m.Cost = m.Cost.Add(more)
		case 1:
			s := &p.Costs.Shops[rapid.IntRange(0, 1).Draw(t, "shop")]
			s.Rate = s.Rate.Add(more)
		case 2:
			p.Costs.OnLabour = p.Costs.OnLabour.Add(money.MustRate(more.String()))
		case 3:
			p.Costs.Contingency = p.Costs.Contingency.Add(money.MustRate(more.String()))
		}
		after, err := boat(compiled(t, p), st, extras...)
		if err != nil {
			t.Fatal(err)
		}
		if after.Summary.Total.Cmp(before.Summary.Total) < 0 {
			t.Fatalf("the total fell from %s to %s", before.Summary.Total, after.Summary.Total)
		}
	})
}

// Computing twice gives the same, and the state is only read.
func TestPropertySameEveryTime(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, st := compiled(t, anyYard(t)), anyState(t)
		first, err1 := boat(c, st)
		second, err2 := boat(c, st)
		if err1 != nil || err2 != nil || !first.Summary.Total.Equal(second.Summary.Total) ||
			len(first.Materials) != len(second.Materials) {
			t.Fatalf("%v, %v; %s and %s", err1, err2, first.Summary.Total, second.Summary.Total)
		}
	})
}
