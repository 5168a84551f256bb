package figures

import (
	"ribband/core/formula"
)

// A pile is a sum of many numbers, or of several kinds of them side by side, that is kept up to date: halves of it are
// added up, halves of those, and so on, so that a change adds up anew a handful of halves and not the whole. A live
// boat and one that is computed from nothing pile up the same numbers in the same way and agree to the bit.
//
// Source: the segment tree, a textbook method. Valid: its rounding error is that of pairwise summation, below that of
// adding one after the other.
type pile struct {
	width  int
	leaves int
	sums   []float64 // of node 1, the whole; the halves of node i are 2i and 2i+1, and the leaves come last
}

func newPile(leaves, width int) *pile {
	return &pile{width: width, leaves: leaves, sums: make([]float64, 2*leaves*width)}
}

func (p *pile) node(i int) []float64 { return p.sums[i*p.width : (i+1)*p.width] }

// leaf is where the numbers of a leaf stand, to be written before [pile.add].
func (p *pile) leaf(i int) []float64 { return p.node(p.leaves + i) }

// add adds up anew what a leaf is part of.
func (p *pile) add(leaf int) {
	for i := (p.leaves + leaf) / 2; i > 0; i /= 2 {
		p.join(i)
	}
}

// addAll adds up everything.
func (p *pile) addAll() {
	for i := p.leaves - 1; i > 0; i-- {
		p.join(i)
	}
}

func (p *pile) join(i int) {
	whole, a, b := p.node(i), p.node(2*i), p.node(2*i+1)
	for k := range whole {
		whole[k] = a[k] + b[k]
	}
}

// total is the sum; nil without leaves.
func (p *pile) total() []float64 {
	if p.leaves == 0 {
		return nil
	}
	return p.node(1)
}

func (p *pile) clone() *pile {
	c := *p
	c.sums = append([]float64(nil), p.sums...)
	return &c
}

// piled is from how many carriers on a total is a pile.
const piled = 64

// leaf is a leaf of the pile of a step.
type leaf struct{ step, place int }

// leaves finds the leaves of all piles, and who of them reads what.
func (f *Figures) findLeaves() {
	var reads []formula.Reads
	add := func(step, place, option int, r formula.Reads) {
		f.leaves = append(f.leaves, leaf{step, place})
		reads = append(reads, r.With(formula.Reads{Options: []int{option}}))
	}
	for i := range f.order {
		s := &f.order[i]
		switch {
		case s.masses != nil:
			for k, o := range s.masses.carry {
				add(i, k, o, s.masses.readsOf(o))
			}
		case s.piled():
			for k := range s.options {
				add(i, k, s.options[k].option, s.options[k].program.Reads())
			}
		}
	}
	f.leafReaders = formula.NewIndex(reads, f.pack.Space())
}

// piled says that the step's sum is a pile.
func (s *step) piled() bool {
	return s.masses != nil || s.module == nil && s.formula == nil && len(s.options) >= piled
}

// pile is that of a step, kept up to date; the first call makes it.
func (l *Live) pile(i int) *pile {
	s := &l.figures.order[i]
	p := l.piles[i]
	if p == nil {
		if s.masses != nil {
			p = newPile(len(s.masses.carry), len(l.State.Masses))
		} else {
			p = newPile(len(s.options), 1)
		}
		for k := range p.leaves {
			s.weigh(l.State, k, p.leaf(k))
		}
		p.addAll()
		l.piles[i] = p
	}
	for _, k := range l.stale[i] {
		s.weigh(l.State, k, p.leaf(k))
		p.add(k)
	}
	l.stale[i] = l.stale[i][:0]
	return p
}

// weigh writes what carrier k adds to the pile of a step.
func (s *step) weigh(st *formula.State, k int, into []float64) {
	if s.masses != nil {
		s.masses.weigh(st, k, into)
		return
	}
	c := &s.options[k]
	into[0] = 0
	if n := st.Counts[c.option]; n > 0 {
		into[0] = float64(n) * c.amount.Of(st)
	}
}
