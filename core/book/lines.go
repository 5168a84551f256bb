package book

import (
	"ribband/core/bank"
	"ribband/core/hull"
)

// Table is the table of offsets as package hull takes it.
func (o *Offsets) Table() hull.Offsets {
	var t hull.Offsets
	for _, s := range o.Stations {
		t.Stations = append(t.Stations, hull.Station{X: s.X.Value, Z: numbers(s.Z), Y: numbers(s.Y)})
	}
	return t
}

func numbers(list []Number) []float64 {
	out := make([]float64, len(list))
	for i, n := range list {
		out[i] = n.Value
	}
	return out
}

// Table is the trial as package bank takes it.
func (t *Trial) Table() bank.Trial {
	out := bank.Trial{DisplacementKg: t.DisplacementKg.Value}
	for _, p := range t.Points {
		out.Points = append(out.Points, bank.Point{SpeedKn: p.SpeedKn.Value, PowerW: p.PowerW.Value})
	}
	return out
}

// offsets reports faults in tables of offsets at the station where they are.
func (v *validation) offsets() {
	seen := map[string]bool{}
	for i := range v.book.Offsets {
		o := &v.book.Offsets[i]
		v.once("table of offsets", o.Hull, seen)
		if !v.offsetsPlaced(o) {
			continue
		}
		for _, f := range o.Table().Validate() {
			at := o.Hull.At
			if f.Station >= 0 && f.Station < len(o.Stations) {
				at = o.Stations[f.Station].At
			}
			v.error(at, f.Advice, "offsets of %s: %s", o.Hull, f.Message)
		}
	}
}

// trials reports faults in trial tables at the point where they are.
func (v *validation) trials() {
	seen := map[string]bool{}
	for i := range v.book.Trials {
		t := &v.book.Trials[i]
		v.once("trial", t.Hull, seen)
		for _, f := range t.Table().Validate() {
			at := t.At
			if f.Point > 0 {
				at = t.Points[f.Point-1].At
			}
			v.error(at, f.Remedy, "trial of %s: %s: %s", t.Hull, f.Where, f.Problem)
		}
	}
}

// once reports a hull that is unknown or has two of something.
func (v *validation) once(what string, hull Text, seen map[string]bool) {
	if v.known("hull", hull) && seen[hull.Value] {
		v.error(hull.At, "keep one of them", "the hull %s has two of a %s", hull, what)
	}
	seen[hull.Value] = true
}
