package sat

import (
	"fmt"
	"slices"
)

// Solver holds a formula and what was learnt of it. Make one with [New]. It is for one goroutine. ~What always holds
// between two calls: no guess is on the trail, only facts; every clause of two and more literals watches its first two;
// the slack of each sum counts the literals that were propagated. Within a call, each value above level 0 has a reason
// or is a guess, which is what the analysis of conflicts goes back by.
type Solver struct {
	Limits    Limits      // of each call; may be changed between calls
	Interrupt func() bool // if set, asked now and then; true ends the call with Unknown
	Proof     *Proof      // if set before anything is added, records what is given and learnt

	vars    []variable // by variable
	value   []int8     // by literal: 1 true, -1 false, 0 open
	clauses []*clause  // given, of two literals and more
	learnt  []*clause
	watches [][]watch // by literal: the clauses to visit when it becomes false
	sums    []*sum
	counts  [][]count // by literal: the sums that it weighs in
	trail   []Lit     // the true literals, in the order in which they became true
	starts  []int     // by decision level: where on the trail its decision stands
	done    int       // how much of the trail has been propagated
	order   order     // the open variables, busiest first
	broken  bool      // the formula alone has no model
	tidied  int       // how many facts there were when the constraints were last tidied
	room    int       // how many learnt clauses are kept
	stamps  []int64   // by decision level, to count different ones
	stamp   int64
	marked  []int // variables whose mark is to be cleared
	scratch []Lit // the clause being learnt
	stats   Stats
	model   Model
	core    []Lit
}

// variable is what the search knows of a variable that has a value, and what it keeps of it when it has none. What is
// asked at every propagation, the value, stands apart by literal (Solver.value), where it takes a byte and no branch.
type variable struct {
	clause    *clause // why it has its value: a clause,
	sum       *sum    // or a sum that is not explained yet; neither: a decision, or a fact
	level     int32   // the decision level at which it got its value
	place     int32   // and where on the trail
	phase     int8    // its value when it last had one
	preferred int8    // the caller's preference, or 0
	mark      mark
}

// clause is a disjunction. The first two literals are watched.
type clause struct {
	lits   []Lit
	levels int32 // of a learnt one: over how many decision levels its literals were spread; few is good
	used   bool  // of a learnt one: it took part in a conflict since the last forgetting
}

// Stats counts the work done so far.
type Stats struct {
	Conflicts, Decisions, Propagations, Restarts, Forgotten int64
}

// New makes a solver with the variables 1 to n and no constraint.
func New(n int) *Solver {
	s := &Solver{
		vars:    make([]variable, 1, n+1),
		value:   make([]int8, 2, 2*n+2),
		watches: make([][]watch, 2, 2*n+2),
		counts:  make([][]count, 2, 2*n+2),
		stamps:  make([]int64, 1, n+1),
		room:    firstRoom,
	}
	s.order = newOrder()
	for range n {
		s.NewVar()
	}
	return s
}

// NewVar adds a variable and gives its positive literal. The solver takes variables for its own use in the same way, so
// a caller that adds variables later uses the literal that it is given.
func (s *Solver) NewVar() Lit {
	v := len(s.vars)
	s.vars = append(s.vars, variable{phase: -1})
	s.value = append(s.value, 0, 0)
	s.watches = append(s.watches, nil, nil)
	s.counts = append(s.counts, nil, nil)
	s.stamps = append(s.stamps, 0)
	s.order.add(v)
	return Lit(v)
}

// Variables is how many there are, those for the solver's own use included.
func (s *Solver) Variables() int { return len(s.vars) - 1 }

// Stats is the work done so far.
func (s *Solver) Stats() Stats { return s.stats }

// Model is the one that the last Sat answer found. It is not changed by later calls.
func (s *Solver) Model() Model { return s.model }

// known panics at a literal of no variable: that is a mistake in the calling program, not in its data.
func (s *Solver) known(lits []Lit) {
	for _, l := range lits {
		if v := l.Var(); v < 1 || v >= len(s.vars) {
			panic(fmt.Sprintf("sat: literal %d is none of the variables 1 to %d; make it with NewVar", l,
				len(s.vars)-1))
		}
	}
}

// Add adds the clause that at least one of the literals is true. Without literals it cannot hold. Literals that facts
// have decided are left out, which is sound only between calls, when nothing but facts is on the trail.
func (s *Solver) Add(lits ...Lit) {
	s.known(lits)
	s.given(lits)
	if s.broken {
		return
	}
	sorted := slices.Clone(lits)
	slices.SortFunc(sorted, func(a, b Lit) int { return a.index() - b.index() })
	kept := sorted[:0]
	for i, l := range sorted {
		// A literal sorts right before its complement.
		if s.value[l.index()] > 0 || i > 0 && l == -sorted[i-1] {
			return // it holds anyway
		}
		if s.value[l.index()] == 0 && (len(kept) == 0 || l != kept[len(kept)-1]) {
			kept = append(kept, l)
		}
	}
	s.install(kept)
}

// install puts a clause of open, different literals to work.
func (s *Solver) install(lits []Lit) {
	switch len(lits) {
	case 0:
		s.broken = true
	case 1:
		s.assign(lits[0], nil, nil)
		s.broken = s.propagate() != nil
	default:
		c := &clause{lits: lits}
		s.clauses = append(s.clauses, c)
		s.watch(c)
	}
}

// Solve says whether the formula has a model in which all assumptions hold. After Sat see [Solver.Model], after Unsat
// [Solver.Core]. What was learnt is kept for the next question.
func (s *Solver) Solve(assumptions ...Lit) Status {
	s.known(assumptions)
	s.recall()
	return s.solve(s.budget(), assumptions)
}

// solve runs until there is an answer. A restart keeps the levels of the assumptions, which would be made again at
// once.
func (s *Solver) solve(b *budget, assumptions []Lit) Status {
	s.core = nil
	if s.broken {
		return Unsat
	}
	s.tidy()
	defer s.backtrack(0)
	for {
		if status, over := s.run(b, assumptions, restartAfter(b.runs)); over {
			return status
		}
		b.runs++
		s.stats.Restarts++
		s.backtrack(min(len(assumptions), len(s.starts)))
	}
}

// run searches until there is an answer, or until so many conflicts that it is better to start again. Facts and
// consequences come before the budget is looked at, so that a call with hardly any budget still tells what follows at
// once.
func (s *Solver) run(b *budget, assumptions []Lit, conflicts int) (answer Status, over bool) {
	for {
		if conflict := s.propagate(); conflict != nil {
			s.stats.Conflicts++
			conflicts--
			// A conflict without any guess: the formula alone is impossible, and stays so.
			if len(s.starts) == 0 {
				s.broken = true
				s.log(nil)
				return Unsat, true
			}
			s.learn(s.analyse(conflict))
			continue
		}
		if b.spent(&s.stats) {
			return Unknown, true
		}
		if conflicts <= 0 {
			return Unknown, false
		}
		if len(s.learnt) > s.room {
			s.forget()
		}
		next, failed := s.next(assumptions)
		switch {
		case failed:
			s.blame(next, assumptions)
			return Unsat, true
		case next == 0:
			s.keepModel()
			return Sat, true
		}
		s.stats.Decisions++
		s.open()
		s.assign(next, nil, nil)
	}
}

// next is the literal to make true: an assumption as long as there are any, else a guess; 0 when all variables have
// values. An assumption that is false already has failed. Level i is that of assumption i, which is why one that holds
// already gets a level as well.
func (s *Solver) next(assumptions []Lit) (l Lit, failed bool) {
	for len(s.starts) < len(assumptions) {
		a := assumptions[len(s.starts)]
		switch s.value[a.index()] {
		case 0:
			return a, false
		case -1:
			return a, true
		}
		s.open()
	}
	return s.guess(), false
}

// open begins a decision level.
func (s *Solver) open() {
	s.starts = append(s.starts, len(s.trail))
	if len(s.starts) == len(s.stamps) { // repeated assumptions make more levels than there are variables
		s.stamps = append(s.stamps, 0)
	}
}

// learn goes back to the level at which the learnt clause has one open literal, its first, and makes that true. The
// clause is false at the level of the conflict and has one open literal from its second highest level on: going back
// that far and no further makes it a consequence where it was first of use (backjumping).
func (s *Solver) learn(lits []Lit) {
	s.log(lits)
	if len(lits) == 1 {
		s.backtrack(0)
		s.assign(lits[0], nil, nil)
	} else {
		c := &clause{lits: slices.Clone(lits), levels: s.spread(lits)}
		s.backtrack(int(s.vars[lits[1].Var()].level))
		s.learnt = append(s.learnt, c)
		s.watch(c)
		s.assign(lits[0], c, nil)
	}
	s.order.decay()
}

// keepModel copies the values before the guesses are taken back.
func (s *Solver) keepModel() {
	s.model = make(Model, len(s.vars))
	for _, l := range s.trail {
		s.model[l.Var()] = l > 0
	}
}
