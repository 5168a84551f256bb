package drawing

import (
	"math"
	"strings"

	"gonum.org/v1/gonum/interp"
)

// bezier is a piece of a curve from the point before it.
type bezier struct{ c1, c2, to pt }

// corner is the turn beyond which two pieces of a line meet at a corner: a chine, not a bilge. Common practice, no
// source.
const corner = 40 * math.Pi / 180

// fair bends a batten through points: a natural cubic spline over the length of the chords, broken at corners.
//
// Source: a batten held by weights takes the shape of least bending, which for small slopes is that spline; textbook,
// from memory. Over the chords rather than over x it may stand upright, as a stem does.
func fair(points []pt) []bezier {
	points = apart(points)
	var out []bezier
	from := 0
	for i := 1; i < len(points); i++ {
		if i == len(points)-1 || turn(points[i-1], points[i], points[i+1]) > corner {
			out = append(out, batten(points[from:i+1])...)
			from = i
		}
	}
	return out
}

// apart leaves out points that lie on the one before: a chord of no length would stop the spline.
func apart(points []pt) []pt {
	var out []pt
	for _, p := range points {
		if n := len(out); n == 0 || math.Hypot(p.x-out[n-1].x, p.y-out[n-1].y) > 1e-6 {
			out = append(out, p)
		}
	}
	return out
}

// turn is the angle between the directions from a to b and from b to c, rad from 0 to π.
func turn(a, b, c pt) float64 {
	t := math.Abs(math.Atan2(c.y-b.y, c.x-b.x) - math.Atan2(b.y-a.y, b.x-a.x))
	return math.Min(t, 2*math.Pi-t)
}

// batten is the spline through two points or more, as Béziers that are the spline exactly.
//
// Formula: a cubic over an interval h with end slopes d0 and d1 is the Bézier with handles p0 + h·d0/3 and p1 −
// h·d1/3.
func batten(points []pt) []bezier {
	n := len(points)
	t, x, y := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, p := range points {
		x[i], y[i] = p.x, p.y
		if i > 0 {
			t[i] = t[i-1] + math.Hypot(p.x-points[i-1].x, p.y-points[i-1].y)
		}
	}
	var sx, sy interp.NaturalCubic
	if n < 3 || sx.Fit(t, x) != nil || sy.Fit(t, y) != nil {
		return straight(points)
	}
	out := make([]bezier, 0, n-1)
	for i := 1; i < n; i++ {
		k := (t[i] - t[i-1]) / 3
		a, b := t[i-1], t[i]
		out = append(out, bezier{
			pt{x[i-1] + float64(k*sx.PredictDerivative(a)), y[i-1] + float64(k*sy.PredictDerivative(a))},
			pt{x[i] - float64(k*sx.PredictDerivative(b)), y[i] - float64(k*sy.PredictDerivative(b))},
			points[i]})
	}
	return out
}

// straight joins points by straight lines, where there are too few for a curve.
func straight(points []pt) []bezier {
	var out []bezier
	for i := 1; i < len(points); i++ {
		out = append(out, bezier{points[i-1], points[i], points[i]})
	}
	return out
}

// pen writes the data of a path: each method goes on from where the one before ended, and gives the pen back.
type pen struct {
	c  *canvas
	b  strings.Builder
	at pt
}

// pen starts a path; what it writes is rounded, and refused, as all that the canvas writes.
func (c *canvas) pen() *pen { return &pen{c: c} }

// point writes two coordinates.
func (p *pen) point(q pt) string { return p.c.number(q.x) + " " + p.c.number(q.y) }

// move lifts the pen and sets it down.
func (p *pen) move(q pt) *pen {
	p.b.WriteString("M" + p.point(q))
	p.at = q
	return p
}

// to draws straight lines through points.
func (p *pen) to(points ...pt) *pen {
	for _, q := range points {
		p.b.WriteString("L" + p.point(q))
		p.at = q
	}
	return p
}

// fair goes on to the first point, then along a batten through all.
func (p *pen) fair(points []pt) *pen {
	if len(points) == 0 {
		return p
	}
	if p.b.Len() == 0 {
		p.move(points[0])
	} else if p.at != points[0] {
		p.to(points[0])
	}
	for _, z := range fair(points) {
		p.curve(z.c1, z.c2, z.to)
	}
	return p
}

// curve draws a Bézier curve to q by its two handles.
func (p *pen) curve(c1, c2, q pt) *pen {
	p.b.WriteString("C" + p.point(c1) + " " + p.point(c2) + " " + p.point(q))
	p.at = q
	return p
}

// close goes straight back to where the pen was set down.
func (p *pen) close() *pen {
	p.b.WriteString("Z")
	return p
}

// String is the data of the path so far.
func (p *pen) String() string { return p.b.String() }

// reversed is the way back.
func reversed(points []pt) []pt {
	out := make([]pt, len(points))
	for i, p := range points {
		out[len(points)-1-i] = p
	}
	return out
}
