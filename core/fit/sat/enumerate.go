package sat

// Enumerate calls back with one model for each combination of values that the literals of the projection can have
// together while the assumptions hold. It ends when the callback returns false (Sat), when there are no more (Unsat),
// or at the limits (Unknown).
//
// The callback may add constraints and ask questions of its own; models that come later obey what it has added. It
// takes as many questions as there are models and one more: each model is blocked by a clause, and these are withdrawn
// at the end. The blocking clauses hang on a literal of their own, which is made false at the end; the solver then
// tidies them away.
func (s *Solver) Enumerate(projection, assumptions []Lit, found func(Model) bool) Status {
	s.known(projection)
	s.known(assumptions)
	s.recall()
	b := s.budget()
	on := s.NewVar()
	defer s.Add(-on)
	asked := append([]Lit{on}, assumptions...)
	for {
		if status := s.solve(b, asked); status != Sat {
			s.core = nil // it would speak of the blocked models
			return status
		}
		m := s.model
		if !found(m) {
			return Sat
		}
		block := []Lit{-on}
		for _, l := range projection {
			if m.Holds(l) {
				l = -l
			}
			block = append(block, l)
		}
		s.Add(block...)
	}
}
