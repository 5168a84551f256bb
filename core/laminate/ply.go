package laminate

import "fmt"

// Fibre is what a ply is made of.
type Fibre string

// The fibres of ISO 12215-5, Annex C.
const (
	EGlass Fibre = "E-glass"
	Carbon Fibre = "carbon"
	Aramid Fibre = "aramid"
)

// fibres holds the constants of t = w/a × (b/psi - c).
var fibres = map[Fibre]struct{ a, b, c float64 }{
	EGlass: {3072, 2.56, 1.36},
	Carbon: {2160, 1.8, 0.6},
	Aramid: {1740, 1.45, 0.25},
}

// PlyThickness is the thickness of a ply in mm.
//
// Formula: E-glass t = w/3072×(2.56/psi - 1.36); carbon t = w/2160×(1.8/psi - 0.6); aramid t = w/1740×(1.45/psi -
// 0.25); t in mm, w the fibre in g/m², psi the fibre's share of the mass.
// Valid: psi from 0.1 to 0.9, no voids; glass 2.56 and resin 1.2 g/cm³.
// Source: ISO 12215-5 Annex C, via a public implementation.
func PlyThickness(f Fibre, w, psi float64) (float64, error) {
	const place = "working out a ply"
	k, ok := fibres[f]
	if !ok {
		return 0, fmt.Errorf("%s: the fibre %.20q is unknown; give one of %s, %s, %s", place, string(f), EGlass, Carbon,
			Aramid)
	}
	if err := number(place, "fibre weight", "g/m²", w); err != nil {
		return 0, err
	}
	if err := fraction(place, psi); err != nil {
		return 0, err
	}
	return w / k.a * (k.b/psi - k.c), nil
}

// Density is that of an E-glass laminate in g/cm³.
//
// Formula: rho = 3.072/(2.56 - 1.36×psi), rho in g/cm³.
// Valid: psi from 0.1 to 0.9, no voids; glass 2.56 and resin 1.2 g/cm³.
// Source: the constants of ISO 12215-5 Annex C.
func Density(psi float64) (float64, error) {
	if err := fraction("working out a density", psi); err != nil {
		return 0, err
	}
	return 3.072 / (2.56 - float64(1.36*psi)), nil
}

func fraction(place string, psi float64) error {
	return within(place, "glass fraction psi", psi, 0.1, 0.9,
		"give a share of the mass from 0.1 to 0.9, such as 0.30 for hand-laid mat")
}
