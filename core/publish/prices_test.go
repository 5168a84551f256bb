package publish_test

import (
	"encoding/json"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/publish"
	"ribband/core/spec"
)

// computing is the yard's engine of the demo book without tables: it computes every price from its costs.
func computing(t testing.TB) *engine.Engine {
	yard, diagnostics := publish.Compile(readDemo(t))
	if len(diagnostics) > 0 {
		t.Fatal(reported(diagnostics))
	}
	if yard.Prices != nil {
		t.Fatal("the compiled pack has tables before they are made")
	}
	return compiled(t, yard)
}

// aSpec draws a spec: any hull, some slots settled with what may or may not go with it, any use.
func aSpec(t *rapid.T, p *pack.Pack) spec.Spec {
	s := spec.Spec{Format: spec.Format, Hull: p.Hulls[rapid.IntRange(0, len(p.Hulls)-1).Draw(t, "hull")].ID,
		Choices: map[string]map[string]int{}, Use: map[string]spec.Value{}}
	for range rapid.IntRange(0, 12).Draw(t, "settled") {
		slot := p.Slots[rapid.IntRange(0, len(p.Slots)-1).Draw(t, "slot")]
		chosen := map[string]int{}
		most := 2 // one too many, which clashes
		if slot.Multiple {
			most = slot.End - slot.First
		}
		for range rapid.IntRange(0, most).Draw(t, "options") {
			o := p.Options[rapid.IntRange(slot.First, slot.End-1).Draw(t, "option")]
			chosen[o.ID] = rapid.IntRange(1, o.Most).Draw(t, "count")
		}
		s.Choices[slot.ID] = chosen
	}
	for _, u := range p.Use {
		switch step := rapid.IntRange(0, u.Steps()-1).Draw(t, u.ID); {
		case rapid.Bool().Draw(t, "standard"):
		case len(u.Choices) > 0:
			s.Use[u.ID] = spec.Value{Choice: u.Choices[step].ID}
		default:
			s.Use[u.ID] = spec.Value{Number: u.Value(step)}
		}
	}
	return s
}

// The buyer sees the same prices as the yard, line by line, whether the boat can be built or not; and these are those
// that the yard computes without tables. Tables list only what may stand in a boat, so a boat with an option of another
// hull, or with too many of something, has the same price on all desks, but perhaps not the computed one.
func TestBuyerSeesTheYardsPrices(t *testing.T) {
	packs, _ := demo()
	computed := computing(t)
	yard, show, buyer := compiled(t, packs[pack.Yard]), compiled(t, packs[pack.Show]), compiled(t, packs[pack.Buyer])
	clashing, sound := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		s := aSpec(t, computed.Pack)
		want := answer(t, yard, s)
		if len(want.Build.Clashes) > 0 {
			clashing++
		} else {
			sound++
		}
		engines := []*engine.Engine{show, buyer}
		if !outside(want.Build) {
			engines = append(engines, computed)
		}
		for _, e := range engines {
			if got, w := sheet(t, answer(t, e, s)), sheet(t, want); got != w {
				t.Fatalf("%s, tables %v: %s\n%s\nwant\n%s", e.Pack.Desk, e.Pack.Prices != nil, s.Encode(), got, w)
			}
		}
	})
	if sound == 0 || clashing == 0 {
		t.Errorf("%d boats could be built, %d not: want some of both", sound, clashing)
	}
}

// outside says that a boat holds something that no table lists.
func outside(b *fit.Build) bool {
	for _, c := range b.Clashes {
		if c.Kind == fit.WrongHull || c.Kind == fit.TooMany {
			return true
		}
	}
	return false
}

func answer(t *rapid.T, e *engine.Engine, s spec.Spec) *engine.Answer {
	a, err := e.Answer(s)
	if err != nil {
		t.Fatalf("%s: %s: %v", e.Pack.Desk, s.Encode(), err)
	}
	return a
}

// sheet writes a price without what follows from costs, which the buyer's desk has not.
func sheet(t *rapid.T, a *engine.Answer) string {
	p := *a.Price
	p.Lines, p.Reductions = slices.Clone(p.Lines), price.Reductions{}
	for i := range p.Lines {
		p.Lines[i].BelowCost = money.Amount{}
	}
	text, err := json.MarshalIndent(p, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// The prices of random sound boats are computed and looked up alike: settled slots hold what is made for the hull.
func TestTablesGiveComputedPrices(t *testing.T) {
	packs, _ := demo()
	computed, buyer := computing(t), compiled(t, packs[pack.Buyer])
	p := computed.Pack
	rapid.Check(t, func(t *rapid.T) {
		s := aSpec(t, p)
		hull := 0
		for i := range p.Hulls {
			if p.Hulls[i].ID == s.Hull {
				hull = i
			}
		}
		for id, chosen := range s.Choices {
			for i := range p.Options {
				if o := &p.Options[i]; p.Slots[o.Slot].ID == id && chosen[o.ID] > 0 &&
					(!computed.Pack.Made(i, hull) || !p.Slots[o.Slot].Multiple && len(chosen) > 1) {
					delete(chosen, o.ID)
				}
			}
			if len(chosen) == 0 {
				delete(s.Choices, id)
			}
		}
		got, want := answer(t, buyer, s), answer(t, computed, s)
		if g, w := sheet(t, got), sheet(t, want); g != w {
			t.Fatalf("%s\n%s\nwant\n%s", s.Encode(), g, w)
		}
	})
}
