package quote_test

import (
	"bytes"
	"flag"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/engine/sample"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
	"ribband/core/works"
)

var deals = flag.Int("deals", 60, "how many random deals over random boats to look at")

// anyDeal adds to a boat what a salesperson may come up with: as a rule what is sensible, now and then what is not.
func anyDeal(r *rand.Rand, e *engine.Engine, s spec.Spec) spec.Spec {
	s = s.Clone()
	cents := func(most int64) money.Amount { return money.Exact(r.Int64N(100*most+1), -2) }
	for i := range r.IntN(3) {
		l := spec.Extra{ID: fmt.Sprint("line-", i+1), Title: "Extra item",
			Price: cents(4000).Sub(money.MustParse("800")), Basis: []spec.Basis{spec.Net, spec.WithTax}[r.IntN(2)],
			Cost: cents(1500)}
		if r.IntN(2) == 0 {
			shop := e.Pack.Costs.Shops[r.IntN(len(e.Pack.Costs.Shops))].ID
			l.Hours = map[string]measure.Hours{shop: measure.Hours(r.Int64N(20_000_000))}
		}
		if r.IntN(6) == 0 {
			l.Price = cents(200_000).Neg()
		}
		s.Extras = append(s.Extras, l)
	}
	for range r.IntN(3) {
		d := spec.Discount{Title: "Discount", On: []string{"", "", engine.BoatKey}[r.IntN(3)]}
		if r.IntN(2) == 0 {
			d.Share = money.MustRate(money.Exact(1+r.Int64N(700), -4).String())
		} else {
			d.Amount = cents(2500).Add(money.MustParse("0.01"))
		}
		if r.IntN(8) == 0 {
			d.Share, d.Amount = money.MustRate("1"), money.Amount{}
		}
		s.Discounts = append(s.Discounts, d)
	}
	if r.IntN(2) == 0 {
		s.TradeIn = &spec.TradeIn{Title: "Clinker dinghy", Allowance: cents(9000).Add(money.MustParse("0.01")),
			Value: cents(9000)}
		if r.IntN(6) == 0 {
			s.TradeIn.Allowance = cents(300_000).Add(money.MustParse("0.01"))
		}
	}
	return s
}

// givenAway is what a deal gives away, reckoned from the spec and the costs anew.
func givenAway(e *engine.Engine, a *engine.Answer) (sum money.Amount) {
	r := a.Price.Region
	for _, d := range a.Price.Discounts {
		sum = sum.Add(d.Amount)
	}
	for i, l := range a.Spec.Extras {
		net := l.Price
		if l.Basis == spec.WithTax {
			net = e.Pricing.WithoutTax(l.Price, r)
		}
		x := a.Cost.Extras[i]
		t := e.Pack.Costs
		materials, labour := x.Bought, x.Labour
		cost := materials.Add(labour).Add(round(materials.Share(t.OnMaterials))).Add(round(labour.Share(t.OnLabour)))
		cost = cost.Add(round(cost.Share(t.Contingency)))
		if below := cost.Sub(net); below.Sign() > 0 {
			sum = sum.Add(e.Pricing.Show(below, r))
		}
	}
	bySlot := map[int]money.Amount{}
	for o, n := range a.Build.State.Counts {
		one, err := e.Pricing.Option(a.Build.State, o)
		if more := n - a.Standard.State.Counts[o]; more > 0 && err == nil && one.IsZero() {
			c, _ := e.Costing.Item(a.Build.State, works.Of(o, 1))
			slot := e.Pack.Options[o].Slot
			bySlot[slot] = bySlot[slot].Add(c.Total.Times(int64(more)))
		}
	}
	for _, gift := range bySlot {
		sum = sum.Add(e.Pricing.Show(gift, r))
	}
	if t := a.Spec.TradeIn; t != nil && t.Allowance.Cmp(t.Value) > 0 {
		sum = sum.Add(t.Allowance.Sub(t.Value))
	}
	return sum
}

var toCents, _ = money.NewRounding(money.HalfEven, money.MustParse("0.01")) // as the demo book rounds

func round(a money.Amount) money.Amount { return toCents.Round(a) }

// Of any deal over any boat: either it is refused with what to do, or all its sums are above zero and add up,
// everything given away counts, nothing beyond the limits is issued without an approval, and what is issued opens on
// every desk as it was, the customer's copy too.
func TestRandomDealsOverRandomBoats(t *testing.T) {
	show, yard := enginetest.Demo()[pack.Show], enginetest.Demo()[pack.Yard]
	r := rand.New(rand.NewPCG(11, 2027))
	refused, beyond, within := 0, 0, 0
	for boat := range sample.Boats(yard, *deals, r) {
		s := anyDeal(r, show, boat)
		a, err := show.Answer(s)
		if err != nil {
			refused++
			if !strings.Contains(err.Error(), ": lower it or remove it") &&
				!strings.Contains(err.Error(), "; lower it, and buy the rest") &&
				!strings.Contains(err.Error(), "is negative or more than the") {
				t.Errorf("refused without a remedy: %v", err)
			}
			continue
		}
		enginetest.WantAddsUp(t, show.Pack, a.Price)
		for what, sum := range map[string]money.Amount{"goods": a.Price.Goods, "lines less discounts": a.Price.Shown,
			"net": a.Price.Net, "total": a.Price.Total, "payable": a.Price.Payable} {
			if sum.Sign() <= 0 {
				t.Errorf("%s: %s of %s", what, sum, s.Encode())
			}
		}
		if want := givenAway(show, a); !a.Price.Reductions.Total.Equal(want) {
			t.Errorf("%s given away, want %s: %+v of %s", a.Price.Reductions.Total, want, a.Price.Reductions.Parts,
				s.Encode())
		}
		d := quote.Details{Number: "T-1", Date: "2027-02-06"}
		over := a.Price.Reductions.Share.Cmp(show.Pack.Costs.Authority) > 0 ||
			a.Margin.Cmp(show.Pack.Costs.MarginFloor) < 0
		q, err := quote.Freeze(show, a, d)
		if (err != nil) != over {
			t.Errorf("issued without an approval: %v, want %v (%v)", err == nil, !over, err)
		}
		if err != nil {
			beyond++
			d.Approval = "Wenna Tolland, owner"
			if q, err = quote.Freeze(show, a, d); err != nil {
				t.Errorf("not issued with an approval: %v", err)
				continue
			}
		} else {
			within++
		}
		for name, copied := range map[string]*quote.Quote{"the yard's file": q,
			"the customer's copy": q.ForCustomer()} {
			fresh, differences := reopened(t, yard, copied)
			if len(differences) > 0 || !bytes.Equal(fresh.Encode(), copied.Encode()) {
				t.Errorf("%s opens as another: %s", name, strings.Join(differences, "\n"))
			}
		}
	}
	t.Logf("%d refused, %d beyond the limits, %d within", refused, beyond, within)
	if refused == 0 || beyond == 0 || within == 0 {
		t.Errorf("%d refused, %d beyond the limits and %d within say little", refused, beyond, within)
	}
}
