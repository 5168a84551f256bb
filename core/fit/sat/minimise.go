package sat

// Optimum is the answer of [Solver.Minimise].
type Optimum struct {
	Status Status // Sat: nothing is less. Unsat: there is no model. GaveUp: this is the best so far, if there is a model
	Weight int64
	Model  Model
}

// Minimise finds a model in which the assumptions hold and the weights of the true literals add up to the least. Without weights each
// literal weighs 1. After Unsat see [Solver.Core]. An error says that the weights are too many, too few, or too large.
//
// It asks whether there is a model of at most so much. The first question after a model is whether it can be bettered at all; the
// steps double as long as the answer is yes, and halve what is left when it is no, so that the number of questions grows with the logarithm of the weights.
func (s *Solver) Minimise(lits []Lit, weights []int64, assumptions ...Lit) (Optimum, error) {
	s.known(assumptions)
	s.known(lits)
	if err := (Sum{Lits: lits, Weights: weights}).check(); err != nil {
		return Optimum{}, err
	}
	s.recall()
	b := s.budget()
	if status := s.solve(b, assumptions); status != Sat {
		return Optimum{Status: status}, nil
	}
	best := Optimum{Sat, s.model.Weigh(lits, weights), s.model}
	least := floor(lits, weights)
	for step := int64(1); least < best.Weight; {
		target := max(least, best.Weight-step)
		switch s.within(b, lits, weights, target, assumptions) {
		case GaveUp:
			best.Status = GaveUp
			return best, nil
		case Sat:
			best = Optimum{Sat, s.model.Weigh(lits, weights), s.model}
			step = min(2*step, heaviest)
		case Unsat:
			least = target + 1
			step = (best.Weight-least)/2 + 1
		}
	}
	s.core = nil
	return best, nil
}

// within asks for a model of at most so much. The bound is tied to a literal that is assumed for this question and false ever after.
func (s *Solver) within(b *budget, lits []Lit, weights []int64, target int64, assumptions []Lit) Status {
	on := s.NewVar()
	// The weights have been checked.
	_ = s.AddSum(Sum{On: on, Lits: lits, Weights: weights, Bound: target})
	status := s.solve(b, append([]Lit{on}, assumptions...))
	s.Add(-on)
	return status
}

// floor is what no model is less than: the negative weights alone.
func floor(lits []Lit, weights []int64) int64 {
	var total int64
	for i := range lits {
		total += min(0, weightOf(weights, i))
	}
	return total
}
