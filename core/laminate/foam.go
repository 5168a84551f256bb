package laminate

import "fmt"

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

// FoamLayer is a layer of a cushion, top first.
type FoamLayer struct {
	Name      string
	Thickness float64 // mm
	Density   float64 // kg/m³
}

// Cushion is a cushion with its layers.
type Cushion struct {
	Name          string
	Width, Length float64 // mm
	Count         int
	Layers        []FoamLayer
}

// LayerNeed is a layer of all its cushions.
type LayerNeed struct {
	Name      string
	Litres    float64
	BoardFeet float64
	Kilograms float64
}

// CushionNeed is what a cushion takes, all of its count together.
type CushionNeed struct {
	Layers    []LayerNeed
	Thickness float64 // mm of one
	Litres    float64
	BoardFeet float64
	Kilograms float64
	Cover     float64 // m² of cover: top, bottom and border, without seams
}

// NewCushion works out the foam of a cushion.
//
// Formula: l = W×L×T×count/10⁶ for each layer, mm; bf = l/2.359737; kg = l×density/1000; cover = 2×(W×L + (W + L)×T).
// Valid: rectangular cushions; give a shaped one the rectangle that it is cut from. Seams and waste come on top.
// Source: geometry; 1 bf = 144 in³ = 2.359737 l.
func NewCushion(c Cushion) (CushionNeed, error) {
	place := fmt.Sprintf("working out cushion %q", c.Name)
	if err := numbers(place, input{"width", "mm", c.Width}, input{"length", "mm", c.Length}); err != nil {
		return CushionNeed{}, err
	}
	if err := within(place, "count", float64(c.Count), 1, 1000, "give 1 to 1000"); err != nil {
		return CushionNeed{}, err
	}
	if len(c.Layers) == 0 {
		return CushionNeed{}, fmt.Errorf("%s: it has no layers; list each foam with its thickness", place)
	}
	var need CushionNeed
	for i, l := range c.Layers {
		layer := fmt.Sprintf("%s, layer %d, %q", place, i+1, l.Name)
		if err := numbers(layer, input{"thickness", "mm", l.Thickness},
			input{"density", "kg/m³", l.Density}); err != nil {
			return CushionNeed{}, err
		}
		litres := c.Width * c.Length * l.Thickness * float64(c.Count) / 1e6
		n := LayerNeed{l.Name, litres, litres / LitresPerBoardFoot, litres * l.Density / 1000}
		need.Layers = append(need.Layers, n)
		need.Thickness += l.Thickness
		need.Litres += n.Litres
		need.BoardFeet += n.BoardFeet
		need.Kilograms += n.Kilograms
	}
	need.Cover = 2 * (c.Width*c.Length + (c.Width+c.Length)*need.Thickness) * float64(c.Count) / 1e6
	return need, nil
}
