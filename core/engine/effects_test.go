package engine_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/spec"
)

// The net effect of a choice is exactly what answering the changed spec from nothing gives: its boat, its price as
// shown, its hours by shop, its figures.
func TestPropertyNetEffectsAreThoseOfTheChangedSpec(t *testing.T) {
	for _, desk := range []pack.Desk{pack.Buyer, pack.Yard} {
		t.Run(string(desk), func(t *testing.T) {
			e := enginetest.Demo()[desk]
			compared := 0
			rapid.Check(t, func(rt *rapid.T) {
				a, err := e.Answer(bare(enginetest.AnySpec(rt, e.Pack, 4)))
				if err != nil || len(a.Build.Clashes) > 0 {
					return // of a boat that clashes nearly every other one does, too, and is not compared
				}
				alternatives := e.Alternatives(a)
				for range 12 {
					o := rapid.IntRange(0, len(e.Pack.Options)-1).Draw(rt, "option")
					alternative := alternatives.Option(e, o)
					if alternative.Status != fit.Open || len(alternative.Build.Clashes) > 0 {
						continue
					}
					then, _, err := e.Apply(a, engine.Choose{Option: e.Pack.Options[o].ID, Count: 1})
					if err != nil {
						rt.Fatal(err)
					}
					compared++
					sameNet(rt, e, a, then.Spec, alternative.Build.Build(), alternative.Effect)
				}
			})
			t.Logf("%d effects compared", compared)
			if compared == 0 {
				t.Error("nothing was compared")
			}
		})
	}
}

func bare(s spec.Spec) spec.Spec {
	s.Extras, s.Discounts, s.TradeIn = nil, nil, nil
	return s
}

func sameNet(t *rapid.T, e *engine.Engine, a *engine.Answer, s spec.Spec, b *fit.Build, x engine.Effect) {
	then, err := e.Answer(s)
	if err != nil {
		t.Fatal(err)
	}
	for o, count := range then.Build.State.Counts {
		if count != b.State.Counts[o] {
			t.Fatalf("%s: %d in the boat of the verdict, %d in that of the changed spec", e.Pack.Options[o].ID,
				b.State.Counts[o], count)
		}
	}
	if want := then.Price.Goods.Sub(a.Price.Goods); x == nil || !x.Price().Equal(want) {
		t.Fatalf("the price differs by %v, want %s", x, want)
	}
	hours := false
	for j, c := range e.Columns() {
		switch c.Kind {
		case engine.InUnits:
			want := then.Build.State.Figures[c.Figure] - a.Build.State.Figures[c.Figure]
			if len(a.Build.State.Faults) == 0 && x[j].Known && math.Float64bits(x[j].Number) != math.Float64bits(want) {
				t.Fatalf("%s differs by %v, want %v", c.ID, x[j].Number, want)
			}
		case engine.InHours:
			hours = true
			for shop := range e.Pack.Costs.Shops {
				if want := then.Work.ByShop[shop].Total() - a.Work.ByShop[shop].Total(); x[j].ByShop[shop] != want {
					t.Fatalf("%s: %s hours, want %s", e.Pack.Costs.Shops[shop].ID, x[j].ByShop[shop], want)
				}
			}
		}
	}
	if hours != e.Pack.Can(pack.Hours) {
		t.Fatalf("hours on the desk %s: %v", e.Pack.Desk, hours)
	}
}

// BenchmarkEffects works out verdicts and effects of all options, which is what the page does after every change.
func BenchmarkEffects(b *testing.B) {
	for _, desk := range []pack.Desk{pack.Buyer, pack.Yard} {
		e := enginetest.Demo()[desk]
		for h := range e.Pack.Hulls {
			a, err := e.AnswerStandard(h, "")
			if err != nil {
				b.Fatal(err)
			}
			b.Run(string(desk)+"/"+e.Pack.Hulls[h].ID, func(b *testing.B) {
				for b.Loop() {
					allAlternatives(e, a)
				}
			})
		}
	}
}

// allAlternatives works out every slot anew.
func allAlternatives(e *engine.Engine, a *engine.Answer) {
	x := e.Alternatives(engine.Anew(a))
	for s := range e.Pack.Slots {
		x.Slot(s)
	}
}
