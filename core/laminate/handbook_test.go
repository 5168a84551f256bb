package laminate

import "fmt"

// Formulas of handbooks and suppliers that the program does not need: the tests hold the stack of plies, boards and
// gelcoat against them, and them against printed examples. So do those of the files paint_test.go, scantling_test.go
// and timber_test.go.

// GlassFor is the E-glass in kg/m² that makes a thickness.
//
// Formula: w = 3.072×t/(2.56/psi - 1.36), w in kg/m², t in mm, psi the glass's share of the mass.
// Valid: as [PlyThickness], which it turns round.
// Source: as [PlyThickness].
func GlassFor(mm, psi float64) (float64, error) {
	const place = "working out the glass of a thickness"
	if err := number(place, "thickness", "mm", mm); err != nil {
		return 0, err
	}
	if err := fraction(place, psi); err != nil {
		return 0, err
	}
	return 3.072 * mm / (2.56/psi - 1.36), nil
}

// ResinNeed is the resin that goes with some glass, in the unit of the glass.
//
// Formula: resin = glass×(1 - psi)/psi; psi the glass's share of the mass. Mat at 0.30 takes 2.333 of resin, not the
// 2.5 of some pages, which is 28.6 % glass.
// Valid: psi from 0.1 to 0.9; no waste.
// Source: definition of psi.
func ResinNeed(glass, psi float64) (float64, error) {
	const place = "working out resin"
	if err := number(place, "glass", "kg", glass); err != nil {
		return 0, err
	}
	if err := fraction(place, psi); err != nil {
		return 0, err
	}
	return glass * (1 - psi) / psi, nil
}

// FractionOfRatio is the glass fraction of a ratio of resin to glass by mass.
//
// Formula: psi = 1/(1 + ratio).
// Valid: ratio above zero.
// Source: definition of psi.
func FractionOfRatio(resinToGlass float64) (float64, error) {
	if err := number("reading a resin ratio", "resin for each part of glass", "parts", resinToGlass); err != nil {
		return 0, err
	}
	return 1 / (1 + resinToGlass), nil
}

// NominalMixed is the glass fraction psi of mat and roving together.
//
// Formula: hand, simple 0.46 - 0.18R; hand, complex 0.35 - 0.11R; vacuum 0.56 - 0.22R; R = mass of mat/mass of all
// glass.
// Valid: R from 0 to 1. It is a line through the practice of mixed laminates and differs a little from the table at its
// ends.
// Source: ISO 12215-5 Table C.2, via a public implementation.
func NominalMixed(r float64, m Method) (float64, error) {
	if err := within("looking up a glass fraction", "share of mat R", r, 0, 1,
		"give the mass of mat over the mass of all glass, from 0 to 1"); err != nil {
		return 0, err
	}
	switch m {
	case HandSimple:
		return 0.46 - 0.18*r, nil
	case HandComplex:
		return 0.35 - 0.11*r, nil
	case Vacuum:
		return 0.56 - 0.22*r, nil
	}
	return 0, unknownMethod(m)
}

// WetOut is the resin in US gallons that some layers of cloth take over an area in ft², by the cover of each layer in
// ft²/gal.
//
// Formula: gal = sum(area/cover).
// Valid: a supplier's rule of thumb to hold against [Stack]: 40 ft² of 8-10 oz cloth, 50 of 3/4 oz mat, 30 of 1.5 oz
// mat, 35 of 24 oz roving.
// Source: resin supplier's page.
func WetOut(area float64, covers ...float64) (float64, error) {
	const place = "working out the wet-out"
	if err := number(place, "area", "ft²", area); err != nil {
		return 0, err
	}
	gallons := 0.0
	for i, c := range covers {
		if err := number(place, fmt.Sprintf("cover of layer %d", i+1), "ft²/gal", c); err != nil {
			return 0, err
		}
		gallons += area / c
	}
	return gallons, nil
}

// GelcoatCover is the area in ft² that one US gallon covers.
//
// Formula: ft²/gal = 231/144×1000/mils = 1604.17/mils, mils the wet thickness in thousandths of an inch.
// Valid: 5 to 40 mil; theory, no loss.
// Source: 231 in³ in a US gallon; gelcoat pages (16 mil: 100.25 ft²).
func GelcoatCover(mils float64) (float64, error) {
	if err := gelcoatThickness("working out gelcoat", mils); err != nil {
		return 0, err
	}
	return 231. / 144 * 1000 / mils, nil
}

func gelcoatThickness(place string, mils float64) error {
	return within(place, "wet thickness in mil", mils, leastGelcoat, mostGelcoat,
		"give 5 to 40 mil, usually 15 to 25; 15 mil is 0.015 in or 0.38 mm")
}

// FoamBoardFeet is a block of foam in board feet.
//
// Formula: bf = W×L×T/144, all in in; a board foot is 144 in³.
// Valid: foam is sold by its true thickness, unlike timber.
// Source: definition of the board foot.
func FoamBoardFeet(width, length, thickness float64) (float64, error) {
	err := numbers("working out a cushion", input{"width", "in", width}, input{"length", "in", length},
		input{"thickness", "in", thickness})
	if err != nil {
		return 0, err
	}
	return width * length * thickness / 144, nil
}
