package source

import (
	"fmt"

	"github.com/expr-lang/expr"
	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/vm"

	"ribband/core/formula"
)

// Machine is a formula compiled by expr-lang for its own virtual machine: the reference for what a formula means. It is
// slow and runs natively; tests hold the lowered form to it. Its stack is used again by every run: one run at a time.
// It shares nothing with the lowered form but the parser, so that a fault of one shows as a difference.
type Machine struct {
	program *vm.Program
	vm      vm.VM
	scope   *Scope
}

// Reference compiles text, which must have passed [Lower], for the virtual machine. It is the slow way, which tests and
// nobody else takes.
func Reference(text string, scope *Scope) (*Machine, error) {
	// Without expr's optimizer: it makes constants of -0, which its compiler takes for the same as 0.
	return machine(text, scope, expr.Optimize(false))
}

// Optimized is Reference with expr's optimizer, for timing: the machine as fast as it goes. It may take -0 for 0.
func Optimized(text string, scope *Scope) (*Machine, error) { return machine(text, scope) }

// machine compiles with the functions of the language alone, as [Lower] reads it.
func machine(text string, scope *Scope, options ...expr.Option) (*Machine, error) {
	// the same names as for the parser, whose kinds the compiler checks
	options = append(options, expr.Env(names), expr.DisableAllBuiltins(), expr.Patch(floats{}))
	for _, b := range builtins {
		options = append(options, expr.EnableBuiltin(b))
	}
	p, err := expr.Compile(text, options...)
	if err != nil {
		return nil, fmt.Errorf("compiling %q for the virtual machine: %w", text, err)
	}
	return &Machine{program: p, scope: scope}, nil
}

// floats makes whole numbers in the text floats: the language has one kind of number.
type floats struct{}

// Visit patches one node; expr has whole numbers, whose division and overflow are other than those of floats.
func (floats) Visit(n *ast.Node) {
	if i, ok := (*n).(*ast.IntegerNode); ok {
		ast.Patch(n, &ast.FloatNode{Value: float64(i.Value)})
	}
}

// Number runs the formula on a state and gives its number.
func (m *Machine) Number(st *formula.State) (float64, error) {
	return m.NumberIn(m.scope.Environment(st))
}

// Truth runs the formula on a state and gives its truth value.
func (m *Machine) Truth(st *formula.State) (bool, error) {
	return m.TruthIn(m.scope.Environment(st))
}

// NumberIn is Number on a state that is spelled out already.
func (m *Machine) NumberIn(env Environment) (float64, error) {
	v, err := m.vm.Run(m.program, env.names)
	if err != nil {
		return 0, err
	}
	// the machine is untyped: a formula that gives a truth value is found out here
	f, ok := v.(float64)
	if !ok {
		return 0, fmt.Errorf("running a formula: gave %T, want a number", v)
	}
	return f, nil
}

// TruthIn is Truth on a state that is spelled out already.
func (m *Machine) TruthIn(env Environment) (bool, error) {
	v, err := m.vm.Run(m.program, env.names)
	if err != nil {
		return false, err
	}
	b, ok := v.(bool)
	if !ok {
		return false, fmt.Errorf("running a formula: gave %T, want a truth value", v)
	}
	return b, nil
}

// Environment is a state spelled out in the names of the language: made once for a state, it serves every formula of
// the scope.
type Environment struct{ names map[string]any }

// Environment spells out a state, which must not change afterwards. All of it is copied, so that the machine reads maps
// and no state.
func (sc *Scope) Environment(st *formula.State) Environment {
	// as the language writes them: hull.length_m, use.region, figures.mass_kg
	hull, use, figures := map[string]any{}, map[string]any{}, map[string]any{}
	for name, i := range sc.Hull {
		hull[name] = st.Hull[i]
	}
	for name, i := range sc.Hulls {
		if i == st.HullID {
			hull["id"] = name
		}
	}
	for name, u := range sc.Use {
		use[name] = st.Use[u.Index]
		// a choice is a text to the language, and its index in the state
		for choice, i := range u.Choices {
			if float64(i) == st.Use[u.Index] {
				use[name] = choice
			}
		}
	}
	for name, i := range sc.Figures {
		figures[name] = st.Figures[i]
	}
	// a slot of one holds one option at most, so that none is overwritten
	chosen := make([]string, len(st.Slots))
	for name, o := range sc.Options {
		if st.Counts[o.Index] > 0 {
			chosen[o.Slot] = name
		}
	}
	return Environment{map[string]any{
		"has":    func(id string) bool { return st.Counts[sc.Options[id].Index] > 0 },
		"count":  func(id string) float64 { return float64(st.Counts[sc.Options[id].Index]) },
		"chosen": func(id string) string { return chosen[sc.Slots[id].Index] },
		"hull":   hull, "use": use, "figures": figures,
	}}
}
