package takeoff

import (
	"fmt"

	"ribband/core/formula"
	"ribband/core/laminate"
	"ribband/core/pack"
)

// Schedule works out the laminates of a hull; it has no rows where the book has none for it. A row is named by its
// laminate's title.
//
// Nothing is added for laps and offcuts: the waste of each material covers them.
func Schedule(p *pack.Pack, hull int) (laminate.Schedule, error) {
	var parts []laminate.Part
	st := formula.State{HullID: hull, Hull: p.Hulls[hull].Fields}
	for i := range p.Work.Laminates {
		l := &p.Work.Laminates[i]
		if !l.On(hull) {
			continue
		}
		// words that package laminate does not know are refused by Check
		part := laminate.Part{Name: l.Title, Area: l.AreaM2.Number()(&st)}
		part.Method, _ = laminate.Value(laminate.Processes, l.Process)
		for _, y := range l.Plies {
			kind, _ := laminate.Value(laminate.Cloths, y.Cloth)
			// plies alike are stated once in the book and laid one by one
			for range y.Count {
				part.Plies = append(part.Plies, laminate.Ply{Name: fmt.Sprintf("%s %g", y.Cloth, y.GM2), Kind: kind,
					Weight: y.GM2})
			}
		}
		parts = append(parts, part)
	}
	return laminate.NewSchedule(parts)
}

// Layup is what the laminates of a hull come to.
type Layup struct {
	pack.Layup
	pack.Glass
}

// NewLayup sums the laminates of a hull; nil where there are none.
//
// Formula: bottom_mm = sum of the thickness of shell and bottom, keel_mm = with that of the keel; the rest are sums of
// kg.
// Valid: laminates of one part lie upon each other. Source: [laminate.NewSchedule].
func NewLayup(p *pack.Pack, hull int) (*Layup, error) {
	s, err := Schedule(p, hull)
	if err != nil || len(s.Rows) == 0 {
		return nil, err
	}
	out := &Layup{Glass: pack.Glass{GlassKg: s.Glass, ResinKg: s.Resin}}
	// rows are in the order of the laminates on this hull
	row := 0
	for i := range p.Work.Laminates {
		l := &p.Work.Laminates[i]
		if !l.On(hull) {
			continue
		}
		r := &s.Rows[row]
		row++
		switch l.Part {
		case "shell", "bottom":
			out.BottomMm += r.Laminate.Thickness
			out.KeelMm += r.Laminate.Thickness
			out.ShellKg += r.Weight()
		case "keel":
			out.KeelMm += r.Laminate.Thickness
			out.ShellKg += r.Weight()
		case "deck":
			out.DeckKg += r.Weight()
		}
	}
	return out, nil
}
