package sat

import (
	"cmp"
	"fmt"
	"slices"
)

// A Sum is the constraint Σ weight·literal ≤ bound, where a literal counts 1 if it is true and 0 if not. Without
// weights each literal weighs 1. With On it has to hold only if that literal is true (nothing follows for On from the
// sum's holding). Weights may be negative: Σ ≥ b is written as Σ of the negative weights ≤ -b.
type Sum struct {
	On      Lit // 0: always
	Lits    []Lit
	Weights []int64
	Bound   int64
}

// heaviest bounds the absolute values of a sum's weights, all together. No sum of this package overflows below it.
const heaviest = 1 << 61

func (x Sum) check() error {
	if x.Weights != nil && len(x.Weights) != len(x.Lits) {
		return fmt.Errorf("adding a sum: %d literals have %d weights; give each one, or none", len(x.Lits),
			len(x.Weights))
	}
	var total int64
	for i, w := range x.Weights {
		if w < -heaviest || w > heaviest || total > heaviest-max(w, -w) {
			return fmt.Errorf("adding a sum: weight %d at place %d makes the weights more than %d in all; "+
				"use a coarser unit", w, i+1, int64(heaviest))
		}
		total += max(w, -w)
	}
	return nil
}

// sum is a constraint at work, in normal form: different open variables, positive weights, and no condition. The
// heaviest comes first.
//
// The condition is one more literal: on → Σ ≤ b is Σ + (t-b)·on ≤ t, where t is the sum of all weights. In this form
// only literals that become true matter, and only by the slack: a sum is propagated by one subtraction, whatever its
// length.
type sum struct {
	lits    []Lit
	weights []int64
	bound   int64
	slack   int64 // the bound less the weights of the literals that are true and propagated
}

// count stands in the list of a literal that weighs in a sum.
type count struct {
	sum    *sum
	weight int64
}

// AtMost adds Σ weights·lits ≤ bound. An error says that the weights are too many, too few, or too large; then nothing
// is added.
func (s *Solver) AtMost(lits []Lit, weights []int64, bound int64) error {
	return s.AddSum(Sum{Lits: lits, Weights: weights, Bound: bound})
}

// ExactlyOne adds that one of the literals is true and the others are false.
func (s *Solver) ExactlyOne(lits ...Lit) {
	s.Add(lits...)
	// Sums without weights cannot be wrong.
	_ = s.AtMost(lits, nil, 1)
}

// AddSum adds a sum. An error says that the weights are too many, too few, or too large; then nothing is added.
func (s *Solver) AddSum(x Sum) error {
	s.known(x.Lits)
	if x.On != 0 {
		s.known([]Lit{x.On})
	}
	if err := x.check(); err != nil {
		return err
	}
	s.givenSum(x)
	if s.broken || x.On != 0 && s.value[x.On.index()] < 0 {
		return nil
	}
	n, total := s.normal(x)
	if n.bound >= total {
		return nil // it holds whatever is chosen
	}
	if x.On != 0 && s.value[x.On.index()] == 0 {
		if n.bound < 0 {
			s.install([]Lit{-x.On})
			return nil
		}
		n = s.conditional(n, x.On, total)
	}
	if n.bound < 0 {
		s.broken = true
		return nil
	}
	s.sums = append(s.sums, n)
	for i, l := range n.lits {
		s.counts[l.index()] = append(s.counts[l.index()], count{n, n.weights[i]})
	}
	s.tighten(n)
	s.broken = s.propagate() != nil
	return nil
}

// normal brings a sum into normal form but for its condition, and gives the sum of its weights. Facts are counted and
// left out; -l weighs what l does not: w·(-l) = w - w·l.
func (s *Solver) normal(x Sum) (n *sum, total int64) {
	n = &sum{bound: min(max(x.Bound, -heaviest-1), heaviest)}
	weight := make(map[int]int64, len(x.Lits)) // of the positive literal
	var variables []int
	for i, l := range x.Lits {
		w, v := weightOf(x.Weights, i), l.Var()
		switch {
		case s.value[l.index()] > 0:
			n.bound -= w
			continue
		case s.value[l.index()] < 0:
			continue
		case l < 0:
			n.bound -= w
			w = -w
		}
		if _, there := weight[v]; !there {
			variables = append(variables, v)
		}
		weight[v] += w
	}
	for _, v := range variables {
		l, w := Lit(v), weight[v]
		if w < 0 {
			n.bound -= w
			l, w = -l, -w
		}
		if w != 0 {
			n.lits, n.weights = append(n.lits, l), append(n.weights, w)
			total += w
		}
	}
	n.slack = n.bound
	n.sort()
	return n, total
}

// conditional is a sum that holds if a literal does. That literal may be one of the sum's own: then it is counted
// twice, which is sound, but has to be brought into normal form again.
func (s *Solver) conditional(n *sum, on Lit, total int64) *sum {
	lits, weights := append(n.lits, on), append(n.weights, total-n.bound)
	n, _ = s.normal(Sum{Lits: lits, Weights: weights, Bound: total})
	return n
}

// sort puts the heaviest first, and of the same weight the lower variable: explanations then name few literals, and the
// same ones every time.
func (x *sum) sort() {
	places := make([]int, len(x.lits))
	for i := range places {
		places[i] = i
	}
	slices.SortFunc(places, func(i, j int) int {
		return cmp.Or(cmp.Compare(x.weights[j], x.weights[i]), cmp.Compare(x.lits[i].Var(), x.lits[j].Var()))
	})
	lits, weights := make([]Lit, len(places)), make([]int64, len(places))
	for to, from := range places {
		lits[to], weights[to] = x.lits[from], x.weights[from]
	}
	x.lits, x.weights = lits, weights
}

// count takes a literal that has become true into its sums, and draws the consequences. All of them are counted even
// where one is over: going back gives back all sums of a literal, and does not know where a conflict ended the
// counting.
func (s *Solver) count(l Lit) (conflict *clause) {
	list := s.counts[l.index()]
	var over *sum
	for _, c := range list {
		if c.sum.slack -= c.weight; c.sum.slack < 0 && over == nil {
			over = c.sum
		}
	}
	if over != nil {
		return &clause{lits: s.because(over, nil, over.bound, len(s.trail))}
	}
	for _, c := range list {
		s.tighten(c.sum)
	}
	return nil
}

// uncount takes a literal out of its sums again. Nothing else needs undoing: a sum has no watches, and its reasons are
// made when asked for.
func (s *Solver) uncount(l Lit) {
	for _, c := range s.counts[l.index()] {
		c.sum.slack += c.weight
	}
}

// tighten makes the literals false for which a sum has no room left. The weights fall, so that the first that fits ends
// it.
func (s *Solver) tighten(x *sum) {
	for i, w := range x.weights {
		if w <= x.slack {
			return
		}
		if l := x.lits[i]; s.value[l.index()] == 0 {
			s.assign(-l, nil, x)
		}
	}
}

// reason is the clause by which a sum has made a literal true: its complement would not have fitted beside those true
// before.
func (s *Solver) reason(x *sum, l Lit) *clause {
	weight := x.weights[slices.Index(x.lits, -l)]
	return &clause{lits: s.because(x, []Lit{l}, x.bound-weight, int(s.vars[l.Var()].place))}
}

// because appends the complements of literals that were true before a place on the trail and together weigh more than
// so much: few of them, as the heaviest come first.
func (s *Solver) because(x *sum, lits []Lit, more int64, before int) []Lit {
	for i, l := range x.lits {
		if more < 0 {
			break
		}
		if s.value[l.index()] > 0 && int(s.vars[l.Var()].place) < before {
			lits = append(lits, -l)
			more -= x.weights[i]
		}
	}
	return lits
}

// openWeight is the weight of the literals that have no value.
func (s *Solver) openWeight(x *sum) int64 {
	var total int64
	for i, l := range x.lits {
		if s.value[l.index()] == 0 {
			total += x.weights[i]
		}
	}
	return total
}

// removeSum takes a sum out of the lists of its literals.
func (s *Solver) removeSum(x *sum) {
	for _, l := range x.lits {
		s.counts[l.index()] = slices.DeleteFunc(s.counts[l.index()], func(c count) bool { return c.sum == x })
	}
}
