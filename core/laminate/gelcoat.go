package laminate

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

// CheckGelcoat checks a wet thickness in mm.
//
// Valid: 5 to 40 mil, which are 0.127 to 1.016 mm. Source: as [GelcoatCover].
func CheckGelcoat(wetMm float64) error {
	return within("working out gelcoat", "wet thickness in mm", wetMm, 0.0254*leastGelcoat, 0.0254*mostGelcoat,
		"0.13 to 1 mm are sprayed, usually 0.4 to 0.65")
}
