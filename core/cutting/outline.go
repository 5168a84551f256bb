package cutting

import (
	"fmt"
	"math"
	"slices"
)

// Point is a corner of a finished piece with the edge to the next one, mm. X lies across the roll, Y along it, from
// wherever suits the piece.
type Point struct {
	X, Y      float64
	Radius    float64 // with which the corner is rounded
	Rise      float64 // of the edge over its chord, as an arc: outward, or inward where it is below zero
	Allowance float64 // for a hem or a seam along the edge, outward
	Notch     bool    // a match mark
}

// Shape is a piece as it is finished and as it is cut. Both contours lie in one frame, in which the cut one begins at
// 0, 0.
type Shape struct {
	Cut      Contour
	Finished Contour
	Notches  Contour // by twos, each a short line from the finished edge to the cut one, or into the piece

	Width, Length float64 // finished
	// the middle of where it is written on, and the room there along its longer side
	LabelX, LabelY, Room float64
}

// Fault is what is wrong with an outline, and at which of its points, counted from 0.
type Fault struct {
	Point           int
	Message, Advice string
}

func (f *Fault) Error() string { return f.Message + "; " + f.Advice }

func fault(point int, advice, format string, values ...any) *Fault {
	return &Fault{point, fmt.Sprintf(format, values...), advice}
}

// Rectangle is the outline of a rectangle with one allowance all round.
func Rectangle(width, length, allowance float64) []Point {
	p := Point{Allowance: allowance}
	list := []Point{p, p, p, p}
	list[1].X, list[2].X, list[2].Y, list[3].Y = width, width, length, length
	return list
}

// Mirrored adds to the outline of one half its image about X = 0. An edge of the image is as the one that it mirrors;
// an edge across, from the last point to its image, is that of the last point, and the closing one that of the first
// point without its rise.
func Mirrored(half []Point) []Point {
	list := slices.Clone(half)
	for i := len(half) - 1; i >= 0; i-- {
		p := half[i]
		p.X = -p.X
		// the edge that leads back from here mirrors the one that led here
		p.Rise = 0
		if i > 0 {
			p.Rise, p.Allowance = half[i-1].Rise, half[i-1].Allowance
		}
		list = append(list, p)
	}
	return list
}

// NewShape makes a piece of its outline: corners rounded, edges as arcs, the allowances outside. The error is a
// [*Fault].
//
// Formula: a corner with the exterior angle t and the radius r takes r×tan(t/2) of both its edges; an edge with the
// chord c that rises by h is an arc with the bulge 2h/c; the cut edge lies at the allowance outside of the finished
// one, and two of them meet at the corner of their extensions. Where that lies further than twice the allowance from
// the corner, equal allowances are joined by an arc about it and others straight.
// Valid: at least three points, up to 1 km apart; radii between straight edges; a rise up to half the chord; no
// allowance wider than the piece; an arc meets inner corners without allowance alone.
// Source: plane geometry; parallel curves.
func NewShape(points []Point) (*Shape, error) {
	c, err := corners(points)
	if err != nil {
		return nil, err
	}
	if c, err = c.rounded(points); err != nil {
		return nil, err
	}
	return c.shape()
}

// corners are the points without those that repeat the one before, in the direction of a contour.
func corners(points []Point) (Contour, error) {
	var c Contour
	for i, p := range points {
		for _, v := range []float64{p.X, p.Y, p.Radius, p.Rise, p.Allowance} {
			if !(math.Abs(v) <= longest) || p.Radius < 0 || p.Allowance < 0 {
				return nil, fault(i, "guard its formulas: radius and allowance are 0 or more, all of them below 1 km",
					"a corner lies at %v, %v mm with a radius of %v, a rise of %v and an allowance of %v mm", p.X, p.Y,
					p.Radius, p.Rise, p.Allowance)
			}
		}
		v := Vertex{p.X, p.Y, 0, p.Allowance, p.Notch, i}
		if n := len(c); n > 0 && c[n-1].apartFrom(v) < near {
			// the later point says how the line goes on
			v.Notch = v.Notch || c[n-1].Notch
			c = c[:n-1]
		}
		c = append(c, v)
	}
	if n := len(c); n > 1 && c[n-1].apartFrom(c[0]) < near {
		c = c[:n-1]
	}
	if len(c) < 3 {
		return nil, fault(0, "give at least three corners that differ", "the outline has %d corners", len(c))
	}
	if at := c.crossing(); at >= 0 {
		return nil, fault(at, "list the corners in their order around the piece",
			"the outline crosses itself or turns back on the edge that begins here")
	}
	// before there are arcs: their chords tell the direction as well, and outward is not known until it is
	clockwise := c.Area() < 0
	for i := range c {
		v := &c[i]
		rise, chord := points[v.point].Rise, v.apartFrom(c.next(i))
		if math.Abs(rise) < near {
			continue
		}
		if v.Bulge = 2 * rise / chord; math.Abs(v.Bulge) > 1 {
			return nil, fault(v.point, "let it rise by at most half the edge",
				"an arc rises by %.1f mm over an edge of %.1f mm", rise, chord)
		}
	}
	if clockwise {
		slices.Reverse(c)
		// what belongs to an edge goes along with it, to its other end
		first := c[0]
		for i := range c {
			w := c.next(i)
			if i == len(c)-1 {
				w = first
			}
			c[i].Bulge, c[i].Allowance = w.Bulge, w.Allowance
		}
	}
	return c, nil
}

// tangents are the directions of the edge of vertex i at its beginning and its end.
func (c Contour) tangents(i int) (begin, end Vertex) {
	v, w := c[i], c.next(i)
	b, d := v.Bulge, v.apartFrom(w)
	x, y := (w.X-v.X)/d, (w.Y-v.Y)/d
	// half the angle of the arc lies between its chord and each tangent
	q := 1 + float64(b*b)
	cos, sin := (1-float64(b*b))/q, 2*b/q
	return Vertex{X: float64(x*cos) + float64(y*sin), Y: float64(y*cos) - float64(x*sin)},
		Vertex{X: float64(x*cos) - float64(y*sin), Y: float64(y*cos) + float64(x*sin)}
}

// turn is how the contour turns at vertex i, from the end of one edge to the beginning of the next: the sine and cosine
// of the exterior angle. At an inner corner the sine is below zero.
func (c Contour) turn(i int) (before, after Vertex, sin, cos float64) {
	_, before = c.tangents((i + len(c) - 1) % len(c))
	after, _ = c.tangents(i)
	return before, after, float64(before.X*after.Y) - float64(before.Y*after.X),
		float64(before.X*after.X) + float64(before.Y*after.Y)
}

// rounded is the contour with the corners that have a radius as arcs.
func (c Contour) rounded(points []Point) (Contour, error) {
	takes := make([]float64, len(c)) // mm of both edges
	for i, v := range c {
		r := points[v.point].Radius
		if r < near {
			continue
		}
		if v.Bulge != 0 || c[(i+len(c)-1)%len(c)].Bulge != 0 {
			return nil, fault(v.point, "leave out its radius, or draw the arc by points",
				"a corner with a radius lies beside an arc")
		}
		if v.Notch {
			return nil, fault(v.point, "put the notch on a point of an edge", "a rounded corner has a notch")
		}
		_, _, sin, cos := c.turn(i)
		// the tangent of half the turn; hardly any turn is no corner
		if takes[i] = r * math.Abs(sin) / (1 + cos); takes[i] < near {
			takes[i] = 0
		}
	}
	// two corners may share an edge, but not more of it than there is
	var out Contour
	for i, v := range c {
		edge, both := v.apartFrom(c.next(i)), takes[i]+takes[(i+1)%len(c)]
		if both > edge+near {
			if w := c.next(i); points[w.point].Radius > points[v.point].Radius {
				v = w
			}
			r := points[v.point].Radius
			return nil, fault(v.point, fmt.Sprintf("give at most %.1f mm", r*edge/both),
				"a radius of %.1f mm does not fit an edge of %.1f mm", r, edge)
		}
		if takes[i] == 0 {
			out = append(out, v)
			continue
		}
		before, after, sin, cos := c.turn(i)
		// the tangent of a quarter of the turn
		begin := v
		begin.X, begin.Y = v.X-float64(before.X*takes[i]), v.Y-float64(before.Y*takes[i])
		begin.Bulge = math.Tan(math.Atan2(sin, cos) / 4)
		begin.Allowance = max(v.Allowance, c[(i+len(c)-1)%len(c)].Allowance)
		end := v
		end.X, end.Y = v.X+float64(after.X*takes[i]), v.Y+float64(after.Y*takes[i])
		if out = append(out, begin); edge-both > near {
			out = append(out, end)
		}
	}
	return out, nil
}

// shape makes a piece of its finished contour.
func (c Contour) shape() (*Shape, error) {
	if at := c.crossing(); at >= 0 {
		return nil, fault(at, "list the corners in their order around the piece, with arcs that rise less",
			"the outline crosses itself or turns back on the edge that begins here")
	}
	cut, notches, err := c.widened()
	if err != nil {
		return nil, err
	}
	left, low, _, _ := cut.Box()
	s := &Shape{Cut: cut.moved(-left, -low), Finished: c.moved(-left, -low), Notches: notches.moved(-left, -low)}
	west, south, east, north := s.Finished.Box()
	s.Width, s.Length = east-west, north-south
	s.label()
	return s, nil
}

// label finds where the piece is written on: in the middle of its longer side, where a line along that lies longest
// within it.
func (s *Shape) label() {
	width, length := s.Size()
	polygon := s.Cut.Polygon(1)
	if width > length {
		for i, v := range polygon {
			polygon[i].X, polygon[i].Y = v.Y, v.X
		}
		s.LabelX, s.Room = polygon.longest(length / 2)
		s.LabelY = length / 2
		return
	}
	s.LabelY, s.Room = polygon.longest(width / 2)
	s.LabelX = width / 2
}

// longest is the middle of the longest part of a line along the stock that lies in a polygon, and its length.
func (c Contour) longest(x float64) (middle, length float64) {
	var at []float64
	for i, v := range c {
		if w := c.next(i); (v.X <= x) != (w.X <= x) {
			at = append(at, v.Y+float64((w.Y-v.Y)*(x-v.X)/(w.X-v.X)))
		}
	}
	slices.Sort(at)
	for i := 0; i+1 < len(at); i += 2 {
		if d := at[i+1] - at[i]; d > length {
			middle, length = float64((at[i]+at[i+1])/2), d
		}
	}
	return middle, length
}

// Size is how large the piece is that has to be cut, mm.
func (s *Shape) Size() (width, length float64) {
	_, _, width, length = s.Cut.Box()
	return width, length
}
