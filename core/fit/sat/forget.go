package sat

import (
	"cmp"
	"slices"
)

const (
	firstRoom = 2000 // learnt clauses before the first forgetting
	moreRoom  = 500  // and so many more after each
	glue      = 2    // clauses spread over so few levels are never forgotten
)

// use notes that a learnt clause has taken part in a conflict, and rates it again: it may have become better.
func (s *Solver) use(c *clause) {
	if c.levels > glue {
		c.used = true
		c.levels = min(c.levels, s.spread(c.lits))
	}
}

// forget throws away the worse half of the learnt clauses, because each costs time at every propagation. The good ones
// join few decision levels; those in use since the last time and those that are the reason of a value stay in any case.
//
// Source: Audemard and Simon 2009; from memory.
func (s *Solver) forget() {
	s.room += moreRoom
	ranked := slices.Clone(s.learnt)
	slices.SortStableFunc(ranked, func(a, b *clause) int {
		return cmp.Or(cmp.Compare(a.levels, b.levels), cmp.Compare(len(a.lits), len(b.lits)))
	})
	gone := map[*clause]bool{}
	for _, c := range ranked[len(ranked)/2:] {
		if c.levels > glue && !c.used && s.vars[c.lits[0].Var()].clause != c {
			gone[c] = true
		}
	}
	for _, c := range s.learnt {
		c.used = false
	}
	s.drop(gone)
}

// drop takes clauses out of all lists.
func (s *Solver) drop(gone map[*clause]bool) {
	if len(gone) == 0 {
		return
	}
	s.clauses = slices.DeleteFunc(s.clauses, func(c *clause) bool { return gone[c] })
	s.learnt = slices.DeleteFunc(s.learnt, func(c *clause) bool {
		if gone[c] {
			s.stats.Forgotten++
			s.logDeletion(c.lits)
		}
		return gone[c]
	})
	for i := range s.watches {
		s.watches[i] = slices.DeleteFunc(s.watches[i], func(w watch) bool { return gone[w.clause] })
	}
}

// tidy takes away, between questions, the constraints that hold whatever is guessed: clauses with a true literal, sums
// that cannot pass their bound any more. So the bounds that were tried in a minimisation, and blocked models, leave
// nothing behind.
func (s *Solver) tidy() {
	if len(s.trail) == s.tidied {
		return
	}
	s.tidied = len(s.trail)
	gone := map[*clause]bool{}
	for _, list := range [][]*clause{s.clauses, s.learnt} {
		for _, c := range list {
			if slices.ContainsFunc(c.lits, func(l Lit) bool { return s.value[l.index()] > 0 }) {
				gone[c] = true
			}
		}
	}
	for _, l := range s.trail {
		s.vars[l.Var()].clause, s.vars[l.Var()].sum = nil, nil // facts need no reason
	}
	s.drop(gone)
	s.sums = slices.DeleteFunc(s.sums, func(x *sum) bool {
		if s.openWeight(x) > x.slack {
			return false
		}
		s.removeSum(x)
		return true
	})
}
