package drawing_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/drawing"
)

// A square hoop by hand: 2 m wide and 1 m high, corners of 0.2 m. The first bend begins 0.8 m from the end, is a
// quarter of a circle of 0.2 m, and the roof between the bends is 1.6 m long; with a crown of 0.1 m it is 8/3·0.01/2 m
// longer (arc of a shallow crown), and each bend turns 90° − 2·atan(0.1).
func TestBendsOfAHoop(t *testing.T) {
	near := func(got, want float64) bool { return math.Abs(got-want) < 1e-9 }
	at, length, degrees := drawing.Hoop{Width: 2, Height: 1, Radius: 0.2}.Bends()
	quarter := math.Pi / 10
	if want := 1.6 + 1.6 + 2*quarter; !near(at[0], 0.8) || !near(at[1], 0.8+quarter) || !near(at[2], 2.4+quarter) ||
		!near(at[3], 2.4+2*quarter) || !near(length, want) || degrees != 90 {
		t.Errorf("bends at %v of %v m, want %v m, by %v°", at, length, want, degrees)
	}
	_, longer, degrees := drawing.Hoop{Width: 2, Height: 1, Radius: 0.2, Crown: 0.1}.Bends()
	if !near(longer-length, 0.08/6) || math.Abs(degrees-78.5788) > 1e-3 {
		t.Errorf("with a crown %v m longer, bends of %v°", longer-length, degrees)
	}
}

// Marks rise along the tube and lie alike from both ends, whatever is bent.
func TestMarksOfAHoopAreSymmetric(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		h := drawing.Hoop{Width: rapid.Float64Range(0.5, 4).Draw(r, "w"),
			Height: rapid.Float64Range(0.3, 2).Draw(r, "h")}
		h.Radius = rapid.Float64Range(0, min(h.Height, h.Width/2)).Draw(r, "r")
		h.Crown = rapid.Float64Range(0, h.Width/4).Draw(r, "c")
		at, length, degrees := h.Bends()
		if math.Abs(at[0]+at[3]-length) > 1e-9 || math.Abs(at[1]+at[2]-length) > 1e-9 || at[0] > at[1] ||
			at[1] > at[2]+1e-9 || degrees > 90 || degrees < 30 {
			r.Fatalf("%+v: %v of %v m, %v°", h, at, length, degrees)
		}
	})
}
