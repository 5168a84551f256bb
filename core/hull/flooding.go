package hull

import "math"

// Point is a point of the boat, m: the package's axes.
type Point struct{ X, Y, Z float64 }

// Surface is the water beside a boat at rest.
type Surface struct{ cosTrim, tanTrim, cos, sin, draft, middle float64 }

// Surface is the water in which the boat floats.
func (f Floating) Surface() Surface {
	return surface(f.Draft, math.Tan(f.Trim), heeledBy(f.Heel), f.middle)
}

func surface(draft, slope float64, p plane, middle float64) Surface {
	return Surface{math.Cos(math.Atan(slope)), slope, p.cos, p.sin, draft, middle}
}

// Above is the height of a point of the boat above the water, m; below zero under it. With the highest point of the
// boat it is what a bridge must clear.
//
// Valid: still water, the boat at rest and loaded as computed.
// Source: the axes turned by heel and trim.
func (s Surface) Above(x, y, z float64) float64 {
	return (float64(z*s.cos) - float64(y*s.sin) - s.draft + float64((x-s.middle)*s.tanTrim)) * s.cosTrim
}

// Lowest is the height above the water of the lowest place where it comes aboard: the sheer or one of the openings.
func (f Floating) Lowest(openings []Point) float64 {
	return f.Surface().lowest(f.Freeboard.Height, openings)
}

func (s Surface) lowest(sheer float64, openings []Point) float64 {
	for _, o := range openings {
		sheer = min(sheer, s.Above(o.X, o.Y, o.Z))
	}
	return sheer
}

// What the flooding angle is found to.
const (
	mostFlooding  = math.Pi / 2
	closeFlooding = 1e-6 // m of height

	leastFloodingStep = 4 * math.Pi / 180
)

// FloodingAngle is the heel, rad above zero, at which the sheer or the first of some openings comes to the water: by
// sign to starboard (+1) or to port (-1), whatever turns the boat so far; π/2 where none does before. The boat, which
// floats as given, is free to trim and sink. An angle of 0 says that water comes aboard upright.
//
// Valid: as [Hull.Float].
// Source: definition of the downflooding angle, as in ISO 12217-1, from memory.
func (h *Hull) FloodingAngle(f Floating, openings []Point, sign float64) float64 {
	q := question{f.Load, f.Density, f.Volume, f.Load.LCG - h.middle, h.Length()}
	a := attitude{draft: f.Draft, slope: math.Tan(f.Trim), plane: level}
	height := func(heel float64, steps int) float64 {
		next, settled := a, true
		for next.heel = sign * heel; steps > 0 && settled; steps-- {
			next, _, settled = h.leant(q, next)
		}
		if !settled {
			next, _ = h.tilt(q, a, sign*heel)
		}
		a = next
		return surface(a.draft, a.slope, a.plane, h.middle).lowest(h.lowestSheer(a).Height, openings)
	}
	low, before := 0.0, height(0, 1)
	if before <= 0 {
		return 0
	}
	step := 1.5 * math.Atan(before/h.halfBeam()) // the boat rises as it heels
	for low < mostFlooding {
		high := min(low+step, mostFlooding)
		now := height(high, 2)
		if now <= 0 {
			// Towards the root the steps are small, so that one of Newton's is enough for each.
			return rootTo(low, high, before, now, closeFlooding, func(heel float64) float64 { return height(heel, 1) })
		}
		low, before, step = high, now, max(step/2, leastFloodingStep)
	}
	return mostFlooding
}

// halfBeam is half the greatest breadth of the sheer.
func (h *Hull) halfBeam() float64 {
	y := 0.0
	for i := range h.sections {
		y = max(y, last(h.sections[i].y))
	}
	return max(y, sliver)
}
