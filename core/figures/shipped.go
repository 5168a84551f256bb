package figures

import (
	"math"
	"slices"

	"ribband/core/formula"
	"ribband/core/pack"
)

// RoadHeight is how high the boat stands as it goes by road.
const RoadHeight ID = "road.height_m"

// shipped finds how high the boat stands above its base line as it goes by road: the highest of the sheer and of the
// heights in the state "road". It floats nothing, so it is as quick as a formula, and can be bounded.
//
// Formula: as the message of its output says it. Valid: the base line level. Source: geometry.
var shipped = module{
	name:  "road",
	quick: true,
	reads: func(p *pack.Pack) formula.Reads {
		return readsOfPoints(p, func(x pack.Point) bool { return slices.Contains(x.States, pack.Road) })
	},
	prepare: func(n *parts) (solver, error) {
		points := n.standing()
		return func(b *boat, out *results) formula.Fault {
			out.set(RoadHeight, points.level(b.State, pack.Road))
			return formula.Fault{}
		}, nil
	},
	bounds:  boundShipped,
	outputs: []Definition{{ID: RoadHeight, Unit: "m"}},
}

// boundShipped bounds the height over the boats of a box: the points of the hull and of what is in all of them are
// there, those of what may be in one may be.
func boundShipped(p *pack.Pack, box *formula.Box, set func(ID, formula.Interval)) {
	b := formula.Interval{}
	for _, s := range p.Hulls[box.HullID].Offsets {
		z := s.Z[len(s.Z)-1]
		b.Lo, b.Hi = max(b.Lo, z), max(b.Hi, z)
	}
	add := func(list []pack.Point, count formula.Interval) bool {
		for i := range list {
			if !slices.Contains(list[i].States, pack.Road) || count.Hi <= 0 {
				continue
			}
			z, sound := list[i].Place.Z.Bounds(box)
			if !sound || math.IsInf(z.Hi, 0) {
				return false
			}
			b.Hi = max(b.Hi, z.Hi)
			if count.Lo > 0 {
				b.Lo = max(b.Lo, z.Lo)
			}
		}
		return true
	}
	sound := add(p.Hulls[box.HullID].Heights, formula.Exactly(1))
	for i := range p.Options {
		sound = sound && add(p.Options[i].Heights, box.Counts[i])
	}
	if sound {
		set(RoadHeight, b)
	}
}

// LevelHeight is how high a boat stands above its base line in a state, level and without persons, m.
func (f *Figures) LevelHeight(st *formula.State, state pack.State) float64 {
	return f.parts.standing().level(st, state)
}

// level is the highest of the points of a boat above the base line in a state, m.
func (p *points) level(st *formula.State, state pack.State) float64 {
	most := 0.0
	p.high(st, state, func(s spot) { most = max(most, s.z) })
	return most
}
