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
		return nil
	}
	for i := range p.Work.Laminates {
		if err := checkLaminate(&p.Work.Laminates[i]); err != nil {
			return err
		}
	}
	// areas and weights of cloth are judged with the schedule that they make
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

// checkLaminate judges the words of a laminate, and how many plies it has: each is laid by itself in the schedule, so
// that a count of millions would fill the memory.
func checkLaminate(l *pack.Laminate) error {
	_, known := laminate.Value(laminate.Processes, l.Process)
	// counted as far as they may go, so that the sum cannot overflow
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

// checkMeasured judges a form, and whether the material is kept in its unit.
func checkMeasured(p *pack.Pack, n *pack.BOMLine) error {
	t := p.Work.Sources[n.At].Takeoff
	if t == nil { // by a formula, a cut or a circuit
		return nil
	}
	// the sheet shows the parts by the words of the form, one for one
	f, ok := FormOf(t.Form)
	if !ok || len(t.Parts) != len(f.Parts) || n.Index < 0 {
		return fmt.Errorf("a quantity is measured as %.40q with %d parts", t.Form, len(t.Parts))
	}
	if m := &p.Costs.Materials[n.Index]; m.Unit != f.Unit {
		return fmt.Errorf("the material %s is measured as %s and not kept in %s", m.ID, f.Word, f.Unit)
	}
	return nil
}
