package cutting

import "math"

// Vertex is a corner of a contour with the edge that leads on from it, mm.
type Vertex struct {
	X, Y float64
	// of the edge to the next vertex: the tangent of a quarter of the angle of its arc, above zero where it turns to
	// the left, as most drawing formats have it; 0 is a straight edge
	Bulge     float64
	Allowance float64 // of that edge: what the cut lies outside of it
	Notch     bool    // a match mark stands here
	point     int     // of the outline from which it comes
}

// Contour is a closed line of straight edges and arcs. One that is made by this package runs anticlockwise, seen with X
// to the right and Y up, so that its inside is on the left.
type Contour []Vertex

// near is where two points of a piece are one, mm: no cutting head finds the difference.
const near = 0.01

// apartFrom is the distance to another vertex.
func (v Vertex) apartFrom(w Vertex) float64 { return math.Hypot(w.X-v.X, w.Y-v.Y) }

// next is the vertex at the end of the edge of vertex i.
func (c Contour) next(i int) Vertex { return c[(i+1)%len(c)] }

// arc is the edge of vertex i as part of a circle: centre, radius, the angle at which it begins and the one through
// which it turns. Of a straight edge there is none.
func (c Contour) arc(i int) (x, y, r, from, turn float64) {
	v, w := c[i], c.next(i)
	h := (1 - float64(v.Bulge*v.Bulge)) / (4 * v.Bulge)
	x = float64((v.X+w.X)/2) - float64((w.Y-v.Y)*h)
	y = float64((v.Y+w.Y)/2) + float64((w.X-v.X)*h)
	return x, y, math.Hypot(v.X-x, v.Y-y), math.Atan2(v.Y-y, v.X-x), 4 * math.Atan(v.Bulge)
}

// Area is what the contour encloses, mm²; below zero where it runs clockwise.
//
// Formula: half the sum of x_i y_i+1 - x_i+1 y_i over its corners, and r²(t - sin t)/2 for each arc of radius r that
// turns through t.
// Valid: contours that do not cross themselves.
// Source: the shoelace formula (Gauss); the area of a segment of a circle.
func (c Contour) Area() float64 {
	area := 0.0
	for i, v := range c {
		w := c.next(i)
		area += float64((float64(v.X*w.Y) - float64(w.X*v.Y)) / 2)
		if v.Bulge != 0 {
			_, _, r, _, turn := c.arc(i)
			area += float64(float64(r*r) * (turn - math.Sin(turn)) / 2)
		}
	}
	return area
}

// Perimeter is the length of the contour, mm.
func (c Contour) Perimeter() float64 {
	sum := 0.0
	for i, v := range c {
		if v.Bulge == 0 {
			sum += v.apartFrom(c.next(i))
			continue
		}
		_, _, r, _, turn := c.arc(i)
		sum += float64(r * math.Abs(turn))
	}
	return sum
}

// Bounds are the least rectangle along the axes that holds the corners.
func (c Contour) Bounds() (left, low, right, high float64) {
	left, low, right, high = math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, v := range c {
		left, low, right, high = min(left, v.X), min(low, v.Y), max(right, v.X), max(high, v.Y)
	}
	return left, low, right, high
}

// Box is the least rectangle along the axes that holds the contour, arcs included.
func (c Contour) Box() (left, low, right, high float64) {
	left, low, right, high = c.Bounds()
	for i, v := range c {
		if v.Bulge == 0 {
			continue
		}
		// an arc reaches beyond its ends where it passes due east, north, west or south of its centre
		x, y, r, from, turn := c.arc(i)
		if turn < 0 {
			from, turn = from+turn, -turn
		}
		// at is at least half a turn beyond any from, so that the remainder is not below zero
		passes := func(at float64) bool { return math.Mod(at-from, 2*math.Pi) <= turn }
		if passes(2 * math.Pi) {
			right = max(right, x+r)
		}
		if passes(2.5 * math.Pi) {
			high = max(high, y+r)
		}
		if passes(3 * math.Pi) {
			left = min(left, x-r)
		}
		if passes(3.5 * math.Pi) {
			low = min(low, y-r)
		}
	}
	return left, low, right, high
}

// Polygon is the contour with its arcs as chords that are never further from them than a tolerance, mm.
func (c Contour) Polygon(tolerance float64) Contour {
	var out Contour
	for i, v := range c {
		bulge := v.Bulge
		v.Bulge = 0
		out = append(out, v)
		if bulge == 0 {
			continue
		}
		_, _, r, _, turn := c.arc(i)
		// a chord over the angle t lies at most r×t²/8 inside of its arc
		n := math.Ceil(math.Abs(turn) * math.Sqrt(r/(8*tolerance)))
		for k := 1.0; k < n; k++ {
			v = c.along(i, k/n)
			v.Bulge = 0
			out = append(out, v)
		}
	}
	return out
}

// moved is the contour elsewhere.
func (c Contour) moved(x, y float64) Contour {
	out := make(Contour, len(c))
	for i, v := range c {
		v.X, v.Y = v.X+x, v.Y+y
		out[i] = v
	}
	return out
}

// crossing finds an edge that meets another than its neighbours, or the one before it folded back upon it, and gives
// the point of the outline where it begins; -1 where there is none. Arcs are followed to a tenth of a millimetre.
func (c Contour) crossing() int {
	p := c.Polygon(0.1)
	for i := range p {
		a, b := p[i], p.next(i)
		if d := p.next(i + 1); side(a, b, d) == 0 && float64((b.X-a.X)*(d.X-b.X))+float64((b.Y-a.Y)*(d.Y-b.Y)) < 0 {
			return b.point
		}
		for j := i + 2; j < len(p) && (i > 0 || j < len(p)-1); j++ {
			if meet(a, b, p[j], p.next(j)) {
				return p[j].point
			}
		}
	}
	return -1
}

// side says on which side of the line from a to b a point lies: above zero on the left, mm².
func side(a, b, p Vertex) float64 {
	return float64((b.X-a.X)*(p.Y-a.Y)) - float64((b.Y-a.Y)*(p.X-a.X))
}

// meet says whether two edges have a point in common.
//
// Source: J. O'Rourke, Computational Geometry in C, section 1.5 (from memory): the ends of each lie on both sides of
// the other, or an end lies upon it.
func meet(a, b, u, v Vertex) bool {
	ab, ba, uv, vu := side(a, b, u), side(a, b, v), side(u, v, a), side(u, v, b)
	if (ab > 0) != (ba > 0) && (uv > 0) != (vu > 0) && ab != 0 && ba != 0 && uv != 0 && vu != 0 {
		return true
	}
	on := func(d float64, a, b, p Vertex) bool {
		return d == 0 && p.X >= min(a.X, b.X) && p.X <= max(a.X, b.X) && p.Y >= min(a.Y, b.Y) && p.Y <= max(a.Y, b.Y)
	}
	return on(ab, a, b, u) || on(ba, a, b, v) || on(uv, u, v, a) || on(vu, u, v, b)
}
