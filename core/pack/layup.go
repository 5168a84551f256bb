package pack

import (
	"fmt"
	"math"
	"slices"

	"ribband/core/formula"
	"ribband/core/laminate"
)

// Schedule works out the laminates of a hull; it has no rows where the book has none for it. A row is named by its
// laminate's title.
//
// Nothing is added for laps and offcuts: the waste of each material covers them.
func (p *Pack) Schedule(hull int) (laminate.Schedule, error) {
	var parts []laminate.Part
	st := formula.State{HullID: hull, Hull: p.Hulls[hull].Fields}
	for i := range p.Trade.Laminates {
		l := &p.Trade.Laminates[i]
		if !l.On(hull) {
			continue
		}
		part := laminate.Part{Name: l.Title, Area: l.AreaM2.Number()(&st)}
		part.Method, _ = laminate.Value(laminate.Processes, l.Process)
		for _, y := range l.Plies {
			kind, _ := laminate.Value(laminate.Cloths, y.Cloth)
			for range y.Count {
				part.Plies = append(part.Plies, laminate.Ply{Name: fmt.Sprintf("%s %g", y.Cloth, y.GM2), Kind: kind,
					Weight: y.GM2})
			}
		}
		parts = append(parts, part)
	}
	return laminate.NewSchedule(parts)
}

// On says whether a laminate lies on a hull.
func (l *Laminate) On(hull int) bool { return len(l.Hulls) == 0 || slices.Contains(l.Hulls, hull) }

// NewLayup sums the laminates of a hull; nil where there are none.
//
// Formula: bottom_mm = sum of the thickness of shell and bottom, keel_mm = with that of the keel; the rest are sums of
// kg.
// Valid: laminates of one part lie upon each other. Source: [laminate.NewSchedule].
func (p *Pack) NewLayup(hull int) (*Layup, error) {
	s, err := p.Schedule(hull)
	if err != nil || len(s.Rows) == 0 {
		return nil, err
	}
	out := &Layup{GlassKg: s.Glass, ResinKg: s.Resin}
	row := 0
	for i := range p.Trade.Laminates {
		l := &p.Trade.Laminates[i]
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

// HullAlone says whether a formula reads nothing but the hull.
func HullAlone(f formula.Program) bool {
	r := f.Reads()
	return len(r.Options)+len(r.Slots)+len(r.Use)+len(r.Figures) == 0
}

// maxLayers bounds the plies of one laminate: far beyond any boat.
const maxLayers = 1000

func (c *checker) laminates(t *Trade) {
	for _, l := range t.Laminates {
		c.hullList("laminate "+l.ID, l.Hulls)
		c.index("source", l.At, len(t.Sources))
		c.program("the area of laminate "+l.ID, l.AreaM2, formula.Number, false)
		_, known := laminate.Value(laminate.Processes, l.Process)
		layers := 0
		for _, y := range l.Plies {
			if _, ok := laminate.Value(laminate.Cloths, y.Cloth); !ok || y.Count < 1 || y.Count > maxLayers {
				known = false
			}
			layers += min(max(y.Count, 0), maxLayers)
		}
		if !known || layers > maxLayers || !slices.Contains(laminate.Parts, l.Part) {
			c.fail("laminate %s has an unknown part, process or cloth, or too many plies", l.ID)
		}
		if c.err == nil && !HullAlone(l.AreaM2) {
			c.fail("the area of laminate %s reads more than the hull", l.ID)
		}
	}
	if c.err != nil {
		return
	}
	for h := range c.pack.Hulls {
		if _, err := c.pack.Schedule(h); err != nil {
			c.fail("hull %s: %w", c.pack.Hulls[h].ID, err)
		}
	}
}

func (c *checker) cuts(t *Trade) {
	length := func(id string, mm float64, least float64) {
		if math.IsNaN(mm) || mm < least || mm > 1e6 {
			c.fail("cut %s has a length of %v mm", id, mm)
		}
	}
	for _, cut := range t.Cuts {
		length(cut.ID, cut.SeamMm, 0)
		for _, s := range cut.Stocks {
			for _, o := range s.Options {
				c.index("option of cut "+cut.ID, o, len(c.pack.Options))
			}
			length(cut.ID, s.WidthMm, 1e-3)
			length(cut.ID, s.LengthMm, 0)
			length(cut.ID, s.KerfMm, 0)
		}
		for _, p := range cut.Pieces {
			c.program("a width of cut "+cut.ID, p.WidthMm, formula.Number, false)
			c.program("a length of cut "+cut.ID, p.LengthMm, formula.Number, false)
			c.program("a count of cut "+cut.ID, p.Count, formula.Number, true)
			c.index("source", p.At, len(t.Sources))
		}
	}
}
