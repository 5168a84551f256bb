package formula

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Rules judged together are broken where each by itself is: where When holds and Need does not.
func TestRulesTogetherAreRulesAlone(t *testing.T) {
	broken, kept := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		truth := rapid.Custom(func(t *rapid.T) Program {
			p, err := Parse(rapid.SampledFrom([]string{"", programText(t, Truth, 3)}).Draw(t, "text"))
			if err != nil {
				t.Fatal(err)
			}
			return p
		})
		list := make([]Rule, rapid.IntRange(0, 8).Draw(t, "rules"))
		for i := range list {
			list[i] = Rule{truth.Draw(t, "when"), truth.Draw(t, "need")}
		}
		st := state(t)
		rules := NewRules(list)
		var want []int
		for i, r := range list {
			if r.When.Truth()(st) && !r.Need.Truth()(st) {
				want = append(want, i)
			}
			if g := r.When.Guard(); g != nil && g.Asleep(st) && r.When.Truth()(st) {
				t.Fatalf("%s holds without any of %v", r.When, *g)
			}
			if is := slices.Contains(want, i); rules.Breaks(i, st) != is {
				t.Fatalf("rule %d (when %s, need %s) is broken: %v, want %v", i, r.When, r.Need, !is, is)
			}
		}
		if got := rules.Broken(st, nil); !slices.Equal(got, want) {
			t.Fatalf("%v are broken, want %v, of %v on %+v", got, want, list, *st)
		}
		broken, kept = broken+len(want), kept+len(list)-len(want)
	})
	if broken == 0 || kept == 0 {
		t.Errorf("%d rules were broken, %d not: want some of both", broken, kept)
	}
}

// A comparison with a constant is exact at the constant and at the numbers next to it, from either side.
func TestComparisonsAtTheirEnds(t *testing.T) {
	const largest = math.MaxFloat64
	inf := math.Inf(1)
	constants := []float64{0, math.Copysign(0, -1), 1, -1, 0.1, 5e-324, -5e-324, largest, -largest}
	compare := map[Op]func(a, b float64) bool{
		Less: func(a, b float64) bool { return a < b }, AtMost: func(a, b float64) bool { return a <= b },
		Equal: func(a, b float64) bool { return a == b },
	}
	for _, c := range constants {
		for _, x := range append([]float64{inf, -inf, math.NaN(), math.Nextafter(c, inf), math.Nextafter(c, -inf)},
			constants...) {
			st := &State{Figures: []float64{x}}
			for op, want := range compare {
				left, err1 := New([]Step{{Op: Figure}, {Op: Const, Value: c}, {Op: op}})
				right, err2 := New([]Step{{Op: Const, Value: c}, {Op: Figure}, {Op: op}})
				if err1 != nil || err2 != nil {
					t.Fatal(err1, err2)
				}
				if left.Truth()(st) != want(x, c) || right.Truth()(st) != want(c, x) {
					t.Errorf("%v %c %v: %v, turned round %v", x, op, c, left.Truth()(st), right.Truth()(st))
				}
			}
		}
	}
}
