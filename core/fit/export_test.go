package fit

// Judged judges the boat that another search calls optimal.
func (f *Fit) Judged(q Question, counts []int) *Build { return f.judged(q, counts) }

// CompiledClauses is for how many hulls and uses clauses are kept.
func (f *Fit) CompiledClauses() int { return len(f.compiled.list) }
