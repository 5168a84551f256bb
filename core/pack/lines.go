package pack

import (
	"errors"

	"ribband/core/bank"
	"ribband/core/hull"
)

// Lines is the hull's table of offsets as package hull takes it.
func (h *Hull) Lines() hull.Offsets {
	var t hull.Offsets
	for _, s := range h.Offsets {
		t.Stations = append(t.Stations, hull.Station{X: s.X, Z: s.Z, Y: s.Y})
	}
	return t
}

// NewHull prepares the hull's table of offsets for computing.
func (h *Hull) NewHull() (*hull.Hull, error) { return hull.New(h.Lines()) }

// NewCurve prepares the hull's trial for computing.
func (h *Hull) NewCurve() (*bank.Curve, error) {
	if len(h.Trial.SpeedKn) != len(h.Trial.PowerW) {
		return nil, errors.New("as many speeds as powers are wanted")
	}
	t := bank.Trial{DisplacementKg: h.Trial.DisplacementKg}
	for i := range h.Trial.SpeedKn {
		t.Points = append(t.Points, bank.Point{SpeedKn: h.Trial.SpeedKn[i], PowerW: h.Trial.PowerW[i]})
	}
	return t.Curve()
}
