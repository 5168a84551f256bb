package takeoff

import (
	"fmt"
	"slices"

	"ribband/core/laminate"
	"ribband/core/pack"
)

// maxLayers bounds the plies of one laminate: far beyond any boat.
const maxLayers = 1000

// Check judges what the yard's pack says of laminates and of how amounts were measured: reading a pack makes sure that
// every index leads somewhere, not that there is such a cloth.
func Check(p *pack.Pack) error {
	if p.Work == nil {
		return nil // other desks hold neither laminates nor how an amount was measured
	}
	// each by itself first, so that the error names the laminate and not the hull
	for i := range p.Work.Laminates {
		if err := checkLaminate(&p.Work.Laminates[i]); err != nil {
			return err
		}
	}
	// a schedule may fail as a whole where each laminate is in order: too thick, or of no area on this hull
	for h := range p.Hulls {
		if _, err := Schedule(p, h); err != nil {
			return fmt.Errorf("hull %s: %w", p.Hulls[h].ID, err)
		}
	}
	for _, items := range [][]pack.BillOfMaterials{p.Costs.Hulls, p.Costs.Options} {
		for i := range items {
			for j := range items[i].Materials {
				if err := checkMeasured(p, &items[i].Materials[j]); err != nil {
					return err
				}
			}
		}
	}
	return nil
}

// checkLaminate looks at the words of one laminate: its part, process and cloths are those that package laminate knows.
func checkLaminate(l *pack.Laminate) error {
	_, known := laminate.Value(laminate.Processes, l.Process)
	layers := 0
	for _, y := range l.Plies {
		if _, ok := laminate.Value(laminate.Cloths, y.Cloth); !ok || y.Count < 1 || y.Count > maxLayers {
			known = false
		}
		layers += min(max(y.Count, 0), maxLayers)
	}
	if !known || layers > maxLayers || !slices.Contains(laminate.Parts, l.Part) {
		return fmt.Errorf("laminate %s has an unknown part, process or cloth, or too many plies", l.ID)
	}
	return nil
}

// checkMeasured looks at how one amount was measured: the form is known, has its parts, and gives the material's unit.
// An amount that no form measured has nothing to look at.
func checkMeasured(p *pack.Pack, n *pack.BOMLine) error {
	t := p.Work.Sources[n.At].Takeoff
	if t == nil {
		return nil
	}
	f, ok := FormOf(t.Form)
	if !ok || len(t.Parts) != len(f.Parts) || n.Index < 0 {
		return fmt.Errorf("a quantity is measured as %.40q with %d parts", t.Form, len(t.Parts))
	}
	if m := &p.Costs.Materials[n.Index]; m.Unit != f.Unit {
		return fmt.Errorf("the material %s is measured as %s and not kept in %s", m.ID, f.Word, f.Unit)
	}
	return nil
}
