// Package figures computes the figures of a boat from what its hull and options carry and from the formulas of the
// book.
//
// A book may also ask for figures that follow from its hulls' offsets and trials: how the boat floats, and how far it
// goes. They come from modules over packages hull and bank; see [Registry]. Every figure of a pack has its place in
// [formula.State.Figures]; [Figures.Fill] computes them in an order in which each comes after those that it reads.
//
// What a person reads of a computed figure, as its formula and source, is a message named by its identifier; see
// [Definition].
//
// Caution: figures of floating, loading, flotation, batteries and wiring are preliminary. The finished boat is weighed,
// inclined and tried; the rules of its waters and qualified persons decide.
package figures

import (
	"fmt"
	"slices"

	"ribband/core/formula"
	"ribband/core/pack"
)

// Figures is a pack's figures, ready to compute.
type Figures struct {
	pack        *pack.Pack
	order       []step
	plain       int             // so many of the order come before the first module
	light       int             // so many come before the first heavy one
	affected    []formula.Reads // what each figure depends on in the end: no figures among it
	late        []bool          // by figure: computed after the first module
	heavy       []bool          // by figure: computed after the first heavy one
	readers     *formula.Index  // who of the steps reads what; the mass table counts as one figure more
	parts       *parts
	leaves      []leaf         // of all sum trees
	leafReaders *formula.Index // who of the leaves reads what
	always      []bool         // by slot: it is on every boat of a hull that has it, and must hold something
	fitting     [][]int        // by hull, slot: how many of its options are made for the hull
}

// step is one of the computation: a formula, the sum of what is carried, the mass table, or a module with all of its
// figures.
type step struct {
	index   int // of the figure; -1 for the mass table and modules
	module  *wanted
	masses  *masses
	formula formula.NumberFunc
	program formula.Program
	hulls   []carried // what each hull carries
	options []carried
}

// carried is what a hull or a piece of an option adds to a total, and what that amount reads. The last is asked of
// every amount for every box that is bounded, so it is looked up once.
type carried struct {
	option  int // -1 for a hull
	amount  pack.Value
	program formula.Program
	slots   []int // whose contents the amount reads
	uses    []int // fields that it reads
	figures bool  // it reads figures
}

// Compile orders the figures. It fails where they depend on each other in a circle, and where what they are computed
// from is no boat.
func Compile(p *pack.Pack) (*Figures, error) {
	f := &Figures{pack: p, affected: make([]formula.Reads, len(p.Figures)+1), late: make([]bool, len(p.Figures)+1),
		heavy: make([]bool, len(p.Figures)+1)}
	n := newParts(p)
	f.parts = n
	if err := n.check(); err != nil {
		return nil, err
	}
	modules, err := compileModules(n)
	if err != nil {
		return nil, err
	}
	// every figure has a step now; those of modules take the place of the empty sums that stand for them
	steps, reads := f.sums()
	table := len(p.Figures) // the mass table stands behind the figures
	if n.weighed {
		m := n.masses()
		steps[table], reads[table] = step{index: -1, masses: m}, m.reads()
	}
	for _, w := range modules {
		for _, i := range w.places {
			if i >= 0 {
				steps[i], reads[i] = step{index: -1, module: w}, w.reads
			}
		}
	}
	// a module stands at the place of each of its figures, and is taken where the first of them comes in the order
	order, circle := sorted(reads)
	if circle >= 0 {
		return nil, fmt.Errorf("ordering the figures: %s depends on itself", p.Figures[min(circle, table-1)].ID)
	}
	f.arrange(order, steps, reads)
	f.count()
	return f, nil
}

// count looks at what a slot may hold on a hull.
func (f *Figures) count() {
	for i := range f.pack.Slots {
		f.always = append(f.always, f.pack.Slots[i].Least > 0 && f.pack.Slots[i].When.Empty())
	}
	for h := range f.pack.Hulls {
		fitting := make([]int, len(f.pack.Slots))
		for o := range f.pack.Options {
			if f.pack.Made(o, h) {
				fitting[f.pack.Options[o].Slot]++
			}
		}
		f.fitting = append(f.fitting, fitting)
	}
}

// sums are the steps of totals and formulas, and what each reads; the last one is free for the mass table.
func (f *Figures) sums() ([]step, []formula.Reads) {
	p := f.pack
	steps, parts := make([]step, len(p.Figures)+1), make([][]formula.Reads, len(p.Figures)+1)
	steps[len(p.Figures)].index = -1
	for i, def := range p.Figures {
		steps[i] = step{index: i, hulls: make([]carried, len(p.Hulls))}
		if !def.Formula.Empty() {
			steps[i].formula, steps[i].program = def.Formula.Number(), def.Formula
			parts[i] = []formula.Reads{def.Formula.Reads()}
		}
	}
	for h := range p.Hulls {
		for _, c := range p.Hulls[h].Carries {
			steps[c.Figure].hulls[h] = f.carried(-1, c.Amount)
			parts[c.Figure] = append(parts[c.Figure], c.Amount.Reads())
		}
	}
	for o := range p.Options {
		for _, c := range p.Options[o].Carries {
			steps[c.Figure].options = append(steps[c.Figure].options, f.carried(o, c.Amount))
			parts[c.Figure] = append(parts[c.Figure], c.Amount.Reads(), formula.Reads{Options: []int{o}})
		}
	}
	reads := make([]formula.Reads, len(parts))
	for i := range parts {
		reads[i] = formula.Union(parts[i])
	}
	return steps, reads
}

// carried looks up what an amount reads. An option counts by its slot, since what is open while a boat is sought is a
// slot with all that it may hold.
func (f *Figures) carried(option int, amount formula.Program) carried {
	r := amount.Reads()
	c := carried{option: option, amount: f.pack.Value(amount), program: amount, slots: r.Slots, uses: r.Use,
		figures: len(r.Figures) > 0}
	for _, o := range r.Options {
		c.slots = append(c.slots, f.pack.Options[o].Slot)
	}
	return c
}

// arrange puts the steps in order, those that need no module first and those that need a heavy one last, each module
// once, and notes who reads what.
func (f *Figures) arrange(order []int, steps []step, reads []formula.Reads) {
	var early, late, last []int
	var taken []formula.Reads // by the steps
	for _, i := range order {
		heavy := steps[i].module != nil && steps[i].module.module.heavy
		f.heavy[i] = heavy || slices.ContainsFunc(reads[i].Figures, func(j int) bool { return f.heavy[j] })
		slow := steps[i].masses != nil || steps[i].module != nil && !steps[i].module.module.byHull &&
			!steps[i].module.module.quick
		f.late[i] = slow || slices.ContainsFunc(reads[i].Figures, func(j int) bool { return f.late[j] })
		switch {
		case f.heavy[i]:
			last = append(last, i)
		case f.late[i]:
			late = append(late, i)
		default:
			// Totals and formulas that need no module are computed for every option that is tried; the rest only where
			// a rule or a reader asks.
			early = append(early, i)
		}
	}
	ran := map[*wanted]bool{}
	for k, i := range slices.Concat(early, late, last) {
		if k == len(early) {
			f.plain = len(f.order)
		}
		if k == len(early)+len(late) {
			f.light = len(f.order)
		}
		s := &steps[i]
		own := reads[i]
		if s.module != nil {
			own = s.module.readsFor(i, f.pack)
		}
		f.affected[i] = f.Resolve(own)
		if s.index < 0 && s.masses == nil && s.module == nil || s.module != nil && ran[s.module] {
			continue
		}
		if s.module != nil {
			ran[s.module] = true
		}
		f.order, taken = append(f.order, *s), append(taken, reads[i])
	}
	if len(last) == 0 {
		f.light = len(f.order)
	}
	if len(late)+len(last) == 0 {
		f.plain = len(f.order)
	}
	space := f.pack.Space()
	space.Figures++
	f.readers = formula.NewIndex(taken, space)
	f.findLeaves()
}

// Circle gives the index of a figure that depends on itself, given what each reads; -1 where there is none.
func Circle(reads []formula.Reads) int {
	_, circle := sorted(reads)
	return circle
}

// sorted orders figures so that each follows those that it reads.
func sorted(reads []formula.Reads) (order []int, circle int) {
	const entered, left = 1, 2
	state := make([]int, len(reads))
	var visit func(i int) bool
	visit = func(i int) bool {
		if state[i] == entered {
			circle = i // the figure that began may only lead to it
		}
		if state[i] != 0 {
			return state[i] == left
		}
		state[i] = entered
		for _, j := range reads[i].Figures {
			if !visit(j) {
				return false
			}
		}
		state[i] = left
		order = append(order, i)
		return true
	}
	for i := range reads {
		if !visit(i) {
			return nil, circle
		}
	}
	return order, -1
}

// Resolve replaces the figures among some reads by what those figures depend on.
func (f *Figures) Resolve(r formula.Reads) formula.Reads {
	out := r
	out.Figures = nil
	out = out.With(formula.Reads{}) // a copy
	for _, i := range r.Figures {
		out = out.With(f.affected[i])
	}
	out.Figures = nil
	return out
}

// Fill computes every figure of the state from its counts, hull and use. What a module cannot compute is zero, and the
// state's Faults say why.
func (f *Figures) Fill(st *formula.State) {
	f.fill(st, func(int) bool { return true })
}

// FillNeeded is Fill for those that are needed. The others stay as they are, and the faults are those of the needed
// ones.
func (f *Figures) FillNeeded(st *formula.State, n Needed) {
	f.fill(st, func(step int) bool { return n.steps[step] })
}

// fill takes the wanted steps in order. They are those of an incremental boat that is thrown away afterwards, so that a
// boat which is changed step by step and one computed from nothing agree to the bit.
func (f *Figures) fill(st *formula.State, wanted func(step int) bool) {
	l := f.incremental(st)
	for i := range f.order {
		if wanted(i) {
			l.run(i)
		}
	}
	l.tellFaults()
}

// Plain says whether some reads need no module.
func (f *Figures) Plain(r formula.Reads) bool {
	return !slices.ContainsFunc(r.Figures, func(i int) bool { return f.late[i] })
}

// Light says whether some reads need no module that takes longer than all others together.
func (f *Figures) Light(r formula.Reads) bool {
	return !slices.ContainsFunc(r.Figures, func(i int) bool { return f.heavy[i] })
}

// NewState makes the state of a hull with nothing chosen, the given use, and no figures yet.
func NewState(p *pack.Pack, hull int, use []float64) *formula.State {
	return &formula.State{
		Counts: make([]int, len(p.Options)), Slots: make([]int, len(p.Slots)),
		HullID: hull, Hull: p.Hulls[hull].Fields, Use: slices.Clone(use), Figures: make([]float64, len(p.Figures)),
	}
}
