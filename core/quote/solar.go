package quote

import (
	"ribband/core/drawing"
	"ribband/core/fit"
)

// SolarPart is what the panels of a boat bring in the mean day of each month, kWh, January first.
type SolarPart struct {
	KWh    [12]float64 `json:"kwh_a_day"`
	Source string      `json:"source"`
}

// Solar is the yield of a boat's panels by month; nil where it has none.
func (e *Engine) Solar(b *fit.Build) *SolarPart {
	kwh, source, ok := e.figures.SolarYield(b.State)
	if !ok {
		return nil
	}
	for i := range kwh {
		kwh[i] = rounded(kwh[i], 3)
	}
	return &SolarPart{kwh, source}
}

// SolarPicture plots the yield of the panels by month; empty where the boat has none.
func (e *Engine) SolarPicture(b *fit.Build, f drawing.Format) (Picture, error) {
	s := e.Solar(b)
	if s == nil {
		return Picture{}, nil
	}
	in := drawing.SolarYield{Name: e.Pack.Hulls[b.State.HullID].Title, KWh: s.KWh, Assumptions: []string{s.Source}}
	return picture("solar", "Solar energy by month", in, f)
}
