package hull

import (
	"fmt"
	"math"

	"ribband/core/msg"
)

// Lever is the righting lever at one heel.
type Lever struct {
	Heel        float64 // rad
	GZ          float64 // m; above zero where it turns the boat back to port for a heel to starboard
	Draft, Trim float64 // that the boat takes there, m and rad
	Freeboard   float64 // lowest height of the sheer, m; from zero down an open boat floods and the lever is lost
}

// RightingLevers gives the righting lever of a load at each of the heels (rad, up to ±180°), with free trim: at each
// heel the boat sinks and trims until it displaces the load and balances along its length. GZ is the distance across,
// in the water plane, from the centre of gravity to that of buoyancy. A lever whose freeboard is not above zero is that
// of a decked hull.
//
// The boat need not be stable; an error is of the kinds of [Hull.Float] except [ErrUnstable].
//
// Valid: as [Hull.Float].
// Source: Barrass & Derrett: GZ; for small heels GM·sin φ.
func (h *Hull) RightingLevers(load Load, density float64, heels []float64) ([]Lever, error) {
	q, err := h.question(load, density)
	if err != nil {
		return nil, err
	}
	levers := make([]Lever, 0, len(heels))
	a := h.start(q)
	for _, heel := range heels {
		if !(math.Abs(heel) <= math.Pi) {
			return nil, fmt.Errorf("computing righting levers: heel %v is not usable: give radians up to π either way",
				heel)
		}
		next, ok := h.tilt(q, a, heel)
		if !ok {
			return nil, q.refuse(ErrNoBalance, "hull.lever-trim",
				msg.Number("heel", heel*180/math.Pi, 1))
		}
		a = next
		levers = append(levers, Lever{heel, a.lever(q), a.draft, math.Atan(a.slope), h.lowestSheer(a).Height})
	}
	return levers, nil
}

// lever is GZ: across is square to the vertical whatever the trim.
func (a attitude) lever(q question) float64 {
	sg, _ := a.plane.across(q.load.TCG, q.load.VCG)
	return a.ms/a.v - sg
}

// Range is how far a boat may heel, to the side to which its load heels it, or to starboard; to port all are below
// zero.
type Range struct {
	Rest      float64 // heel at rest, rad
	DeckEdge  float64 // heel at which the sheer comes to the water, rad: there an open boat floods
	Vanishing float64 // heel beyond which a decked hull would not come back, rad; ±180° where it always does
}

// Range finds the heels of deck-edge immersion and of vanishing stability, with free trim, by steps of 2° and a
// bracketed search between two of them. Its errors are those of [Hull.Float].
//
// Valid: as [Hull.Float]; for an open boat DeckEdge is the limit and Vanishing a figure of comparison only.
// Source: definitions; Barrass & Derrett.
func (h *Hull) Range(load Load, density float64) (Range, error) {
	f, err := h.Float(load, density)
	if err != nil {
		return Range{}, err
	}
	q, err := h.question(load, density)
	if err != nil {
		return Range{}, err
	}
	s := heelScan{h: h, q: q, sign: math.Copysign(1, f.Heel)}
	s.a = h.moved(f.Draft, math.Tan(f.Trim), f.Heel, heeledBy(f.Heel))
	rest := math.Abs(f.Heel)
	edge := s.first(rest, func(a attitude) float64 { return h.lowestSheer(a).Height })
	vanishing := s.first(rest, func(a attitude) float64 { return s.sign * a.lever(q) })
	return Range{f.Heel, s.sign * edge, s.sign * vanishing}, nil
}

// heelScan walks from one heel to the next.
type heelScan struct {
	h    *Hull
	q    question
	sign float64
	a    attitude
}

// first finds the first heel after rest at which what is measured falls to zero, π where it does not.
func (s *heelScan) first(rest float64, measure func(attitude) float64) float64 {
	at := func(heel float64) float64 {
		a, ok := s.h.tilt(s.q, s.a, s.sign*heel)
		if ok {
			s.a = a
		}
		return measure(a)
	}
	const step = 2 * math.Pi / 180
	low := rest + step/1000
	before := at(low)
	for low < math.Pi {
		high := min(low+step, math.Pi)
		now := at(high)
		if now <= 0 {
			return root(low, high, before, now, at)
		}
		low, before = high, now
	}
	return math.Pi
}
