package drawing_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/drawing"
)

func TestTicks(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		wanted    int
		want      []float64
	}{
		{0, 69.5, 6, []float64{0, 20, 40, 60, 80}},
		{2, 6.5, 10, []float64{2, 2.5, 3, 3.5, 4, 4.5, 5, 5.5, 6, 6.5}},
		{-0.03, 0.262, 5, []float64{-0.1, 0, 0.1, 0.2, 0.3}},
		{0, 1, 5, []float64{0, 0.2, 0.4, 0.6, 0.8, 1}},
		{3, 3, 5, []float64{0, 1}},
		{0, math.Inf(1), 5, []float64{0, 1}},
		{math.NaN(), 1, 5, []float64{0, 1}},
	} {
		got := drawing.Ticks(c.low, c.high, c.wanted)
		if len(got) != len(c.want) {
			t.Errorf("Ticks(%v, %v, %d) = %v, want %v", c.low, c.high, c.wanted, got, c.want)
			continue
		}
		for i := range got {
			if got[i] != c.want[i] {
				t.Errorf("Ticks(%v, %v, %d) = %v, want %v", c.low, c.high, c.wanted, got, c.want)
				break
			}
		}
	}
}

func TestTicksCoverTheData(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(-1e4, 1e4).Draw(t, "low")
		high := low + rapid.Float64Range(1e-3, 1e5).Draw(t, "span")
		wanted := rapid.IntRange(1, 20).Draw(t, "wanted")
		ticks := drawing.Ticks(low, high, wanted)
		slack := (high - low) * 1e-6
		if ticks[0] > low+slack || ticks[len(ticks)-1] < high-slack {
			t.Fatalf("%v does not cover %v to %v", ticks, low, high)
		}
		if len(ticks) < 2 || len(ticks) > wanted+3 {
			t.Fatalf("%d ticks for %d wanted", len(ticks), wanted)
		}
		for i := 2; i < len(ticks); i++ {
			if math.Abs((ticks[i]-ticks[i-1])-(ticks[1]-ticks[0])) > slack {
				t.Fatalf("uneven: %v", ticks)
			}
		}
	})
}
