package figures

import (
	"fmt"
	"slices"

	"ribband/core/formula"
	"ribband/core/pack"
)

// module computes some figures together. What it reads of the book, it finds by name: the README of the book lists
// them.
type module struct {
	name    string
	outputs []string
	needs   []string            // figures of the book without which it cannot compute
	asks    []string            // figures that it reads where the book has them
	uses    []string            // uses, likewise
	only    map[string][]string // by use: the outputs that follow from it, where not all do
	// it looks up what depends on the hull alone, so it is as quick as a formula
	byHull  bool
	reads   func(p *pack.Pack) formula.Reads // besides these; nil where it reads the mass table
	also    func(p *pack.Pack) formula.Reads // beside the mass table
	prepare func(p *pack.Pack, n *names) (solver, error)
	signs   []signs // see Figures.Bounds
	quick   bool    // it is as quick as a formula
	// likewise, where it can bound its outputs itself; false where not
	bounds func(p *pack.Pack, box *formula.Box, out []formula.Bounds) bool
	// see Figures.Doomed; nil of a module that knows nothing of it
	dooms func(p *pack.Pack, n *names) doom
}

// solver computes the outputs of a module into out, in their order. An error is in plain words for a buyer: the boat
// cannot be as it is.
type solver func(st *formula.State, out []float64) error

// modules in the order in which they may read each other.
var modules = []module{layup, shipped, floating, stability, power, us, mainCable, bankLeads, loom}

// Names are all figures that a book may ask to have computed.
func Names() []string {
	var list []string
	for _, m := range modules {
		for _, o := range m.outputs {
			list = append(list, m.name+"."+o)
		}
	}
	return list
}

// names finds the things of a pack that modules read.
type names struct {
	figures, hull, use map[string]int
	masses             *masses // once a module reads it
}

func namesOf(p *pack.Pack) *names {
	n := &names{figures: map[string]int{}, hull: map[string]int{}, use: map[string]int{}}
	for i, f := range p.Figures {
		n.figures[f.ID] = i
	}
	for i, f := range p.HullFields {
		n.hull[f.ID] = i
	}
	for i, u := range p.Use {
		n.use[u.ID] = i
	}
	if p.RegionField >= 0 { // whatever the book calls it
		n.use["region"] = p.RegionField
	}
	return n
}

// reads is what a module may depend on: the figures and uses that it finds by name, and what it says that it
// reads besides, or else every field of the hull and the mass table.
func (n *names) reads(p *pack.Pack, m *module) formula.Reads {
	r := formula.Reads{HullID: true}
	if m.byHull {
		return r
	}
	for _, id := range append(append([]string{}, m.needs...), m.asks...) {
		if i, ok := n.figures[id]; ok {
			r.Figures = append(r.Figures, i)
		}
	}
	for _, id := range m.uses {
		if i, ok := n.use[id]; ok {
			r.Use = append(r.Use, i)
		}
	}
	if m.reads != nil {
		r.HullID = false
		return r.With(m.reads(p))
	}
	for i := range p.HullFields {
		r.Hull = append(r.Hull, i)
	}
	r.Figures = append(r.Figures, len(p.Figures)) // the mass table
	if m.also != nil {
		return r.With(m.also(p))
	}
	return r.With(formula.Reads{})
}

// figure reads a figure of the book by name; 0 where the book has none of it.
func (n *names) figure(id string) func(*formula.State) float64 {
	i, ok := n.figures[id]
	if !ok {
		return func(*formula.State) float64 { return 0 }
	}
	return func(st *formula.State) float64 { return st.Figures[i] }
}

// field reads a field of the hull by name; 0 where the book has none of it.
func (n *names) field(id string) func(*formula.State) float64 {
	i, ok := n.hull[id]
	if !ok {
		return func(*formula.State) float64 { return 0 }
	}
	return func(st *formula.State) float64 { return st.Hull[i] }
}

// used reads a number of the use by name, or the value given where the book does not ask for it.
func (n *names) used(id string, otherwise float64) func(*formula.State) float64 {
	i, ok := n.use[id]
	if !ok {
		return func(*formula.State) float64 { return otherwise }
	}
	return func(st *formula.State) float64 { return st.Use[i] }
}

// chosen says whether a choice of the use is taken.
func (n *names) chosen(p *pack.Pack, id, choice string) func(*formula.State) bool {
	i, ok := n.use[id]
	if !ok {
		return func(*formula.State) bool { return false }
	}
	want := slices.IndexFunc(p.Use[i].Choices, func(c pack.Choice) bool { return c.ID == choice })
	return func(st *formula.State) bool { return int(st.Use[i]) == want }
}

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
	output := w.module.outputs[slices.Index(w.places, figure)]
	r := w.reads
	r.Use = slices.DeleteFunc(slices.Clone(r.Use), func(i int) bool {
		outputs, some := w.module.only[p.Use[i].ID]
		return some && !slices.Contains(outputs, output)
	})
	return r
}

// maxOutputs is more than any module has.
const maxOutputs = 16

// fill computes the module's figures into a state, and says why it cannot.
func (w *wanted) fill(st *formula.State) (fault string) {
	var out [maxOutputs]float64
	if err := w.solve(st, out[:len(w.places)]); err != nil {
		fault = err.Error()
		clear(out[:])
	}
	for j, i := range w.places {
		if i >= 0 {
			st.Figures[i] = out[j]
		}
	}
	return fault
}

// compileModules prepares those modules whose figures the book has.
func compileModules(p *pack.Pack, n *names) ([]*wanted, error) {
	var list []*wanted
	for i := range modules {
		m := &modules[i]
		w := &wanted{module: m, places: make([]int, len(m.outputs))}
		any := false
		for j, o := range m.outputs {
			w.places[j] = slices.IndexFunc(p.Figures, func(f pack.Figure) bool { return f.Computed == m.name+"."+o })
			any = any || w.places[j] >= 0
		}
		if !any {
			continue
		}
		for _, id := range m.needs {
			if _, ok := n.figures[id]; !ok {
				return nil, fmt.Errorf("computing the figures %s.*: the book has no figure %s, from which they follow",
					m.name, id)
			}
		}
		w.reads, w.groups = n.reads(p, m), n.groups(m)
		if m.dooms != nil {
			w.doomed = m.dooms(p, n)
		}
		var err error
		if w.solve, err = m.prepare(p, n); err != nil {
			return nil, fmt.Errorf("computing the figures %s.*: %w", m.name, err)
		}
		list = append(list, w)
	}
	return list, nil
}
