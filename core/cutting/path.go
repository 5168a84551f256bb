package cutting

import (
	"math"
	"strings"
)

// Path writes a line as the path of an SVG picture, closed or open. Numbers are written by one function; another gives
// the place of a corner in the picture, whose y runs downward, at so many units for a mm. Nothing is mirrored.
//
// Formula: an arc over the chord c with the bulge b has the radius c×(1 + b²)/(4|b|).
// Valid: bulges from -1 to 1, no more than half a circle.
// Source: SVG 1.1, 8.3.8: an arc that turns to the left has a sweep of 0, since y runs downward.
func (c Contour) Path(closed bool, scale float64, number func(float64) string,
	place func(x, y float64) (float64, float64)) string {
	var b strings.Builder
	n := len(c)
	if closed {
		n++
	}
	for i := range n {
		w, before := c[i%len(c)], "L"
		if i == 0 {
			before = "M"
		} else if v := c[i-1]; v.Bulge != 0 {
			r := number(scale * v.apartFrom(w) * (1 + float64(v.Bulge*v.Bulge)) / (4 * math.Abs(v.Bulge)))
			before = "A" + r + " " + r + " 0 0 0 "
			if v.Bulge < 0 {
				before = "A" + r + " " + r + " 0 0 1 "
			}
		}
		x, y := place(w.X, w.Y)
		b.WriteString(before + number(x) + " " + number(y))
	}
	if closed {
		b.WriteString("Z")
	}
	return b.String()
}
