package formula

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestReadsAreSortedAndOnce(t *testing.T) {
	p, err := Parse("c3 c1 + c3 + h1 + u2 * u0 + f4 f0 - + i + o1 s2 s0 & | n1 n0 ? +")
	if err != nil {
		t.Fatal(err)
	}
	want := Reads{Options: []int{1, 3}, Slots: []int{0, 2}, Hull: []int{1}, HullID: true, Use: []int{0, 2},
		Figures: []int{0, 4}}
	if got := p.Reads(); !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := Constant(1).Reads(); !reflect.DeepEqual(got, Reads{}) {
		t.Errorf("a constant reads %+v", got)
	}
}

func TestWithJoinsAndLeavesBothAlone(t *testing.T) {
	a := Reads{Options: []int{1, 3}, Use: []int{0}}
	b := Reads{Options: []int{2, 3}, HullID: true, Figures: []int{5}}
	want := Reads{Options: []int{1, 2, 3}, HullID: true, Use: []int{0}, Figures: []int{5}}
	got := a.With(b)
	if !slices.Equal(got.Options, want.Options) || !got.HullID || !slices.Equal(got.Use, want.Use) ||
		!slices.Equal(got.Figures, want.Figures) {
		t.Errorf("%+v, want %+v", got, want)
	}
	got.Options[0] = 9
	if a.Options[0] != 1 || b.Options[0] != 2 {
		t.Error("joining shares memory with what was joined")
	}
}

// What a program does not read never changes its result.
func TestUnreadNeverMatters(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := program(t)
		a, b := state(t), state(t)
		r := p.Reads()
		keep(b.Counts, a.Counts, r.Options)
		keep(b.Slots, a.Slots, r.Slots)
		keep(b.Hull, a.Hull, r.Hull)
		keep(b.Use, a.Use, r.Use)
		keep(b.Figures, a.Figures, r.Figures)
		if r.HullID {
			b.HullID = a.HullID
		}
		if result(p, a) != result(p, b) {
			t.Fatalf("%s reads %+v, but gives %s on %+v and %s on %+v", p, r, result(p, a), *a, result(p, b), *b)
		}
	})
}

func keep[V any](to, from []V, indices []int) {
	for _, i := range indices {
		to[i] = from[i]
	}
}

func TestWithinNamesTheStep(t *testing.T) {
	for text, want := range map[string]string{
		"h1": "", "i": "", "u2": "", "f4": "", "c3": "", "o3": "", "s2": "", "n9": "",
		"h2":      "step 1: h2 names one of 2",
		"u3":      "step 1: u3 names one of 3",
		"f5":      "step 1: f5 names one of 5",
		"c4":      "step 1: c4 names one of 4",
		"o4":      "step 1: o4 names one of 4",
		"s3":      "step 1: s3 names one of 3",
		"n1 h7 +": "step 2: h7 names one of 2",
	} {
		p, err := Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		got := ""
		if err := p.Within(space); err != nil {
			got = err.Error()
		}
		if want != "" {
			want = "reading a lowered formula: " + want
		}
		if got != want {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
	if err := (Program{}).Within(Space{}); err != nil {
		t.Errorf("the empty program: %v", err)
	}
}

func TestFinite(t *testing.T) {
	for _, v := range []float64{0, -1, math.MaxFloat64, math.SmallestNonzeroFloat64} {
		if !Finite(v) {
			t.Errorf("%v is finite", v)
		}
	}
	for _, v := range []float64{math.Inf(1), math.Inf(-1), math.NaN()} {
		if Finite(v) {
			t.Errorf("%v is not finite", v)
		}
	}
}
