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

func unknownMethod(m Method) error {
	return fmt.Errorf("looking up a glass fraction: the method %.40q is unknown; give one of: %s; %s; %s", string(m),
		HandSimple, HandComplex, Vacuum)
}
