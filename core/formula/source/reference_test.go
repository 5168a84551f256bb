package source

import (
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/formula"
)

// The lowered form gives bit for bit what expr's virtual machine gives, infinities and NaN included.
func TestLoweredIsTheReference(t *testing.T) {
	scope := testScope()
	pairs := 0
	for range 25 { // each of a hundred formulas
		rapid.Check(t, func(t *rapid.T) {
			kind := rapid.SampledFrom([]formula.Kind{formula.Number, formula.Truth}).Draw(t, "kind")
			text := writer{t}.of(kind, rapid.IntRange(0, 4).Draw(t, "depth"))
			both := compiled(t, text, scope, kind)
			for range 10 {
				both.agree(t, testState(t))
				pairs++
			}
		})
	}
	if pairs < 20_000 && !testing.Short() {
		t.Errorf("only %d pairs of a formula and a state were tried", pairs)
	}
}

type failer interface{ Fatalf(string, ...any) }

// pair is one formula in both forms.
type pair struct {
	text    string
	program formula.Program
	machine *Machine
}

// compiled makes both forms of a text that must be well formed.
func compiled(t failer, text string, scope *Scope, kind formula.Kind) pair {
	p, err := Lower(text, scope, kind)
	if err != nil {
		t.Fatalf("lowering %s: at byte %d: %v", text, err.Offset, err)
	}
	return pair{text, p, reference(t, text, scope)}
}

// reference compiles a text that Lower has taken.
func reference(t failer, text string, scope *Scope) *Machine {
	m, err := Reference(text, scope)
	if err != nil {
		t.Fatalf("Lower takes what the reference refuses: %v", err)
	}
	return m
}

// agree runs both forms on one state.
func (p pair) agree(t failer, st *formula.State) {
	var want, got string
	var err error
	if p.program.Kind() == formula.Truth {
		var v bool
		v, err = p.machine.Truth(st)
		want, got = fmt.Sprint(v), fmt.Sprint(p.program.Truth()(st))
	} else {
		var v float64
		v, err = p.machine.Number(st)
		want, got = bits(v), bits(p.program.Number()(st))
	}
	if err != nil || want != got {
		t.Fatalf("%s\nlowered to %s\ngives %s, want %s (%v)\non %+v", p.text, p.program, got, want, err, *st)
	}
}

// bits writes a number so that equal texts are equal numbers, bit for bit, and every NaN is the same.
func bits(v float64) string {
	if math.IsNaN(v) {
		return "NaN"
	}
	return fmt.Sprintf("%016x (%v)", math.Float64bits(v), v)
}

// The reference took -0 for 0 where both stood in one formula, because expr's optimizer made constants of them.
func TestReferenceKeepsMinusZero(t *testing.T) {
	scope := testScope()
	st := rapid.Custom(testState).Example(1)
	for _, text := range []string{"hull.length_m * 0 + 1 / 0 == 1 / -0 ? 1 : 0", "abs(-0)", "min(0, -0)", "max(-0, 0)", "ceil(-0.5)", "(0 < 1 ? -0 : 0)"} {
		compiled(t, text, scope, formula.Number).agree(t, st)
	}
	compiled(t, "count('sole-ply') / 0 < 1 / -0", scope, formula.Truth).agree(t, st)
}

func TestMachineRefusesTheWrongKind(t *testing.T) {
	scope, st := testScope(), rapid.Custom(testState).Example(1)
	if _, err := reference(t, "1 < 2", scope).Number(st); err == nil || err.Error() != "running a formula: gave bool, want a number" {
		t.Errorf("a truth value as a number: %v", err)
	}
	if _, err := reference(t, "1", scope).Truth(st); err == nil || err.Error() != "running a formula: gave float64, want a truth value" {
		t.Errorf("a number as a truth value: %v", err)
	}
	if _, err := Reference("len(1)", scope); err == nil {
		t.Error("the reference compiles a function that is switched off")
	}
}
