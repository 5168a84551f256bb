package engine_test

import (
	"slices"
	"testing"
	"time"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/spec"
)

// walk chooses so many open options one after the other on a hull, drawn by a linear congruential sequence (Park and
// Miller, 1988), and visits each boat on the way.
func walk(t testing.TB, e *engine.Engine, hull string, seed, times int, visit func(a *engine.Answer)) {
	t.Helper()
	state := seed * 48271
	draw := func(n int) int { state = (state * 48271) % 2147483647; return state % n }
	a := enginetest.Answer(t, e, spec.Spec{Format: spec.Format, Hull: hull})
	for range times {
		var open []engine.Choose
		for s := range e.Pack.Slots {
			if !e.Exists(s, a.Hull) {
				continue
			}
			for i, x := range e.Alternatives(a).Slot(s).Options {
				if x.Status == fit.Open {
					open = append(open, engine.Choose{Option: e.Pack.Options[e.Pack.Slots[s].First+i].ID, Count: 1})
				}
			}
		}
		next, _, err := e.Apply(a, open[draw(len(open))])
		if err != nil {
			t.Fatal(err)
		}
		a = next
		visit(a)
	}
}

// BenchmarkWalk works out verdicts and effects of all options after each of 15 open choices on every hull.
func BenchmarkWalk(b *testing.B) {
	e := enginetest.Demo()[pack.Buyer]
	var took []float64
	for i := range b.N {
		for _, hull := range e.Pack.Hulls {
			walk(b, e, hull.ID, i+1, 15, func(a *engine.Answer) {
				begin := time.Now()
				allAlternatives(e, a)
				took = append(took, float64(time.Since(begin).Microseconds())/1000)
			})
		}
	}
	slices.Sort(took)
	b.ReportMetric(took[len(took)/2], "ms-median")
	b.ReportMetric(took[len(took)*95/100], "ms-p95")
	b.ReportMetric(took[len(took)-1], "ms-most")
}
