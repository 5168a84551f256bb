package figures

import (
	"fmt"

	"ribband/core/formula"
	"ribband/core/pack"
)

// layup gives the glass, resin, mass and thickness of the laminates. They follow from the hull alone and were worked
// out when the book was compiled, so that a boat only looks them up.
//
// Formula: sums over the hull's laminates of area × kg/m²; bottom_mm is the thickness of shell and bottom upon each
// other, keel_mm with the keel.
// Valid: hand-laid or vacuum E-glass without voids; laps and offcuts are in the waste of the materials. These are
// weights and first checks: scantlings follow ISO 12215 and are settled by qualified persons. Source: package laminate
// (ISO 12215-5 Annex C).
var layup = module{
	name:    "laminate",
	outputs: []string{"glass_kg", "resin_kg", "shell_kg", "deck_kg", "bottom_mm", "keel_mm"},
	byHull:  true,
	prepare: prepareLayup,
}

func prepareLayup(p *pack.Pack, _ *names) (solver, error) {
	for i := range p.Hulls {
		if p.Hulls[i].Layup == nil {
			return nil, fmt.Errorf("the hull %s has no laminates; add some", p.Hulls[i].ID)
		}
	}
	return func(st *formula.State, out []float64) error {
		l := p.Hulls[st.HullID].Layup
		out[0], out[1], out[2], out[3], out[4], out[5] = l.GlassKg, l.ResinKg, l.ShellKg, l.DeckKg, l.BottomMm, l.KeelMm
		return nil
	}, nil
}
