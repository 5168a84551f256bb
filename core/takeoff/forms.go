package takeoff

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ribband/core/formula"
	"ribband/core/laminate"
)

// Form is a way to measure a material in numbers: a formula of its parts, which stand in it as use fields do in others.
// The book states the parts, each by its key; the pack holds the one formula that they make, so that nothing at a desk
// has to know forms but the sheet that lists the parts again.
type Form struct {
	Word    string
	Unit    string     // of the material
	Parts   []string   // keys, in order
	Default []*float64 // of parts that may be left out; nil for those that may not
	amount  formula.Program
}

// Forms are the ways to measure in numbers. What a boat takes, what it costs and what stands on the sheet come from
// these formulas alone.
//
// Formula: foam m³ = A×T/1000; timber m³ = T×W×L×n/10⁶; tube m = n×(2×H + W - (4 - pi)×r + 8×c²/(3×W)) + straight
// lengths: two legs, the roof, two quarter bends that cut the corners, and what the crown adds; coat l = A×n/cover;
// gelcoat kg = A×wet thickness×density. Areas in m², T, W of timber and wet thickness in mm, lengths in m to the
// tube's middle, cover in m²/l by coat.
// Valid: foam of rectangles (a shaped cushion is cut from one); r at most H and W/2, c at most W/4, the arc of a
// shallow crown; gelcoat as [laminate.CheckGelcoat]; theory, without waste, which stands with the material. Seams,
// mitres, sleeves and offcuts are part of it.
// Source: geometry; covers are the paint maker's, the density [laminate.GelcoatDensity].
var Forms = []Form{
	form("foam", "m3", "area_m2 thickness_mm", "u0 u1 * n1000 /"),
	form("timber", "m3", "thickness_mm width_mm length_m count=1", "u0 u1 * u2 * u3 * n1000 / n1000 /"),
	form("tube", "m", "hoops width_m height_m straight_m=0 crown_m=0 radius_m=0",
		fmt.Sprintf("u0 n2 u2 * u1 + n%v u5 * - n8 u4 * u4 * n3 u1 * / + * u3 +", 4-math.Pi)),
	form("coat", "l", "area_m2 coats cover_m2_l", "u0 u1 * u2 /"),
	form("gelcoat", "kg", "area_m2 wet_mm", fmt.Sprintf("u0 u1 * n%v *", laminate.GelcoatDensity)),
}

// form makes a form of its parts, of which some have a number that they are where nothing is said.
func form(word, unit, parts, amount string) Form {
	f := Form{Word: word, Unit: unit}
	for _, p := range strings.Fields(parts) {
		key, value, optional := strings.Cut(p, "=")
		f.Parts = append(f.Parts, key)
		var standard *float64
		if optional {
			v, err := strconv.ParseFloat(value, 64)
			if err != nil {
				panic(err) // the table above is wrong
			}
			standard = &v
		}
		f.Default = append(f.Default, standard)
	}
	// the formulas above are read once when the program begins, and a test measures with each of them
	p, err := formula.Parse(amount)
	if err != nil {
		panic(err)
	}
	f.amount = p
	return f
}

// FormOf finds a form by its word, the key under which the book states the parts.
func FormOf(word string) (*Form, bool) {
	i := slices.IndexFunc(Forms, func(f Form) bool { return f.Word == word })
	if i < 0 {
		return nil, false
	}
	return &Forms[i], true
}

// Compose makes the amount of its parts, as one formula. It fails where they are not as many numbers as the form has
// parts.
func (f *Form) Compose(parts []formula.Program) (formula.Program, error) {
	if len(parts) != len(f.Parts) {
		return formula.Program{}, fmt.Errorf("measuring %s: %d parts, want %d", f.Word, len(parts), len(f.Parts))
	}
	// in postfix a part may stand wherever its number does, without brackets
	var steps []formula.Step
	for _, s := range f.amount.Steps() {
		if s.Op == formula.Use {
			steps = append(steps, parts[s.Index].Steps()...)
		} else {
			steps = append(steps, s)
		}
	}
	return formula.New(steps)
}

// Text writes the composed formula, given how the parts are written.
func (f *Form) Text(parts []string) string {
	// a part of more than one word keeps its brackets, so that a reader sees what was put in
	var put []string
	for i, p := range parts {
		if strings.ContainsAny(p, " +-*/<>=?") {
			p = "(" + p + ")"
		}
		put = append(put, fmt.Sprintf("use.part%d", i), p)
	}
	part := func(i int) string { return fmt.Sprintf("part%d", i) }
	return strings.NewReplacer(put...).Replace(f.amount.Infix(formula.Words{Use: part}))
}
