package sat

import "slices"

// Formula is a formula as data: all clauses and sums have to hold.
type Formula struct {
	Variables int // numbered from 1
	Clauses   [][]Lit
	Sums      []Sum
}

// AddFormula adds all clauses and sums of a formula, and the variables that it has more than the solver. An error is
// that of [Solver.AddSum].
func (s *Solver) AddFormula(f Formula) error {
	for s.Variables() < f.Variables {
		s.NewVar()
	}
	for _, c := range f.Clauses {
		s.Add(c...)
	}
	for _, x := range f.Sums {
		if err := s.AddSum(x); err != nil {
			return err
		}
	}
	return nil
}

// Allows says whether a model obeys every clause and sum. It is plain evaluation, to check answers with.
func (f Formula) Allows(m Model) bool {
	for _, c := range f.Clauses {
		if !slices.ContainsFunc(c, m.Holds) {
			return false
		}
	}
	for _, x := range f.Sums {
		if (x.On == 0 || m.Holds(x.On)) && m.Weigh(x.Lits, x.Weights) > x.Bound {
			return false
		}
	}
	return true
}
