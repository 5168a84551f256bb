package fit

import (
	"slices"

	"ribband/core/figures"
	"ribband/core/formula"
)

// Rules over the mass of the boat, and over all that follows from it, read nearly every slot. To say that such a rule is broken because of all of them helps nobody.
// An explanation is the few slots whose contents break the rule whatever the others hold: found by bounding the figures over all boats with these contents.

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
		reach := f.spread(f.touched(r.reads)) // not kept: most rules never clash
		if r.explained.wide = len(reach.slots) > widest; !r.explained.wide {
			continue
		}
		r.explained.needed = f.figures.Needed(r.reads)
		for _, s := range reach.slots {
			def := &f.pack.Slots[s]
			heavy := slices.Contains(r.reads.Slots, s)
			for o := def.First; o < def.End; o++ {
				heavy = heavy || !light(o) || slices.Contains(r.reads.Options, o)
			}
			if heavy {
				r.explained.heavy = append(r.explained.heavy, s)
			}
		}
		slices.Sort(r.explained.heavy)
	}
}

func (f *Fit) wide(x fault) bool { return x.kind == Broken && f.rules[x.index].explained.wide }

// explanations remembers those of one hull and use. What it gives follows from the contents of the heavy slots alone, so that a search with a memory goes the
// same way as one without.
type explanations struct {
	fit   *Fit
	known map[string]*touches
	box   formula.Box
	free  []bool
}

func (f *Fit) newExplanations() *explanations {
	return &explanations{fit: f, known: map[string]*touches{}, free: make([]bool, len(f.slots))}
}

// of is what could be changed to mend a clash of a boat: of a wide rule only the slots of its explanation, where it has one.
func (e *explanations) of(b *boat, x fault) touches {
	if !e.fit.wide(x) {
		return e.fit.reachOf(x)
	}
	r := &e.fit.rules[x.index]
	key := append(make([]byte, 0, 128), byte(x.index), byte(x.index>>8))
	for _, s := range r.explained.heavy {
		def := &e.fit.pack.Slots[s]
		for o := def.First; o < def.End; o++ {
			if n := b.live.State.Counts[o]; n > 0 {
				key = append(key, byte(o), byte(o>>8), byte(n))
			}
		}
	}
	t, known := e.known[string(key)]
	if !known {
		t = e.explain(b, x.index)
		e.known[string(key)] = t
	}
	if t == nil {
		return r.reach()
	}
	return *t
}

// explain frees all light slots, then of the heavy ones what it can, as long as the rule stays broken on every boat; nil where it does not. No slot
// of what is left could be freed alone.
func (e *explanations) explain(b *boat, rule int) *touches {
	f, r := e.fit, &e.fit.rules[rule]
	for s := range e.free {
		e.free[s] = true
	}
	for _, s := range r.explained.heavy {
		e.free[s] = false
	}
	if !e.broken(b, r) {
		return nil
	}
	t := f.spread(touches{e.kept(b, r, r.explained.heavy), r.reach().options})
	return &t
}

// kept frees slots together where that goes, else by halves, and gives those that cannot be freed.
func (e *explanations) kept(b *boat, r *rule, slots []int) []int {
	e.liberate(slots, true)
	if e.broken(b, r) {
		return nil
	}
	e.liberate(slots, false)
	if len(slots) == 1 {
		return slots
	}
	half := len(slots) / 2
	return slices.Concat(e.kept(b, r, slots[:half]), e.kept(b, r, slots[half:]))
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
