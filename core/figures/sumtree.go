package figures

import "ribband/core/formula"

// sumTree is a sum of many leaves that is kept up to date: halves of it are added up, halves of those, and so on, so
// that a change adds up anew a handful of halves and not the whole. An incremental boat and one that is computed from
// nothing add the same numbers in the same order and agree to the bit.
//
// Source: the segment tree, a textbook method. Valid: its rounding error is that of pairwise summation, below that of
// adding one after the other.
type sumTree[T summand[T]] struct {
	leaves int
	sums   []T // of node 1, the whole; the halves of node i are 2i and 2i+1, and the leaves come last
}

// summand is what a sum tree adds up.
type summand[T any] interface{ plus(T) T }

// scalar is a summand of one number.
type scalar float64

func (a scalar) plus(b scalar) scalar { return a + b }

// set changes a leaf and adds up anew what it is part of.
func (t *sumTree[T]) set(leaf int, v T) {
	t.sums[t.leaves+leaf] = v
	for i := (t.leaves + leaf) / 2; i > 0; i /= 2 {
		t.sums[i] = t.sums[2*i].plus(t.sums[2*i+1])
	}
}

// fill sets every leaf.
func (t *sumTree[T]) fill(value func(leaf int) T) {
	for k := range t.leaves {
		t.sums[t.leaves+k] = value(k)
	}
	for i := t.leaves - 1; i > 0; i-- {
		t.sums[i] = t.sums[2*i].plus(t.sums[2*i+1])
	}
}

// total is the sum; zero without leaves.
func (t *sumTree[T]) total() (sum T) {
	if t.leaves > 0 {
		sum = t.sums[1]
	}
	return sum
}

// clone copies the tree; of none it is none.
func (t *sumTree[T]) clone() *sumTree[T] {
	if t == nil {
		return nil
	}
	return &sumTree[T]{t.leaves, append([]T(nil), t.sums...)}
}

// follow makes the tree, or brings its stale leaves up to date.
func (t *sumTree[T]) follow(stale []int, leaves int, value func(leaf int) T) *sumTree[T] {
	if t == nil {
		t = &sumTree[T]{leaves, make([]T, 2*leaves)}
		t.fill(value)
	}
	for _, k := range stale {
		t.set(k, value(k))
	}
	return t
}

// treed is from how many carriers on a total is a sum tree.
const treed = 64

// treed says that the step's sum is a tree.
func (s *step) treed() bool {
	return s.masses != nil || s.module == nil && s.formula == nil && len(s.options) >= treed
}

// leaf is a leaf of the sum tree of a step.
type leaf struct{ step, place int }

// findLeaves finds the leaves of all sum trees, and who of them reads what.
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
		case s.treed():
			for k := range s.options {
				add(i, k, s.options[k].option, s.options[k].program.Reads())
			}
		}
	}
	f.leafReaders = formula.NewIndex(reads, f.pack.Space())
}
