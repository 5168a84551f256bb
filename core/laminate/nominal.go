package laminate

import "fmt"

// Kind is a kind of reinforcement.
type Kind string

// The reinforcements of ISO 12215-5, Table C.2.
const (
	Mat              Kind = "chopped strand mat"
	Roving           Kind = "woven roving"
	Multidirectional Kind = "multidirectional"
	Unidirectional   Kind = "unidirectional"
)

// Method is how a part is laid up.
type Method string

// The columns of ISO 12215-5, Table C.2.
const (
	HandSimple  Method = "hand, simple"
	HandComplex Method = "hand, complex"
	Vacuum      Method = "vacuum or infusion"
)

var nominal = map[Kind]map[Method]float64{
	Mat:              {HandSimple: 0.30, HandComplex: 0.25, Vacuum: 0.36},
	Roving:           {HandSimple: 0.48, HandComplex: 0.36, Vacuum: 0.58},
	Multidirectional: {HandSimple: 0.50, HandComplex: 0.38, Vacuum: 0.60},
	Unidirectional:   {HandSimple: 0.55, HandComplex: 0.41, Vacuum: 0.66},
}

// NominalFraction is the glass fraction psi that a reinforcement usually reaches.
//
// Formula: table.
// Valid: E-glass; simple is a large, gently curved part, complex one with corners and frames.
// Source: ISO 12215-5 Table C.2, via a public implementation.
func NominalFraction(k Kind, m Method) (float64, error) {
	byMethod, ok := nominal[k]
	if !ok {
		return 0, fmt.Errorf("looking up a glass fraction: the reinforcement %.40q is unknown; give one of: %s, %s, "+
			"%s, %s",
			string(k), Mat, Roving, Multidirectional, Unidirectional)
	}
	psi, ok := byMethod[m]
	if !ok {
		return 0, unknownMethod(m)
	}
	return psi, nil
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

func unknownMethod(m Method) error {
	return fmt.Errorf("looking up a glass fraction: the method %.40q is unknown; give one of: %s; %s; %s", string(m),
		HandSimple, HandComplex, Vacuum)
}
