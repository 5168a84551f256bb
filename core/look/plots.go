package look

import (
	"math"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/msg"
)

// RangePicture plots range over speed, with the speed of the use, and the conditions below it; empty where power or
// bank of the boat is not known.
func RangePicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	curve, ok := e.Figures.RangeCurve(b.State, 24)
	if !ok {
		return Picture{}, nil
	}
	in := drawing.RangeCurve{Name: e.Pack.Hulls[b.State.HullID].Title, Assumptions: []string{rangeConditions(e)}}
	for _, p := range curve {
		in.Points = append(in.Points, drawing.RangePoint{SpeedKn: p.SpeedKn, RangeNm: p.RangeNm,
			ReserveNm: p.ReserveNm})
	}
	if e.Figure(b, figures.SolarW) > 0 {
		in.Assumptions = append(in.Assumptions, e.Say("look.range-sun"))
	}
	// Range, reserve and speed of the use are those of the answer; the curve is computed by the same module at other
	// speeds, so that the point lies on it.
	in.WantedNm = e.Used(b, figures.UseRange)
	if nm := e.Computed(b, figures.PowerRange); nm > 0 {
		in.Use = &drawing.RangePoint{SpeedKn: e.Used(b, figures.UseSpeed), RangeNm: nm,
			ReserveNm: e.Computed(b, figures.PowerReserve)}
	}
	return Draw(e, "range", e.Say("look.range"), in, f)
}

// rangeConditions are what the curve of ranges is computed for. They stand below it, since a range without them says
// nothing.
func rangeConditions(e *engine.Engine) string {
	wind := figures.HeadWind()
	return e.Say("look.range-conditions", msg.Number("speed", wind.MS, msg.Exact), msg.Number("knots", wind.Kn, 0),
		msg.Count("force", wind.Force), msg.Number("reserve", 100*figures.Reserve, msg.Exact),
		msg.Number("celsius", figures.BankC, msg.Exact))
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
		Assumptions: []string{e.Say("look.levers-decked")}}
	for _, l := range levers {
		in.Points = append(in.Points, drawing.RightingLever{HeelDeg: l.Heel * 180 / math.Pi, GZ: l.GZ})
	}
	return Draw(e, "levers", e.Say("look.levers"), in, f)
}

// MassesPicture shows the masses by section, which together are what the boat displaces; empty for a book without
// masses.
func MassesPicture(e *engine.Engine, b *fit.Build, f drawing.Format) (Picture, error) {
	groups := massGroups(e, b)
	if len(groups) == 0 {
		return Picture{}, nil
	}
	return Draw(e, "masses", e.Say("look.masses"),
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
		var name string
		switch it.Option {
		case figures.BaseBoat:
			name = e.Say("look.base-boat")
		case figures.Aboard:
			name = e.Say("look.persons")
		default:
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
	return append(groups, drawing.MassGroup{Kg: figures.GrowthShare * boat,
		Name: e.Say("look.growth", msg.Number("percent", 100*figures.GrowthShare, msg.Exact))})
}
