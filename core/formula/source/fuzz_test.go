package source

import (
	"testing"
	"unicode/utf8"

	"ribband/core/formula"
)

// FuzzLower: any text is either lowered or an error with a place in the text; what is lowered compiles for the
// reference too and gives the same on two states.
func FuzzLower(f *testing.F) {
	for _, text := range []string{
		"", "1", "-2.5e3 * hull.length_m", `has("top-fixed") and not has("sole-teak")`, `count("fender-small") > 2`,
		`chosen("top") == ""`, `chosen("sole") in ["sole-ply", "sole-teak"]`, `hull.id != "reed-65"`,
		`use.region not in ["us", "uk"]`,
		`figures.bank_v > 0 ? 1000 * figures.motor_kw / figures.bank_v : 0`, "min(1, use.persons, 3)",
		"round(abs(ceil(floor(2.5))))",
		"0 < use.persons <= 4", `hull["persons"]`, "1 /* two */ + 3", "0x1F + 0b11 + 0o7 + 1_000", "1 | abs()",
		"true ?: false", "1;", "::min(1)", "let a = 1; a", "\xff",
	} {
		f.Add(text)
	}
	scope := testScope()
	states := []*formula.State{
		{Counts: []int{0, 1, 0, 0, 0, 2, 0}, Slots: make([]int, 3), HullID: 1, Hull: []float64{5.4, 3.25, 6},
			Use: []float64{4, 4.5, 2, 1}, Figures: []float64{820, 48, 4}},
		{Counts: make([]int, 7), Slots: make([]int, 3), HullID: 0, Hull: make([]float64, 3), Use: make([]float64, 4),
			Figures: make([]float64, 3)},
	}
	for _, st := range states {
		fillSlots(scope, st)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, kind := range []formula.Kind{formula.Number, formula.Truth} {
			p, err := Lower(text, scope, kind)
			if err != nil {
				if err.Offset < 0 || err.Offset > len(text) || err.Offset < len(text) && utf8.ValidString(text) &&
					!utf8.RuneStart(text[err.Offset]) || err.Message == "" || err.Advice == "" {
					t.Fatalf("%q: a poor error: %+v", text, *err)
				}
				continue
			}
			if again, err := formula.Parse(p.String()); err != nil || again.String() != p.String() ||
				again.Kind() != kind {
				t.Fatalf("%q lowered to %s, which does not come back: %v", text, p, err)
			}
			both := newPair(text, p, reference(t, text, scope))
			for _, st := range states {
				both.agree(t, st)
			}
		}
	})
}
