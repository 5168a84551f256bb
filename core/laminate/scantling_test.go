package laminate

import (
	"fmt"
	"math"

	"ribband/core/msg"
)

// LeastGlass is the least glass of an outside hull in kg/m².
//
// Formula: bottom w = 0.43×k5×(1.5 + 0.03×V + 0.15×m^0.33); sides the same without 0.03×V; w in kg/m², V the top speed
// in kn, m the loaded displacement in kg, k5 the factor of the fibre (1 for mat and roving of E-glass).
// Valid: monohulls of glass-fibre, 2.5 to 24 m; each number above zero. A first check, see [Caution].
// Source: ISO 12215-5:2008 eq. 47, read in a secondary place.
func LeastGlass(kg, knots, k5 float64) (bottom, side float64, err error) {
	if err := numbers("working out the least glass", input{"displacement", "kg", kg}, input{"speed", "kn", knots},
		input{"fibre factor k5", "", k5}); err != nil {
		return 0, 0, err
	}
	side = 0.43 * k5 * (1.5 + 0.15*math.Pow(kg, 0.33))
	return side + 0.43*k5*0.03*knots, side, nil
}

// FlexuralStrength is the flexural strength in N/mm² of a laminate like mat.
//
// Formula: 0.8×(502×psi² + 107), psi the glass's share of the mass. The design value is half of it.
// Valid: hand-laid mat or mat and roving; psi from 0.1 to 0.9.
// Source: ISO 12215-5, via a public implementation.
func FlexuralStrength(psi float64) (float64, error) {
	if err := fraction("working out a strength", psi); err != nil {
		return 0, err
	}
	return 0.8 * (502*psi*psi + 107), nil
}

// Panel is an unsupported panel of a single skin.
type Panel struct {
	Name      string
	Span      float64 // mm, the short side b
	Curvature float64 // kc, 1 for a flat panel
	Pressure  float64 // kN/m², the design pressure P
	Aspect    float64 // k2, 0.5 for a long panel
}

// SkinThickness is the least thickness of a panel in mm.
//
// Formula: t = b×kc×sqrt(P×k2/(1000×sd)); b in mm, P in kN/m², sd the design strength in N/mm² (half of
// [FlexuralStrength]).
// Valid: single skin, strength only, not stiffness; kc from 0.5 to 1, k2 up to 0.5. A first check, see [Caution].
// Source: ISO 12215-5, via a public implementation.
func SkinThickness(p Panel, strength float64) (float64, error) {
	place := fmt.Sprintf("working out panel %q", p.Name)
	err := numbers(place, input{"short span", "mm", p.Span}, input{"design pressure", "kN/m²", p.Pressure},
		input{"design strength", "N/mm²", strength})
	if err != nil {
		return 0, err
	}
	if err := within(place, "curvature factor kc", p.Curvature, 0.5, 1,
		"give a factor from 0.5 to 1; 1 is flat"); err != nil {
		return 0, err
	}
	if err := within(place, "aspect factor k2", p.Aspect, 0.1, 0.5,
		"give a factor from 0.1 to 0.5; 0.5 is a long panel"); err != nil {
		return 0, err
	}
	return p.Span * p.Curvature * math.Sqrt(p.Pressure*p.Aspect/(1000*strength)), nil
}

// Check is a figure beside its least value.
type Check struct {
	What       msg.Message
	Unit       string
	Have, Need float64
	OK         bool
	Caution    msg.Message
}

// CheckSkin holds a laminate against the thickness that a panel needs.
//
// Formula: OK where the laminate's thickness ≥ [SkinThickness] with half of [FlexuralStrength] at its psi.
// Valid, Source: as those.
func CheckSkin(p Panel, l Laminate) (Check, error) {
	strength, err := FlexuralStrength(l.Psi)
	if err != nil {
		return Check{}, fmt.Errorf("checking panel %q: %w", p.Name, err)
	}
	need, err := SkinThickness(p, strength/2)
	if err != nil {
		return Check{}, err
	}
	return check(msg.Plain(fmt.Sprintf("single skin of panel %q", p.Name)), "mm", l.Thickness, need)
}

// CheckGlass holds a laminate against a least glass in kg/m², see [LeastGlass].
//
// Formula: OK where glass ≥ least.
// Valid, Source: as [LeastGlass].
func CheckGlass(name string, l Laminate, needed float64) (Check, error) {
	if err := number(fmt.Sprintf("checking the glass of %q", name), "least glass", "kg/m²", needed); err != nil {
		return Check{}, err
	}
	return check(msg.Plain(fmt.Sprintf("glass of %q", name)), "kg/m²", l.Glass, needed)
}

func check(what msg.Message, unit string, have, need float64) (Check, error) {
	if err := number("checking the "+what.String(), "laminate's figure", unit, have); err != nil {
		return Check{}, err
	}
	return Check{what, unit, have, need, have >= need, Caution}, nil
}
