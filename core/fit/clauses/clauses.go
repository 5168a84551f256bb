// Package clauses writes the rules of a book, for one hull and one use, as clauses over what is in the boat, and asks
// the solver and the counter about them.
//
// For each option that is made for the hull there is a variable for "at least one of it", "at least two", and so on.
// What a slot may hold and when it is there, and the rules over options, become clauses that hold exactly for the boats
// that obey them; auxiliary variables are defined by equivalence, so that each boat is one model. A comparison of
// figures that few slots decide is tried out over all of their contents. A rule over more, like those over the mass or
// over how it floats, is lazy: [Clauses.Complete] lets the solver propose a boat, computes it, and learns from each
// lazy rule that it breaks a clause over the few slots that break it whatever the others hold. [Clauses.Count],
// [Clauses.Always] and [Clauses.Never] leave lazy rules out.
//
// Every rule has a selector, a literal without which its clauses say nothing: a core of an impossible wish then names
// rules.
//
// It does not say which rules are broken in a boat, nor in which words: that is package fit. Sources, from memory: G.
// S. Tseitin, On the complexity of derivation in propositional calculus (1968), for the auxiliary variables;
// Nieuwenhuis, Oliveras and Tinelli, Solving SAT and SAT Modulo Theories, J. ACM 53 (2006), for learning from what lies
// outside the clauses.
package clauses

import (
	"slices"
	"sync"

	"ribband/core/figures"
	"ribband/core/fit/sat"
	"ribband/core/formula"
	"ribband/core/pack"
)

// Clauses are the rules of a book for one hull and one use. They are not changed by questions, so that many may ask at
// once. Hull and use are fixed, because most conditions then become constants or small tables; package fit keeps those
// of the hulls and uses that were asked for last.
type Clauses struct {
	pack     *pack.Pack
	figures  *figures.Figures
	hull     int
	use      []float64
	defaults []int // by option: how many a soft slot holds by itself

	gates
	counts    [][]sat.Lit // by option: at least one of it, at least two…; none where it is not made for the hull
	open      []sat.Lit   // by slot
	rules     []pack.Rule // of the book, then those that a question adds
	selectors []sat.Lit   // by rule
	lazy      []int       // rules that the clauses do not hold, or not wholly
	lazySlots []int       // slots whose condition they do not hold; open is a free variable then
	most      int         // contents of slots together that are tried out for a comparison
	learning  func() *learning
	wrong     error // why nothing can be asked
}

// Compile writes the rules of a pack for a hull and a use. A book that is too large is told by what is asked of it. The
// error is kept rather than given here, since a book is compiled before anybody knows whether a question will need it.
func Compile(p *pack.Pack, figs *figures.Figures, hull int, use []float64) *Clauses {
	return compile(p, figs, hull, use, mostContents)
}

func compile(p *pack.Pack, figs *figures.Figures, hull int, use []float64, most int) *Clauses {
	c := &Clauses{pack: p, figures: figs, hull: hull, use: use, defaults: p.Default(hull), gates: newGates(),
		most: most}
	if c.wrong = c.number(); c.wrong != nil {
		return c
	}
	// Slots before rules: a rule may ask whether a slot holds anything, and takes its literals.
	w := newWriter(c)
	for i := range p.Slots {
		w.slot(i)
	}
	for _, r := range p.Rules {
		w.rule(r)
	}
	// Only a question with lazy rules needs it, and it resolves the figures of each.
	c.learning = sync.OnceValue(func() *learning { return newLearning(c) })
	return c
}

// with is a copy for one question, with rules that it adds; what it writes leaves the clauses as they are. Its gates
// begin with no memory of those of the book, and number on from them: an addition costs its own size, and not a copy of
// all clauses.
func (c *Clauses) with(rules []pack.Rule) *Clauses {
	x := *c
	x.gates = gates{variables: c.variables, known: map[string]sat.Lit{}}
	x.rules, x.selectors, x.lazy = slices.Clip(c.rules), slices.Clip(c.selectors), slices.Clip(c.lazy)
	w := newWriter(&x)
	for _, r := range rules {
		w.rule(r)
	}
	return &x
}

// Lazy lists the rules that the clauses do not hold wholly, since they follow from figures that many slots decide.
func (c *Clauses) Lazy() []int { return c.lazy }

// AtLeast is the literal for so many of an option in the boat; that for what never or always is, is a constant. The
// literals of an option are ordered, the second implies the first (see writer.slot), so that a count is the number of
// those that hold.
func (c *Clauses) AtLeast(option, n int) sat.Lit {
	switch {
	case n <= 0:
		return yes
	case n > len(c.counts[option]):
		return -yes
	}
	return c.counts[option][n-1]
}

// Selector is the literal of a rule: where it is false the rule does not count.
func (c *Clauses) Selector(rule int) sat.Lit { return c.selectors[rule] }

// Formula is what holds, as the solver takes it. Rules count where their selectors are assumed. Groups are given to the
// solver as sums: of a slot with forty options the pairs would be 780 clauses.
func (c *Clauses) Formula() sat.Formula {
	f := sat.Formula{Variables: c.variables, Clauses: c.clauses}
	for _, group := range c.atMostOne {
		f.Sums = append(f.Sums, sat.Sum{Lits: group, Bound: 1})
	}
	return f
}

// state is the boat of a model. Literals count in order, so that how many of them hold is the count, whatever auxiliary
// variables the model has besides.
func (c *Clauses) state(m sat.Model) *formula.State {
	st := figures.NewState(c.pack, c.hull, c.use)
	for o, lits := range c.counts {
		for _, l := range lits {
			if m.Holds(l) {
				st.Counts[o]++
				st.Slots[c.pack.Options[o].Slot]++
			}
		}
	}
	c.figures.Fill(st)
	return st
}
