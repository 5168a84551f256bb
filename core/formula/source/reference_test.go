package source

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/formula"
)

// The lowered form gives bit for bit what expr's virtual machine gives, infinities and NaN included.
func TestLoweredIsTheReference(t *testing.T) {
	scope := testScope()
	var states []spelled
	for i := range 200 {
		st := rapid.Custom(testState).Example(i)
		states = append(states, spelled{st, scope.Environment(st)})
	}
	rounds := 30 // each of a hundred formulas
	if testing.Short() {
		rounds = 2
	}
	pairs := 0
	for range rounds {
		rapid.Check(t, func(t *rapid.T) {
			kind := rapid.SampledFrom([]formula.Kind{formula.Number, formula.Truth}).Draw(t, "kind")
			text := writer{t}.of(kind, rapid.IntRange(0, 4).Draw(t, "depth"))
			both := compiled(t, text, scope, kind)
			for _, s := range states {
				both.agreeIn(t, s)
				pairs++
			}
		})
	}
	t.Logf("%d pairs of a formula and a state agree", pairs)
	if pairs < 500_000 && !testing.Short() {
		t.Errorf("only %d pairs of a formula and a state were tried", pairs)
	}
}

// spelled is a state in both forms.
type spelled struct {
	state *formula.State
	env   Environment
}

type failer interface{ Fatalf(string, ...any) }

// pair is one formula in both forms.
type pair struct {
	text    string
	program formula.Program
	number  formula.NumberFunc // one of the two, by the kind of the program
	truth   formula.TruthFunc
	machine *Machine
}

func newPair(text string, p formula.Program, m *Machine) pair {
	both := pair{text: text, program: p, machine: m}
	if p.Kind() == formula.Truth {
		both.truth = p.Truth()
	} else {
		both.number = p.Number()
	}
	return both
}

// compiled makes both forms of a text that must be well formed.
func compiled(t failer, text string, scope *Scope, kind formula.Kind) pair {
	p, err := Lower(text, scope, kind)
	if err != nil {
		t.Fatalf("lowering %s: at byte %d: %v", text, err.Offset, err)
	}
	return newPair(text, p, reference(t, text, scope))
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
	p.agreeIn(t, spelled{st, p.machine.scope.Environment(st)})
}

func (p pair) agreeIn(t failer, s spelled) {
	if p.truth != nil {
		want, err := p.machine.TruthIn(s.env)
		if got := p.truth(s.state); err != nil || got != want {
			t.Fatalf("%s\nlowered to %s\ngives %v, want %v (%v)\non %+v", p.text, p.program, got, want, err, *s.state)
		}
		return
	}
	want, err := p.machine.NumberIn(s.env)
	if got := p.number(s.state); err != nil || !same(got, want) {
		t.Fatalf("%s\nlowered to %s\ngives %v, want %v (%v)\non %+v", p.text, p.program, got, want, err, *s.state)
	}
}

// same compares bit for bit, but every NaN is the same.
func same(a, b float64) bool {
	return math.Float64bits(a) == math.Float64bits(b) || math.IsNaN(a) && math.IsNaN(b)
}

// The reference took -0 for 0 where both stood in one formula, because expr's optimizer made constants of them.
func TestReferenceKeepsMinusZero(t *testing.T) {
	scope := testScope()
	st := rapid.Custom(testState).Example(1)
	for _, text := range []string{"hull.length_m * 0 + 1 / 0 == 1 / -0 ? 1 : 0", "abs(-0)", "min(0, -0)", "max(-0, 0)",
		"ceil(-0.5)", "(0 < 1 ? -0 : 0)"} {
		compiled(t, text, scope, formula.Number).agree(t, st)
	}
	compiled(t, "count('sole-ply') / 0 < 1 / -0", scope, formula.Truth).agree(t, st)
}

func TestMachineRefusesTheWrongKind(t *testing.T) {
	scope, st := testScope(), rapid.Custom(testState).Example(1)
	if _, err := reference(t, "1 < 2", scope).Number(st); err == nil ||
		err.Error() != "running a formula: gave bool, want a number" {
		t.Errorf("a truth value as a number: %v", err)
	}
	if _, err := reference(t, "1", scope).Truth(st); err == nil ||
		err.Error() != "running a formula: gave float64, want a truth value" {
		t.Errorf("a number as a truth value: %v", err)
	}
	if _, err := Reference("len(1)", scope); err == nil {
		t.Error("the reference compiles a function that is switched off")
	}
}
