package look

import (
	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
)

// SolarPart is what the panels of a boat bring in the mean day of each month, kWh, January first.
type SolarPart struct {
	KWh    [12]float64 `json:"kwh_a_day"`
	Source string      `json:"source"`
}

// Solar is the yield of a boat's panels by month, to the watt-hour; nil where it has none. Paper and picture take it
// from here.
func Solar(e *engine.Engine, b *fit.Build) *SolarPart {
	kwh, source, ok := e.Figures.SolarYield(b.State)
	if !ok {
		return nil
	}
	for i := range kwh {
		kwh[i] = measure.Round(kwh[i], 3)
	}
	return &SolarPart{kwh, e.Text(source)}
}

// SolarPicture plots the yield of the panels by month; empty where the boat has none.
func SolarPicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	s := Solar(e, b)
	if s == nil {
		return Picture{}, nil
	}
	in := drawing.SolarYield{Name: e.Pack.Hulls[b.State.HullID].Title, KWh: s.KWh, Assumptions: []string{s.Source}}
	return Draw(e, "solar", e.Say("look.solar"), in, f)
}
