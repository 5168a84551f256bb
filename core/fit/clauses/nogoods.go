package clauses

import (
	"cmp"
	"slices"

	"ribband/core/figures"
	"ribband/core/fit/sat"
	"ribband/core/fit/why"
	"ribband/core/formula"
	"ribband/core/pack"
)

// learning is what no-goods are learnt from: the rules and conditions that the clauses do not hold. It follows from the
// book and is made once, while what is learnt belongs to one question and goes with its solver.
type learning struct {
	lazy  []lazyCondition // the lazy rules, then the lazy conditions of slots
	whole []reader        // what the figures of modules follow from, slot by slot
}

// lazyCondition is a rule, or the condition of a slot, with what it follows from.
type lazyCondition struct {
	why.Condition
	asked, met formula.TruthFunc
	rule, slot int // -1 where it is the other
	reads      []reader
}

// reader is a slot, with those of its options that something reads.
type reader struct {
	slot    int
	options []int
}

func newLearning(c *Clauses) *learning {
	l := &learning{whole: c.readers(modules(c.pack))}
	for _, r := range c.lazy {
		l.lazy = append(l.lazy, c.lazyRule(r))
	}
	for _, s := range c.lazySlots {
		l.lazy = append(l.lazy, c.lazyCondition(formula.Program{}, c.pack.Slots[s].When, -1, s))
	}
	return l
}

func (c *Clauses) lazyRule(rule int) lazyCondition {
	return c.lazyCondition(c.rules[rule].When, c.rules[rule].Need, rule, -1)
}

func (c *Clauses) lazyCondition(when, need formula.Program, rule, slot int) lazyCondition {
	return lazyCondition{why.NewCondition(c.figures, when, need), when.Truth(), need.Truth(), rule, slot,
		c.readers(when.Reads().With(need.Reads()))}
}

// modules reads the figures that are computed by modules, as far as all desks know them. Those of the yard alone are
// left out: every desk must find the same boat.
func modules(p *pack.Pack) (r formula.Reads) {
	for i := range p.Figures {
		if name := figures.ID(p.Figures[i].Computed); name != "" && !figures.YardOnly(name) {
			r.Figures = append(r.Figures, i)
		}
	}
	return r
}

// readers resolves what is read to options by slot. Slots whose options carry least come first, so that they are the
// first to be freed. What stays last are the slots that decide, a bank or a motor, and the clause is about them.
func (c *Clauses) readers(r formula.Reads) (list []reader) {
	r = c.figures.Resolve(r)
	for s := range c.pack.Slots {
		def := &c.pack.Slots[s]
		x := reader{slot: s}
		for o := def.First; o < def.End; o++ {
			_, named := slices.BinarySearch(r.Options, o)
			if _, asked := slices.BinarySearch(r.Slots, s); (named || asked) && len(c.counts[o]) > 0 {
				x.options = append(x.options, o)
			}
		}
		if len(x.options) > 0 {
			list = append(list, x)
		}
	}
	slices.SortStableFunc(list, func(a, b reader) int { return cmp.Compare(c.carries(a), c.carries(b)) })
	return list
}

// carries is how many figures an option of a slot carries at most.
func (c *Clauses) carries(r reader) (most int) {
	for _, o := range r.options {
		most = max(most, len(c.pack.Options[o].Carries))
	}
	return most
}

// noGoods are clauses that the boat of a model breaks, and no valid boat does: one for each lazy rule that counts and
// is broken, and for each lazy slot whose condition is not what the model has. Only where there is none, and the
// figures of modules cannot be computed, one that forbids what these follow from. At least one comes for every boat
// that is not valid, and it forbids at least this boat: that is why a question ends. The fewer slots a clause names,
// the more boats it forbids with it.
func (q *query) noGoods(st *formula.State, m sat.Model) (clauses [][]sat.Lit) {
	for i := range q.lazyConditions {
		x := &q.lazyConditions[i]
		switch {
		case x.rule >= 0 && m.Holds(q.selectors[x.rule]) && x.asked(st) && !x.met(st):
			clauses = append(clauses, append(q.because(x, st, false), -q.selectors[x.rule]))
		case x.slot >= 0 && x.met(st) != m.Holds(q.open[x.slot]):
			open := x.met(st)
			clauses = append(clauses, append(q.because(x, st, open), sign(q.open[x.slot], open)))
		}
	}
	if len(st.Faults) > 0 && len(clauses) == 0 {
		clauses = append(clauses, q.otherwise(q.learning().whole, st))
	}
	return clauses
}

// because is a clause without its selector: any boat in which the condition is otherwise changes one of these slots,
// which are few, since they decide it whatever the others hold. Where bounds do not tell, it names all that the
// condition reads, which forbids little more than this boat; a question with such rules mostly runs into its limit.
func (q *query) because(x *lazyCondition, st *formula.State, met bool) []sat.Lit {
	slots := make([]int, len(x.reads))
	for i, r := range x.reads {
		slots[i] = r.slot
	}
	few, ok := q.why.Few(nil, slots, func() bool { return q.why.Always(st, &x.Condition, met) })
	if !ok {
		return q.otherwise(x.reads, st)
	}
	return q.otherwise(slices.DeleteFunc(slices.Clone(x.reads),
		func(r reader) bool { return !slices.Contains(few, r.slot) }), st)
}

// otherwise are literals of which one holds where some slots hold anything else. Of a slot of one the option that it
// holds says all. Of an empty one, or of multiple, each option that is read has to keep its count: one less or one more
// is something else.
func (c *Clauses) otherwise(slots []reader, st *formula.State) (lits []sat.Lit) {
	for _, r := range slots {
		multiple := c.pack.Slots[r.slot].Multiple
		held := slices.IndexFunc(r.options, func(o int) bool { return st.Counts[o] > 0 })
		if !multiple && held >= 0 {
			lits = append(lits, -c.AtLeast(r.options[held], 1))
			continue
		}
		for _, o := range r.options {
			n := st.Counts[o]
			if n > 0 {
				lits = append(lits, -c.AtLeast(o, n))
			}
			if n < len(c.counts[o]) {
				lits = append(lits, c.AtLeast(o, n+1))
			}
		}
	}
	return lits
}
