package clauses

import (
	"cmp"
	"slices"

	"ribband/core/figures"
	"ribband/core/fit/sat"
	"ribband/core/formula"
	"ribband/core/pack"
)

// noGoods are what can be learnt of boats that the clauses allow and the lazy rules do not.
type noGoods struct {
	*Clauses
	rules []lazyCondition // the lazy rules, then the conditions of slots that are lazy
	whole []reader        // what the figures of modules follow from, slot by slot
	box   formula.Box
	free  []bool
}

// lazyCondition is a lazy rule or condition, with what it follows from.
type lazyCondition struct {
	when, need     formula.Program
	whenIs, needIs formula.TruthFunc
	rule, slot     int // -1 where it is the other
	reads          []reader
	needed         figures.Needed
}

// reader is a slot, with those of its options that something reads.
type reader struct {
	slot    int
	options []int
}

func newNoGoods(c *Clauses) *noGoods {
	g := &noGoods{Clauses: c, free: make([]bool, len(c.pack.Slots))}
	for _, r := range c.lazy {
		def := &c.pack.Rules[r]
		g.add(lazyCondition{when: def.When, need: def.Need, rule: r, slot: -1})
	}
	for _, s := range c.lazySlots {
		g.add(lazyCondition{need: c.pack.Slots[s].When, rule: -1, slot: s})
	}
	g.whole = g.readers(modules(c.pack))
	return g
}

// modules reads the figures that are computed by modules, as far as all desks know them.
func modules(p *pack.Pack) (r formula.Reads) {
	for i := range p.Figures {
		if name := p.Figures[i].Computed; name != "" && !figures.YardOnly(name) {
			r.Figures = append(r.Figures, i)
		}
	}
	return r
}

func (g *noGoods) add(x lazyCondition) {
	reads := x.when.Reads().With(x.need.Reads())
	x.whenIs, x.needIs, x.reads, x.needed = x.when.Truth(), x.need.Truth(), g.readers(reads), g.figures.Needed(reads)
	g.rules = append(g.rules, x)
}

// readers resolves what is read to options by slot. Slots whose options carry least come first, so that they are the
// first to be freed.
func (g *noGoods) readers(r formula.Reads) (list []reader) {
	r = g.figures.Resolve(r)
	for s := range g.pack.Slots {
		def := &g.pack.Slots[s]
		x := reader{slot: s}
		for o := def.First; o < def.End; o++ {
			_, named := slices.BinarySearch(r.Options, o)
			if _, asked := slices.BinarySearch(r.Slots, s); (named || asked) && len(g.counts[o]) > 0 {
				x.options = append(x.options, o)
			}
		}
		if len(x.options) > 0 {
			list = append(list, x)
		}
	}
	slices.SortStableFunc(list, func(a, b reader) int { return cmp.Compare(g.carries(a), g.carries(b)) })
	return list
}

func (g *noGoods) carries(r reader) (most int) {
	for _, o := range r.options {
		most = max(most, len(g.pack.Options[o].Carries))
	}
	return most
}

// of are clauses that the boat of a model breaks, and no valid boat does.
func (g *noGoods) of(st *formula.State, m sat.Model) (clauses [][]sat.Lit) {
	for i := range g.rules {
		x := &g.rules[i]
		switch {
		case x.rule >= 0 && x.whenIs(st) && !x.needIs(st):
			clauses = append(clauses, append(g.because(x, st, false), -g.selectors[x.rule]))
		case x.slot >= 0 && x.needIs(st) != m.Holds(g.open[x.slot]):
			open := x.needIs(st)
			clauses = append(clauses, append(g.because(x, st, open), sign(g.open[x.slot], open)))
		}
	}
	if len(st.Faults) > 0 && len(clauses) == 0 {
		clauses = append(clauses, g.otherwise(g.whole, st))
	}
	return clauses
}

// because are literals of which one holds in each boat that differs in one of the few slots that make a condition what
// it is, whatever the others hold.
func (g *noGoods) because(x *lazyCondition, st *formula.State, is bool) []sat.Lit {
	for s := range g.free {
		g.free[s] = true
	}
	g.liberate(x.reads, false)
	if !g.certain(x, st, is) {
		return g.otherwise(x.reads, st)
	}
	return g.otherwise(g.kept(x, st, is, x.reads), st)
}

// kept frees slots together where that goes, else by halves, and gives those that cannot be freed.
func (g *noGoods) kept(x *lazyCondition, st *formula.State, is bool, slots []reader) []reader {
	if len(slots) == 0 {
		return nil
	}
	g.liberate(slots, true)
	if g.certain(x, st, is) {
		return nil
	}
	g.liberate(slots, false)
	if len(slots) == 1 {
		return slots
	}
	half := (len(slots) + 1) / 2
	return slices.Concat(g.kept(x, st, is, slots[:half]), g.kept(x, st, is, slots[half:]))
}

func (g *noGoods) liberate(slots []reader, free bool) {
	for _, r := range slots {
		g.free[r.slot] = free
	}
}

// certain says whether a rule is broken, or a condition of a slot what it is, on every boat that holds what this one
// does but in the free slots.
func (g *noGoods) certain(x *lazyCondition, st *formula.State, is bool) bool {
	g.figures.Bounds(st, g.free, x.needed, &g.box)
	need, sound := x.need.Judge(&g.box)
	if !sound || is && need.MayFail || !is && need.MayHold {
		return false
	}
	when, sound := x.when.Judge(&g.box)
	return sound && !when.MayFail
}

// otherwise are literals of which one holds where some slots hold anything else.
func (g *noGoods) otherwise(slots []reader, st *formula.State) (lits []sat.Lit) {
	for _, r := range slots {
		multiple := g.pack.Slots[r.slot].Multiple
		held := slices.IndexFunc(r.options, func(o int) bool { return st.Counts[o] > 0 })
		if !multiple && held >= 0 {
			lits = append(lits, -g.AtLeast(r.options[held], 1))
			continue
		}
		for _, o := range r.options {
			n := st.Counts[o]
			if n > 0 {
				lits = append(lits, -g.AtLeast(o, n))
			}
			if n < len(g.counts[o]) {
				lits = append(lits, g.AtLeast(o, n+1))
			}
		}
	}
	return lits
}
