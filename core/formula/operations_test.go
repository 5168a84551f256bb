package formula

import (
	"math"
	"testing"
)

func TestEveryOperation(t *testing.T) {
	st := &State{Counts: []int{0, 3}, Slots: []int{0, 3}, HullID: 2, Hull: []float64{4.5}, Use: []float64{0, 6},
		Figures: []float64{7.25, math.NaN()}}
	inf, nan := math.Inf(1), math.NaN()
	for text, want := range map[string]float64{
		"n2.5": 2.5, "h0": 4.5, "i": 2, "u1": 6, "f0": 7.25, "c1": 3, "c0": 0,
		"n5 n2 +": 7, "n5 n2 -": 3, "n5 n2 *": 10, "n5 n2 /": 2.5, "n5 ~": -5,
		"n5 n2 m": 2, "n2 n5 m": 2, "n5 n2 M": 5, "n2 n5 M": 5, "n-3 a": 3, "n3 a": 3,
		"n1.2 ^": 2, "n-1.2 ^": -1, "n1.2 _": 1, "n-1.2 _": -2,
		"n2.5 r": 3, "n-2.5 r": -3, "n2.4 r": 2, // halves away from zero
		"T n1 n2 ?": 1, "F n1 n2 ?": 2,
		"n1 n0 /": inf, "n-1 n0 /": -inf, "n0 n0 /": nan, "n1e300 n1e300 *": inf,
		// the first stays where a comparison with NaN is false
		"f1 n1 m": nan, "n1 f1 m": 1, "f1 n1 M": nan, "n1 f1 M": 1,
	} {
		p, err := Parse(text)
		if err != nil || p.Kind() != Number {
			t.Errorf("%s: %v", text, err)
			continue
		}
		got := p.Number()(st)
		if got != want && !(math.IsNaN(got) && math.IsNaN(want)) {
			t.Errorf("%s gives %v, want %v", text, got, want)
		}
		if Finite(got) != Finite(want) {
			t.Errorf("%s: Finite is %v", text, Finite(got))
		}
	}
	for text, want := range map[string]bool{
		"T": true, "F": false, "o0": false, "o1": true, "s0": false, "s1": true,
		"n1 n2 <": true, "n2 n2 <": false, "n2 n2 {": true, "n3 n2 {": false, "n2 n2 =": true, "n2 n3 =": false,
		"f1 f1 =": false, "f1 f1 = !": true, "f1 n1 <": false, "n1 f1 {": false,
		"T T &": true, "T F &": false, "F T &": false, "F F |": false, "F T |": true, "T F |": true, "F !": true,
		"T !":     false,
		"T F T ?": false, "F F T ?": true,
	} {
		p, err := Parse(text)
		if err != nil || p.Kind() != Truth {
			t.Errorf("%s: %v", text, err)
			continue
		}
		if got := p.Truth()(st); got != want {
			t.Errorf("%s gives %v, want %v", text, got, want)
		}
	}
}

// The absolute value of minus zero was zero, while the reference keeps minus zero.
func TestAbsKeepsMinusZero(t *testing.T) {
	p, err := Parse("n-0 a")
	if err != nil || !math.Signbit(p.Number()(nil)) {
		t.Errorf("abs(-0) lost its sign (%v)", err)
	}
}

func TestKindsAreNamed(t *testing.T) {
	if Number.String() != "number" || Truth.String() != "truth value" {
		t.Errorf("%s, %s", Number, Truth)
	}
}
