package hull

import (
	"fmt"
	"math"
	"slices"
)

// Extents are lengths and areas of the hull as moulded, on an even keel.
type Extents struct {
	Length, Beam float64 // overall: from the first to the last station, and the greatest breadth, m
	Depth        float64 // from the base line to the sheer at midlength, m
	Gunwale      float64 // along the sheer on both sides, m
	Shell        float64 // both sides with transom and the face of the stem, up to the sheer, m²
	Bottom       float64 // of it, what lies below the height of the boot top, m²
	Waterline    float64 // length of the waterline at the draft, m
	Waterplane   float64 // its area, m²
}

// Extents measures the hull: the waterline at a draft, the bottom up to the height of the boot top, both m above the
// base line.
//
// Between two stations the shell is laid out in strips that run at equal shares of the girth; each strip is two
// triangles, cut at the height, for either diagonal, and the mean of both is taken. So the slope of the shell along the
// length is in it.
//
// Valid: as close as the stations are; the thickness of the shell and its laps are left out.
// Source: geometry. The tests hold boxes, wedges, cones, cylinders and Wigley's hull against closed forms and published
// figures.
func (h *Hull) Extents(draft, bootTop float64) (Extents, error) {
	y, err := h.Upright(draft, 0)
	if err != nil {
		return Extents{}, err
	}
	if !usable(bootTop) {
		return Extents{}, fmt.Errorf("measuring the bottom up to %v m: give the height of the boot top in metres "+
			"above the base line", bootTop)
	}
	e := Extents{Length: h.Length(), Depth: h.sheerAt(h.middle), Waterline: y.WaterlineLength,
		Waterplane: y.WaterplaneArea,
		Shell:      h.skin(math.Inf(1)), Bottom: h.skin(bootTop)}
	for i := range h.sections {
		e.Beam = max(e.Beam, 2*slices.Max(h.sections[i].y))
		if i > 0 {
			e.Gunwale += 2 * distance(h.sections[i-1].at(1), h.sections[i].at(1))
		}
	}
	return e, nil
}

// sheerAt is the height of the sheer at x.
func (h *Hull) sheerAt(x float64) float64 {
	x -= h.middle
	for i := 1; i < len(h.sections); i++ {
		a, b := &h.sections[i-1], &h.sections[i]
		if x <= b.along {
			return last(a.z) + (last(b.z)-last(a.z))*(x-a.along)/(b.along-a.along)
		}
	}
	return last(h.sections[len(h.sections)-1].z)
}

// spot is a point of the shell: x from midlength, y to starboard, z up, m.
type spot [3]float64

func distance(a, b spot) float64 {
	return math.Sqrt(float64((a[0]-b[0])*(a[0]-b[0])) + float64((a[1]-b[1])*(a[1]-b[1])) +
		float64((a[2]-b[2])*(a[2]-b[2])))
}

// skin is the area of the shell below a height, both sides and the ends, m².
func (h *Hull) skin(height float64) float64 {
	area := 0.0
	for i := 1; i < len(h.sections); i++ {
		a, b := &h.sections[i-1], &h.sections[i]
		shares := append(a.shares(), b.shares()...)
		slices.Sort(shares)
		for k := 1; k < len(shares); k++ {
			p, q, r, s := a.at(shares[k-1]), a.at(shares[k]), b.at(shares[k]), b.at(shares[k-1])
			area += float64((below(height, p, q, r) + below(height, p, r, s) + below(height, p, q, s) + below(height, q,
				r,
				s)) / 2)
		}
	}
	first, end := &h.sections[0], &h.sections[len(h.sections)-1]
	return 2*area + first.level(min(height, last(first.z))).area + end.level(min(height, last(end.z))).area
}

// shares are how far along the half-girth each point of a section lies, from 0 at the centre line to 1 at the sheer.
func (s *section) shares() []float64 {
	n := len(s.girth)
	list := []float64{0}
	for _, g := range s.girth {
		list = append(list, g/s.girth[n-1])
	}
	return list
}

// at is the point of a section at a share of its half-girth.
func (s *section) at(share float64) spot {
	n := len(s.girth)
	g := float64(share * s.girth[n-1])
	if g <= s.girth[0] { // the flat of the keel
		return spot{s.along, g / 2, s.z[0]}
	}
	k := 1
	for k < n-1 && s.girth[k] < g {
		k++
	}
	r := ratio(g-s.girth[k-1], s.girth[k]-s.girth[k-1])
	r = min(r, 1)
	return spot{s.along, s.y[k-1] + float64((s.y[k]-s.y[k-1])*r), s.z[k-1] + float64((s.z[k]-s.z[k-1])*r)}
}

// below is the area of a triangle below a height.
func below(height float64, corners ...spot) float64 {
	var kept []spot
	before := corners[len(corners)-1]
	for _, c := range corners {
		if (before[2] <= height) != (c[2] <= height) {
			r := (height - before[2]) / (c[2] - before[2])
			kept = append(kept, spot{before[0] + float64((c[0]-before[0])*r), before[1] + float64((c[1]-before[1])*r),
				height})
		}
		if c[2] <= height {
			kept = append(kept, c)
		}
		before = c
	}
	area := 0.0
	for i := 2; i < len(kept); i++ {
		area += triangle(kept[0], kept[i-1], kept[i])
	}
	return area
}

// triangle is the area of a triangle: half the length of the cross product of two sides.
func triangle(a, b, c spot) float64 {
	u, v := spot{b[0] - a[0], b[1] - a[1], b[2] - a[2]}, spot{c[0] - a[0], c[1] - a[1], c[2] - a[2]}
	return distance(spot{}, spot{float64(u[1]*v[2]) - float64(u[2]*v[1]), float64(u[2]*v[0]) - float64(u[0]*v[2]),
		float64(u[0]*v[1]) - float64(u[1]*v[0])}) / 2
}
