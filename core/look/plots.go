package look

import (
	"fmt"
	"math"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
)

// RangePicture plots range over speed, with the speed of the use, and the conditions below it; empty where power or
// bank of the boat is not known.
func RangePicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	curve, ok := e.Figures.RangeCurve(b.State, 24)
	if !ok {
		return Picture{}, nil
	}
	in := drawing.RangeCurve{Name: e.Pack.Hulls[b.State.HullID].Title, Assumptions: []string{
		fmt.Sprintf("Head wind of %s, %g\u00a0%% of the usable energy kept in reserve, bank at %g\u00a0°C and new; "+
			"flat, deep water.", figures.HeadWind(), 100*figures.Reserve, figures.BankC)}}
	for _, p := range curve {
		in.Points = append(in.Points, drawing.RangePoint{SpeedKn: p.SpeedKn, RangeNm: p.RangeNm,
			ReserveNm: p.ReserveNm})
	}
	if e.Figure(b, figures.SolarW) > 0 {
		in.Assumptions = append(in.Assumptions, "With the sun of an average July day for the hours under way.")
	}
	in.WantedNm = e.Used(b, figures.UseRange)
	if nm := e.Computed(b, figures.PowerRange); nm > 0 {
		in.Use = &drawing.RangePoint{SpeedKn: e.Used(b, figures.UseSpeed), RangeNm: nm,
			ReserveNm: e.Computed(b, figures.PowerReserve)}
	}
	return Draw(e, "range", "Range at each speed", in, f)
}

// LeversPicture plots the righting levers of the loaded boat and where water comes aboard, the heel that the answer
// gives; empty where they cannot be computed.
func LeversPicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	levers, gm, ok := e.Figures.Levers(b.State)
	if !ok {
		return Picture{}, nil
	}
	in := drawing.RightingLevers{Name: e.Pack.Hulls[b.State.HullID].Title, GM: gm,
		Flooding:    e.Computed(b, figures.StabilityFloodingHeel),
		Assumptions: []string{"As a decked hull, free to trim; an open boat floods when its sheer is under water."}}
	for _, l := range levers {
		in.Points = append(in.Points, drawing.RightingLever{HeelDeg: l.Heel * 180 / math.Pi, GZ: l.GZ})
	}
	return Draw(e, "levers", "Righting levers", in, f)
}

// MassesPicture shows the masses by section, which together are what the boat displaces; empty for a book without
// masses.
func MassesPicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	groups := massGroups(e, b)
	if len(groups) == 0 {
		return Picture{}, nil
	}
	return Draw(e, "masses", "Weight by section",
		drawing.Masses{Name: e.Pack.Hulls[b.State.HullID].Title, Groups: groups}, f)
}

// massGroups sums the mass table: the base boat, each section's options, the persons; then the growth with which the
// boat is floated, kg. The order is that of the table, so that a section stands where its first option does.
func massGroups(e *engine.Engine, b *fit.Build) []drawing.MassGroup {
	items := e.Figures.MassTable(b.State)
	if len(items) == 0 {
		return nil
	}
	var groups []drawing.MassGroup
	at := map[string]int{}
	for _, it := range items {
		name := it.Name
		if it.Option >= 0 {
			name = e.Pack.Sections[e.Pack.Slots[e.Pack.Options[it.Option].Slot].Section].Title
		}
		if _, ok := at[name]; !ok {
			at[name] = len(groups)
			groups = append(groups, drawing.MassGroup{Name: name})
		}
		groups[at[name]].Kg += it.Mass
	}
	boat := 0.0
	for _, it := range items[:len(items)-1] { // the persons are last
		boat += it.Mass
	}
	return append(groups, drawing.MassGroup{Name: fmt.Sprintf("Growth, %g\u00a0%% of the boat",
		100*figures.GrowthShare), Kg: figures.GrowthShare * boat})
}
