package figures

import (
	"fmt"
	"slices"

	"ribband/core/formula"
	"ribband/core/pack"
)

// module computes some figures together. What it reads of the book it finds by name: the README of the book lists that,
// and its docstring says where its figures hold.
type module struct {
	name    string
	outputs []Definition // most are set in this order
	needs   []Given      // figures of the book without which it cannot compute
	asks    []Given      // figures that it reads where the book has them
	uses    []UseField   // uses, likewise
	// it looks up what depends on the hull alone, so it is as quick as a formula
	byHull  bool
	reads   func(p *pack.Pack) formula.Reads // besides these; nil where it reads the mass table
	also    func(p *pack.Pack) formula.Reads // beside the mass table
	prepare func(n *parts) (solver, error)
	moves   []monotonicity // see Figures.Bounds
	quick   bool           // it is as quick as a formula
	heavy   bool           // it takes longer than all others together
	// likewise, where it can bound its outputs itself; it sets none where it cannot
	bounds func(p *pack.Pack, box *formula.Box, set func(ID, formula.Interval))
	// see Figures.Doomed; nil of a module that knows nothing of it
	dooms func(n *parts) doom
}

// solver computes the outputs of a module; those that it does not set are zero. A fault says why the boat cannot be as
// it is, and leaves all of them zero; without one it is the zero Fault.
type solver func(b *boat, out *results) formula.Fault

// boat is what modules compute on: a state, and how it floats at rest, which more than one of them asks.
type boat struct {
	State *formula.State
	rest  rest
}

// results takes the figures of a module by their names.
type results struct {
	of     []Definition
	next   int // where the next is likely to stand
	values [MaxOutputs]float64
}

// MaxOutputs is more figures than any module has.
const MaxOutputs = 16

// begin makes the results ready for a module: all zero, which is what an output that is not set stays.
func (r *results) begin(m *module) {
	r.of, r.next = m.outputs, 0
	clear(r.values[:])
}

// set takes an output by its name. Solvers set most of them in the order of the list, so that the name is found at
// once; a name of another module is a slip of the program, which the first boat of any test would meet.
func (r *results) set(id ID, v float64) {
	for range r.of {
		i := r.next
		if r.next++; r.next == len(r.of) {
			r.next = 0
		}
		if r.of[i].ID == id {
			r.values[i] = v
			return
		}
	}
	panic("figures: " + string(id) + " is set by a module that does not list it among its outputs")
}

// modules in the order in which they may read each other.
// Wiring is three of them, since a rule over the main cable should not be judged anew for every lamp, and the buyer's
// pack has not what the loom follows from.
var modules = []module{layup, glass, shipped, floating, stability, power, us, mainCable, bankLeads, loom}

// wanted is a module of which the book has figures: where each output goes, -1 for one that the book leaves out.
type wanted struct {
	module *module
	solve  solver
	places []int
	reads  formula.Reads
	groups []group
	doomed doom
}

// readsFor is what one output of the module depends on.
func (w *wanted) readsFor(figure int, p *pack.Pack) formula.Reads {
	r := w.reads
	if uses := w.module.outputs[slices.Index(w.places, figure)].uses; uses != nil {
		r.Use = slices.DeleteFunc(slices.Clone(r.Use), func(i int) bool {
			return !slices.Contains(uses, UseField(p.Use[i].ID)) &&
				!(i == p.RegionField && slices.Contains(uses, UseRegion))
		})
	}
	return r
}

// fill computes the module's figures into the boat, and says why it cannot.
func (w *wanted) fill(b *boat, out *results) formula.Fault {
	out.begin(w.module)
	fault := w.solve(b, out)
	if !fault.None() {
		clear(out.values[:])
	}
	for j, i := range w.places {
		if i >= 0 {
			b.State.Figures[i] = out.values[j]
		}
	}
	return fault
}

// compileModules prepares those modules whose figures the book has.
func compileModules(n *parts) ([]*wanted, error) {
	var list []*wanted
	// A book that asks for one figure of a module gets the module whole: what its figures have in common takes most of
	// its time. The others are computed and thrown away.
	for i := range modules {
		m := &modules[i]
		w := &wanted{module: m, places: make([]int, len(m.outputs))}
		// an output that the book leaves out stays at -1
		any := false
		for j, o := range m.outputs {
			w.places[j] = -1
			if at, ok := n.computed[o.ID]; ok {
				w.places[j], any = at, true
			}
		}
		if !any {
			continue
		}
		for _, id := range m.needs {
			if _, ok := n.givens[id]; !ok {
				return nil, fmt.Errorf("computing the figures %s.*: the book has no figure %s, from which they follow",
					m.name, id)
			}
		}
		n.weighed = n.weighed || m.reads == nil && !m.byHull
		w.reads, w.groups = n.reads(m), n.groups(m)
		if m.dooms != nil {
			w.doomed = m.dooms(n)
		}
		var err error
		if w.solve, err = m.prepare(n); err != nil {
			return nil, fmt.Errorf("computing the figures %s.*: %w", m.name, err)
		}
		list = append(list, w)
	}
	return list, nil
}
