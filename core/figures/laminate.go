package figures

import (
	"errors"
	"fmt"
	"strings"

	"ribband/core/formula"
)

// The laminates of a hull.
const (
	LaminateGlass  ID = "laminate.glass_kg"
	LaminateResin  ID = "laminate.resin_kg"
	LaminateShell  ID = "laminate.shell_kg"
	LaminateDeck   ID = "laminate.deck_kg"
	LaminateBottom ID = "laminate.bottom_mm"
	LaminateKeel   ID = "laminate.keel_mm"
)

// layup gives the mass and thickness of the laminates. They follow from the hull alone and were worked
// out when the book was compiled, so that a boat only looks them up.
//
// Formula: sums over the hull's laminates of area × kg/m²; bottom_mm is the thickness of shell and bottom upon each
// other, keel_mm with the keel.
// Valid: hand-laid or vacuum E-glass without voids; laps and offcuts are in the waste of the materials. These are
// weights and first checks: scantlings follow ISO 12215 and are settled by qualified persons. Source: package laminate
// (ISO 12215-5 Annex C).
var layup = module{
	name:    "laminate",
	byHull:  true,
	prepare: prepareLayup,
	outputs: []Definition{
		{ID: LaminateShell, Unit: "kg"},
		{ID: LaminateDeck, Unit: "kg"},
		{ID: LaminateBottom, Unit: "mm"},
		{ID: LaminateKeel, Unit: "mm"},
	},
}

// glass gives what is bought for the laminates: prices follow from it, the boat does not, and no competitor has to know
// it. Formula, Valid and Source: as layup.
var glass = module{
	name:    "laminate",
	byHull:  true,
	prepare: prepareGlass,
	outputs: []Definition{
		{ID: LaminateGlass, Unit: "kg", YardOnly: true},
		{ID: LaminateResin, Unit: "kg", YardOnly: true},
	},
}

// prepareGlass makes the solver of the module.
func prepareGlass(n *parts) (solver, error) {
	sums := n.pack.Costs.Glass
	if len(sums) != len(n.pack.Hulls) {
		return nil, errors.New("a hull has no laminates; add some")
	}
	return func(b *boat, out *results) formula.Fault {
		out.set(LaminateGlass, sums[b.State.HullID].GlassKg)
		out.set(LaminateResin, sums[b.State.HullID].ResinKg)
		return formula.Fault{}
	}, nil
}

// prepareLayup makes the solver of the module. A hull without laminates whose boats have a figure of them is refused
// rather than given zeros, which would read as a shell that weighs nothing.
func prepareLayup(n *parts) (solver, error) {
	hulls := n.pack.Hulls
	for i := range hulls {
		for f := range n.pack.Figures {
			if strings.HasPrefix(n.pack.Figures[f].Computed, "laminate.") && n.pack.Has(f, i) && hulls[i].Layup == nil {
				return nil, fmt.Errorf("the hull %s has no laminates; add some", hulls[i].ID)
			}
		}
	}
	return func(b *boat, out *results) formula.Fault {
		l := hulls[b.State.HullID].Layup
		if l == nil {
			return formula.Fault{} // of timber, say
		}
		out.set(LaminateShell, l.ShellKg)
		out.set(LaminateDeck, l.DeckKg)
		out.set(LaminateBottom, l.BottomMm)
		out.set(LaminateKeel, l.KeelMm)
		return formula.Fault{}
	}, nil
}
