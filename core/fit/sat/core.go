package sat

import "slices"

// Core is a part of the assumptions of the last Unsat answer that the formula does not allow together, in their order.
// It is empty if the formula has no model at all. It need not be the smallest; see [Solver.MinimalCore].
func (s *Solver) Core() []Lit { return s.core }

// blame finds the core when an assumption turns out false: it goes back from there by the reasons to the assumptions.
// Every decision on the trail at that time is an assumption, since guesses come only after all of them hold.
func (s *Solver) blame(failed Lit, assumptions []Lit) {
	guilty := map[Lit]bool{failed: true}
	s.mark(failed.Var(), seen)
	for i := len(s.trail) - 1; len(s.starts) > 0 && i >= s.starts[0]; i-- {
		l := s.trail[i]
		if s.vars[l.Var()].mark != seen {
			continue
		}
		why := s.explain(l)
		if why == nil {
			guilty[l] = true
			continue
		}
		for _, q := range why.lits {
			if s.vars[q.Var()].level > 0 {
				s.mark(q.Var(), seen)
			}
		}
	}
	s.clearMarks()
	var negated []Lit
	for _, a := range assumptions {
		if guilty[a] {
			guilty[a] = false // once is enough
			s.core = append(s.core, a)
			negated = append(negated, -a)
		}
	}
	s.log(negated)
}

// MinimalCore finds assumptions that the formula does not allow together, of which none can be left out: without any
// one of them there is a model. It tries to do without the last assumptions first, so those that a caller would rather
// keep hidden come last.
//
// The status is Unsat for such a core; Sat if the assumptions are possible, without a core; Unknown if the limits ended
// the call: then a core, if there is one, is impossible but may be larger than needed.
//
// It leaves out one after the other and asks again, at most once for each member of the first core. Each impossible
// answer drops all that its own core does not name, so that it is mostly fewer. Source: deletion-based minimal
// unsatisfiable cores; textbook method.
func (s *Solver) MinimalCore(assumptions ...Lit) ([]Lit, Status) {
	s.known(assumptions)
	s.recall()
	b := s.budget()
	if status := s.solve(b, assumptions); status != Unsat {
		return nil, status
	}
	core, needed := s.core, []Lit(nil)
	for len(core) > 0 {
		last := core[len(core)-1]
		rest := core[:len(core)-1]
		switch s.solve(b, slices.Concat(rest, needed)) {
		case Unknown:
			s.core = slices.Concat(core, needed)
			return s.core, Unknown
		case Sat:
			needed = slices.Insert(needed, 0, last)
			core = rest
		case Unsat:
			// What was needed for a larger set is needed for each smaller one, so it is in the new core as well.
			core = s.core[:max(0, len(s.core)-len(needed))]
		}
	}
	s.core = needed
	return needed, Unsat
}
