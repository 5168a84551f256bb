package hull_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/hull"
)

// No load that displaces more than MostDry floats, wherever it is; and on most hulls one that displaces nearly as much
// does.
func TestMostDry(t *testing.T) {
	hulls, close := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		h := build(t, fair(t))
		most := h.MostDry()
		if most > h.Volume()*1.02 {
			t.Fatalf("%v m³ dry of %v in all", most, h.Volume())
		}
		hulls++
		best := 0.0
		for k := range 21 { // along the boat: upright it floats at the trim that this gives
			l := hull.Load{LCG: h.Aft() + h.Length()*(0.3+0.02*float64(k)), VCG: -5} // so low that it is stable
			for _, share := range []float64{0.7, 0.9, 0.95, 0.98, 1.0001} {
				l.Mass = share * most * hull.FreshWater
				if _, err := h.Float(l, hull.FreshWater); err == nil {
					best = max(best, share)
				}
			}
			l.TCG = 0.02
			l.Mass = 1.0001 * most * hull.FreshWater
			if _, err := h.Float(l, hull.FreshWater); err == nil {
				best = 2
			}
		}
		if best > 1 {
			t.Fatalf("more than %v m³ float", most)
		}
		if best >= 0.9 {
			close++
		}
	})
	if close < hulls*3/4 {
		t.Errorf("of %d hulls %d float with nearly as much", hulls, close)
	}
}

// A box of 10 m by 2 m by 1.5 m displaces all of its 30 m³ before its sheer is under, on an even keel: by hand.
func TestMostDryOfABox(t *testing.T) {
	h := build(t, stations(11, 10, func(float64) (z, y []float64) {
		return []float64{0, 0.75, 1.5},
			[]float64{1, 1, 1}
	}))
	if got := h.MostDry(); got < 30 || got > 30.31 {
		t.Errorf("%v m³, want 30 and 1 %% more at most", got)
	}
}
