package pack

import "math"

// A use field has finitely many values, so that what depends on it can be listed: the choices, or the steps from min to
// max.

// Steps is how many values the field has.
func (u *UseField) Steps() int {
	if len(u.Choices) > 0 {
		return len(u.Choices)
	}
	return int(math.Floor((u.Max-u.Min)/u.Step+1e-9)) + 1
}

// StepOf is the number of the value nearest to v, from 0; for a choice its index.
func (u *UseField) StepOf(v float64) int {
	if len(u.Choices) > 0 {
		return int(v)
	}
	return int(math.Round((v - u.Min) / u.Step))
}

// Value is the field's value number step: the inverse of [UseField.StepOf].
func (u *UseField) Value(step int) float64 {
	if len(u.Choices) > 0 {
		return float64(step)
	}
	return math.Round((u.Min+float64(float64(step)*u.Step))*1e9) / 1e9
}
