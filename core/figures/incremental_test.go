package figures_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/figures"
	"ribband/core/formula"
)

// Whatever changes, in whatever order, an incremental boat has to the bit the figures that are computed from nothing.
func TestPropertyIncrementalIsFill(t *testing.T) {
	f, err := figures.Compile(demo)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(rt *rapid.T) {
		use := make([]float64, len(demo.Use))
		for i, u := range demo.Use {
			use[i] = u.Value(rapid.IntRange(0, u.Steps()-1).Draw(rt, u.ID))
		}
		hull := rapid.IntRange(0, len(demo.Hulls)-1).Draw(rt, "hull")
		live := f.NewIncremental(figures.NewState(demo, hull, use))
		for range rapid.IntRange(1, 6).Draw(rt, "rounds") {
			before := slices.Clone(live.State.Figures)
			for range rapid.IntRange(0, 20).Draw(rt, "changes") {
				o := rapid.IntRange(0, len(demo.Options)-1).Draw(rt, "option")
				live.Set(o, rapid.IntRange(0, demo.Options[o].Most).Draw(rt, "count"))
			}
			if rapid.Bool().Draw(rt, "plain first") {
				live.Run(func(int) {})
			}
			heard := map[int]bool{}
			copied := live.Clone()
			live.RunAll(func(i int) { heard[i] = true })
			copied.RunAll(func(int) {})
			want := figures.NewState(demo, hull, use)
			copy(want.Counts, live.State.Counts)
			copy(want.Slots, live.State.Slots)
			f.Fill(want)
			for i, v := range want.Figures {
				if got := live.State.Figures[i]; math.Float64bits(got) != math.Float64bits(v) ||
					math.Float64bits(copied.State.Figures[i]) != math.Float64bits(v) {
					rt.Fatalf("%s: %v, want %v", demo.Figures[i].ID, got, v)
				}
				if f.Plain(formula.Reads{Figures: []int{i}}) == false &&
					math.Float64bits(before[i]) != math.Float64bits(v) && !heard[i] {
					rt.Fatalf("%s changed unheard", demo.Figures[i].ID)
				}
			}
			if !slices.EqualFunc(want.Faults, live.State.Faults, formula.Fault.Same) ||
				want.Masses != live.State.Masses {
				rt.Fatalf("faults %v, want %v", live.State.Faults, want.Faults)
			}
		}
	})
}
