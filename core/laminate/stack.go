package laminate

import "fmt"

// Ply is a layer of E-glass.
type Ply struct {
	Name   string
	Kind   Kind
	Weight float64 // g/m² of glass
	Psi    float64 // glass fraction; 0 takes the nominal one of the kind and method
}

// Laminate is what a stack of plies is, by m².
type Laminate struct {
	Plies     []Layer
	Glass     float64 // kg/m²
	Resin     float64 // kg/m²
	Thickness float64 // mm, ply by ply
	Psi       float64 // of the whole
	Density   float64 // g/cm³
}

// Layer is a ply worked out.
type Layer struct {
	Ply
	Thickness float64 // mm
	Resin     float64 // kg/m²
}

// Total is the laminate's mass in kg/m².
func (l Laminate) Total() float64 { return l.Glass + l.Resin }

// Stack works out a laminate from its plies.
//
// Formula: thickness, glass and resin are the sums of the plies' ([PlyThickness], [ResinNeed]); psi =
// sum(w)/sum(w/psi); density as [Density]. The mixed psi gives the thickness of the sum, since every ply is linear in w
// and w/psi. It does not where one psi is set for all plies: the standard's own example has 5.675 mm that way and
// 5.763 mm ply by ply.
// Valid: E-glass, no voids, at least one ply.
// Source: ISO 12215-5 Annex C and example C.3.2, via a public implementation.
func Stack(name string, plies []Ply, m Method) (Laminate, error) {
	if len(plies) == 0 {
		return Laminate{}, fmt.Errorf("stacking laminate %q: it has no plies; list each ply with its glass in g/m²",
			name)
	}
	var l Laminate
	for i, p := range plies {
		place := fmt.Sprintf("stacking laminate %q, ply %d, %q", name, i+1, p.Name)
		if p.Psi == 0 {
			psi, err := NominalFraction(p.Kind, m)
			if err != nil {
				return Laminate{}, fmt.Errorf("%s: %w", place, err)
			}
			p.Psi = psi
		}
		mm, err := PlyThickness(EGlass, p.Weight, p.Psi)
		if err != nil {
			return Laminate{}, fmt.Errorf("%s: %w", place, err)
		}
		kg := p.Weight / 1000
		layer := Layer{p, mm, kg * (1 - p.Psi) / p.Psi}
		l.Plies = append(l.Plies, layer)
		l.Glass += kg
		l.Resin += layer.Resin
		l.Thickness += mm
	}
	l.Psi = l.Glass / l.Total()
	l.Density = 3.072 / (2.56 - float64(1.36*l.Psi))
	return l, nil
}
