package fit

import (
	"slices"

	"ribband/core/figures"
	"ribband/core/formula"
)

// Rules over the mass of the boat, and over all that follows from it, read nearly every slot. To say that such a rule
// is broken because of all of them helps nobody. An explanation is the few slots whose contents break the rule whatever
// the others hold: found by bounding the figures over all boats with these contents.

// common is in how many slots a total must be carried to be taken for one that every option adds to, like the mass.
const common = 8

// explained is a rule with what explanations start from.
type explained struct {
	wide   bool           // it reads more slots than are tried out one by one
	heavy  []int          // slots that it reads for more than common totals, in the order of the book
	needed figures.Needed // steps to its figures
}

// prepareExplanations finds which rules need one.
func (f *Fit) prepareExplanations() {
	carriers := make([]map[int]bool, len(f.pack.Figures))
	for _, o := range f.pack.Options {
		for _, c := range o.Carries {
			if carriers[c.Figure] == nil {
				carriers[c.Figure] = map[int]bool{}
			}
			carriers[c.Figure][o.Slot] = true
		}
	}
	light := func(o int) bool {
		for _, c := range f.pack.Options[o].Carries {
			if len(carriers[c.Figure]) < common {
				return false
			}
		}
		return !f.visible[o]
	}
	for i := range f.rules {
		r := &f.rules[i]
		reach := f.closure(f.dependenciesOf(r.reads)) // not kept: most rules never clash
		r.explained = f.explaining(r.reads, reach.slots, light)
	}
	f.doomed = f.explaining(f.figures.Dooming(), f.modules.slots, light)
}

// explaining is what explanations of a condition start from; of one that reads few slots, none is needed.
func (f *Fit) explaining(reads formula.Reads, reach []int, light func(o int) bool) (x explained) {
	if x.wide = len(reach) > widest; !x.wide {
		return x
	}
	x.needed = f.figures.Needed(reads)
	for _, s := range reach {
		def := &f.pack.Slots[s]
		heavy := slices.Contains(reads.Slots, s)
		for o := def.First; o < def.End; o++ {
			heavy = heavy || !light(o) || slices.Contains(reads.Options, o)
		}
		if heavy {
			x.heavy = append(x.heavy, s)
		}
	}
	slices.Sort(x.heavy)
	return x
}

func (f *Fit) wide(x fault) bool { return x.kind == Broken && f.rules[x.index].explained.wide }

// explanations remembers those of one hull and use. What it gives follows from the contents of the heavy and the fixed
// slots alone, so that a search with a memory goes the same way as one without.
type explanations struct {
	fit   *Fit
	known map[string]*dependencies
	box   formula.Box
	free  []bool
}

func (f *Fit) newExplanations() *explanations {
	return &explanations{fit: f, known: map[string]*dependencies{}, free: make([]bool, len(f.slots))}
}

// of is what could be changed to mend a clash of a boat: of a wide rule, or of figures that cannot be computed, only
// the slots of its explanation, where it has one.
func (e *explanations) of(b *boat, x fault) dependencies {
	f := e.fit
	var why *explained
	switch {
	case f.wide(x):
		why = &f.rules[x.index].explained
	case x.kind == Unsound && f.doomed.wide:
		why, x.index = &f.doomed, len(f.rules) // whichever module it is
	default:
		return f.closureOf(x)
	}
	key := append(make([]byte, 0, 128), byte(x.index), byte(x.index>>8))
	hold := func(s int) {
		def := &f.pack.Slots[s]
		for o := def.First; o < def.End; o++ {
			if n := b.live.State.Counts[o]; n > 0 {
				key = append(key, byte(o), byte(o>>8), byte(n))
			}
		}
	}
	for _, s := range why.heavy {
		hold(s)
	}
	key = append(key, 0xff, 0xff)
	for s := range f.slots {
		if b.fixed(s) {
			key = append(key, byte(s), byte(s>>8), 0)
			hold(s)
		}
	}
	t, known := e.known[string(key)]
	if !known {
		t = e.explain(b, x, why)
		e.known[string(key)] = t
	}
	if t == nil {
		return f.closureOf(x)
	}
	return *t
}

// explain frees all light slots, then of the heavy ones what it can, as long as there is the clash on every boat. Where
// it needs light slots, those that are fixed anyway stay as they are: an option may be so heavy by itself that nothing
// else counts. Nil where there are other boats all the same. No slot of what is left could be freed alone.
func (e *explanations) explain(b *boat, x fault, why *explained) *dependencies {
	for s := range e.free {
		e.free[s] = true
	}
	certain := func() bool { return e.doomed(b) }
	if x.kind == Broken {
		certain = func() bool { return e.broken(b, &e.fit.rules[x.index]) }
	}
	slots := why.heavy
	e.liberate(slots, false)
	if !certain() {
		slots = slices.Clone(slots)
		for s := range e.free {
			if e.free[s] && b.fixed(s) {
				slots = append(slots, s)
			}
		}
		e.liberate(slots, false)
		if len(slots) == len(why.heavy) || !certain() {
			return nil
		}
	}
	t := e.fit.closure(dependencies{e.kept(certain, slots), e.fit.closureOf(x).options})
	return &t
}

// kept frees slots together where that goes, else by halves, and gives those that cannot be freed.
func (e *explanations) kept(certain func() bool, slots []int) []int {
	e.liberate(slots, true)
	if certain() {
		return nil
	}
	e.liberate(slots, false)
	if len(slots) == 1 {
		return slots
	}
	half := len(slots) / 2
	return slices.Concat(e.kept(certain, slots[:half]), e.kept(certain, slots[half:]))
}

func (e *explanations) liberate(slots []int, free bool) {
	for _, s := range slots {
		e.free[s] = free
	}
}

// broken says whether a rule is broken on every boat that holds what b does but in the free slots.
func (e *explanations) broken(b *boat, r *rule) bool {
	e.fit.figures.Bounds(b.live.State, e.free, r.explained.needed, &e.box)
	when, sound := r.when.Judge(&e.box)
	need, also := r.need.Judge(&e.box)
	return sound && also && !when.MayFail && !need.MayHold
}

// doomed says whether the figures of none of these boats can be computed.
func (e *explanations) doomed(b *boat) bool {
	e.fit.figures.Bounds(b.live.State, e.free, e.fit.doomed.needed, &e.box)
	return e.fit.figures.Doomed(&e.box)
}
