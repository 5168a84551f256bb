package cutting

import (
	"fmt"
	"math"
	"strings"
)

// Lines are those of a piece as plain numbers, as a book is published with them. Each line is a list of numbers, three
// for a corner: across and along the stock in mm from the corner of its rectangle, and the bulge of the edge that leads
// on from there.
type Lines struct {
	Cut      []float64 // none: the rectangle
	Finished []float64 // none where it is the same
	Notches  []float64 // of match marks, each of two corners
	Size     [2]float64
	// the middle of where it is written on, across and along, and how much room there is on the longer side, mm
	Label [3]float64
}

// Lines are the shape as plain numbers, to the micrometre, so that they take little room and are the same on every
// machine.
func (s *Shape) Lines() *Lines {
	l := &Lines{Cut: numbers(s.Cut), Notches: numbers(s.Notches), Size: [2]float64{fine(s.Width), fine(s.Length)},
		Label: [3]float64{fine(s.LabelX), fine(s.LabelY), fine(s.Room)}}
	if s.Cut.Area() > s.Finished.Area()+1 { // mm²: there is an allowance
		l.Finished = numbers(s.Finished)
	}
	return l
}

func fine(mm float64) float64 { return math.Round(mm*1000) / 1000 }

// numbers writes a line as three numbers a corner. A bulge of seven places leaves an arc of a metre within a
// micrometre.
func numbers(c Contour) (list []float64) {
	for _, v := range c {
		list = append(list, fine(v.X), fine(v.Y), math.Round(v.Bulge*1e7)/1e7)
	}
	return list
}

// Lie is a line of the piece where it lies on its stock.
func (p *Placed) Lie(line []float64) (c Contour) {
	for ; len(line) >= 3; line = line[3:] {
		v := Vertex{X: line[0], Y: line[1], Bulge: line[2]}
		if p.Turned { // a quarter to the left, which brings the far end to the origin
			v.X, v.Y = p.Width-v.Y, v.X
		}
		v.X, v.Y = v.X+p.X, v.Y+p.Y
		c = append(c, v)
	}
	return c
}

// Path writes a contour as the path of an SVG picture. Numbers are written by one function; another gives the place of
// a corner in the picture, whose y runs downward, at so many units for a mm. Nothing is mirrored.
//
// Formula: an arc over the chord c with the bulge b has the radius c×(1 + b²)/(4|b|).
// Valid: bulges from -1 to 1, no more than half a circle.
// Source: SVG 1.1, 8.3.8: an arc that turns to the left has a sweep of 0, since y runs downward.
func (c Contour) Path(scale float64, number func(float64) string, place func(x, y float64) (float64, float64)) string {
	var b strings.Builder
	to := "M"
	for i := 0; i <= len(c) && len(c) > 0; i++ {
		v := c[i%len(c)]
		x, y := place(v.X, v.Y)
		fmt.Fprint(&b, to, number(x), " ", number(y))
		if to = "L"; v.Bulge != 0 {
			chord := v.apartFrom(c.next(i % len(c)))
			r := number(scale * chord * (1 + float64(v.Bulge*v.Bulge)) / (4 * math.Abs(v.Bulge)))
			sweep := "1 "
			if v.Bulge > 0 {
				sweep = "0 "
			}
			to = "A" + r + " " + r + " 0 0 " + sweep
		}
	}
	return b.String() + "Z"
}
