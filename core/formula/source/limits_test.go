package source

import (
	"strings"
	"testing"

	"ribband/core/formula"
)

const smaller = "write parts of it as figures of their own"

// A chain of comparisons lowers its middle twice. Nested, that doubled with every level: 500 bytes could fill the
// memory.
func TestNestedChainsEnd(t *testing.T) {
	text := "1"
	for range 40 {
		text = "(0<(" + text + ")<2?1:0)"
	}
	_, err := Lower(text, testScope(), formula.Number)
	if want := (Error{0, "the formula has more than 10000 steps", smaller}); err == nil || *err != want {
		t.Errorf("%+v, want %+v", err, want)
	}
}

func TestTooDeep(t *testing.T) {
	for text, want := range map[string]Error{
		strings.Repeat("(", 5_000_000) + "1": {10_000, "the formula has 5000001 bytes; at most 10000", smaller},
		strings.Repeat("(", 9_999) + "1":     {9_999, "unexpected token EOF", listed},
	} {
		if _, err := Lower(text, testScope(), formula.Number); err == nil || *err != want {
			t.Errorf("%.10s: %+v, want %+v", text, err, want)
		}
	}
}

// Whatever is lowered is read back from a pack: the longest texts of every shape.
func TestLongestFormulas(t *testing.T) {
	scope := testScope()
	for _, text := range []string{
		strings.Repeat("(", 4_999) + "1" + strings.Repeat(")", 4_999),
		strings.Repeat("-", 9_000) + "1",
		"1" + strings.Repeat("+1", 4_900),
		"min(1" + strings.Repeat(",1", 4_900) + ")",
		strings.Repeat("(true?1:", 1_100) + "0" + strings.Repeat(")", 1_100),
	} {
		p, err := Lower(text, scope, formula.Number)
		if err != nil {
			t.Errorf("%.10s: %v", text, err)
			continue
		}
		if again, err := formula.Parse(p.String()); err != nil || again.String() != p.String() {
			t.Errorf("%.10s does not come back: %v", text, err)
		}
	}
}
