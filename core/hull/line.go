package hull

import (
	"fmt"
	"slices"
)

// Breadth is a half-breadth of the hull at a place along it, m.
type Breadth struct{ X, Y float64 }

// Line is the half-breadth at one height from a place to another, which may lie further aft: there, and at every
// station between them. A height above the sheer gives the line of the sheer in plan, one below the keel zero.
//
// Formula: Y between two points of a station, and between two stations, on straight lines.
// Valid: places on the hull; as close as points and stations are. It is the plan of the line: the rise of the sheer is
// left out.
// Source: geometry.
func (o Offsets) Line(from, to, z float64) ([]Breadth, error) {
	n := len(o.Stations)
	if n == 0 {
		return nil, fmt.Errorf("following a line of the hull: it has no offsets; give them, or the points themselves")
	}
	// a hull's own length may have been rounded on its way here
	const slack = 0.001 // m
	aft, fore := o.Stations[0].X, o.Stations[n-1].X
	for _, x := range []float64{from, to, z} {
		if x != x || from < aft-slack || from > fore+slack || to < aft-slack || to > fore+slack {
			return nil, fmt.Errorf("following a line of the hull from %v to %v m at the height %v m: keep it on the "+
				"hull, which reaches from %v to %v m", from, to, z, aft, fore)
		}
	}
	low, high := min(from, to), max(from, to)
	var line []Breadth
	for i, s := range o.Stations {
		if i > 0 {
			before := o.Stations[i-1]
			for _, x := range []float64{low, high} {
				if x > before.X && x < s.X {
					y, share := before.halfBreadth(z), (x-before.X)/(s.X-before.X)
					line = append(line, Breadth{x, y + float64((s.halfBreadth(z)-y)*share)})
				}
				if low == high {
					break
				}
			}
		}
		if s.X >= low && s.X <= high {
			line = append(line, Breadth{s.X, s.halfBreadth(z)})
		}
	}
	if from > to {
		slices.Reverse(line)
	}
	return line, nil
}

// halfBreadth is that of a station at a height; at a flat, its outer edge.
func (s Station) halfBreadth(z float64) float64 {
	if z < s.Z[0] {
		return 0
	}
	for k := len(s.Z) - 1; k > 0; k-- {
		if z >= s.Z[k] {
			return s.Y[k]
		}
		if z >= s.Z[k-1] {
			return s.Y[k-1] + float64((s.Y[k]-s.Y[k-1])*(z-s.Z[k-1])/(s.Z[k]-s.Z[k-1]))
		}
	}
	return s.Y[0]
}
