package laminate

import "fmt"

// The wet thickness of a gelcoat in mil (thousandths of an inch). 15 mil is 0.015 in, not the 0.15 in of some pages.
//
// Source: gelcoat pages: 15 to 25 mil usual.
const (
	leastGelcoat = 5
	mostGelcoat  = 40
)

// GelcoatDensity is a usual density in kg/l; the maker's data sheet counts.
//
// Source: from memory.
const GelcoatDensity = 1.2

func gelcoatThickness(place string, mils float64) error {
	return within(place, "wet thickness in mil", mils, leastGelcoat, mostGelcoat,
		"give 5 to 40 mil, usually 15 to 25; 15 mil is 0.015 in or 0.38 mm")
}

// CheckGelcoat checks a wet thickness in mm.
//
// Valid: 5 to 40 mil, which are 0.127 to 1.016 mm. Source: as [GelcoatCover].
func CheckGelcoat(wetMm float64) error {
	return within("working out gelcoat", "wet thickness in mm", wetMm, 0.0254*leastGelcoat, 0.0254*mostGelcoat,
		"0.13 to 1 mm are sprayed, usually 0.4 to 0.65")
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

// Gelcoat is the gelcoat of an area.
type Gelcoat struct{ Litres, Kilograms float64 }

// NewGelcoat is what an area takes.
//
// Formula: l = 0.0254×mils×area×(1 + loss); kg = l×density; area in m², density in kg/l.
// Valid: 5 to 40 mil; loss a share from 0 to 2 (overspray, pots).
// Source: one mil is 0.0254 mm; the loss is the yard's: common practice, no source.
func NewGelcoat(name string, area, mils, loss, density float64) (Gelcoat, error) {
	place := fmt.Sprintf("working out the gelcoat of %q", name)
	if err := numbers(place, input{"area", "m²", area}, input{"density", "kg/l", density}); err != nil {
		return Gelcoat{}, err
	}
	if err := gelcoatThickness(place, mils); err != nil {
		return Gelcoat{}, err
	}
	if err := share(place, "share of loss", loss); err != nil {
		return Gelcoat{}, err
	}
	litres := 0.0254 * mils * area * (1 + loss)
	return Gelcoat{litres, litres * density}, nil
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
