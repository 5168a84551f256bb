package figures_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/figures"
	"ribband/core/formula"
)

func made(option, hull int) bool {
	o := demo.Options[option]
	among := func(list []int) bool { return len(list) == 0 || slices.Contains(list, hull) }
	return among(o.Hulls) && among(demo.Slots[o.Slot].Hulls)
}

// The figures of a boat lie within the bounds of every box that holds the boat: whatever its free slots hold. This is
// what the signs of the modules claim.
func TestPropertyFiguresKeepTheirBounds(t *testing.T) {
	f, err := figures.Compile(demo)
	if err != nil {
		t.Fatal(err)
	}
	bounded := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		use := make([]float64, len(demo.Use))
		for i, u := range demo.Use {
			use[i] = u.Value(rapid.IntRange(0, u.Steps()-1).Draw(rt, u.ID))
		}
		hull := rapid.IntRange(0, len(demo.Hulls)-1).Draw(rt, "hull")
		a := f.NewIncremental(figures.NewState(demo, hull, use))
		free := make([]bool, len(demo.Slots))
		fillAny := func(l *figures.Incremental, slot int) {
			def := demo.Slots[slot]
			for o := def.First; o < def.End; o++ {
				l.Set(o, 0)
			}
			if def.Multiple {
				for o := def.First; o < def.End; o++ {
					if made(o, hull) {
						l.Set(o, rapid.IntRange(0, demo.Options[o].Most).Draw(rt, "count"))
					}
				}
				return
			}
			least := def.First
			if def.Least == 0 || !def.When.Empty() {
				least-- // nothing
			}
			if o := rapid.IntRange(least, def.End-1).Draw(rt, "option"); o >= def.First && made(o, hull) {
				l.Set(o, 1)
			} else if o >= def.First && least == def.First {
				for o := def.First; o < def.End; o++ {
					if made(o, hull) {
						l.Set(o, 1)
						break
					}
				}
			}
		}
		heavy := rapid.Bool().Draw(rt, "power stays")
		for s, def := range demo.Slots {
			fillAny(a, s)
			free[s] = rapid.Bool().Draw(rt, "free") && !(heavy && demo.Sections[def.Section].ID == "power")
		}
		a.RunAll(func(int) {})
		box, all := &formula.Box{}, formula.Reads{}
		for i := range demo.Figures {
			all.Figures = append(all.Figures, i)
		}
		other := slices.Clone(use)
		for i := range use {
			box.Use = append(box.Use, formula.Exactly(use[i]))
			if u := demo.Use[i]; rapid.IntRange(0, 3).Draw(rt, "another use") == 0 {
				other[i] = u.Value(rapid.IntRange(0, u.Steps()-1).Draw(rt, u.ID))
				box.Use[i] = box.Use[i].Join(formula.Exactly(other[i]))
			}
		}
		f.BoundsOfUses(a.State, free, f.Needed(all), box)
		for k := range 4 {
			b := a.Clone()
			if k%2 == 1 {
				b = f.NewIncremental(figures.NewState(demo, hull, other))
				for o, n := range a.State.Counts {
					b.Set(o, n)
				}
			}
			for s := range demo.Slots {
				if free[s] {
					fillAny(b, s)
				}
			}
			b.RunAll(func(int) {})
			if len(b.State.Faults) > 0 {
				continue // a boat that clashes in any case
			}
			if f.Doomed(box) {
				rt.Fatal("a boat that floats was said to sink")
			}
			for i, v := range b.State.Figures {
				lo, hi := box.Figures[i].Lo, box.Figures[i].Hi
				if v < lo || v > hi {
					rt.Fatalf("%s is %v, outside of %v to %v", demo.Figures[i].ID, v, lo, hi)
				}
				if formula.Finite(lo) && formula.Finite(hi) && lo < hi {
					bounded[demo.Figures[i].ID]++
				}
			}
		}
	})
	for _, id := range []string{"mass_kg", "range_nm", "endurance_h", "top_speed_kn", "transport_height_m"} {
		if bounded[id] == 0 {
			t.Errorf("%s was never bounded", id)
		}
	}
}
