package brief_test

import (
	"fmt"
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/spec"
)

// restricted is the buyer's pack with other slots to try out.
func restricted(slots ...string) *pack.Pack {
	p := *packs()[pack.Buyer]
	b := *p.Brief
	b.Slots = nil
	for _, id := range slots {
		b.Slots = append(b.Slots, slices.IndexFunc(p.Slots, func(s pack.Slot) bool { return s.ID == id }))
	}
	p.Brief = &b
	return &p
}

// On the demo book, every content of a few slots is answered one by one; a brief over these slots finds the same cheapest boats.
func TestAgainstAllAnswers(t *testing.T) {
	p := restricted("bank", "motor", "charger", "top")
	e := compiled(p)
	figure := func(id string) int {
		return slices.IndexFunc(p.Figures, func(f pack.Figure) bool { return f.ID == id })
	}
	rangeNm, mass := figure("range_nm"), figure("mass_kg")
	for _, c := range []struct {
		hull  string
		pairs []any
		use   map[string]spec.Value
		meets func(figures []float64) bool
	}{
		{"rush-54", []any{"persons", 5, "speed", 5}, map[string]spec.Value{"persons": {Number: 5}, "speed_kn": {Number: 5}}, func([]float64) bool { return true }},
		{"reed-65", []any{"range", 30, "trailer", 900}, nil, func(f []float64) bool { return f[rangeNm] >= 30 && f[mass] <= 900 }},
		{"reed-65", []any{"range", 90}, nil, func(f []float64) bool { return f[rangeNm] >= 90 }},
	} {
		type boat struct {
			price string
			miles float64
		}
		var want []boat
		var visit func(s spec.Spec, slots []int)
		visit = func(s spec.Spec, slots []int) {
			if len(slots) == 0 {
				a := answer(t, e, s)
				if len(a.Build.Clashes) == 0 && a.Build.Outcome != fit.NoneFound && c.meets(a.Build.State.Figures) {
					want = append(want, boat{a.Price.Total.Fixed(2), a.Build.State.Figures[rangeNm]})
				}
				return
			}
			def := &p.Slots[slots[0]]
			if def.Least == 0 {
				s.Choices[def.ID] = map[string]int{}
				visit(s, slots[1:])
			}
			for _, o := range p.Options[def.First:def.End] {
				if hull, _ := e.FindHull(c.hull); e.Fit.Made(slices.IndexFunc(p.Options, func(x pack.Option) bool { return x.ID == o.ID }), hull) {
					s.Choices[def.ID] = map[string]int{o.ID: 1}
					visit(s, slots[1:])
				}
			}
		}
		visit(spec.Spec{Format: spec.Format, Hull: c.hull, Use: c.use, Choices: map[string]map[string]int{}}, p.Brief.Slots)
		slices.SortFunc(want, func(x, y boat) int {
			if len(x.price) != len(y.price) {
				return len(x.price) - len(y.price)
			}
			if x.price < y.price {
				return -1
			}
			return 1
		})
		var front []string
		last := 0.0
		for _, b := range want {
			if len(front) == 0 || b.miles >= last+p.Brief.Step {
				front, last = append(front, fmt.Sprintf("%s for %.3f nm", b.price, b.miles)), b.miles
			}
		}
		b := wishes(c.pairs...)
		b.Hulls = []string{c.hull}
		a := find(t, e, b)
		var got []string
		for _, x := range a.Boats {
			got = append(got, fmt.Sprintf("%s for %.3f nm", x.Price.Fixed(2), x.State.Figures[rangeNm]))
		}
		if !a.Proved || !slices.Equal(got, front) {
			t.Errorf("%v on the %s: %q, want %q of %d boats (proved: %v)", c.pairs, c.hull, got, front, len(want), a.Proved)
		}
		t.Logf("%v on the %s: %d of %d valid boats, %d looked at", c.pairs, c.hull, len(got), len(want), a.Judged)
	}
}
