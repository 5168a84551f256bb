package sat

// Limits bound the effort of one call: of [Solver.Solve], or of all the questions together that [Solver.MinimalCore],
// [Solver.Minimise] or [Solver.Enumerate] ask. 0 is no limit. They count work and not time, so that the answer does not
// depend on the machine.
type Limits struct {
	Conflicts    int64
	Propagations int64 // literals made true, by guess or consequence
}

// pollEvery is how many guesses pass between two looks at the caller's interrupt. An interrupt may be slow to ask, as
// where it looks at messages of a page.
const pollEvery = 256

// budget is what a call may still do.
type budget struct {
	limits    Limits // counted as the solver's totals are
	interrupt func() bool
	polls     int
	runs      int // restarts so far
	over      bool
}

// Limits of a call become totals here, so that all questions of one call draw on the same budget.
func (s *Solver) budget() *budget {
	b := &budget{interrupt: s.Interrupt}
	if s.Limits.Conflicts > 0 {
		b.limits.Conflicts = s.stats.Conflicts + s.Limits.Conflicts
	}
	if s.Limits.Propagations > 0 {
		b.limits.Propagations = s.stats.Propagations + s.Limits.Propagations
	}
	return b
}

// spent says whether the call has to give up. Once it has, it stays so.
func (b *budget) spent(did *Stats) bool {
	if b.interrupt != nil && !b.over {
		if b.polls%pollEvery == 0 {
			b.over = b.interrupt()
		}
		b.polls++
	}
	return b.over ||
		b.limits.Conflicts > 0 && did.Conflicts >= b.limits.Conflicts ||
		b.limits.Propagations > 0 && did.Propagations >= b.limits.Propagations
}
