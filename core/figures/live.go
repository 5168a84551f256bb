package figures

import (
	"math"
	"math/bits"
	"slices"

	"ribband/core/formula"
)

// Live is a boat whose figures follow its options: a change computes anew what reads it, and nothing else. What comes
// out is to the bit what [Figures.Fill] gives, since every step is the same one.
type Live struct {
	State   *formula.State
	figures *Figures
	dirty   []uint64 // steps to take
	faults  []string // by step
	piles   []*pile  // by step; nil for most
	stale   [][]int  // by step: the leaves of its pile to weigh anew
}

// NewLive is a state with every figure still to compute.
func (f *Figures) NewLive(st *formula.State) *Live {
	l := f.newLive(st)
	l.dirty = make([]uint64, (len(f.order)+63)/64)
	for i := range f.order {
		l.dirty[i/64] |= 1 << (i % 64)
	}
	return l
}

func (f *Figures) newLive(st *formula.State) *Live {
	return &Live{State: st, figures: f, faults: make([]string, len(f.order)), piles: make([]*pile, len(f.order)),
		stale: make([][]int, len(f.order))}
}

// Clone copies the boat.
func (l *Live) Clone() *Live {
	st := *l.State
	st.Counts, st.Slots, st.Figures = slices.Clone(st.Counts), slices.Clone(st.Slots), slices.Clone(st.Figures)
	c := &Live{&st, l.figures, slices.Clone(l.dirty), slices.Clone(l.faults), slices.Clone(l.piles),
		make([][]int, len(l.stale))}
	for i, p := range c.piles {
		if p != nil {
			c.piles[i], c.stale[i] = p.clone(), slices.Clone(l.stale[i])
		}
	}
	return c
}

// Set changes how many of an option there are.
func (l *Live) Set(option, count int) {
	slot := l.figures.pack.Options[option].Slot
	l.State.Slots[slot] += count - l.State.Counts[option]
	l.State.Counts[option] = count
	l.mark(l.figures.readers.Option(option))
	l.mark(l.figures.readers.Slot(slot))
	l.spoil(l.figures.leafReaders.Option(option))
	l.spoil(l.figures.leafReaders.Slot(slot))
}

// spoil notes leaves that are to be weighed anew. Those of a pile that is not made yet are weighed anyway.
func (l *Live) spoil(leaves []int) {
	for _, i := range leaves {
		if at := l.figures.leaves[i]; l.piles[at.step] != nil {
			l.stale[at.step] = append(l.stale[at.step], at.place)
		}
	}
}

func (l *Live) mark(steps []int) {
	for _, i := range steps {
		l.dirty[i/64] |= 1 << (i % 64)
	}
}

// Run computes what has to be; changed hears of every figure that is another than before, late ones only from RunAll.
func (l *Live) Run(changed func(figure int)) { l.sweep(l.figures.plain, changed) }

// RunAll computes what has to be, the figures of modules too.
func (l *Live) RunAll(changed func(figure int)) {
	l.sweep(len(l.figures.order), changed)
	l.tellFaults()
}

// sweep takes the dirty steps before an end, in order: those that one makes dirty come after it.
func (l *Live) sweep(end int, changed func(figure int)) {
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
func (l *Live) take(i int, changed func(figure int)) {
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
		if before != st.Masses {
			tell(len(st.Figures))
		}
	case s.module != nil:
		var before [maxOutputs]float64
		fault := l.faults[i]
		for j, at := range s.module.places {
			if at >= 0 {
				before[j] = st.Figures[at]
			}
		}
		l.run(i)
		for j, at := range s.module.places {
			if at >= 0 && (!sameBits(before[j], st.Figures[at]) || fault != l.faults[i]) {
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

func sameBits(a, b float64) bool { return math.Float64bits(a) == math.Float64bits(b) }

// run computes one step into the state.
func (l *Live) run(i int) {
	s, st := &l.figures.order[i], l.State
	switch {
	case s.masses != nil:
		st.Masses = s.masses.light(st, l.pile(i))
	case s.module != nil:
		l.faults[i] = s.module.fill(st)
	case s.formula != nil:
		st.Figures[s.index] = s.formula(st)
	case s.piled():
		sum := s.ofHull(st)
		for _, of := range l.pile(i).total() {
			sum += of
		}
		st.Figures[s.index] = sum
	default:
		st.Figures[s.index] = s.sum(st)
	}
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
		c := &s.options[i]
		if n := st.Counts[c.option]; n > 0 {
			sum += float64(n) * c.amount.Of(st)
		}
	}
	return sum
}

// tellFaults gives the state the faults in the order of the steps.
func (l *Live) tellFaults() {
	l.State.Faults = nil
	for _, fault := range l.faults {
		if fault != "" && !slices.Contains(l.State.Faults, fault) {
			l.State.Faults = append(l.State.Faults, fault)
		}
	}
}
