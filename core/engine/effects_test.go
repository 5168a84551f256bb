package engine_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/measure"
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
				options, empty := e.Fit.Verdicts(a.Build)
				nets := e.Effects(a, options, empty)
				for range 12 {
					o := rapid.IntRange(0, len(options)-1).Draw(rt, "option")
					if options[o].Status != fit.Open || len(options[o].Build.Clashes) > 0 {
						continue
					}
					s, _, err := e.Choose(a, e.Pack.Options[o].ID, 1)
					if err != nil {
						rt.Fatal(err)
					}
					compared++
					sameNet(rt, e, a, s, options[o].Build.Build(), nets.Options[o])
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
	s.Lines, s.Discounts = nil, nil
	return s
}

func sameNet(t *rapid.T, e *engine.Engine, a *engine.Answer, s spec.Spec, b *fit.Build, n *engine.Effect) {
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
	if want := then.Price.Goods.Sub(a.Price.Goods); n == nil || !n.Price.Equal(want) {
		t.Fatalf("the price differs by %v, want %s", n, want)
	}
	for j, i := range e.Compared() {
		if want := then.Build.State.Figures[i] - a.Build.State.Figures[i]; len(a.Build.State.Faults) == 0 &&
			math.Float64bits(n.Figures[j]) != math.Float64bits(want) {
			t.Fatalf("%s differs by %v, want %v", e.Pack.Figures[i].ID, n.Figures[j], want)
		}
	}
	if e.Pack.Desk != pack.Yard {
		if n.Hours != nil {
			t.Fatal("hours on a desk that has none")
		}
		return
	}
	for shop := range e.Pack.Costs.Shops {
		if want := then.Cost.Hours(shop) - a.Cost.Hours(shop); n.Hours[shop] != want {
			t.Fatalf("%s: %s hours, want %s", e.Pack.Costs.Shops[shop].ID, n.Hours[shop], measure.Hours(want))
		}
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
					options, empty := e.Fit.Verdicts(a.Build)
					e.Effects(a, options, empty)
				}
			})
		}
	}
}
