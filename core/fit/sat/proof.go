package sat

import "slices"

// Proof records what a solver was given and what it made of it. Set [Solver.Proof] before adding anything. It grows
// with the effort, so it is for checks and not for everyday questions.
type Proof struct {
	Given Formula // with the clauses and sums that Minimise and Enumerate add, each tied to a new variable of its own
	Steps []Step
}

// Step is a clause that was learnt, or one that was forgotten. The negation of each core is a step too. So a proof is
// lines as in the DRAT format, additions and deletions, but as data; each added one must follow by unit propagation
// from what is there (RUP), which is weaker than DRAT allows and all that this solver needs.
type Step struct {
	Lits      []Lit
	Forgotten bool
}

// Check confirms that the formula given does not allow the assumptions of a core, by [Check].
func (p *Proof) Check(core []Lit) error { return Check(p.Given, p.Steps, core) }

func (s *Solver) given(lits []Lit) {
	if s.Proof != nil {
		s.Proof.Given.Variables = s.Variables()
		s.Proof.Given.Clauses = append(s.Proof.Given.Clauses, slices.Clone(lits))
	}
}

func (s *Solver) givenSum(x Sum) {
	if s.Proof != nil {
		s.Proof.Given.Variables = s.Variables()
		x.Lits, x.Weights = slices.Clone(x.Lits), slices.Clone(x.Weights)
		s.Proof.Given.Sums = append(s.Proof.Given.Sums, x)
	}
}

func (s *Solver) log(lits []Lit) {
	if s.Proof != nil {
		s.Proof.Given.Variables = s.Variables()
		s.Proof.Steps = append(s.Proof.Steps, Step{Lits: slices.Clone(lits)})
	}
}

func (s *Solver) logDeletion(lits []Lit) {
	if s.Proof != nil {
		s.Proof.Steps = append(s.Proof.Steps, Step{Lits: slices.Clone(lits), Forgotten: true})
	}
}
