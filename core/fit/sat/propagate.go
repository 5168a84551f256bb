package sat

// watch stands in the list of a literal that a clause watches.
//
// A clause of which at least two literals are not false has nothing to say. So it watches two of them, and is looked at
// only when one of the two becomes false: then it finds another one to watch, or has become a consequence, or a
// conflict. Going back needs no work, since a watched literal becomes false no earlier than those passed over.
type watch struct {
	clause *clause
	other  Lit  // a literal of the clause; if it is true, the clause need not be looked at
	two    bool // the clause has no further literals
}

func (s *Solver) watch(c *clause) {
	a, b := c.lits[0], c.lits[1]
	two := len(c.lits) == 2
	s.watches[a.index()] = append(s.watches[a.index()], watch{c, b, two})
	s.watches[b.index()] = append(s.watches[b.index()], watch{c, a, two})
}

// assign makes a literal true, for the reason of a clause, of a sum, or of neither. It only notes it: the consequences
// are drawn when its place on the trail comes.
func (s *Solver) assign(l Lit, c *clause, by *sum) {
	s.value[l.index()], s.value[(-l).index()] = 1, -1
	v := &s.vars[l.Var()]
	v.clause, v.sum = c, by
	v.level, v.place = int32(len(s.starts)), int32(len(s.trail))
	s.trail = append(s.trail, l)
}

// propagate draws all consequences of what is on the trail. It gives a clause that is false, or nil.
func (s *Solver) propagate() (conflict *clause) {
	for s.done < len(s.trail) {
		l := s.trail[s.done]
		s.done++
		s.stats.Propagations++
		// Sums come first: backtrack relies on every literal before done having been counted.
		if conflict := s.count(l); conflict != nil {
			return conflict
		}
		if conflict := s.visit(-l); conflict != nil {
			return conflict
		}
	}
	return nil
}

// visit looks at the clauses that watch a literal that has become false. ~The list is gone through and compacted at
// once: watches that stay move to its front, those that find another literal to watch go to that one's list. A clause
// of two literals is never looked at, only its watch; and the other literal that each watch keeps is mostly true, which
// spares looking at the clause, whose memory is elsewhere.
func (s *Solver) visit(f Lit) (conflict *clause) {
	list := s.watches[f.index()]
	kept := 0
next:
	for i, w := range list {
		other := s.value[w.other.index()]
		if other > 0 {
			list[kept] = w
			kept++
			continue
		}
		if !w.two {
			lits := w.clause.lits
			if lits[0] == f {
				lits[0], lits[1] = lits[1], f
			}
			w.other = lits[0]
			if other = s.value[w.other.index()]; other > 0 {
				list[kept] = w
				kept++
				continue
			}
			for k := 2; k < len(lits); k++ {
				if at := lits[k].index(); s.value[at] >= 0 {
					lits[1], lits[k] = lits[k], f
					s.watches[at] = append(s.watches[at], w)
					continue next
				}
			}
		}
		list[kept] = w
		kept++
		if other < 0 {
			kept += copy(list[kept:], list[i+1:])
			conflict = w.clause
			break
		}
		s.assign(w.other, w.clause, nil)
	}
	clear(list[kept:]) // so that forgotten clauses can be freed
	s.watches[f.index()] = list[:kept]
	return conflict
}

// backtrack takes back all that became true above a level.
func (s *Solver) backtrack(level int) {
	if len(s.starts) <= level {
		return
	}
	from := s.starts[level]
	// From first to last, since that is about the order that the heap wants them in.
	for i := from; i < len(s.trail); i++ {
		l := s.trail[i]
		if i < s.done {
			s.uncount(l)
		}
		s.value[l.index()], s.value[(-l).index()] = 0, 0
		v := l.Var()
		s.vars[v].phase = phaseOf(l)
		s.order.insert(v)
	}
	s.trail, s.starts, s.done = s.trail[:from], s.starts[:level], from
}
