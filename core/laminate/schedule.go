package laminate

import (
	"fmt"

	"ribband/core/msg"
)

// Part is an area of hull or deck with one laminate.
type Part struct {
	Name      string
	Area      float64 // m²
	Method    Method
	Plies     []Ply
	Laps      float64 // share of glass and resin in overlaps: they stay in the boat
	Offcuts   float64 // share of glass that is cut off, on top of what stays
	ResinLoss float64 // share of resin left in pots and rollers, on top
}

// Row is a part worked out.
type Row struct {
	Part       Part
	Laminate   Laminate
	Glass      float64 // kg in the boat
	Resin      float64 // kg in the boat
	GlassToCut float64 // kg with offcuts
	ResinToMix float64 // kg with loss
}

// Weight is what the part adds to the boat in kg.
func (r Row) Weight() float64 { return r.Glass + r.Resin }

// Cloth is how much of one reinforcement the schedule takes.
type Cloth struct {
	Name   string
	Kind   Kind
	Weight float64 // g/m²
	Area   float64 // m² with laps and offcuts
}

// Schedule is the laminate schedule of a boat.
type Schedule struct {
	Rows                   []Row
	Cloths                 []Cloth // in the order of their first use
	Glass, Resin           float64 // kg in the boat
	GlassToCut, ResinToMix float64 // kg
	Caution                msg.Message
}

// Weight is what the laminate adds to the boat in kg.
func (s Schedule) Weight() float64 { return s.Glass + s.Resin }

// NewSchedule works out all parts.
//
// Formula: in the boat: kg = kg/m²×area×(1 + laps); to cut: ×(1 + offcuts); to mix: ×(1 + resin loss).
// Valid: shares from 0 to 2; names of parts differ.
// Source: [Stack] by m²; the shares are the yard's own: common practice, no source.
func NewSchedule(parts []Part) (Schedule, error) {
	s := Schedule{Caution: Caution}
	seen := map[string]bool{}
	for i, p := range parts {
		place := fmt.Sprintf("making the laminate schedule, part %d, %q", i+1, p.Name)
		if p.Name == "" || seen[p.Name] {
			return Schedule{}, fmt.Errorf("%s: it has no name of its own; name each part once", place)
		}
		seen[p.Name] = true
		row, err := newRow(place, p)
		if err != nil {
			return Schedule{}, err
		}
		s.Rows = append(s.Rows, row)
		s.Glass += row.Glass
		s.Resin += row.Resin
		s.GlassToCut += row.GlassToCut
		s.ResinToMix += row.ResinToMix
		for _, ply := range p.Plies {
			s.add(ply, float64(p.Area*(1+p.Laps)*(1+p.Offcuts)))
		}
	}
	return s, nil
}

func newRow(place string, p Part) (Row, error) {
	if err := number(place, "area", "m²", p.Area); err != nil {
		return Row{}, err
	}
	for _, n := range []input{{"share of laps", "", p.Laps}, {"share of offcuts", "", p.Offcuts},
		{"share of resin lost", "", p.ResinLoss}} {
		if err := share(place, n.what, n.value); err != nil {
			return Row{}, err
		}
	}
	l, err := Stack(p.Name, p.Plies, p.Method)
	if err != nil {
		return Row{}, fmt.Errorf("%s: %w", place, err)
	}
	area := float64(p.Area * (1 + p.Laps))
	r := Row{Part: p, Laminate: l, Glass: l.Glass * area, Resin: l.Resin * area}
	r.GlassToCut = r.Glass * (1 + p.Offcuts)
	r.ResinToMix = r.Resin * (1 + p.ResinLoss)
	return r, nil
}

func (s *Schedule) add(p Ply, area float64) {
	for i := range s.Cloths {
		if c := &s.Cloths[i]; c.Name == p.Name && c.Kind == p.Kind && c.Weight == p.Weight {
			c.Area += area
			return
		}
	}
	s.Cloths = append(s.Cloths, Cloth{p.Name, p.Kind, p.Weight, area})
}
