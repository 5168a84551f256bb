package source

import (
	"math"

	"pgregory.net/rapid"

	"ribband/core/formula"
)

// testScope is a small book: a slot of one, one of at most one, one of several, two hulls, numbers and choices of the
// use.
func testScope() *Scope {
	return &Scope{
		Options: map[string]Option{
			"top-folding": {0, 0}, "top-fixed": {1, 0}, "top-hard": {2, 0},
			"sole-ply": {3, 1}, "sole-teak": {4, 1},
			"fender-small": {5, 2}, "fender-large": {6, 2},
		},
		Slots: map[string]Slot{"top": {0, false}, "sole": {1, false}, "fenders": {2, true}},
		Hulls: map[string]int{"sedge-46": 0, "rush-54": 1, "reed-65": 2},
		Hull:  map[string]int{"length_m": 0, "sole_m2": 1, "persons": 2},
		Use: map[string]Use{"persons": {0, nil}, "speed_kn": {1, nil},
			"region": {2, map[string]int{"de": 0, "uk": 1, "us": 2}},
			"water":  {3, map[string]int{"fresh": 0, "salt": 1}}},
		Figures: map[string]int{"mass_kg": 0, "bank_v": 1, "motor_kw": 2},
	}
}

// testState draws a state of the scope that a boat could be in; numbers may be anything.
func testState(t *rapid.T) *formula.State {
	number := rapid.OneOf(
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, 2, 2.5, -2.5, 48, 0.1, 1e300, -1e300, 5e-324,
			math.Inf(1), math.Inf(-1), math.NaN()}),
		rapid.Float64(),
	)
	draw := func(n int) []float64 { return rapid.SliceOfN(number, n, n).Draw(t, "numbers") }
	st := &formula.State{Counts: make([]int, 7), Slots: make([]int, 3), HullID: rapid.IntRange(0, 2).Draw(t, "hull"),
		Hull: draw(3), Use: draw(4), Figures: draw(3)}
	st.Use[2] = float64(rapid.IntRange(0, 2).Draw(t, "region"))
	st.Use[3] = float64(rapid.IntRange(0, 1).Draw(t, "water"))
	st.Counts[rapid.IntRange(0, 2).Draw(t, "top")] = 1
	if o := rapid.IntRange(2, 4).Draw(t, "sole"); o > 2 {
		st.Counts[o] = 1
	}
	for o := 5; o < 7; o++ {
		st.Counts[o] = rapid.IntRange(0, 4).Draw(t, "fenders")
	}
	fillSlots(testScope(), st)
	return st
}

// fillSlots sums the counts of each slot.
func fillSlots(sc *Scope, st *formula.State) {
	clear(st.Slots)
	for _, o := range sc.Options {
		st.Slots[o.Slot] += st.Counts[o.Index]
	}
}
