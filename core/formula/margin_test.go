package formula

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"
)

// A margin above zero means that the formula holds, below zero that it does not.
func TestPropertyMarginHasTheSignOfTruth(t *testing.T) {
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
		holds, margin := p.Truth()(st), p.Margin(st)
		if margin > 0 && !holds || margin < 0 && holds {
			t.Fatalf("%s: %v with a margin of %v", p, holds, margin)
		}
	})
}

func ExampleProgram_Margin() {
	p, _ := Parse("f0 n10 < o0 &") // figure 0 below 10, and option 0
	for _, st := range []*State{
		{Figures: []float64{7}, Counts: []int{1}},
		{Figures: []float64{12}, Counts: []int{1}},
		{Figures: []float64{7}, Counts: []int{0}},
	} {
		fmt.Println(p.Truth()(st), p.Margin(st))
	}
	// Output:
	// true 3
	// false -2
	// false -1e+09
}
