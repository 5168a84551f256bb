package brief_test

import (
	"fmt"
	"slices"
	"testing"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/money"
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

// each visits every content of some slots of one.
func each(e *engine.Engine, hull int, slots []int, visit func(c fit.Choices)) {
	var from func(c fit.Choices, slots []int)
	from = func(c fit.Choices, slots []int) {
		if len(slots) == 0 {
			visit(c)
			return
		}
		def := &e.Pack.Slots[slots[0]]
		c.Settled[slots[0]] = true
		if def.Least == 0 {
			from(c.Clone(), slots[1:])
		}
		for o := def.First; o < def.End; o++ {
			if e.Pack.Made(o, hull) {
				n := c.Clone()
				n.Counts[o] = 1
				from(n, slots[1:])
			}
		}
	}
	from(e.Fit.NewChoices(), slots)
}

// On the demo book, every content of a few slots is answered one by one; a brief over these slots finds the same
// cheapest boats.
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
		{"rush-54", []any{"persons", 5, "speed", 5},
			map[string]spec.Value{"persons": {Number: 5}, "speed_kn": {Number: 5}},
			func([]float64) bool { return true }},
		{"reed-65", []any{"range", 30, "trailer", 900}, nil,
			func(f []float64) bool { return f[rangeNm] >= 30 && f[mass] <= 900 }},
		{"reed-65", []any{"range", 90}, nil, func(f []float64) bool { return f[rangeNm] >= 90 }},
	} {
		hull, err := e.FindHull("hull", c.hull)
		if err != nil {
			t.Fatal(err)
		}
		use, _ := e.ResolveUse(c.use)
		total := e.Totals(use)
		type boat struct {
			price money.Amount
			miles float64
		}
		var want []boat
		each(e, hull, p.Brief.Slots, func(choices fit.Choices) {
			b := e.Fit.Complete(hull, use, choices, fit.DefaultTries)
			if st := b.State; len(b.Clashes) == 0 && c.meets(st.Figures) {
				price, err := total(st)
				if err != nil {
					t.Fatal(err)
				}
				want = append(want, boat{price, st.Figures[rangeNm]})
			}
		})
		slices.SortFunc(want, func(x, y boat) int { return x.price.Cmp(y.price) })
		var front []string
		last := 0.0
		for _, b := range want {
			if len(front) == 0 || b.miles >= last+p.Brief.Step {
				front, last = append(front, fmt.Sprintf("%s for %.3f nm", b.price.Fixed(2), b.miles)), b.miles
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
			t.Errorf("%v on the %s: %q, want %q of %d boats (proved: %v)", c.pairs, c.hull, got, front, len(want),
				a.Proved)
		}
		t.Logf("%v on the %s: %d of %d valid boats, %d looked at", c.pairs, c.hull, len(got), len(want), a.Checked)
	}
}
