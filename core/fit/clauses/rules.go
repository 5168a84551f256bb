package clauses

import (
	"ribband/core/figures"
	"ribband/core/fit/sat"
	"ribband/core/formula"
	"ribband/core/pack"
)

// writer turns conditions into literals. Atoms are remembered by text, since many rules compare the same figures with
// the same limits.
type writer struct {
	*Clauses
	live  *figures.Incremental // a boat to try them on
	atoms map[string]sat.Lit   // comparisons that were written, 0 for lazy ones
}

func newWriter(c *Clauses) *writer {
	return &writer{c, c.figures.NewIncremental(figures.NewState(c.pack, c.hull, c.use)), map[string]sat.Lit{}}
}

// rule writes a rule under its selector: one clause for each part of what it needs, joined with what it asks when. A
// rule of several needs may be lazy in one of them alone. What clauses can hold of it is written all the same: it keeps
// the solver from proposing boats that are wrong anyhow, and the lazy rule is judged as a whole afterwards. One that
// counts with an option alone which is not made for the hull always holds and is not lazy, whatever it needs.
func (w *writer) rule(def pack.Rule) {
	selector := w.fresh()
	w.rules, w.selectors = append(w.rules, def), append(w.selectors, selector)
	head, headLazy := w.disjunction(def.When, false)
	lazy := false
	for _, part := range conjuncts(def.Need, true) {
		lits, partLazy := w.disjunction(part.program, part.positive)
		switch lits = append(lits, head...); {
		case holds(lits):
		case headLazy || partLazy:
			lazy = true
		default:
			w.add(append(lits, -selector)...)
		}
	}
	if lazy {
		w.lazy = append(w.lazy, len(w.rules)-1)
	}
}

// holds says that a clause is true whatever the boat, by a constant among its literals.
func holds(lits []sat.Lit) bool {
	for _, l := range lits {
		if l == yes {
			return true
		}
	}
	return false
}

// signed is a program, or its negation. A pair costs nothing, where a negated program would be written and read again.
type signed struct {
	program  formula.Program
	positive bool
}

// conjuncts are parts that all have to hold for a condition to hold. Negations are pushed inwards as it goes (de
// Morgan), so that an "or" under a "not" is taken apart too. Fewer auxiliary variables come of it than of a gate for
// each operator.
func conjuncts(p formula.Program, positive bool) []signed {
	if p.Empty() {
		return []signed{{p, positive}}
	}
	root, in := p.Split()
	switch {
	case root.Op == formula.Not:
		return conjuncts(in[0], !positive)
	case root.Op == formula.And && positive, root.Op == formula.Or && !positive:
		return append(conjuncts(in[0], positive), conjuncts(in[1], positive)...)
	}
	return []signed{{p, positive}}
}

// disjunction are literals of which at least one has to hold for a condition to hold. A lazy one has parts that no
// literal stands for. A disjunction that holds is as good without its lazy parts; one that does not must leave the
// verdict to them.
func (w *writer) disjunction(p formula.Program, positive bool) (lits []sat.Lit, lazy bool) {
	for _, part := range conjuncts(p, !positive) {
		l, partLazy := w.truth(part.program)
		if part.positive {
			l = -l
		}
		if partLazy {
			lazy = true
		} else {
			lits = append(lits, l)
		}
	}
	return lits, lazy
}

// truth is the literal for a condition; a lazy one has none, though its parts may. That of an operator is defined by
// equivalence and not only in one direction, since a model has to be one boat: otherwise counting would count a boat
// several times.
func (w *writer) truth(p formula.Program) (l sat.Lit, lazy bool) {
	if p.Empty() {
		return yes, false
	}
	root, in := p.Split()
	switch root.Op {
	case formula.True:
		return yes, false
	case formula.False:
		return -yes, false
	case formula.Has:
		return w.AtLeast(root.Index, 1), false
	case formula.Filled:
		return w.or(w.held(root.Index)...), false
	case formula.Less, formula.AtMost, formula.Equal:
		return w.comparison(p)
	case formula.Not:
		l, lazy = w.truth(in[0])
		return -l, lazy
	}
	return w.connective(root.Op, in)
}

// connective is a literal for and, or, and if. One operand may decide it whatever a lazy one is. A choice between two
// by an option that the hull never has is one of the two.
func (w *writer) connective(op formula.Op, in []formula.Program) (sat.Lit, bool) {
	lits, lazies, lazy := make([]sat.Lit, len(in)), make([]bool, len(in)), false
	for i, p := range in {
		lits[i], lazies[i] = w.truth(p)
		lazy = lazy || lazies[i]
	}
	known := func(i int, l sat.Lit) bool { return !lazies[i] && lits[i] == l }
	switch {
	case op == formula.And && (known(0, -yes) || known(1, -yes)):
		return -yes, false
	case op == formula.Or && (known(0, yes) || known(1, yes)):
		return yes, false
	case op == formula.If && known(0, yes):
		return lits[1], lazies[1]
	case op == formula.If && known(0, -yes):
		return lits[2], lazies[2]
	case lazy:
		return 0, true
	case op == formula.And:
		return w.and(lits...), false
	case op == formula.Or:
		return w.or(lits...), false
	}
	return w.either(lits[0], lits[1], lits[2]), false
}
