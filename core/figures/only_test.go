package figures_test

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/figures"
	"ribband/core/formula"
)

// A field of the use on which a figure is said not to depend leaves it as it is, to the bit. This is what modules claim
// with the outputs that alone follow from a field.
func TestPropertyFiguresKeepWhatTheyDoNotRead(t *testing.T) {
	f, err := figures.Compile(demo)
	if err != nil {
		t.Fatal(err)
	}
	moved := map[string]bool{}
	rapid.Check(t, func(t *rapid.T) {
		use := make([]float64, len(demo.Use))
		for i, u := range demo.Use {
			use[i] = u.Value(rapid.IntRange(0, u.Steps()-1).Draw(t, u.ID))
		}
		hull := rapid.IntRange(0, len(demo.Hulls)-1).Draw(t, "hull")
		st := figures.NewState(demo, hull, use)
		for s, def := range demo.Slots {
			if o := rapid.IntRange(def.First-1, def.End-1).Draw(t, "option"); o >= def.First && made(o, hull) {
				st.Counts[o]++
				st.Slots[s]++
			}
		}
		f.Fill(st)
		for field := range use {
			before := append([]float64(nil), st.Figures...)
			u := &demo.Use[field]
			st.Use[field] = u.Value(rapid.IntRange(0, u.Steps()-1).Draw(t, "another "+u.ID))
			f.Fill(st)
			for i, v := range st.Figures {
				if math.Float64bits(v) == math.Float64bits(before[i]) {
					continue
				}
				moved[u.ID] = true
				if !slices.Contains(f.Resolve(formula.Reads{Figures: []int{i}}).Use, field) {
					t.Fatalf("%s was %v and is %v with another %s, on which it is said not to depend",
						demo.Figures[i].ID, before[i], v, u.ID)
				}
			}
		}
	})
	for _, id := range []string{"speed_kn", "range_nm", "persons"} {
		if !moved[id] {
			t.Errorf("no figure ever followed from %s", id)
		}
	}
}
