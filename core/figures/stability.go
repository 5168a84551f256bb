package figures

import (
	"fmt"
	"math"

	"ribband/core/formula"
	"ribband/core/hull"
)

// BoarderCentreM is the centre of a person who stands on the gunwale, above it; common practice, no source.
const BoarderCentreM = 1.0

// First checks of an open boat.
const (
	StabilityOffsetHeel            ID = "stability.offset_heel_deg"
	StabilityOffsetFreeboard       ID = "stability.offset_freeboard_m"
	StabilityBoardingHeel          ID = "stability.boarding_heel_deg"
	StabilityBoardingFreeboard     ID = "stability.boarding_freeboard_m"
	StabilityFloodingHeight        ID = "stability.flooding_height_m"
	StabilityFloodingHeel          ID = "stability.flooding_deg"
	StabilityOffsetHeelLimit       ID = "stability.offset_heel_limit_deg"
	StabilityOffsetFreeboardLimitC ID = "stability.offset_freeboard_limit_c_m"
	StabilityOffsetFreeboardLimitD ID = "stability.offset_freeboard_limit_d_m"
	StabilityFloodingHeightLimitC  ID = "stability.flooding_height_limit_c_m"
	StabilityFloodingHeightLimitD  ID = "stability.flooding_height_limit_d_m"
)

// stability computes what is asked first of an open boat: how far it heels with everybody on one side and with one
// person who steps on the gunwale, what freeboard is left, where water comes aboard first, and at which heel.
//
// With everybody on one side the persons
// sit side_m off the centre line, to the side to which the boat leans. The boarder is one of the persons and stands on
// the gunwale beside the seats; the others sit on the centre line. Freeboard counts to the sheer or to the lowest
// opening. Where the boat would take water in one of these states, or would not come to rest, freeboard is 0 and the
// heel that at which it floods: it heels at least so far.
//
// The limits are those that ISO 12217-1 sets by length and load, for design category C (inshore) and D (sheltered):
//
//	heel with offset load   10 + (24 - LH)³/600, degrees
//	freeboard with it       0.11·√LH (C), 0.07·√LH (D), m
//	height to the opening   LH/17, 0.3 to 0.75 m (C); LH/20, 0.2 to 0.4 m (D), times (10·V/(LH·B²))^⅓,
//	                        within 0.75 to 1.25
//
// with the length LH of the hull, the volume V displaced and the beam B of the waterline. All of this is from memory;
// part 3 of the standard, for boats below 6 m, differs in detail. They are first checks: a notified body or another
// qualified person assesses the boat, which is tried.
//
// Valid: loads that float upright with the sheer clear. Source: package hull; ISO 12217-1, 6.1 to 6.2 and Annex A, from
// memory.
var stability = module{
	name:    "stability",
	heavy:   true,
	needs:   []Given{MassKg},
	uses:    []UseField{UsePersons, UseWater},
	also:    pointReads,
	prepare: prepareStability,
	outputs: []Definition{
		{ID: StabilityOffsetHeel, Unit: "deg"},
		{ID: StabilityOffsetFreeboard, Unit: "m"},
		{ID: StabilityBoardingHeel, Unit: "deg"},
		{ID: StabilityBoardingFreeboard, Unit: "m"},
		{ID: StabilityFloodingHeight, Unit: "m"},
		{ID: StabilityFloodingHeel, Unit: "deg"},
		{ID: StabilityOffsetHeelLimit, Unit: "deg"},
		{ID: StabilityOffsetFreeboardLimitC, Unit: "m"},
		{ID: StabilityOffsetFreeboardLimitD, Unit: "m"},
		{ID: StabilityFloodingHeightLimitC, Unit: "m"},
		{ID: StabilityFloodingHeightLimitD, Unit: "m"},
	},
}

// prepareStability makes the solver of the module. Where people sit when all are on one side has no usual value, so
// every hull has to say it.
func prepareStability(n *parts) (solver, error) {
	w, err := newWaters(n)
	if err != nil {
		return nil, err
	}
	for i := range n.pack.Hulls {
		if s := n.pack.Hulls[i].Seats; s == nil || s.Side.Empty() {
			return nil, fmt.Errorf("the hull %s does not say how far from the centre line a person sits on one side: "+
				"add seats: with side_m", n.pack.Hulls[i].ID)
		}
	}
	s := stable{waters: w, parts: n, points: n.points()}
	return s.solve, nil
}

// stable computes the outputs of the module.
type stable struct {
	*waters
	parts  *parts
	points *points
}

// solve computes the states one after the other. Without openings of its own the boat takes water over the sheer, which
// package hull knows.
func (s *stable) solve(b *boat, out *results) formula.Fault {
	st := b.State
	rest, err := s.atRest(b)
	if err != nil {
		return floatingFault(err)
	}
	var buffer [8]hull.Point
	openings := s.points.inlets(st, buffer[:0])
	key := s.key(st, openings)
	if key != nil {
		if values, known := s.parts.memory.Recall(key); known {
			out.values = values
			return formula.Fault{}
		}
	}
	sign := 1.0
	if rest.Load.TCG < 0 {
		sign = -1
	}
	flooding := s.flooding(st, rest, openings, sign)
	heel, freeboard := s.heeled(st, s.offset(st, sign), openings, flooding)
	out.set(StabilityOffsetHeel, heel)
	out.set(StabilityOffsetFreeboard, freeboard)
	heel, freeboard = s.heeled(st, s.boarding(st, sign), openings, flooding)
	out.set(StabilityBoardingHeel, heel)
	out.set(StabilityBoardingFreeboard, freeboard)
	out.set(StabilityFloodingHeight, rest.Lowest(openings))
	out.set(StabilityFloodingHeel, degrees(flooding))
	limits(s.hulls[st.HullID].Length(), rest.Volume, rest.WaterlineBeam, out)
	if key != nil {
		s.parts.memory.Keep(key, out.values)
	}
	return formula.Fault{}
}

// limits of the standard, by length, m, volume, m³, and beam, m.
func limits(length, volume, beam float64, out *results) {
	short := max(0, 24-length)
	share := 1.25
	if beam > 0 {
		share = max(0.75, min(1.25, math.Cbrt(10*volume/(length*beam*beam))))
	}
	out.set(StabilityOffsetHeelLimit, 10+short*short*short/600)
	out.set(StabilityOffsetFreeboardLimitC, 0.11*math.Sqrt(length))
	out.set(StabilityOffsetFreeboardLimitD, 0.07*math.Sqrt(length))
	out.set(StabilityFloodingHeightLimitC, share*max(0.3, min(0.75, length/17)))
	out.set(StabilityFloodingHeightLimitD, share*max(0.2, min(0.4, length/20)))
}

// flooding is the heel at which water comes aboard: to the side to which the boat leans, and where openings are off the
// centre line to the other too.
func (s *stable) flooding(st *formula.State, rest *hull.Floating, openings []hull.Point, sign float64) float64 {
	h := s.hulls[st.HullID]
	heel := h.FloodingAngle(*rest, openings, sign)
	for _, o := range openings {
		if o.Y != 0 {
			return min(heel, h.FloodingAngle(*rest, openings, -sign))
		}
	}
	return heel
}

// heeled is the heel of a load, degrees, and the freeboard that is left, m.
func (s *stable) heeled(st *formula.State, load hull.Load, openings []hull.Point, flooding float64) (heel,
	freeboard float64) {
	f, err := s.float(st, load)
	if err == nil {
		if low := f.Lowest(openings); low > 0 {
			return degrees(math.Abs(f.Heel)), low
		}
	}
	return degrees(flooding), 0
}

// offset is the boat with everybody on one side; their things stay where they are.
func (s *stable) offset(st *formula.State, sign float64) hull.Load {
	people := s.masses.people(st)
	people.TCG += sign * s.masses.sides[st.HullID].Of(st) * PersonKg / (PersonKg + StoresKg)
	return lightLoad(st.Masses).WithMargin(GrowthShare, 0).And(people)
}

// boarding is the boat with one of its persons on the gunwale.
func (s *stable) boarding(st *formula.State, sign float64) hull.Load {
	people := s.masses.people(st)
	one := people
	one.Mass = min(people.Mass, PersonKg+StoresKg)
	people.Mass -= one.Mass
	at := s.points.gunwale(st.HullID, one.LCG)
	one.LCG, one.TCG, one.VCG = at.x, sign*at.y, at.z+BoarderCentreM
	return lightLoad(st.Masses).WithMargin(GrowthShare, 0).And(people).And(one)
}
