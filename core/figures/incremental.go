package figures

import (
	"math"
	"math/bits"
	"slices"

	"ribband/core/formula"
)

// Incremental is a boat whose figures follow its options: a change computes anew what reads it, and nothing else. What
// comes out is to the bit what [Figures.Fill] gives, since every step is the same one.
type Incremental struct {
	boat
	figures *Figures
	dirty   []uint64        // steps to take
	faults  []formula.Fault // by step
	trees   []*numbers      // by step: the tree of its sum; nil for most
	masses  *weights        // of the mass table; nil until it is asked for
	stale   [][]int         // by step: the leaves of its tree to compute anew
	out     results         // of the module that runs
}

// numbers are the sum tree of a total, weights that of the mass table.
type (
	numbers = sumTree[scalar, *scalar]
	weights = sumTree[moments, *moments]
)

// NewIncremental is a state with every figure still to compute.
func (f *Figures) NewIncremental(st *formula.State) *Incremental {
	l := f.incremental(st)
	l.dirty = make([]uint64, (len(f.order)+63)/64)
	for i := range f.order {
		l.dirty[i/64] |= 1 << (i % 64)
	}
	return l
}

// incremental is a boat without any step marked: who fills a state takes the steps itself.
func (f *Figures) incremental(st *formula.State) *Incremental {
	return &Incremental{boat: boat{State: st}, figures: f, faults: make([]formula.Fault, len(f.order)),
		trees: make([]*numbers, len(f.order)), stale: make([][]int, len(f.order))}
}

// Clone copies the boat.
func (l *Incremental) Clone() *Incremental {
	st := *l.State
	st.Counts, st.Slots, st.Figures = slices.Clone(st.Counts), slices.Clone(st.Slots), slices.Clone(st.Figures)
	c := &Incremental{boat: boat{State: &st, rest: l.rest}, figures: l.figures, dirty: slices.Clone(l.dirty),
		faults: slices.Clone(l.faults), trees: slices.Clone(l.trees), masses: l.masses.clone(),
		stale: make([][]int, len(l.stale))}
	// trees and stale leaves go with the boat that they are of; the index of who reads what is shared, and never
	// changes
	for i := range c.trees {
		c.trees[i], c.stale[i] = c.trees[i].clone(), slices.Clone(l.stale[i])
	}
	return c
}

// Set changes how many of an option there are.
func (l *Incremental) Set(option, count int) {
	slot := l.figures.pack.Options[option].Slot
	l.State.Slots[slot] += count - l.State.Counts[option]
	l.State.Counts[option] = count
	l.mark(l.figures.readers.Option(option))
	l.mark(l.figures.readers.Slot(slot))
	l.spoil(l.figures.leafReaders.Option(option))
	l.spoil(l.figures.leafReaders.Slot(slot))
}

// spoil notes leaves that are to be computed anew. Those of a tree that is not made yet are computed anyway.
func (l *Incremental) spoil(leaves []int) {
	for _, i := range leaves {
		at := l.figures.leaves[i]
		if l.trees[at.step] != nil || l.masses != nil && l.figures.order[at.step].masses != nil {
			l.stale[at.step] = append(l.stale[at.step], at.place)
		}
	}
}

// mark notes steps to take, a bit for each: a change marks the same ones many times over, and they are taken in order.
func (l *Incremental) mark(steps []int) {
	for _, i := range steps {
		l.dirty[i/64] |= 1 << (i % 64)
	}
}

// Run computes what has to be; changed hears of every figure that is another than before, late ones only from RunAll.
func (l *Incremental) Run(changed func(figure int)) { l.sweep(l.figures.plain, changed) }

// RunLight computes what has to be, the figures of modules too but for the heavy ones, and says whether it could.
func (l *Incremental) RunLight(changed func(figure int)) bool {
	l.sweep(l.figures.light, changed)
	return !slices.ContainsFunc(l.faults[:l.figures.light], func(x formula.Fault) bool { return !x.None() })
}

// RunAll computes what has to be, the figures of modules too.
func (l *Incremental) RunAll(changed func(figure int)) {
	l.sweep(len(l.figures.order), changed)
	l.tellFaults()
}

// sweep takes the dirty steps before an end, in order: those that one makes dirty come after it.
func (l *Incremental) sweep(end int, changed func(figure int)) {
	for w := 0; w < len(l.dirty) && w*64 < end; w++ {
		for l.dirty[w] != 0 {
			i := w*64 + bits.TrailingZeros64(l.dirty[w])
			if i >= end {
				return
			}
			l.dirty[w] &^= 1 << (i % 64)
			l.take(i, changed)
		}
	}
}

// take takes one step and tells of what it changed.
func (l *Incremental) take(i int, changed func(figure int)) {
	s, st := &l.figures.order[i], l.State
	tell := func(figure int) {
		l.mark(l.figures.readers.Figure(figure))
		if figure < len(st.Figures) {
			l.spoil(l.figures.leafReaders.Figure(figure))
			changed(figure)
		}
	}
	switch {
	case s.masses != nil:
		before := st.Masses
		l.run(i)
		// the mass table has no figure of its own: it counts as the one behind the last
		if before != st.Masses {
			tell(len(st.Figures))
		}
	case s.module != nil:
		var before [MaxOutputs]float64
		fault := l.faults[i]
		for j, at := range s.module.places {
			if at >= 0 {
				before[j] = st.Figures[at]
			}
		}
		l.run(i)
		for j, at := range s.module.places {
			// a figure that is zero for another reason is told of too, since its rules are passed over for a fault
			if at >= 0 && (!sameBits(before[j], st.Figures[at]) || !fault.Same(l.faults[i])) {
				tell(at)
			}
		}
	default:
		before := st.Figures[s.index]
		if l.run(i); !sameBits(before, st.Figures[s.index]) {
			tell(s.index)
		}
	}
}

// sameBits asks for the same bits rather than the same number: a number that is none is the same as itself, and minus
// zero is not zero, since what is computed from them may differ.
func sameBits(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

// run computes one step into the state.
func (l *Incremental) run(i int) {
	s, st := &l.figures.order[i], l.State
	switch {
	case s.masses != nil:
		l.masses = l.masses.follow(l.stale[i], len(s.masses.carry),
			func(k int, into *moments) { s.masses.carried(st, k, into) })
		st.Masses = s.masses.light(st, l.masses.total())
	case s.module != nil:
		l.faults[i] = s.module.fill(&l.boat, &l.out)
	case s.formula != nil:
		st.Figures[s.index] = s.formula(st)
	case s.treed():
		l.trees[i] = l.trees[i].follow(l.stale[i], len(s.options),
			func(k int, into *scalar) { *into = scalar(s.options[k].on(st)) })
		st.Figures[s.index] = s.ofHull(st) + float64(l.trees[i].total())
	default:
		st.Figures[s.index] = s.sum(st)
	}
	l.stale[i] = l.stale[i][:0]
}

// on is what an option adds to a boat: nothing where the boat is without it.
func (c *carried) on(st *formula.State) float64 {
	if n := st.Counts[c.option]; n > 0 {
		return float64(n) * c.amount.Of(st)
	}
	return 0
}

// ofHull is what the base boat carries.
func (s *step) ofHull(st *formula.State) float64 {
	if h := &s.hulls[st.HullID]; h.amount.Given() {
		return h.amount.Of(st)
	}
	return 0
}

// sum adds up what is carried.
func (s *step) sum(st *formula.State) float64 {
	sum := s.ofHull(st)
	for i := range s.options {
		sum += s.options[i].on(st)
	}
	return sum
}

// tellFaults gives the state the faults in the order of the steps.
func (l *Incremental) tellFaults() {
	l.State.Faults = nil
	for _, fault := range l.faults {
		if !fault.None() && !slices.ContainsFunc(l.State.Faults, fault.Same) {
			l.State.Faults = append(l.State.Faults, fault)
		}
	}
}
