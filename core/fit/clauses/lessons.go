package clauses

import (
	"cmp"
	"slices"

	"ribband/core/figures"
	"ribband/core/fit/sat"
	"ribband/core/formula"
	"ribband/core/pack"
)

// lessons are what can be learnt of boats that the clauses allow and the lazy rules do not.
type lessons struct {
	*Clauses
	rules []lesson // the lazy rules, then the conditions of slots that are lazy
	whole []reader // what the figures of modules follow from, slot by slot
	box   formula.Box
	free  []bool
}

// lesson is a lazy rule or condition, with what it follows from.
type lesson struct {
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

func newLessons(c *Clauses) *lessons {
	l := &lessons{Clauses: c, free: make([]bool, len(c.pack.Slots))}
	for _, r := range c.lazy {
		def := &c.pack.Rules[r]
		l.add(lesson{when: def.When, need: def.Need, rule: r, slot: -1})
	}
	for _, s := range c.lazySlots {
		l.add(lesson{need: c.pack.Slots[s].When, rule: -1, slot: s})
	}
	l.whole = l.readers(modules(c.pack))
	return l
}

// modules reads the figures that are computed by modules, as far as all desks know them.
func modules(p *pack.Pack) (r formula.Reads) {
	for i := range p.Figures {
		if name := figures.ID(p.Figures[i].Computed); name != "" && !figures.YardOnly(name) {
			r.Figures = append(r.Figures, i)
		}
	}
	return r
}

func (l *lessons) add(x lesson) {
	reads := x.when.Reads().With(x.need.Reads())
	x.whenIs, x.needIs, x.reads, x.needed = x.when.Truth(), x.need.Truth(), l.readers(reads), l.figures.Needed(reads)
	l.rules = append(l.rules, x)
}

// readers resolves what is read to options by slot. Slots whose options carry least come first, so that they are the
// first to be freed.
func (l *lessons) readers(r formula.Reads) (list []reader) {
	r = l.figures.Resolve(r)
	for s := range l.pack.Slots {
		def := &l.pack.Slots[s]
		x := reader{slot: s}
		for o := def.First; o < def.End; o++ {
			_, named := slices.BinarySearch(r.Options, o)
			if _, asked := slices.BinarySearch(r.Slots, s); (named || asked) && len(l.counts[o]) > 0 {
				x.options = append(x.options, o)
			}
		}
		if len(x.options) > 0 {
			list = append(list, x)
		}
	}
	slices.SortStableFunc(list, func(a, b reader) int { return cmp.Compare(l.carries(a), l.carries(b)) })
	return list
}

func (l *lessons) carries(r reader) (most int) {
	for _, o := range r.options {
		most = max(most, len(l.pack.Options[o].Carries))
	}
	return most
}

// of are clauses that the boat of a model breaks, and no valid boat does.
func (l *lessons) of(st *formula.State, m sat.Model) (clauses [][]sat.Lit) {
	for i := range l.rules {
		x := &l.rules[i]
		switch {
		case x.rule >= 0 && x.whenIs(st) && !x.needIs(st):
			clauses = append(clauses, append(l.because(x, st, false), -l.selectors[x.rule]))
		case x.slot >= 0 && x.needIs(st) != m.Holds(l.open[x.slot]):
			open := x.needIs(st)
			clauses = append(clauses, append(l.because(x, st, open), sign(l.open[x.slot], open)))
		}
	}
	if len(st.Faults) > 0 && len(clauses) == 0 {
		clauses = append(clauses, l.otherwise(l.whole, st))
	}
	return clauses
}

// because are literals of which one holds in each boat that differs in one of the few slots that make a condition what
// it is, whatever the others hold.
func (l *lessons) because(x *lesson, st *formula.State, is bool) []sat.Lit {
	for s := range l.free {
		l.free[s] = true
	}
	l.liberate(x.reads, false)
	if !l.certain(x, st, is) {
		return l.otherwise(x.reads, st)
	}
	return l.otherwise(l.kept(x, st, is, x.reads), st)
}

// kept frees slots together where that goes, else by halves, and gives those that cannot be freed.
func (l *lessons) kept(x *lesson, st *formula.State, is bool, slots []reader) []reader {
	if len(slots) == 0 {
		return nil
	}
	l.liberate(slots, true)
	if l.certain(x, st, is) {
		return nil
	}
	l.liberate(slots, false)
	if len(slots) == 1 {
		return slots
	}
	half := (len(slots) + 1) / 2
	return slices.Concat(l.kept(x, st, is, slots[:half]), l.kept(x, st, is, slots[half:]))
}

func (l *lessons) liberate(slots []reader, free bool) {
	for _, r := range slots {
		l.free[r.slot] = free
	}
}

// certain says whether a rule is broken, or a condition of a slot what it is, on every boat that holds what this one
// does but in the free slots.
func (l *lessons) certain(x *lesson, st *formula.State, is bool) bool {
	l.figures.Bounds(st, l.free, x.needed, &l.box)
	need, sound := x.need.Judge(&l.box)
	if !sound || is && need.MayFail || !is && need.MayHold {
		return false
	}
	when, sound := x.when.Judge(&l.box)
	return sound && !when.MayFail
}

// otherwise are literals of which one holds where some slots hold anything else.
func (l *lessons) otherwise(slots []reader, st *formula.State) (lits []sat.Lit) {
	for _, r := range slots {
		several := l.pack.Slots[r.slot].Several
		held := slices.IndexFunc(r.options, func(o int) bool { return st.Counts[o] > 0 })
		if !several && held >= 0 {
			lits = append(lits, -l.AtLeast(r.options[held], 1))
			continue
		}
		for _, o := range r.options {
			n := st.Counts[o]
			if n > 0 {
				lits = append(lits, -l.AtLeast(o, n))
			}
			if n < len(l.counts[o]) {
				lits = append(lits, l.AtLeast(o, n+1))
			}
		}
	}
	return lits
}
