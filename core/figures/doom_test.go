package figures_test

import (
	"fmt"
	"slices"
	"testing"

	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/pack"
)

// Boats that are said to be doomed have figures that cannot be computed, with the smallest bank or the largest; those
// with two tonnes more than they may weigh are said to be.
func TestDoomed(t *testing.T) {
	p := *demo
	p.Options = slices.Clone(p.Options)
	mass := slices.IndexFunc(p.Figures, func(f pack.Figure) bool { return f.ID == "mass_kg" })
	ballast := slices.IndexFunc(p.Options, func(o pack.Option) bool { return o.ID == "instrument-compass" })
	use := make([]float64, len(p.Use))
	for i, u := range p.Use {
		use[i] = u.Standard
	}
	for h := range p.Hulls {
		doomed := 0
		for kg := 0; kg <= 6000; kg += 250 {
			amount, err := formula.Parse(fmt.Sprint("n", kg))
			if err != nil {
				t.Fatal(err)
			}
			p.Options[ballast].Carries = []pack.Contribution{{Figure: mass, Amount: amount}}
			f, err := figures.Compile(&p)
			if err != nil {
				t.Fatal(err)
			}
			st := figures.NewState(&p, h, use)
			for o, n := range p.Default(h) {
				st.Counts[o] = n
				st.Slots[p.Options[o].Slot] += n
			}
			st.Slots[p.Options[ballast].Slot] += 1 - st.Counts[ballast]
			st.Counts[ballast] = 1
			f.Fill(st)
			var box formula.Box
			f.Bounds(st, make([]bool, len(p.Slots)), f.Needed(f.Dooming()), &box)
			if f.Doomed(&box) {
				if doomed++; len(st.Faults) == 0 {
					t.Fatalf("%s with %d kg more is said to be doomed, and is not", p.Hulls[h].ID, kg)
				}
			} else if kg == 6000 {
				t.Errorf("%s with %d kg more is not said to be doomed: %v", p.Hulls[h].ID, kg, st.Faults)
			}
		}
		t.Logf("%s: %d of 25 doomed", p.Hulls[h].ID, doomed)
	}
}
