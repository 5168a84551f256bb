package clauses

import (
	"slices"

	"ribband/core/fit/sat"
	"ribband/core/formula"
	"ribband/core/pack"
)

// mostContents is how many contents of slots together are tried out for a comparison. Each is computed on a boat, once
// for a hull and use; beyond some thousands the clauses get longer than what the solver would learn on the way.
const mostContents = 4096

// content is something that a slot may hold, as far as a comparison can see, and the literals of which one is true
// where it holds something else. A comparison sees only options that it reads: all others of a slot are one content
// together, "nothing".
type content struct {
	counts    []pack.Count
	otherwise []sat.Lit
}

// comparison is the literal for a comparison of numbers: true or false for each content of the slots that it reads,
// figures resolved. It is lazy if these are too many, or if a module computes a figure of it, which takes long and may
// fail.
func (w *writer) comparison(p formula.Program) (l sat.Lit, lazy bool) {
	key := p.String()
	l, known := w.atoms[key]
	if !known {
		l = w.tabulated(p)
		w.atoms[key] = l
	}
	return l, l == 0
}

// tabulated counts the contents before it tries any: the product over the slots is known without a boat.
func (w *writer) tabulated(p formula.Program) sat.Lit {
	if !w.figures.Plain(p.Reads()) {
		return 0
	}
	bySlot, size := w.bySlot(w.figures.Resolve(p.Reads())), 1
	for s, options := range bySlot {
		if size *= w.contentsOf(s, options); size > w.most {
			return 0
		}
	}
	var slots [][]content
	for s, options := range bySlot {
		if len(options) > 0 {
			slots = append(slots, w.contents(s, options))
		}
	}
	t := table{writer: w, slots: slots, holds: p.Truth()}
	t.try(0)
	return t.literal()
}

// table is a comparison over the contents of slots, in mixed radix, the last slot fastest.
type table struct {
	*writer
	slots  [][]content
	holds  formula.TruthFunc
	values []bool
}

// try goes through all contents. The boat goes from content to content as a search does, so that each computes only
// what the last slots changed.
func (t *table) try(slot int) {
	if slot == len(t.slots) {
		t.live.Run(func(int) {})
		t.values = append(t.values, t.holds(t.live.State))
		return
	}
	for _, x := range t.slots[slot] {
		for _, n := range x.counts {
			t.live.Set(n.Option, n.Count)
		}
		t.try(slot + 1)
		for _, n := range x.counts {
			t.live.Set(n.Option, 0)
		}
	}
}

// literal defines the literal of a table; that of one whose values are all the same is a constant.
func (t *table) literal() sat.Lit {
	if !slices.Contains(t.values, !t.values[0]) {
		return sign(yes, t.values[0])
	}
	l := t.fresh()
	t.define(l, nil, 0, t.values)
	return l
}

// define writes a clause for each run of values that some contents leave the same. A run is told by the contents before
// it alone, as in a decision diagram without sharing: of a limit on the bank that no motor changes, one clause for each
// bank.
func (t *table) define(l sat.Lit, otherwise []sat.Lit, slot int, values []bool) {
	if !slices.Contains(values, !values[0]) {
		t.add(append(slices.Clone(otherwise), sign(l, values[0]))...)
		return
	}
	size := len(values) / len(t.slots[slot])
	for i, x := range t.slots[slot] {
		t.define(l, slices.Concat(otherwise, x.otherwise), slot+1, values[i*size:(i+1)*size])
	}
}

func sign(l sat.Lit, positive bool) sat.Lit {
	if positive {
		return l
	}
	return -l
}

// bySlot are, by slot, the options that something reads and that are made for the hull. Of a slot that is asked as a
// whole these are all its options.
func (w *writer) bySlot(r formula.Reads) [][]int {
	list := make([][]int, len(w.pack.Slots))
	read := func(o int) {
		if s := w.pack.Options[o].Slot; len(w.counts[o]) > 0 && !slices.Contains(list[s], o) {
			list[s] = append(list[s], o)
		}
	}
	for _, o := range r.Options {
		read(o)
	}
	for _, s := range r.Slots {
		for o := w.pack.Slots[s].First; o < w.pack.Slots[s].End; o++ {
			read(o)
		}
	}
	return list
}

// contentsOf is how many contents a slot has at most, as far as some of its options are concerned; of a slot with very
// many, more than are tried out. It only bounds: the slot may allow fewer together.
func (w *writer) contentsOf(slot int, options []int) int {
	if !w.pack.Slots[slot].Multiple {
		return len(options) + 1
	}
	n := 1
	for _, o := range options {
		if n *= len(w.counts[o]) + 1; n > w.most {
			break
		}
	}
	return n
}

// contents are those of one slot, as far as some of its options are concerned.
func (w *writer) contents(slot int, options []int) []content {
	def := &w.pack.Slots[slot]
	if def.Multiple {
		return w.multipleContents(options, def.Most)
	}
	var list []content
	var nothing content
	for _, o := range options {
		nothing.otherwise = append(nothing.otherwise, w.AtLeast(o, 1))
		list = append(list, content{[]pack.Count{{Option: o, Count: 1}}, []sat.Lit{-w.AtLeast(o, 1)}})
	}
	if def.Least > 0 && def.When.Empty() && len(options) == len(w.held(slot)) {
		return list // it always holds one of them
	}
	return append(list, nothing)
}

// multipleContents are all counts of some options together, up to a most if there is one.
func (w *writer) multipleContents(options []int, most int) []content {
	list := []content{{}}
	for _, o := range options {
		var longer []content
		for _, x := range list {
			sum := 0
			for _, n := range x.counts {
				sum += n.Count
			}
			for n := 0; n <= len(w.counts[o]) && (most == 0 || sum+n <= most); n++ {
				y := content{slices.Clone(x.counts), slices.Clone(x.otherwise)}
				if n > 0 {
					y.counts = append(y.counts, pack.Count{Option: o, Count: n})
					y.otherwise = append(y.otherwise, -w.AtLeast(o, n))
				}
				if n < len(w.counts[o]) {
					y.otherwise = append(y.otherwise, w.AtLeast(o, n+1))
				}
				longer = append(longer, y)
			}
		}
		list = longer
	}
	return list
}
