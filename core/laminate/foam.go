package laminate

// FlotationDensity is the density in kg/m³ of the usual flotation foam of 2 lb/ft³.
//
// Source: foam pages: 2 lb/ft³ = 32.04 kg/m³.
const FlotationDensity = 2 * 0.45359237 / 0.028316846592

// Foam is foam to buy.
type Foam struct{ Litres, Kilograms float64 }

// FlotationFoam is the foam that fills a volume.
//
// Formula: l = 1000×V×(1 + loss); kg = V×density×(1 + loss); V in m³, density in kg/m³.
// Valid: loss a share from 0 to 2 (trimmings, overpacking). How much foam a boat needs is another question: local rules
// and the hull's calculation decide. Two-part foams give off heat and harmful vapour: follow the maker's data sheet.
// Source: definition of density; the loss is the yard's: common practice, no source.
func FlotationFoam(volume, density, loss float64) (Foam, error) {
	const place = "working out flotation foam"
	if err := numbers(place, input{"volume", "m³", volume}, input{"density", "kg/m³", density}); err != nil {
		return Foam{}, err
	}
	if err := share(place, "share of loss", loss); err != nil {
		return Foam{}, err
	}
	v := volume * (1 + loss)
	return Foam{1000 * v, v * density}, nil
}

// SubmergedFactor is the share of a material's weight that pulls a swamped boat down.
//
// Formula: K = (sg - 1)/sg, sg the density against fresh water.
// Valid: sg above zero. K is negative for what floats: fir plywood has -0.81, though a form prints +0.81.
// Source: USCG flotation guide (GRP 0.33, aluminium 0.63, ABS 0.11, fir plywood -0.81).
func SubmergedFactor(sg float64) (float64, error) {
	if err := number("working out a submerged weight", "specific gravity", "", sg); err != nil {
		return 0, err
	}
	return (sg - 1) / sg, nil
}
