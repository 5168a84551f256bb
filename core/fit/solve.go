package fit

import (
	"slices"
	"sync"

	"ribband/core/fit/clauses"
	"ribband/core/fit/sat"
	"ribband/core/formula"
)

// CompleteDeep is [Fit.Complete] with a second strategy where the first finds and proves nothing: the solver, which
// proves most of that. What it leaves [Unknown] too comes back as the best boat that the first saw.
func (f *Fit) CompleteDeep(hull int, use []float64, c Choices) *Build {
	return f.Deepen(f.Complete(hull, use, c, DefaultTries))
}

// Deepen asks the solver about the choices of a boat whose search found and proved nothing. It comes second because it
// compiles the clauses of the hull and use first, which takes longer than the search for most boats. What the search
// found, if only [Feasible], stays: it is good to have, and to prove it nearest is not worth the wait.
func (f *Fit) Deepen(first *Build) *Build {
	if first.Status != Unknown {
		return first
	}
	found, why := f.Solve(Question{Hull: first.State.HullID, Use: first.State.Use, Choices: first.Choices})
	switch {
	case found != nil:
		return found
	case why != nil:
		first.Status = Infeasible
	}
	return first
}

// Solve asks the solver: for the [Optimal] boat, a [Feasible] one where any does, or the reason why there is none;
// with neither the answer is unknown, or the book too large for it. The reason is smallest as far as what the solver
// learnt goes, which need not be so.
func (f *Fit) Solve(q Question) (*Build, *Reason) {
	a := f.solve(q, nil)
	switch {
	case a == nil:
	case a.Status == sat.Unsat:
		return nil, &Reason{Slots: a.Slots, Rules: a.Rules, Fields: a.Fields}
	case a.Status == sat.Sat:
		return f.judged(q, a.Counts), nil
	}
	return nil, nil
}

// solve asks the solver under some of the rules, nil for all; nil where the book is too large for it. Rules that do not
// count are left out by their selectors, so that all questions of a hull and use share one set of clauses.
func (f *Fit) solve(q Question, among bitset) *clauses.Answer {
	ask := clauses.Question{Settled: q.Choices.Settled, Counts: q.Choices.Counts, Any: q.Any}
	if q.Terms != nil {
		ask.More = []formula.Program{q.Terms.more.Need}
	}
	for r := range len(f.rules) + len(ask.More) {
		if among != nil && !among.has(r) || q.Terms != nil && r == q.Terms.off {
			ask.Off = append(ask.Off, r)
		}
	}
	a, err := f.clausesOf(q.Hull, q.Use).Complete(ask, clauses.DefaultLimits)
	if err != nil {
		return nil
	}
	return a
}

// judged is the boat that another search calls optimal, judged here anew; nil where it is not what that says. The two
// strategies have little code in common, and what one says of a boat is never taken on trust: a mistake of the clauses
// costs an answer, and not a boat that cannot be built.
func (f *Fit) judged(q Question, counts []int) *Build {
	root := f.newBoat(q)
	var deviations []deviation
	for i := range f.slots {
		if !root.fixed(i) {
			deviations = append(deviations, f.differences(i, f.defaults[q.Hull], counts)...)
		}
	}
	found := root.clone()
	found.move(deviations)
	b := &Build{Choices: q.Choices, State: found.live.State, Clashes: found.clashes(), Status: Optimal, root: root}
	if q.Any {
		b.Status = Feasible
	}
	if len(b.Clashes) > 0 || !slices.Equal(b.State.Counts, counts) {
		return nil
	}
	return b
}

// compiled are the clauses of the hulls and uses that were asked for last: mostly the same is asked again, after the
// next click. They hold what a book rules and nothing of any question, so that many may share them.
type compiled struct {
	sync.Mutex
	list []compilation // the last first
}

type compilation struct {
	hull    int
	use     []float64
	clauses *clauses.Clauses
}

// mostCompiled bounds them; one is some hundred kilobytes.
const mostCompiled = 8

// The lock is held while they are written: whoever asks for the same meanwhile would write them a second time.
func (f *Fit) clausesOf(hull int, use []float64) *clauses.Clauses {
	f.compiled.Lock()
	defer f.compiled.Unlock()
	list := f.compiled.list
	i := slices.IndexFunc(list, func(c compilation) bool { return c.hull == hull && slices.Equal(c.use, use) })
	var c compilation
	if i >= 0 {
		c = list[i]
		list = slices.Delete(list, i, i+1)
	} else {
		use = slices.Clone(use)
		c = compilation{hull, use, clauses.Compile(f.pack, f.figures, hull, use)}
		list = list[:min(len(list), mostCompiled-1)]
	}
	f.compiled.list = slices.Insert(list, 0, c)
	return c.clauses
}

// differences are the deviations by which a slot comes to hold what is counted. It goes the other way than filling a
// slot: there deviations give counts, here counts give deviations.
func (f *Fit) differences(slot int, from, to []int) (list []deviation) {
	def := &f.pack.Slots[slot]
	if !def.Multiple {
		d := deviation{slot, -1, 0}
		for o := def.First; o < def.End; o++ {
			if to[o] > 0 {
				d = deviation{slot, o, to[o]}
			}
		}
		if !slices.Equal(from[def.First:def.End], to[def.First:def.End]) {
			list = append(list, d)
		}
		return list
	}
	for o := def.First; o < def.End; o++ {
		if from[o] != to[o] {
			list = append(list, deviation{slot, o, to[o]})
		}
	}
	return list
}
