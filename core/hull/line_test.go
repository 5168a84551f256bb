package hull

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// Lines of a wedge, whose half-breadth at the height z and the place x is x×z, are straight: y = x×z at every place.
// Source: the equation that the offsets were made of.
func TestLineOfAWedge(t *testing.T) {
	var o Offsets
	for i := range 6 {
		x := float64(i)
		o.Stations = append(o.Stations, Station{X: x, Z: []float64{0, 0.5, 1}, Y: []float64{0, x / 2, x}})
	}
	rapid.Check(t, func(t *rapid.T) {
		from, to := rapid.Float64Range(0, 5).Draw(t, "from"), rapid.Float64Range(0, 5).Draw(t, "to")
		z := rapid.Float64Range(0, 2).Draw(t, "z")
		line, err := o.Line(from, to, z)
		if err != nil {
			t.Fatal(err)
		}
		if first, end := line[0].X, line[len(line)-1].X; first != from || end != to {
			t.Fatalf("it runs from %v to %v, want %v to %v", first, end, from, to)
		}
		for i, p := range line {
			if want := p.X * min(z, 1); math.Abs(p.Y-want) > 1e-12 {
				t.Fatalf("the half-breadth at %v is %v, want %v", p.X, p.Y, want)
			}
			if i > 0 && (p.X == line[i-1].X || (p.X > line[i-1].X) != (to > from)) {
				t.Fatalf("from %v it goes to %v", line[i-1].X, p.X)
			}
		}
		// every station between the ends is there
		inner := 0
		for _, s := range o.Stations {
			if s.X > min(from, to) && s.X < max(from, to) {
				inner++
			}
		}
		if want := inner + 2; from != to && len(line) != want {
			t.Fatalf("%d points, want %d", len(line), want)
		}
	})
}

// A station with a flat has its outer edge there, its keel's half-breadth at the keel, and nothing below.
func TestLineAtFlatsAndKeel(t *testing.T) {
	s := Station{X: 1, Z: []float64{0.1, 0.1, 0.4, 0.8}, Y: []float64{0.02, 0.3, 0.5, 0.5}}
	for z, want := range map[float64]float64{0.05: 0, 0.1: 0.3, 0.25: 0.4, 0.6: 0.5, math.Inf(1): 0.5} {
		if got := s.halfBreadth(z); math.Abs(got-want) > 1e-12 {
			t.Errorf("at %v m: %v, want %v", z, got, want)
		}
	}
}

// A line beyond the hull, one of no number, and one of a hull without offsets are refused with the remedy.
func TestLineBeyondTheHull(t *testing.T) {
	o := Offsets{Stations: []Station{{X: 0, Z: []float64{0, 1}, Y: []float64{0, 1}}, {X: 4, Z: []float64{0, 1},
		Y: []float64{0, 1}}}}
	for _, c := range [][3]float64{{-1, 2, 0}, {1, 4.1, 0}, {math.NaN(), 2, 0}, {1, 2, math.NaN()}} {
		if line, err := o.Line(c[0], c[1], c[2]); err == nil {
			t.Errorf("%v gives %v", c, line)
		}
	}
	if _, err := (Offsets{}).Line(0, 1, 0); err == nil {
		t.Error("a hull without offsets has a line")
	}
}
