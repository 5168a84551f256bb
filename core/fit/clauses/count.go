package clauses

import (
	"fmt"
	"math/big"
	"slices"

	"ribband/core/fit/count"
	"ribband/core/fit/sat"
)

// Count is how many boats obey all rules but the lazy ones. The error tells a search that gave up ([count.ErrGaveUp])
// or a book that is too large.
func (c *Clauses) Count(limits count.Limits) (*big.Int, error) {
	if c.wrong != nil {
		return nil, c.wrong
	}
	n, err := c.counted().Count(limits)
	if err != nil {
		return nil, fmt.Errorf("counting the boats of %s: %w", c.pack.Hulls[c.hull].ID, err)
	}
	return n, nil
}

// counted is the formula whose models are the boats: a slot whose condition is lazy is there where it holds something.
// Without that clause an empty lazy slot would be counted twice, open and closed, for one boat.
func (c *Clauses) counted() count.Formula {
	f := count.Formula{Variables: c.variables}
	for _, clause := range c.clauses {
		f.Clauses = append(f.Clauses, ints(clause))
	}
	for _, group := range c.atMostOne {
		f.AtMostOne = append(f.AtMostOne, ints(group))
	}
	for _, l := range c.eager() {
		f.Clauses = append(f.Clauses, []int{int(l)})
	}
	for _, s := range c.lazySlots {
		f.Clauses = append(f.Clauses, append(ints(c.held(s)), -int(c.open[s])))
	}
	return f
}

// eager selects the rules that are not lazy, and no other.
func (c *Clauses) eager() []sat.Lit {
	lits := slices.Clone(c.selectors)
	for _, r := range c.lazy {
		lits[r] = -lits[r]
	}
	return lits
}

func ints(lits []sat.Lit) []int {
	out := make([]int, len(lits))
	for i, l := range lits {
		out[i] = int(l)
	}
	return out
}

// Always lists the options that are in every boat that obeys all rules but the lazy ones; where there is no such boat,
// all that are made for the hull. The error tells a search that gave up within the limits of one question, or a book
// that is too large.
func (c *Clauses) Always(limits sat.Limits) ([]int, error) { return c.fixed(limits, true) }

// Never lists the options that are made for the hull and in no boat that obeys all rules but the lazy ones. The error
// is as that of [Clauses.Always].
func (c *Clauses) Never(limits sat.Limits) ([]int, error) { return c.fixed(limits, false) }

// fixed lists the options whose being there, or not, is the same in every boat. A boat that is found spares the
// questions about what it shows. Options that a boat has in common with the one before are what is still asked about,
// and a few boats leave few.
func (c *Clauses) fixed(limits sat.Limits, there bool) (list []int, err error) {
	if c.wrong != nil {
		return nil, c.wrong
	}
	s, err := c.solver()
	if err != nil {
		return nil, err
	}
	s.Limits = limits
	shown := make([]bool, len(c.counts))
	for o, lits := range c.counts {
		if len(lits) == 0 || shown[o] {
			continue
		}
		switch s.Solve(append(c.eager(), -sign(lits[0], there))...) {
		case sat.Unsat:
			list = append(list, o)
		case sat.Unknown:
			return nil, fmt.Errorf("asking whether every boat is alike in %s: the search gave up; allow it more",
				c.pack.Options[o].ID)
		case sat.Sat:
			m := s.Model()
			for p := range c.counts {
				shown[p] = shown[p] || len(c.counts[p]) > 0 && m.Holds(c.counts[p][0]) != there
			}
		}
	}
	return list, nil
}

// solver is a new one with all clauses, the selectors still open.
func (c *Clauses) solver() (*sat.Solver, error) {
	s := sat.New(c.variables)
	if err := s.AddFormula(c.Formula()); err != nil {
		return nil, fmt.Errorf("handing the rules of %s to the solver: %w", c.pack.Hulls[c.hull].ID, err)
	}
	return s, nil
}
