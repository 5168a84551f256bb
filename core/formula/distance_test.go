package formula

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// The distance to a truth value is zero exactly where the formula gives it, and never below.
func TestPropertyDistanceIsZeroExactlyAtTheValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, err := Parse(programText(t, Truth, 4))
		if err != nil {
			t.Fatal(err)
		}
		st := &State{HullID: rapid.IntRange(0, 2).Draw(t, "hull")}
		number := rapid.Float64Range(-20, 20)
		for range space.Options {
			st.Counts = append(st.Counts, rapid.IntRange(0, 3).Draw(t, "count"))
		}
		for range space.Slots {
			st.Slots = append(st.Slots, rapid.IntRange(0, 3).Draw(t, "slot"))
		}
		for range space.Hull {
			st.Hull = append(st.Hull, number.Draw(t, "field"))
		}
		for range space.Use {
			st.Use = append(st.Use, number.Draw(t, "use"))
		}
		for range space.Figures {
			st.Figures = append(st.Figures, number.Draw(t, "figure"))
		}
		for _, want := range []bool{true, false} {
			is, d := p.Truth()(st) == want, p.Distance(want)(st)
			if !(d >= 0) || is != (d == 0) {
				t.Fatalf("%s: %v wanted: %v, at a distance of %v", p, want, is, d)
			}
		}
	})
}

func ExampleProgram_Distance() {
	p, _ := Parse("f0 n10 < o0 &") // figure 0 below 10, and option 0
	for _, st := range []*State{
		{Figures: []float64{7}, Counts: []int{1}},
		{Figures: []float64{12}, Counts: []int{1}},
		{Figures: []float64{12}, Counts: []int{0}},
	} {
		fmt.Printf("%v %.2f %.2f\n", p.Truth()(st), p.Distance(true)(st), p.Distance(false)(st))
	}
	// Output:
	// true 0.00 0.18
	// false 0.09 0.00
	// false 1.09 0.00
}
