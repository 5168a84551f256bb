package laminate

import (
	"fmt"
	"math"
)

// Top is a welded frame: bows across the boat, each an upside-down U, joined by two rails along the edges of the roof.
type Top struct {
	Name   string
	Length float64 // m, from the first bow to the last
	Width  float64 // m, outside
	Height float64 // m, from the foot to the edge of the roof
	Crown  float64 // m that the roof rises in the middle; 0 for a flat one
	Radius float64 // m, of the bends, to the tube's middle
	Bows   int
}

// TubePiece is one length of tube to cut.
type TubePiece struct {
	Name   string
	Length float64 // m, straightened
	Bends  int
	Count  int
}

// Frame is what a top takes.
type Frame struct {
	Pieces []TubePiece
	Length float64 // m of tube
	Bends  int
	Welds  int // ends of rails that are welded to a bow
	Feet   int
}

// NewFrame works out the tube of a top.
//
// Formula: bow = 2×H + W - (4 - pi)×r + 8×c²/(3×W): two legs, the roof, two quarter bends that cut the corners, and
// what the crown adds; rail between bows = L/(bows - 1), two for each gap; bends = 2×bows; welds = 4×(bows - 1); feet =
// 2×bows. L length, W width, H height, c crown, r radius of the bends, all in m and to the tube's middle.
// Valid: 2 to 12 bows; r at most H and W/2; c at most W/4 (the arc of a shallow crown). Mitres, sleeves and offcuts
// come on top.
// Source: geometry; the layout of the frame is common practice, no source.
func NewFrame(t Top) (Frame, error) {
	if err := t.check(); err != nil {
		return Frame{}, err
	}
	bow := 2*t.Height + t.Width - (4-math.Pi)*t.Radius + 8*t.Crown*t.Crown/(3*t.Width)
	gaps := t.Bows - 1
	rail := t.Length / float64(gaps)
	return Frame{
		Pieces: []TubePiece{{"bow", bow, 2, t.Bows}, {"rail", rail, 0, 2 * gaps}},
		Length: bow*float64(t.Bows) + 2*t.Length,
		Bends:  2 * t.Bows, Welds: 4 * gaps, Feet: 2 * t.Bows,
	}, nil
}

func (t Top) check() error {
	place := fmt.Sprintf("working out the frame of top %q", t.Name)
	err := numbers(place, input{"length", "m", t.Length}, input{"width", "m", t.Width}, input{"height", "m", t.Height},
		input{"radius of the bends", "m", t.Radius})
	if err != nil {
		return err
	}
	if err := within(place, "number of bows", float64(t.Bows), 2, 12, "give 2 to 12"); err != nil {
		return err
	}
	if t.Radius > t.Height || t.Radius > t.Width/2 {
		return fmt.Errorf("%s: bends of %v m do not fit a width of %v m and a height of %v m; give a smaller radius",
			place, t.Radius, t.Width, t.Height)
	}
	return within(place, "crown in m", t.Crown, 0, t.Width/4, "give 0 for a flat roof, at most a quarter of the width")
}
