package book

import (
	"math"

	"ribband/core/hull"
)

// stretch is how far a dimension may be from the offsets: a table is read to a millimetre or two, and a strake or a rounded number adds little.
const stretch = 0.03

// inMetres is beyond any launch, and below what a launch measures in millimetres.
const inMetres = 100

// offsetsPlaced reports tables of offsets in millimetres, and those that do not begin at the aft end, from which every place is measured. It says whether
// the numbers can be metres.
func (v *validation) offsetsPlaced(o *Offsets) bool {
	var farthest Number
	for _, s := range o.Stations {
		for _, n := range append(append([]Number{s.X}, s.Z...), s.Y...) {
			if math.Abs(n.Value) > math.Abs(farthest.Value) {
				farthest = n
			}
		}
	}
	if math.Abs(farthest.Value) > inMetres {
		v.problem(farthest.At, "write the table in metres: 4.6, not 4600", "the offsets of %s are in millimetres, as it seems: one is %g", o.Hull, farthest.Value)
		return false
	}
	if len(o.Stations) > 0 && math.Abs(o.Stations[0].X.Value) > 0.0005 {
		v.problem(o.Stations[0].X.At, "measure x from the aft end of the hull, as places of masses are, so that the first station stands at 0", "the offsets of %s begin at %g m", o.Hull, o.Stations[0].X.Value)
	}
	return true
}

// proportions reports dimensions of a hull that contradict each other or its offsets: what is computed from the one would belong to another boat than the rest.
func (v *validation) proportions(h *Hull) {
	d := map[string]Number{}
	for _, p := range h.Dimensions {
		d[p.Key.Value] = p.Value
	}
	v.within(d["length_m"], Limits.Length, "the length of "+h.ID.Value)
	v.within(d["beam_m"], Limits.Beam, "the beam of "+h.ID.Value)
	v.within(d["depth_m"], Limits.Depth, "the depth of "+h.ID.Value)
	for _, x := range []struct{ small, large string }{{"waterline_m", "length_m"}, {"beam_m", "length_m"}, {"depth_m", "length_m"}, {"draft_m", "depth_m"}, {"depth_m", "trailer_height_m"}} {
		a, b := d[x.small], d[x.large]
		if a.Given() && b.Given() && a.Value > b.Value {
			v.problem(a.At, "mend the one that is wrong", "the %s of %s is %g, more than its %s of %g", x.small, h.ID, a.Value, x.large, b.Value)
		}
	}
	if n := d["persons"]; n.Given() && (n.Value < 1 || n.Value != math.Trunc(n.Value)) {
		v.problem(n.At, "write for how many persons the hull is built, such as 4", "%s is built for %g persons", h.ID, n.Value)
	}
	v.crowd(h, d)
	for i := range v.book.Offsets {
		if o := &v.book.Offsets[i]; o.Hull.Value == h.ID.Value {
			v.againstOffsets(h, d, o)
		}
	}
}

// crowd warns of more persons than twice what the capacity label of a boat under 20 ft may name by its size: length times beam in feet over 15. Source: 33 CFR 183,
// subpart C, in its form for boats without motor, from memory.
func (v *validation) crowd(h *Hull, d map[string]Number) {
	const foot, share = 0.3048, 15
	n, most := d["persons"], 2*d["length_m"].Value*d["beam_m"].Value/(foot*foot)/share
	if n.Given() && d["length_m"].Given() && d["beam_m"].Given() && n.Value > most {
		v.warn(n.At, "mend it, or the length and the beam", "%s is built for %g persons, and its length and beam leave room for some %.0f", h.ID, n.Value, most/2)
	}
}

func (v *validation) againstOffsets(h *Hull, d map[string]Number, o *Offsets) {
	t := o.Table()
	if len(t.Validate()) > 0 || len(t.Stations) == 0 {
		return // reported already
	}
	first, last := t.Stations[0], t.Stations[len(t.Stations)-1]
	widest := 0.0
	for _, s := range t.Stations {
		for _, y := range s.Y {
			widest = max(widest, y)
		}
	}
	middle := (first.X + last.X) / 2
	for _, x := range []struct {
		id   string
		here float64
		what string
	}{
		{"length_m", last.X - first.X, "are %.3g m long"},
		{"beam_m", 2 * widest, "are %.3g m wide"},
		{"depth_m", between(t.Stations, middle, sheer), "are %.3g m deep amidships, from the base line to the sheer"},
		{"waterline_m", waterline(t.Stations, d["draft_m"].Value), "have a waterline of %.3g m at the draught of the book"},
	} {
		n := d[x.id]
		if x.id == "waterline_m" && !d["draft_m"].Given() {
			continue
		}
		if n.Given() && math.Abs(n.Value-x.here) > stretch*x.here {
			v.problem(n.At, "write what the offsets have, or mend the offsets", "the %s of %s is %g, and its offsets "+x.what, x.id, h.ID, n.Value, x.here)
		}
	}
}

func sheer(s hull.Station) float64 { return s.Z[len(s.Z)-1] }
func keel(s hull.Station) float64  { return s.Z[0] }

// between is a height at a place along the hull, straight from station to station.
func between(stations []hull.Station, x float64, height func(hull.Station) float64) float64 {
	for i := 1; i < len(stations); i++ {
		a, b := stations[i-1], stations[i]
		if x <= b.X {
			return height(a) + (height(b)-height(a))*(x-a.X)/(b.X-a.X)
		}
	}
	return height(stations[len(stations)-1])
}

// waterline is the length of the hull at a height above the base line on an even keel: from the aftmost to the foremost place where the lower edge lies below it.
func waterline(stations []hull.Station, height float64) float64 {
	aft, fore := math.Inf(1), math.Inf(-1)
	for i, s := range stations {
		if keel(s) <= height {
			aft, fore = min(aft, s.X), max(fore, s.X)
		}
		if i == 0 || keel(stations[i-1]) == keel(s) {
			continue
		}
		a := stations[i-1]
		if share := (height - keel(a)) / (keel(s) - keel(a)); share >= 0 && share <= 1 {
			x := a.X + share*(s.X-a.X)
			aft, fore = min(aft, x), max(fore, x)
		}
	}
	return max(0, fore-aft)
}
