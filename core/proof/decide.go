package proof

import (
	"slices"

	"ribband/core/fit"
	"ribband/core/formula"
)

// question asks for a valid boat, under the rules of the book or other terms; of the use it says nothing. Overall it
// goes: decide answers for one use, overUses for all of them, with as few uses as the reasons let it.
type question struct {
	fit.Question
	wanted int         // the slot that it is about; -1 for none
	uses   int         // for so many it is asked; 0: for mostUses
	roamed bool        // a boat is looked for over all uses elsewhere
	whole  bool        // where there are more uses than can be asked for, none is: no boat is expected
	first  *fit.Build  // of a search for the first use that found no boat, and proved nothing
	like   *fit.Reason // why there was no boat for the last use
}

// anyBoat asks for any boat of a hull; nil terms are the rules of the book. Nothing is settled: every slot may hold
// what the question needs.
func (p *prover) anyBoat(terms *fit.Terms, hull int) question {
	return question{Question: fit.Question{Hull: hull, Choices: p.fit.NewChoices(), Terms: terms, Any: true},
		wanted: -1}
}

// The effort for one question, in boats judged: see [fit.Quest].
const (
	// A walk that finds a boat mostly does so early; these bound what is lost on those that find none.
	seekBoats  = 2000 // for one use
	roamBoats  = 8000 // over all uses
	guardBoats = 1000 // likewise, that break a rule which is marked as a guard
)

// decide answers a question for one use: with a boat, or with what keeps it; with neither where it stays open. The
// first search comes first, then the solver, at last a local search for any boat. A reason of the first is minimised,
// so that it rests on few fields of the use. The solver comes second, because its reasons are not minimised and rest on
// more fields, so that more uses would have to be asked for.
func (p *prover) decide(q question, use []float64) (st *formula.State, why *fit.Reason, near []int) {
	q.Use = use
	if q.like != nil {
		if why := p.fit.ReasonLike(q.Question, q.wanted, q.like); why != nil {
			return nil, why, nil
		}
	}
	// Whoever looks near the standard build of each hull first has made this search already.
	b := q.first
	if b == nil {
		b = p.fit.Search(q.Question, fit.DefaultTries)
		switch {
		case valid(b):
			return b.State, nil, nil
		case b.Status == fit.Infeasible:
			return nil, p.fit.Reason(q.Question, q.wanted), p.near(b)
		}
	}
	switch found, why := p.fit.Solve(q.Question); {
	case found != nil:
		return found.State, nil, nil
	case why != nil || q.roamed:
		return nil, why, p.near(b)
	}
	return p.seek(q, use, nil, seekBoats), nil, p.near(b)
}

// seek looks for any boat; fields of the use may vary. What it does not find proves nothing.
func (p *prover) seek(q question, use []float64, vary []int, boats int) *formula.State {
	q.Use = use
	return p.fit.Seek(fit.Quest{Question: q.Question, Vary: vary, Boats: boats})
}

// The effort over all uses: for how many a question is asked, how many may stay open, and how many may follow from
// reasons that are known.
const (
	mostUses  = 60
	mostOpen  = 3 // where some stay open, others mostly do too, and these take longest of all
	mostKnown = 20_000
)

// fewUses is for how many it is asked before a boat is looked for over all uses.
const fewUses = 16

// answer is what is known of a question over all uses.
type answer struct {
	state   *formula.State // a boat
	reasons []reason       // why there is none
	asked   int            // uses for which it was decided, or stays open
	open    int            // of these stay open
	unasked bool           // there are too many uses
	effort  Effort         // spent on those that stay open
}

// reason is why there is no boat for all uses that agree with one in the fields on which it rests. It covers more than
// the use that it was found for, which is what makes thousands of uses a few questions.
type reason struct {
	*fit.Reason
	use []float64
}

// holds says that a use agrees with the reason in every field on which it rests.
func (r *reason) holds(use []float64) bool {
	return !slices.ContainsFunc(r.Fields, func(i int) bool { return use[i] != r.use[i] })
}

// rulesOf are the rules of the book on which reasons rest. A condition that a question added has the number behind
// them.
func (p *prover) rulesOf(reasons []reason) (list []int) {
	for _, r := range reasons {
		list = append(list, r.Rules...)
	}
	slices.Sort(list)
	return slices.DeleteFunc(slices.Compact(list), func(i int) bool { return i == len(p.pack.Rules) })
}

// never says that it is proved that there is no boat for any use. A boat, an open use or uses that were not asked for
// each keep it from being proved.
func (a *answer) never() bool { return a.state == nil && a.open == 0 && !a.unasked }

// branch is a use with the fields whose other values are looked at elsewhere. Branches of one question share no use, so
// that none is asked for twice.
type branch struct {
	use   []float64
	fixed []bool
}

// overUses answers a question for all uses, beginning with one; kept fields stay as they are. A reason tells on which
// fields it rests: for all uses that agree in them there is no boat, so that only other values of these are asked for,
// in turn with each other. Source: branching over conflicts; a textbook method. ~A list and not a recursion, first in
// first out: uses that differ in one field come before those that differ in two, and a boat is mostly found near the
// first use. Known reasons are looked through before anything is asked.
func (p *prover) overUses(q question, first []float64, kept ...int) (a answer) {
	if q.uses == 0 {
		q.uses = mostUses
	}
	fixed := make([]bool, len(first))
	for _, i := range kept {
		fixed[i] = true
	}
	list := []branch{{first, fixed}}
	for known := 0; len(list) > 0; known++ {
		at := list[0]
		list = list[1:]
		i := slices.IndexFunc(a.reasons, func(r reason) bool { return r.holds(at.use) })
		if i < 0 {
			if a.asked == q.uses || known > mostKnown {
				if a.unasked = true; a.open == 0 {
					a.effort.opened(q.Hull, at.use, nil)
					a.effort.Unasked = true
				}
				return a
			}
			a.asked++
			var why *fit.Reason
			var near []int
			a.state, why, near = p.decide(q, at.use)
			if q.first = nil; a.state != nil {
				return a
			}
			if why == nil {
				a.effort.opened(q.Hull, at.use, near)
				a.open++
				if a.open == 1 && !q.roamed {
					a.state, a.effort.Walk = p.roam(q, at, roamBoats), roamBoats
				}
				if a.state != nil || a.open == mostOpen {
					return a
				}
				continue
			}
			i, a.reasons, q.like = len(a.reasons), append(a.reasons, reason{why, at.use}), why
		}
		// known reasons may cover the rest, and mostly do not: each rests on the fields of the last
		list = append(list, p.others(at, a.reasons[i].Fields)...)
		if q.whole && len(list) > q.uses-a.asked {
			a.unasked = true
			return a
		}
	}
	return a
}

// roam looks for any boat of a branch. What keeps its value in the branch does not vary.
func (p *prover) roam(q question, at branch, boats int) *formula.State {
	var vary []int
	for i, fixed := range at.fixed {
		if !fixed {
			vary = append(vary, i)
		}
	}
	return p.seek(q, at.use, vary, boats)
}

// others are the uses of a branch that differ in some of the fields: in the first, or, with that as it is, in the
// second, and so on. Those with few values come first. Few values first keeps the tree narrow at its top.
func (p *prover) others(at branch, fields []int) (list []branch) {
	fields = slices.DeleteFunc(slices.Clone(fields), func(i int) bool { return at.fixed[i] })
	slices.SortStableFunc(fields, func(a, b int) int {
		return len(p.distinct(a, at.use[a])) - len(p.distinct(b, at.use[b]))
	})
	fixed := slices.Clone(at.fixed)
	for _, field := range fields {
		fixed[field] = true
		for _, v := range p.distinct(field, at.use[field]) {
			use := slices.Clone(at.use)
			use[field] = v
			list = append(list, branch{use, slices.Clone(fixed)})
		}
	}
	return list
}
