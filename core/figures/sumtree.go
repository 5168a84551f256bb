package figures

import "ribband/core/formula"

// sumTree is a sum of many leaves that is kept up to date: halves of it are added up, halves of those, and so on, so
// that a change adds up anew a handful of halves and not the whole. An incremental boat and one that is computed from
// nothing add the same numbers in the same order and agree to the bit.
//
// Source: the segment tree, a textbook method. Valid: its rounding error is that of pairwise summation, below that of
// adding one after the other.
type sumTree[T any, P summand[T]] struct {
	leaves int
	sums   []T // of node 1, the whole; the halves of node i are 2i and 2i+1, and the leaves come last
}

// summand is what a sum tree adds up, where it stands: boats of a search are weighed thousands of times.
type summand[T any] interface {
	*T
	sum(a, b *T)
}

// scalar is a summand of one number.
type scalar float64

// sum adds two halves up.
func (s *scalar) sum(a, b *scalar) { *s = *a + *b }

// leaf is where a leaf stands.
func (t *sumTree[T, P]) leaf(i int) *T { return &t.sums[t.leaves+i] }

// join adds up the halves of a node.
func (t *sumTree[T, P]) join(i int) { P(&t.sums[i]).sum(&t.sums[2*i], &t.sums[2*i+1]) }

// total is the sum; zero without leaves.
func (t *sumTree[T, P]) total() (sum T) {
	if t.leaves > 0 {
		sum = t.sums[1]
	}
	return sum
}

// clone copies the tree; of none it is none.
func (t *sumTree[T, P]) clone() *sumTree[T, P] {
	if t == nil {
		return nil
	}
	return &sumTree[T, P]{t.leaves, append([]T(nil), t.sums...)}
}

// follow makes the tree of so many leaves, or brings its stale leaves up to date, with what each of them depends on.
// Value writes a leaf, which is zero before.
func (t *sumTree[T, P]) follow(stale []int, leaves int, value func(leaf int, into *T)) *sumTree[T, P] {
	if t == nil {
		t = &sumTree[T, P]{leaves, make([]T, 2*leaves)}
		for k := range leaves {
			value(k, t.leaf(k))
		}
		for i := leaves - 1; i > 0; i-- {
			t.join(i)
		}
	}
	for _, k := range stale {
		var zero T
		*t.leaf(k) = zero
		value(k, t.leaf(k))
		for i := (leaves + k) / 2; i > 0; i /= 2 {
			t.join(i)
		}
	}
	return t
}

// treed is from how many carriers on a total is a sum tree.
// treed is from how many carriers on a total is a sum tree. Below, adding all of them up again is as quick and needs no
// memory by boat.
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
