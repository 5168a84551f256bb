package price_test

import (
	"os"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/publish"
)

// demoIndex is the demo book's buyer's pack with its prices.
func demoIndex(t *testing.T) (*pack.Pack, *price.Pricing, *price.Index) {
	t.Helper()
	packs, _, problems, err := publish.Load(os.DirFS("../../rules"))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	p := packs[pack.Buyer]
	pricing, err := price.Compile(p, nil)
	if err != nil {
		t.Fatal(err)
	}
	return p, pricing, pricing.Index()
}

// The least price of an option is no more than it costs on any boat that differs in free slots only, and with nothing
// free it is what it costs.
func TestPropertyLeastIsALowerBound(t *testing.T) {
	p, pricing, index := demoIndex(t)
	use := make([]float64, len(p.Use))
	for i, u := range p.Use {
		use[i] = u.Standard
	}
	none := make([]bool, len(p.Slots))
	rapid.Check(t, func(t *rapid.T) {
		st := figures.NewState(p, rapid.IntRange(0, len(p.Hulls)-1).Draw(t, "hull"), use)
		free := make([]bool, len(p.Slots))
		for s := range p.Slots {
			fill(t, p, st, s)
			free[s] = rapid.IntRange(0, 3).Draw(t, "free") == 0
		}
		var least []int64
		for o := range p.Options {
			least = append(least, index.Least(o, st, free))
		}
		base := index.Least(-1, st, free)
		for s := range p.Slots {
			if free[s] {
				fill(t, p, st, s)
			}
		}
		for o := range p.Options {
			a, err := pricing.Option(st, o)
			if err != nil {
				continue // not made for the hull
			}
			now, _ := a.Whole(-4)
			if exact := index.Least(o, st, none); exact != now || least[o] > now {
				t.Fatalf("%s costs %d, at least %d; with nothing free %d", p.Options[o].ID, now, least[o], exact)
			}
		}
		if a, err := pricing.Base(st); err != nil || base > mustWhole(t, a) {
			t.Fatalf("the base boat costs %s, %v; at least %d", a, err, base)
		}
	})
}

func mustWhole(t *rapid.T, a money.Amount) int64 {
	n, ok := a.Whole(-4)
	if !ok {
		t.Fatalf("%s is in no ten-thousandths", a)
	}
	return n
}

// fill puts one option, or nothing, into a slot.
func fill(t *rapid.T, p *pack.Pack, st *formula.State, slot int) {
	def := &p.Slots[slot]
	for o := def.First; o < def.End; o++ {
		st.Counts[o] = 0
	}
	st.Slots[slot] = 0
	if o := rapid.IntRange(def.First-1, def.End-1).Draw(t, "option"); o >= def.First {
		st.Counts[o], st.Slots[slot] = 1, 1
	}
}

// No sheet within a total is net dearer than its bound.
func TestPropertyNetBelowALimit(t *testing.T) {
	_, pricing, index := demoIndex(t)
	rapid.Check(t, func(t *rapid.T) {
		lines, r := anyLines(t, 1_000), anyRegion(t)
		s, err := pricing.Sheet(price.Deal{Lines: lines}, r)
		if err != nil {
			t.Fatal(err)
		}
		net := int64(0)
		for _, l := range lines {
			net += mustWhole(t, l.Net)
		}
		if below := index.NetBelow(s.Total, r, len(lines)); net > below {
			t.Fatalf("%d net comes to %s, and nothing above %d should", net, s.Total, below)
		}
		if much := index.NetBelow(s.Total, r, 0); s.Total.Sign() > 0 && much < net-net/50-100_000 {
			t.Fatalf("the bound %d lies far below %d", much, net)
		}
	})
}
