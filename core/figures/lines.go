package figures

import (
	"errors"

	"ribband/core/bank"
	"ribband/core/hull"
	"ribband/core/pack"
)

// Lines is a hull's table of offsets as package hull takes it.
func Lines(h *pack.Hull) hull.Offsets {
	var t hull.Offsets
	for _, s := range h.Offsets {
		t.Stations = append(t.Stations, hull.Station{X: s.X, Z: s.Z, Y: s.Y})
	}
	return t
}

// NewHull prepares a hull's table of offsets for computing.
func NewHull(h *pack.Hull) (*hull.Hull, error) { return hull.New(Lines(h)) }

// newCurve prepares a hull's trial for computing.
func newCurve(h *pack.Hull) (*bank.Curve, error) {
	if len(h.Trial.SpeedKn) != len(h.Trial.PowerW) {
		return nil, errors.New("as many speeds as powers are wanted")
	}
	t := bank.Trial{DisplacementKg: h.Trial.DisplacementKg}
	for i := range h.Trial.SpeedKn {
		t.Points = append(t.Points, bank.Point{SpeedKn: h.Trial.SpeedKn[i], PowerW: h.Trial.PowerW[i]})
	}
	return t.Curve()
}
