package hull

import (
	"fmt"
	"math"
)

// Offsets is a table of offsets: the half-breadths of one side of a symmetrical hull, station by station.
type Offsets struct {
	Stations []Station `json:"stations" yaml:"stations"` // from the aft end forward
}

// Station is one section of the hull.
//
// Z may stay the same from one point to the next (a flat, a hard chine) and so may Y (a vertical side); Z never falls.
// The first point is the keel, whose half-breadth may be above zero (a flat keel), the last the sheer.
type Station struct {
	X float64   `json:"x" yaml:"x"` // from the aft end, m
	Z []float64 `json:"z" yaml:"z"` // heights above the base line from the keel to the sheer, m
	Y []float64 `json:"y" yaml:"y"` // half-breadths at these heights, m
}

// Fault is one thing wrong in a table of offsets. Station and Point count from 0; -1 stands for all of them.
type Fault struct {
	Station, Point  int
	Message, Advice string
}

// What a table needs at least, and where a number can no longer be metres of a launch.
const (
	leastStations = 5
	leastPoints   = 3
	leastSpacing  = 0.001  // m
	farthest      = 1000.0 // m
	leastVolume   = 1e-6   // m³
)

// String names the place as people count, from 1, with the message and the advice.
func (f Fault) String() string {
	switch {
	case f.Station < 0:
		return fmt.Sprintf("%s: %s", f.Message, f.Advice)
	case f.Point < 0:
		return fmt.Sprintf("station %d: %s: %s", f.Station+1, f.Message, f.Advice)
	default:
		return fmt.Sprintf("station %d, point %d: %s: %s", f.Station+1, f.Point+1, f.Message, f.Advice)
	}
}

// Validate lists what is wrong, in the order of the table; a table without faults makes a hull.
func (o Offsets) Validate() []Fault {
	var faults []Fault
	if n := len(o.Stations); n < leastStations {
		faults = append(faults, Fault{-1, -1, fmt.Sprintf("the table has %d stations", n),
			fmt.Sprintf("give at least %d from the aft end to the stem, better 11 to 21", leastStations)})
	}
	for i := range o.Stations {
		faults = append(faults, o.place(i)...)
		faults = append(faults, o.Stations[i].shape(i)...)
	}
	if len(faults) > 0 {
		return faults
	}
	for i := range o.Stations {
		faults = append(faults, o.sheer(i)...)
	}
	return faults
}

// place checks where station i stands.
func (o Offsets) place(i int) []Fault {
	x := o.Stations[i].X
	if !usable(x) {
		return []Fault{{i, -1, fmt.Sprintf("its place %v m is not usable", x),
			"give its distance from the aft end as a number of metres, at most 1000"}}
	}
	if i == 0 {
		return nil
	}
	before := o.Stations[i-1].X
	if usable(before) && !(x-before >= leastSpacing) {
		return []Fault{{i, -1, fmt.Sprintf("it stands at %v m, the one before it at %v m", x, before),
			"sort the stations from the aft end forward, each at least 1 mm from the last"}}
	}
	return nil
}

// shape checks the points of a section.
func (s Station) shape(i int) []Fault {
	if len(s.Z) != len(s.Y) {
		return []Fault{{i, -1, fmt.Sprintf("it has %d heights but %d half-breadths", len(s.Z), len(s.Y)),
			"give one half-breadth for each height"}}
	}
	if len(s.Z) < leastPoints {
		return []Fault{{i, -1, fmt.Sprintf("it has %d points", len(s.Z)),
			fmt.Sprintf("give at least %d from the keel to the sheer, better 6 or more", leastPoints)}}
	}
	var faults []Fault
	for p := range s.Z {
		switch z, y := s.Z[p], s.Y[p]; {
		case !usable(z):
			faults = append(faults, Fault{i, p, fmt.Sprintf("the height %v m is not usable", z),
				"give a number of metres, at most 1000"})
		case !usable(y):
			faults = append(faults, Fault{i, p, fmt.Sprintf("the half-breadth %v m is not usable", y),
				"give a number of metres, at most 1000"})
		case y < 0:
			faults = append(faults, Fault{i, p, fmt.Sprintf("the half-breadth %v m is below zero", y),
				"measure it outward from the centre line; both sides are the same"})
		}
	}
	if len(faults) > 0 {
		return faults
	}
	return s.order(i)
}

// order checks that the points run up from the keel without crossing their own line.
func (s Station) order(i int) []Fault {
	if p, q := s.crossing(); p >= 0 {
		return []Fault{{i, q, fmt.Sprintf("the section crosses itself: the line to this point meets the one from "+
			"point %d", p+1),
			"put the points in order along the section from the keel to the sheer"}}
	}
	var faults []Fault
	for p := 1; p < len(s.Z); p++ {
		if s.Z[p] < s.Z[p-1] {
			faults = append(faults, Fault{i, p, fmt.Sprintf("the height %v m is below the %v m before it", s.Z[p],
				s.Z[p-1]),
				"give heights that rise from the keel to the sheer; equal heights make a flat"})
		}
	}
	return faults
}

// sheer checks that a section goes up to the sheer: above its keel, and not far below that of its neighbours.
func (o Offsets) sheer(i int) []Fault {
	s := o.Stations[i]
	keel, top := s.Z[0], s.Z[len(s.Z)-1]
	advice := "end every section with the point of the sheer"
	if top <= keel {
		return []Fault{{i, len(s.Z) - 1, fmt.Sprintf("the sheer is missing: all heights are %v m", keel), advice}}
	}
	if i == 0 || i == len(o.Stations)-1 {
		return nil
	}
	above := math.Min(last(o.Stations[i-1].Z), last(o.Stations[i+1].Z)) - keel
	if top-keel < above/2 {
		return []Fault{{i, len(s.Z) - 1, fmt.Sprintf("the sheer is missing: the section ends at %v m, those beside it "+
			"at %v and %v m",
			top, last(o.Stations[i-1].Z), last(o.Stations[i+1].Z)), advice}}
	}
	return nil
}

// usable says that v is finite and a length that a boat can have.
func usable(v float64) bool { return math.Abs(v) <= farthest } // false for NaN

func last(v []float64) float64 { return v[len(v)-1] }
