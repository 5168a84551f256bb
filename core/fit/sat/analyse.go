package sat

// mark is what the analysis of a conflict has found out about a variable.
type mark int8

const (
	unmarked  mark = iota
	seen           // its literal is in the clause
	redundant      // its literal follows from the others
	needed         // it does not
)

func (s *Solver) mark(v int, m mark) {
	if s.vars[v].mark == unmarked {
		s.marked = append(s.marked, v)
	}
	s.vars[v].mark = m
}

func (s *Solver) clearMarks() {
	for _, v := range s.marked {
		s.vars[v].mark = unmarked
	}
	s.marked = s.marked[:0]
}

// analyse learns a clause from a conflict. Beginning with the broken clause, it replaces literals of the current level
// by the reasons why they are false, last first (each step is a resolution), until one is left: the first unique
// implication point. That literal comes first in the result, one of the next lower level second.
//
// Source: Marques-Silva and Sakallah 1999; first point: Zhang et al., ICCAD 2001; from memory. ~Open counts the marked
// literals of the current level that are still to be replaced. The first point rather than a later one: its clause
// takes the fewest steps and joins the fewest levels.
func (s *Solver) analyse(conflict *clause) []Lit {
	level := int32(len(s.starts))
	learnt := append(s.scratch[:0], 0)
	open, at := 0, len(s.trail)
	for c, pivot := conflict, Lit(0); ; {
		s.use(c)
		for _, l := range c.lits {
			v := &s.vars[l.Var()]
			if l == pivot || v.mark != unmarked || v.level == 0 {
				continue
			}
			s.mark(l.Var(), seen)
			s.order.bump(l.Var())
			if v.level == level {
				open++
			} else {
				learnt = append(learnt, l)
			}
		}
		at--
		for s.vars[s.trail[at].Var()].mark == unmarked {
			at--
		}
		pivot = s.trail[at]
		if open--; open == 0 {
			learnt[0] = -pivot
			break
		}
		c = s.explain(pivot)
	}
	s.scratch = learnt
	learnt = s.shorten(learnt)
	s.clearMarks()
	second := 1
	for i := 2; i < len(learnt); i++ {
		if s.vars[learnt[i].Var()].level > s.vars[learnt[second].Var()].level {
			second = i
		}
	}
	if len(learnt) > 1 {
		learnt[1], learnt[second] = learnt[second], learnt[1]
	}
	return learnt
}

// explain is the clause by which a true literal follows from earlier ones, or nil for a decision. That of a sum is made
// here, the first time that somebody asks: most are never asked for.
func (s *Solver) explain(l Lit) *clause {
	v := &s.vars[l.Var()]
	if v.sum != nil {
		v.clause, v.sum = s.reason(v.sum, l), nil
	}
	return v.clause
}

// deepest bounds the recursion of follows. Chains of reasons grow with the formula, and the stack of a browser is
// small. A literal that is given up on stays in the clause, which is sound.
const deepest = 1000

// shorten drops the literals that are false because others of the clause are.
//
// Source: Sörensson and Biere, Minimizing Learned Clauses, SAT 2009; from memory.
func (s *Solver) shorten(lits []Lit) []Lit {
	s.spread(lits)
	kept := lits[:1]
	for _, l := range lits[1:] {
		if !s.follows(l, 0) {
			kept = append(kept, l)
		}
	}
	return kept
}

// follows says whether a false literal is false because of seen ones alone. A reason that reaches a level without a
// seen literal ends in a decision there, so it is not followed: the stamps are those of the clause's levels.
func (s *Solver) follows(l Lit, depth int) bool {
	why := s.explain(-l)
	if why == nil || depth > deepest {
		return false
	}
	for _, q := range why.lits {
		v := &s.vars[q.Var()]
		if q == -l || v.level == 0 || v.mark == seen || v.mark == redundant {
			continue
		}
		if v.mark == needed || s.stamps[v.level] != s.stamp || !s.follows(q, depth+1) {
			s.mark(q.Var(), needed)
			return false
		}
		s.mark(q.Var(), redundant)
	}
	return true
}

// spread counts the decision levels of literals, and leaves a stamp on each.
func (s *Solver) spread(lits []Lit) int32 {
	s.stamp++
	var levels int32
	for _, l := range lits {
		if at := &s.stamps[s.vars[l.Var()].level]; *at != s.stamp {
			*at = s.stamp
			levels++
		}
	}
	return levels
}
