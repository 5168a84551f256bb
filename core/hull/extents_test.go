package hull_test

import (
	"math"
	"testing"

	"ribband/core/hull"
)

func extents(t testing.TB, o hull.Offsets, draft, bootTop float64) hull.Extents {
	t.Helper()
	e, err := build(t, o).Extents(draft, bootTop)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// round is a hull whose sections are half circles about the height of the sheer, of a radius that changes evenly from a
// to b.
func round(n, m int, length, a, b float64) hull.Offsets {
	return stations(n, length, func(s float64) (z, y []float64) {
		r := a + (b-a)*s
		for k := range m {
			sin, cos := math.Sincos(math.Pi / 2 * float64(k) / float64(m-1))
			z, y = append(z, a-r*cos), append(y, r*sin)
		}
		return z, y
	})
}

// Source: area of a cuboid without its lid.
func TestExtentsOfABox(t *testing.T) {
	const l, b, d, up = 6.0, 2.0, 1.0, 0.4
	e := extents(t, box(l, b, d), 0.3, up)
	near(t, "length", e.Length, l, 1e-12)
	near(t, "beam", e.Beam, b, 1e-12)
	near(t, "depth", e.Depth, d, 1e-12)
	near(t, "gunwale", e.Gunwale, 2*l, 1e-12)
	near(t, "shell", e.Shell, l*(b+2*d)+2*b*d, 1e-12)
	near(t, "bottom", e.Bottom, l*(b+2*up)+2*b*up, 1e-12)
	near(t, "waterline", e.Waterline, l, 1e-12)
	near(t, "waterplane", e.Waterplane, l*b, 1e-12)
}

// Source: area of a prism with a V section.
func TestExtentsOfAWedge(t *testing.T) {
	const l, b, d, up = 5.0, 2.0, 1.2, 0.6
	e := extents(t, wedge(l, b, d), 0.6, up)
	near(t, "shell", e.Shell, 2*l*math.Hypot(d, b/2)+b*d, 1e-12)
	// half the depth: half the sides, a quarter of the ends
	near(t, "bottom", e.Bottom, l*math.Hypot(d, b/2)+b*d/4, 1e-12)
	near(t, "waterplane", e.Waterplane, l*b/2, 1e-12)
}

// Source: half a cylinder is π·r·l with ends of π·r²/2; half the frustum of a cone is π·(a+b)·s/2 with the slant height
// s.
func TestExtentsOfCylinderAndCone(t *testing.T) {
	const l, r = 4.0, 0.9
	share(t, "cylinder", extents(t, round(5, 181, l, r, r), 0.3, 0.3).Shell, math.Pi*r*l+math.Pi*r*r, 5e-5)
	for _, end := range []float64{0.6, 0.1} {
		slant := math.Hypot(l, r-end)
		want := math.Pi*(r+end)*slant/2 + math.Pi*(r*r+end*end)/2
		share(t, "cone", extents(t, round(5, 181, l, r, end), 0.3, 0.3).Shell, want, 5e-5)
	}
	// Up to a height a cylinder is wetted over the arc of that height.
	const up = 0.3
	arc := 2 * r * math.Acos(1-up/r)
	segment := r*r*math.Acos(1-up/r) - (r-up)*math.Sqrt(2*r*up-up*up)
	share(t, "bottom of a cylinder", extents(t, round(5, 361, l, r, r), 0.3, up).Bottom, arc*l+2*segment, 1e-4)
}

// A hull whose bottom rises evenly forward is as much larger as its slope says: what the girths alone leave out.
// Source: Pythagoras.
func TestExtentsCountTheSlope(t *testing.T) {
	const l, b, rise = 4.0, 2.0, 3.0
	o := stations(5, l, func(s float64) (z, y []float64) {
		return []float64{rise * s, rise * s, rise*s + 0.5}, []float64{0, b / 2, b / 2}
	})
	e := extents(t, o, 0.2, 0.2)
	near(t, "shell", e.Shell, b*math.Hypot(l, rise)+2*0.5*l+2*b*0.5, 1e-12) // the sides are parallelograms 0.5 m high
}

// Source: the wetted surface of Wigley's parabolic hull with L/B = 10 and L/T = 16 is 0.661·L·(2T + B), as the
// cooperative experiments of the ITTC give it (1983), from memory.
func TestBottomOfWigleysHull(t *testing.T) {
	const l, b, draft = 10.0, 1.0, 0.625
	share(t, "wetted surface", extents(t, wigley(81, 41, l, b, draft), draft, draft).Bottom, 0.661*l*(2*draft+b), 1e-3)
}

// The shell of the demo hulls is more than the girths alone, which leave out slope and ends, and grows with the height
// up to the whole.
func TestExtentsOfTheDemoHulls(t *testing.T) {
	for id, o := range demo(t) {
		h := build(t, o)
		y := at(t, h, 0.5, 0, 0)
		e := extents(t, o, 0.5, 0.5)
		if r := e.Bottom / y.WettedSurface; r < 1.0 || r > 1.15 {
			t.Errorf("%s: %.3f m² below 0.5 m, %.3f m² by girths", id, e.Bottom, y.WettedSurface)
		}
		last := 0.0
		for up := 0.05; up < 1.6; up += 0.05 {
			b := extents(t, o, 0.5, up).Bottom
			if b < last || b > e.Shell+1e-9 {
				t.Errorf("%s: %.3f m² below %.2f m, after %.3f", id, b, up, last)
			}
			last = b
		}
		near(t, id+": all of it", last, e.Shell, 1e-9)
	}
	if _, err := build(t, demo(t)["sedge-46"]).Extents(0.3, math.NaN()); err == nil {
		t.Error("a boot top at no height is measured")
	}
}
