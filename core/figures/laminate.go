package figures

import (
	"fmt"

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

// layup gives the glass, resin, mass and thickness of the laminates. They follow from the hull alone and were worked
// out when the book was compiled, so that a boat only looks them up.
//
// Formula: sums over the hull's laminates of area × kg/m²; bottom_mm is the thickness of shell and bottom upon each
// other, keel_mm with the keel.
// Valid: hand-laid or vacuum E-glass without voids; laps and offcuts are in the waste of the materials. These are
// weights and first checks: scantlings follow ISO 12215 and are settled by qualified persons. Source: package laminate
// (ISO 12215-5 Annex C).
var layup = module{
	name: "laminate",
	follows: "`laminates`, by the hull alone: `shell_kg` is shell, bottom and keel; `bottom_mm` is the thickness of " +
		"shell and bottom, `keel_mm` with the keel",
	valid:   "hand-laid or vacuum E-glass without voids; weights and first checks, no scantlings",
	byHull:  true,
	prepare: prepareLayup,
	outputs: []Definition{
		{ID: LaminateGlass, Title: "glass in the laminates", Unit: "kg",
			Formula: "sum over the laminates of the hull: area × glass of the plies",
			Source:  "laminate schedule of the book"},
		{ID: LaminateResin, Title: "resin in the laminates", Unit: "kg",
			Formula: "sum over the plies: glass × (1 − ψ) / ψ, with ψ the share of glass by mass",
			Source:  "definition of ψ; nominal values of ISO 12215-5, Table C.2, from a secondary place"},
		{ID: LaminateShell, Title: "mass of the hull laminate", Unit: "kg",
			Formula: "glass and resin of the hull's laminates, stiffening counted",
			Source:  "laminate schedule of the book"},
		{ID: LaminateDeck, Title: "mass of the deck laminate", Unit: "kg",
			Formula: "glass and resin of the deck's laminates", Source: "laminate schedule of the book"},
		{ID: LaminateBottom, Title: "thickness of the bottom", Unit: "mm",
			Formula: "sum over the plies: w / 3072 × (2.56 / ψ − 1.36)",
			Source:  "ISO 12215-5, Annex C, from a secondary place"},
		{ID: LaminateKeel, Title: "thickness along the keel", Unit: "mm",
			Formula: "thickness of the bottom with the plies along the keel",
			Source:  "ISO 12215-5, Annex C, from a secondary place; up to 12.7 mm: common practice, no source"},
	},
}

func prepareLayup(n *parts) (solver, error) {
	hulls := n.pack.Hulls
	for i := range hulls {
		if hulls[i].Layup == nil {
			return nil, fmt.Errorf("the hull %s has no laminates; add some", hulls[i].ID)
		}
	}
	return func(b *boat, out *results) formula.Fault {
		l := hulls[b.State.HullID].Layup
		out.set(LaminateGlass, l.GlassKg)
		out.set(LaminateResin, l.ResinKg)
		out.set(LaminateShell, l.ShellKg)
		out.set(LaminateDeck, l.DeckKg)
		out.set(LaminateBottom, l.BottomMm)
		out.set(LaminateKeel, l.KeelMm)
		return formula.Fault{}
	}, nil
}
