package figures

import (
	"fmt"
	"slices"
	"sync"

	"ribband/core/bank"
	"ribband/core/formula"
	"ribband/core/hull"
	"ribband/core/pack"
)

// parts are what modules and drawings compute from. Each is made of the pack once, when it is first asked for: not
// every book has figures that need it, and curves and tables take far longer to make than to read.
type parts struct {
	pack     *pack.Pack
	givens   map[Given]int // index in the pack of each figure, field and use
	fields   map[HullField]int
	uses     map[UseField]int
	computed map[ID]int
	weighed  bool // a module reads the mass table, which is a step of its own then

	masses   func() *masses
	points   func() *points // with the heads of seated persons
	standing func() *points // without, as on the road
	lines    []func() (*hull.Hull, error)
	curves   []func() (*bank.Curve, error)
	capacity func() (*capacityInputs, error)
	power    func() (*powerInputs, error)
	circuits func() *Circuits
	memory   Memory // nil for none
}

// newParts looks up names and prepares to make the rest. Of two figures of the book with one computed name modules fill
// the first.
func newParts(p *pack.Pack) *parts {
	n := &parts{pack: p, givens: map[Given]int{}, fields: map[HullField]int{}, uses: map[UseField]int{},
		computed: map[ID]int{}}
	for i, f := range p.Figures {
		n.givens[Given(f.ID)] = i
		if _, twice := n.computed[ID(f.Computed)]; f.Computed != "" && !twice {
			n.computed[ID(f.Computed)] = i
		}
	}
	for i, f := range p.HullFields {
		n.fields[HullField(f.ID)] = i
	}
	for i, u := range p.Use {
		n.uses[UseField(u.ID)] = i
	}
	if p.RegionField >= 0 { // whatever the book calls it
		n.uses[UseRegion] = p.RegionField
	}
	n.masses = sync.OnceValue(func() *masses { return newMasses(n) })
	n.points = sync.OnceValue(func() *points { return newPoints(p, n.masses()) })
	n.standing = sync.OnceValue(func() *points { return newPoints(p, nil) })
	for i := range p.Hulls {
		n.lines = append(n.lines, sync.OnceValues(func() (*hull.Hull, error) { return NewHull(&p.Hulls[i]) }))
		n.curves = append(n.curves, sync.OnceValues(func() (*bank.Curve, error) { return newCurve(&p.Hulls[i]) }))
	}
	n.capacity = sync.OnceValues(func() (*capacityInputs, error) { return newCapacityInputs(n) })
	n.power = sync.OnceValues(func() (*powerInputs, error) { return newPowerInputs(n) })
	n.circuits = sync.OnceValue(func() *Circuits { return NewCircuits(p) })
	return n
}

// reads is what a module may depend on: the figures and uses that it finds by name, and what it says that it
// reads besides, or else every field of the hull and the mass table.
func (n *parts) reads(m *module) formula.Reads {
	r := formula.Reads{HullID: true}
	if m.byHull {
		return r
	}
	for _, id := range slices.Concat(m.needs, m.asks) {
		if i, ok := n.givens[id]; ok {
			r.Figures = append(r.Figures, i)
		}
	}
	for _, id := range m.uses {
		if i, ok := n.uses[id]; ok {
			r.Use = append(r.Use, i)
		}
	}
	if m.reads != nil {
		r.HullID = false
		return r.With(m.reads(n.pack))
	}
	for i := range n.pack.HullFields {
		r.Hull = append(r.Hull, i)
	}
	r.Figures = append(r.Figures, len(n.pack.Figures)) // the mass table
	if m.also != nil {
		return r.With(m.also(n.pack))
	}
	return r.With(formula.Reads{})
}

// number reads a number of a boat; where the book has none of it, another.
type number func(*formula.State) float64

// always is a number that is the same on every boat.
func always(v float64) number { return func(*formula.State) float64 { return v } }

// given reads a figure of the book; 0 where the book has none of it.
func (n *parts) given(id Given) number {
	i, ok := n.givens[id]
	if !ok {
		return always(0)
	}
	return func(st *formula.State) float64 { return st.Figures[i] }
}

// field reads a field of the hull; 0 where the book has none of it.
func (n *parts) field(id HullField) number {
	i, ok := n.fields[id]
	if !ok {
		return always(0)
	}
	return func(st *formula.State) float64 { return st.Hull[i] }
}

// used reads a number of the use; 0 where the book does not ask for it.
func (n *parts) used(id UseField) number {
	i, ok := n.uses[id]
	if !ok {
		return always(0)
	}
	return func(st *formula.State) float64 { return st.Use[i] }
}

// chosen says whether a choice of the use is taken.
func (n *parts) chosen(id UseField, choice string) func(*formula.State) bool {
	i, ok := n.uses[id]
	if !ok {
		return func(*formula.State) bool { return false }
	}
	want := slices.IndexFunc(n.pack.Use[i].Choices, func(c pack.Choice) bool { return c.ID == choice })
	return func(st *formula.State) bool { return int(st.Use[i]) == want }
}

// allLines are the hulls ready for computing; an error names the first that cannot be.
func (n *parts) allLines() ([]*hull.Hull, error) {
	return each(n, n.lines, "%w; add its offsets")
}

// each makes a part of every hull.
func each[T any](n *parts, list []func() (T, error), remedy string) ([]T, error) {
	all := make([]T, len(list))
	for i := range list {
		var err error
		if all[i], err = list[i](); err != nil {
			return nil, fmt.Errorf("the hull %s: "+remedy, n.pack.Hulls[i].ID, err)
		}
	}
	return all, nil
}

// Of is a computed figure of a boat; 0 where the book has none of it.
func (f *Figures) Of(st *formula.State, id ID) float64 {
	return valueAt(st.Figures, f.parts.computed, id)
}

// Given is a figure of the book on a boat; 0 where the book has none of it.
func (f *Figures) Given(st *formula.State, id Given) float64 {
	return valueAt(st.Figures, f.parts.givens, id)
}

// Field is a field of a boat's hull; 0 where the book has none of it.
func (f *Figures) Field(st *formula.State, id HullField) float64 {
	return valueAt(st.Hull, f.parts.fields, id)
}

// Used is a number of the use; 0 where the book does not ask for it.
func (f *Figures) Used(st *formula.State, id UseField) float64 {
	return valueAt(st.Use, f.parts.uses, id)
}

// Index is the place of a computed figure among the pack's; false where the book has none of it.
func (f *Figures) Index(id ID) (int, bool) {
	i, ok := f.parts.computed[id]
	return i, ok
}

// valueAt is the value of what has a name; 0 where the pack has nothing of that name.
func valueAt[K comparable](values []float64, places map[K]int, id K) float64 {
	if i, ok := places[id]; ok {
		return values[i]
	}
	return 0
}
