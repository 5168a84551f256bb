package sat

// Cramp leaves no room for learnt clauses, so that a solver forgets at every guess: small tests meet it too.
func (s *Solver) Cramp() { s.room = -1 << 40 }
