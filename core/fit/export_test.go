package fit

// Judged judges the boat that another search calls optimal.
func (f *Fit) Judged(q Question, counts []int) *Build { return f.judged(q, counts) }

// CompiledClauses is for how many hulls and uses clauses are kept.
func (f *Fit) CompiledClauses() int { return len(f.compiled.list) }

// Nearest completes a boat as [Fit.Search] does, or with a search over the whole boat at once, and counts in how many
// places it deviates.
func (f *Fit) Nearest(q Question, tries int, whole bool) (b *Build, deviations int) {
	root := f.newBoat(q)
	var found *boat
	var status Status
	if whole {
		s := search{fit: f, tries: tries, why: f.newExplanations(), stays: root}
		found, status = s.nearest(root)
	} else {
		found, status = f.nearest(root, root, tries, f.newExplanations())
	}
	return &Build{Choices: root.choices, State: found.live.State, Clashes: found.clashes(), Status: status, root: root},
		found.cost()
}

// Forget drops the answers that are kept, and says how many there were.
func (f *Fit) Forget() (n int) {
	for _, list := range f.answers.known {
		n += len(list)
	}
	f.answers.known, f.answers.size = nil, 0
	return n
}
