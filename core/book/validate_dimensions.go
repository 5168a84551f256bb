package book

import (
	"math"

	"ribband/core/hull"
)

// inMetres is beyond any launch, and below what a launch measures in millimetres.
const inMetres = 100

// offsetsPlaced reports tables of offsets in millimetres, and those that do not begin at the aft end, from which every
// place is measured. It says whether the numbers can be metres.
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
		v.error(farthest.At, "write the table in metres: 4.6, not 4600",
			"the offsets of %s are in millimetres, as it seems: one is %g", o.Hull, farthest.Value)
		return false
	}
	if len(o.Stations) > 0 && math.Abs(o.Stations[0].X.Value) > 0.0005 {
		v.error(o.Stations[0].X.At, "measure x from the aft end of the hull, as places of masses are, so that the "+
			"first station stands at 0", "the offsets of %s begin at %g m", o.Hull, o.Stations[0].X.Value)
	}
	return true
}

// measured is a dimension of a hull, stated or computed from its offsets.
type measured struct {
	value    float64
	at       Position
	computed bool // where the book lets it be computed
}

// measurements are the dimensions of a hull by their names.
func (v *validation) measurements(h *Hull) map[string]measured {
	out := map[string]measured{}
	for i, x := range v.book.Dimensions(h) {
		f := &v.book.HullFields[i]
		stated, given := h.dimension(f.ID.Value)
		switch {
		case given:
			out[f.ID.Value] = measured{x, stated.At, f.Computed.Value != ""}
		case x > 0:
			out[f.ID.Value] = measured{x, h.ID.At, true}
		}
	}
	return out
}

// proportions reports dimensions of a hull that contradict each other or its offsets: what is computed from the one
// would belong to another boat than the rest.
func (v *validation) proportions(h *Hull) {
	d := v.measurements(h)
	for _, x := range []struct {
		id    string
		limit Limit
		what  string
	}{{"length_m", Limits.Length, "length"}, {"beam_m", Limits.Beam, "beam"}, {"depth_m", Limits.Depth, "depth"}} {
		if n, ok := d[x.id]; ok && !x.limit.Holds(n.value) {
			v.warn(n.at, x.limit.Advice(), "the %s of %s is %g", x.what, h.ID, n.value)
		}
	}
	for _, x := range []struct{ small, large string }{{"waterline_m", "length_m"}, {"beam_m", "length_m"},
		{"depth_m", "length_m"}, {"draft_m", "depth_m"}, {"depth_m", "trailer_height_m"}} {
		a, given := d[x.small]
		if b, both := d[x.large]; given && both && a.value > b.value {
			v.error(a.at, "mend the one that is wrong", "the %s of %s is %g, more than its %s of %g", x.small, h.ID,
				a.value, x.large, b.value)
		}
	}
	if n, ok := d["persons"]; ok && (n.value < 1 || n.value != math.Trunc(n.value)) {
		v.error(n.at, "write for how many persons the hull is built, such as 4", "%s is built for %g persons", h.ID,
			n.value)
	}
	v.crowd(h, d)
	for i := range v.book.Offsets {
		if o := &v.book.Offsets[i]; o.Hull.Value == h.ID.Value {
			v.againstOffsets(h, d, o)
		}
	}
}

// crowd warns of more persons than twice what the capacity label of a boat under 20 ft may name by its size: length
// times beam in feet over 15. Source: 33 CFR 183, subpart C, in its form for boats without motor, from memory.
func (v *validation) crowd(h *Hull, d map[string]measured) {
	const foot, share = 0.3048, 15
	n, persons := d["persons"]
	length, long := d["length_m"]
	beam, wide := d["beam_m"]
	if room := length.value * beam.value / (foot * foot) / share; persons && long && wide && n.value > 2*room {
		v.warn(n.at, "mend it, or the length and the beam",
			"%s is built for %g persons, and its length and beam leave room for some %.0f", h.ID, n.value, room)
	}
}

// againstOffsets reports stated dimensions that the offsets contradict. Those that the book has computed are compared
// in dimensions.
func (v *validation) againstOffsets(h *Hull, d map[string]measured, o *Offsets) {
	const anywhere = 0.1 // m: length, beam and depth do not depend on it
	made, err := hull.New(o.Table())
	if err != nil {
		return // reported already
	}
	draft, stated := d["draft_m"]
	if !stated {
		draft.value = anywhere
	}
	e, err := made.Extents(draft.value, anywhere)
	if err != nil {
		return // a draught that is not below the sheer contradicts the depth, too
	}
	for _, x := range []struct {
		id   string
		here float64
		what string
	}{
		{"length_m", e.Length, "are %.3g m long"},
		{"beam_m", e.Beam, "are %.3g m wide"},
		{"depth_m", e.Depth, "are %.3g m deep amidships, from the base line to the sheer"},
		{"waterline_m", e.Waterline, "have a waterline of %.3g m at the draught of the book"},
	} {
		n, given := d[x.id]
		if !given || n.computed || x.id == "waterline_m" && !stated || math.Abs(n.value-x.here) <= departs*x.here {
			continue
		}
		v.error(n.at, "write what the offsets have, or mend the offsets",
			"the %s of %s is %g, and its offsets "+x.what, x.id, h.ID, n.value, x.here)
	}
}
