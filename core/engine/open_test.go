package engine_test

import (
	"math/rand/v2"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/fit"
	"ribband/core/pack"
	"ribband/core/spec"
)

// What a first search leaves open is mostly proved: a boat that is called nearest has no clash, and where none is
// possible, a search with many tries finds none either.
func TestAnswerProvesWhatAFirstSearchLeavesOpen(t *testing.T) {
	e := enginetest.Demo()[pack.Buyer]
	r := rand.New(rand.NewPCG(3, 4))
	open, statuses := 0, map[fit.Status]int{}
	for range 320 {
		s := anyWish(r, e.Pack)
		a, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		st, c := a.Build.State, a.Build.Choices
		if e.Fit.Complete(st.HullID, st.Use, c, fit.DefaultTries).Status != fit.Unknown {
			continue
		}
		open++
		statuses[a.Build.Status]++
		many := e.Fit.Complete(st.HullID, st.Use, c, 3000)
		if sound := len(a.Build.Clashes) == 0; sound != (a.Build.Status == fit.Optimal ||
			a.Build.Status == fit.Feasible) {
			t.Errorf("%v is %s with the clashes %v", s.Choices, a.Build.Status, a.Build.Clashes)
		}
		if infeasible := a.Build.Status == fit.Infeasible; infeasible && len(many.Clashes) == 0 || !infeasible &&
			many.Status == fit.Infeasible {
			t.Errorf("%v is %s, and with many tries %s", s.Choices, a.Build.Status, many.Status)
		}
	}
	t.Logf("%d were left open: %v", open, statuses)
	if proved := statuses[fit.Optimal] + statuses[fit.Infeasible]; open < 8 || proved*2 < open {
		t.Errorf("%d of %d proved", proved, open)
	}
}

// anyWish settles some slots by whatever is made for the hull.
func anyWish(r *rand.Rand, p *pack.Pack) spec.Spec {
	hull := r.IntN(len(p.Hulls))
	s := spec.Spec{Format: spec.Format, Hull: p.Hulls[hull].ID, Choices: map[string]map[string]int{},
		Use: map[string]spec.Value{}}
	for range 1 + r.IntN(6) {
		slot := &p.Slots[r.IntN(len(p.Slots))]
		if o := slot.First + r.IntN(slot.End-slot.First); p.Made(o, hull) {
			s.Choices[slot.ID] = map[string]int{p.Options[o].ID: 1}
		}
	}
	for _, u := range p.Use {
		switch {
		case r.IntN(3) > 0:
		case len(u.Choices) > 0:
			s.Use[u.ID] = spec.Value{Choice: u.Choices[r.IntN(len(u.Choices))].ID}
		default:
			s.Use[u.ID] = spec.Value{Number: u.Value(r.IntN(1 + u.StepOf(u.Max)))}
		}
	}
	return s
}
