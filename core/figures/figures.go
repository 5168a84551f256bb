// Package figures computes the figures of a boat from what its hull and options carry and from the formulas of the book.
//
// A book may also ask for figures that follow from its hulls' offsets and trials: how the boat floats, and how far she goes. They come
// from modules over packages hull and bank; see [Names]. Every figure of a pack has its place in [formula.State.Figures]; [Figures.Fill]
// computes them in an order in which each comes after those that it reads.
//
// Caution: figures of floating, loading, flotation, batteries and wiring are preliminary. The finished boat is weighed, inclined and tried;
// the rules of her waters and qualified persons decide.
package figures

import (
	"fmt"
	"slices"

	"ribband/core/formula"
	"ribband/core/pack"
)

// Figures is a pack's figures, ready to compute.
type Figures struct {
	order    []figure
	plain    int             // so many of the order come before the first module
	affected []formula.Reads // what each figure depends on in the end: no figures among it
}

// figure is one step of the computation: a formula, the sum of what is carried, or, at the first of its figures, a module.
type figure struct {
	index   int
	module  *wanted
	skip    bool // computed by its module before
	formula formula.NumberFunc
	hulls   []formula.NumberFunc // by hull; nil where nothing is carried
	options []carried
}

type carried struct {
	option int
	amount formula.NumberFunc
}

// Compile orders the figures. It fails where they depend on each other in a circle.
func Compile(p *pack.Pack) (*Figures, error) {
	f := &Figures{affected: make([]formula.Reads, len(p.Figures))}
	modules, err := compileModules(p)
	if err != nil {
		return nil, err
	}
	steps := make([]figure, len(p.Figures))
	reads := make([]formula.Reads, len(p.Figures))
	for i, def := range p.Figures {
		steps[i] = figure{index: i, hulls: make([]formula.NumberFunc, len(p.Hulls))}
		if !def.Formula.Empty() {
			steps[i].formula = def.Formula.Number()
			reads[i] = def.Formula.Reads()
		}
	}
	for h := range p.Hulls {
		for _, c := range p.Hulls[h].Carries {
			steps[c.Figure].hulls[h] = c.Amount.Number()
			reads[c.Figure] = reads[c.Figure].With(c.Amount.Reads())
		}
	}
	for o := range p.Options {
		for _, c := range p.Options[o].Carries {
			steps[c.Figure].options = append(steps[c.Figure].options, carried{o, c.Amount.Number()})
			reads[c.Figure] = reads[c.Figure].With(c.Amount.Reads()).With(formula.Reads{Options: []int{o}})
		}
	}
	for _, w := range modules {
		for _, i := range w.places {
			if i >= 0 {
				steps[i].module, reads[i] = w, w.reads
			}
		}
	}
	order, circle := sorted(reads)
	order = plainFirst(order, reads, steps)
	if circle >= 0 {
		return nil, fmt.Errorf("ordering the figures: %s depends on itself", p.Figures[circle].ID)
	}
	ran, slow := map[*wanted]bool{}, 0
	for _, i := range order {
		if w := steps[i].module; w != nil && ran[w] {
			steps[i].skip = true
		} else if w != nil {
			ran[w] = true
			if !w.module.byHull {
				slow++
			}
		}
		f.order = append(f.order, steps[i])
		if slow == 0 {
			f.plain = len(f.order)
		}
		f.affected[i] = f.Resolve(reads[i])
	}
	return f, nil
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

// plainFirst moves the figures that depend on no module, but for those that only look up, before the others, otherwise in the same order.
func plainFirst(order []int, reads []formula.Reads, steps []figure) []int {
	late := make([]bool, len(reads))
	var plain, rest []int
	for _, i := range order {
		late[i] = steps[i].module != nil && !steps[i].module.module.byHull || slices.ContainsFunc(reads[i].Figures, func(j int) bool { return late[j] })
		if late[i] {
			rest = append(rest, i)
		} else {
			plain = append(plain, i)
		}
	}
	return append(plain, rest...)
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

// Fill computes every figure of the state from its counts, hull and use. What a module cannot compute is zero, and the state's
// Faults say why.
func (f *Figures) Fill(st *formula.State) {
	f.fill(st, len(f.order))
}

// FillPlain computes those figures alone that do not depend on a module: totals and formulas over them.
func (f *Figures) FillPlain(st *formula.State) { f.fill(st, f.plain) }

// Plain says whether some reads need no module.
func (f *Figures) Plain(r formula.Reads) bool {
	for _, i := range r.Figures {
		if !slices.ContainsFunc(f.order[:f.plain], func(s figure) bool { return s.index == i }) {
			return false
		}
	}
	return true
}

func (f *Figures) fill(st *formula.State, steps int) {
	st.Faults = nil
	for i := range f.order[:steps] {
		s := &f.order[i]
		switch {
		case s.skip:
			continue
		case s.module != nil:
			s.module.fill(st)
			continue
		case s.formula != nil:
			st.Figures[s.index] = s.formula(st)
			continue
		}
		sum := 0.0
		if carries := s.hulls[st.HullID]; carries != nil {
			sum = carries(st)
		}
		for _, c := range s.options {
			if n := st.Counts[c.option]; n > 0 {
				sum += float64(n) * c.amount(st)
			}
		}
		st.Figures[s.index] = sum
	}
}

// NewState makes the state of a hull with nothing chosen, the given use, and no figures yet.
func NewState(p *pack.Pack, hull int, use []float64) *formula.State {
	return &formula.State{
		Counts: make([]int, len(p.Options)), Slots: make([]int, len(p.Slots)),
		HullID: hull, Hull: p.Hulls[hull].Fields, Use: slices.Clone(use), Figures: make([]float64, len(p.Figures)),
	}
}
