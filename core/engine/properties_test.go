package engine_test

import (
	"encoding/json"
	"fmt"
	"maps"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
	"ribband/core/spec"
)

// Parts add up to wholes and stages to the total; the lines net are the price of the boat and the extra items.
func TestPropertyPriceAddsUp(t *testing.T) {
	e := enginetest.Demo()[pack.Show]
	rapid.Check(t, func(t *rapid.T) {
		s := enginetest.WithDealing(t, e.Pack, enginetest.AnySpec(t, e.Pack, 8))
		a, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		enginetest.WantAddsUp(t, e.Pack, a.Price)
		var lines money.Amount
		for _, l := range a.Price.Lines {
			lines = lines.Add(l.Net)
		}
		want, err := enginetest.NetPrice(e, a)
		if err != nil {
			t.Fatal(err)
		}
		if !lines.Equal(want) {
			t.Fatalf("the lines come to %s, the boat and the extra items to %s", lines, want)
		}
		if m, _ := money.MarginOf(a.Price.Net, a.Cost.Summary.Total.Add(a.Price.TradeIn.Over())); !m.Equal(a.Margin) {
			t.Fatalf("margin %s, want %s", a.Margin, m)
		}
	})
}

// The buyer reads prices from tables; the yard may compute them. Both see the same, to the last line.
func TestPropertyBuyersAndYardsPricesAreEqual(t *testing.T) {
	buyer, yard := enginetest.Demo()[pack.Buyer], enginetest.Computing()
	rapid.Check(t, func(t *rapid.T) {
		s := enginetest.AnySpec(t, buyer.Pack, 10)
		b, err := buyer.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		y, err := yard.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := enginetest.PriceText(b), enginetest.PriceText(y); got != want {
			t.Fatalf("%s\nthe buyer sees\n%s\nthe yard\n%s", s.Encode(), got, want)
		}
		if enginetest.BoatText(buyer, b) != enginetest.BoatText(yard, y) {
			t.Fatalf("%s\nand\n%s", enginetest.BoatText(buyer, b), enginetest.BoatText(yard, y))
		}
	})
}

// Raising the cost of a material, the rate of a shop or a general rate never lowers a computed price, and never touches
// a list price.
func TestPropertyDearerInputsNeverLowerAPrice(t *testing.T) {
	cheap := enginetest.Computing()
	raised := 0
	rapid.Check(t, func(t *rapid.T) {
		dear, err := engine.Compile(dearer(t, cheap.Pack))
		if err != nil {
			t.Fatal(err)
		}
		a, err := cheap.Answer(enginetest.AnySpec(t, cheap.Pack, 5))
		if err != nil {
			t.Fatal(err)
		}
		st := a.Build.State
		compare := func(what string, item *pack.BillOfMaterials, price func(e *engine.Engine) (money.Amount, error)) {
			before, err := price(cheap)
			if err != nil {
				t.Fatal(err)
			}
			after, err := price(dear)
			if err != nil {
				t.Fatal(err)
			}
			if c := after.Cmp(before); c < 0 || c > 0 && len(item.List) > 0 {
				t.Fatalf("the price of %s went from %s to %s", what, before, after)
			} else if c > 0 {
				raised++
			}
		}
		compare("the base boat", &cheap.Pack.Costs.Hulls[a.Hull],
			func(e *engine.Engine) (money.Amount, error) { return e.Pricing.Base(st) })
		for o, n := range st.Counts {
			if n > 0 && cheap.Pack.Made(o, a.Hull) {
				compare(cheap.Pack.Options[o].ID, &cheap.Pack.Costs.Options[o],
					func(e *engine.Engine) (money.Amount, error) { return e.Pricing.Option(st, o) })
			}
		}
	})
	if raised == 0 {
		t.Error("no price ever followed")
	}
}

// dearer is a pack with something in its trade that costs more.
func dearer(t *rapid.T, p *pack.Pack) *pack.Pack {
	out, costs := *p, *p.Costs
	out.Costs = &costs
	costs.Materials, costs.Shops = slices.Clone(costs.Materials), slices.Clone(costs.Shops)
	more := money.Exact(rapid.Int64Range(1, 50_000).Draw(t, "more"), -2)
	share := money.MustRate(money.Exact(rapid.Int64Range(1, 1_000).Draw(t, "share"), -4).String())
	switch rapid.IntRange(0, 4).Draw(t, "what") {
	case 0:
		costs.OnLabour = costs.OnLabour.Add(share)
	case 1:
		costs.OnMaterials = costs.OnMaterials.Add(share)
	case 2:
		costs.Contingency = costs.Contingency.Add(share)
	case 3:
		s := &costs.Shops[rapid.IntRange(0, len(costs.Shops)-1).Draw(t, "shop")]
		s.Rate = s.Rate.Add(more)
	default:
		m := &costs.Materials[rapid.IntRange(0, len(costs.Materials)-1).Draw(t, "material")]
		m.Cost = m.Cost.Add(more)
	}
	return &out
}

// A spec means the same in whatever order its choices and uses are written, and its answer is the same every time and
// leaves it alone.
func TestPropertyOrderInASpecDoesNotMatter(t *testing.T) {
	e := enginetest.Demo()[pack.Yard]
	rapid.Check(t, func(t *rapid.T) {
		s := enginetest.AnySpec(t, e.Pack, 8)
		a, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		r := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "order"), 0))
		other, err := spec.Decode([]byte(shuffled(r, s)))
		if err != nil {
			t.Fatal(err)
		}
		digest := s.Digest()
		b, err := e.Answer(other)
		if err != nil {
			t.Fatal(err)
		}
		first, second := text(quote.Draft(e, a), sheet.ForYard(e, a, quote.Details{})), text(quote.Draft(e, b),
			sheet.ForYard(e, b, quote.Details{}))
		if first != second || s.Digest() != digest {
			t.Fatalf("%s\nin another order:\n%s", first, second)
		}
	})
}

func text(list ...any) string {
	b, err := json.Marshal(list)
	if err != nil {
		panic(err)
	}
	return string(b)
}

// shuffled writes a spec as JSON with its keys in a random order.
func shuffled(r *rand.Rand, s spec.Spec) string {
	object := func(parts []string) string {
		r.Shuffle(len(parts), func(i, j int) { parts[i], parts[j] = parts[j], parts[i] })
		return "{" + strings.Join(parts, ",") + "}"
	}
	var choices, uses []string
	for _, slot := range slices.Sorted(maps.Keys(s.Choices)) {
		var options []string
		for _, o := range slices.Sorted(maps.Keys(s.Choices[slot])) {
			options = append(options, fmt.Sprintf("%q:%d", o, s.Choices[slot][o]))
		}
		choices = append(choices, fmt.Sprintf("%q:%s", slot, object(options)))
	}
	for _, field := range slices.Sorted(maps.Keys(s.Use)) {
		v, _ := json.Marshal(s.Use[field])
		uses = append(uses, fmt.Sprintf("%q:%s", field, v))
	}
	return object([]string{`"format":1`, fmt.Sprintf(`"hull":%q`, s.Hull), `"choices":` + object(choices),
		`"use":` + object(uses)})
}

// A boat that can be built freezes, travels in its file, and reopens the same.
func TestPropertyFrozenQuotesReopen(t *testing.T) {
	e := enginetest.Demo()[pack.Show]
	frozen := 0
	rapid.Check(t, func(t *rapid.T) {
		a, err := e.Answer(enginetest.WithDealing(t, e.Pack, enginetest.AnySpec(t, e.Pack, 3)))
		if err != nil {
			t.Fatal(err)
		}
		q, err := quote.Freeze(e, a, quote.Details{Number: "T-1", Date: "2027-02-06", Approval: "The owner"})
		if (err != nil) != (len(a.Build.Clashes) > 0) {
			t.Fatalf("clashes %v, error %v", a.Build.Clashes, err)
		}
		if err != nil {
			return
		}
		frozen++
		back, err := quote.Decode(q.Encode())
		if err != nil {
			t.Fatal(err)
		}
		fresh, _, differences, err := quote.Reopen(e, back)
		if err != nil || len(differences) > 0 || string(fresh.Encode()) != string(q.Encode()) {
			t.Fatalf("differences %v (%v)", differences, err)
		}
	})
	t.Logf("%d quotes were frozen", frozen)
	if frozen == 0 {
		t.Error("nothing was frozen")
	}
}
