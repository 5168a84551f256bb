package clauses_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/fit"
	"ribband/core/fit/clauses"
	"ribband/core/fit/sat"
	"ribband/core/pack"
)

// anyChoices settles none to most slots, now and then with what cannot stand there.
func (z *puzzle) anyChoices(r *rand.Rand, most int) fit.Choices {
	c := z.fit.NewChoices()
	for range r.IntN(most + 1) {
		s := r.IntN(len(z.pack.Slots))
		def := &z.pack.Slots[s]
		c.Settled[s] = true
		for o := def.First; o < def.End; o++ {
			c.Counts[o] = 0
		}
		if r.IntN(6) > 0 {
			c.Counts[def.First+r.IntN(def.End-def.First)] = 1
		}
		if def.Multiple {
			c.Counts[def.First+r.IntN(def.End-def.First)] = r.IntN(3)
		}
	}
	return c
}

// Where both prove it, the two searches agree: what is impossible for the one is for the other, and their nearest boats
// deviate alike. Every impossible one is confirmed from the solver's record by the checker of proofs, every boat by
// package fit.
func TestCompleteAgreesWithFit(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 11))
	statuses, of := map[fit.Status]int{}, map[fit.Status]int{}
	for range 150 {
		z := anyPuzzle(t, r)
		for _, most := range []int{1000, 12, 2} {
			c := clauses.CompileWithin(z.pack, z.figures, 0, use, most)
			for range 3 {
				choices := z.anyChoices(r, 2)
				statuses[z.compare(t, c, 0, use, choices, fit.DefaultTries)]++
				of[z.fit.Complete(0, use, choices, fit.DefaultTries).Status]++
			}
		}
	}
	t.Logf("%v; package fit %v", statuses, of)
	if statuses[fit.Optimal] < 400 || statuses[fit.Infeasible] < 200 || statuses[fit.Unknown] > 0 {
		t.Errorf("%v make no test", statuses)
	}
}

// compare completes by both methods.
func (z *puzzle) compare(t *testing.T, c *clauses.Clauses, hull int, use []float64, choices fit.Choices,
	tries int) fit.Status {
	t.Helper()
	limits := clauses.DefaultLimits
	limits.Proof = true
	got, err := c.Complete(asked(choices), limits)
	if err != nil {
		t.Fatal(err)
	}
	b := z.fit.Complete(hull, use, choices, tries)
	switch statusOf(got) {
	case fit.Optimal:
		z.wantValid(t, hull, use, choices, got.Counts)
		if b.Status == fit.Infeasible {
			t.Fatalf("%v is called impossible by package fit, and is not: %v in\n%+v\n%v", choices, got.Counts,
				z.pack.Slots, z.pack.Rules)
		}
		if want := z.deviations(choices, b.State.Counts, hull, use); len(b.Clashes) == 0 &&
			(b.Status == fit.Optimal && got.Deviations != want || got.Deviations > want) {
			t.Fatalf("%d deviations, package fit %d (%s) for\n%v\n%v\n%v", got.Deviations, want, b.Status, choices,
				got.Counts, b.State.Counts)
		}
		if want := z.deviations(choices, got.Counts, hull, use); got.Deviations != want {
			t.Fatalf("%d deviations are called %d", want, got.Deviations)
		}
	case fit.Infeasible:
		if b.Status == fit.Optimal || b.Status == fit.Feasible {
			t.Fatalf("%v is called impossible by rules %v and slots %v, and is not: %v in\n%+v\n%v", choices, got.Rules,
				got.Slots, b.State.Counts, z.pack.Slots, z.pack.Rules)
		}
		if len(got.Rules)+len(got.Slots) > 0 && got.Proof != nil {
			if err := got.Proof.Check(got.Core); err != nil {
				t.Fatal(err)
			}
		}
	}
	return statusOf(got)
}

// wantValid settles a boat wholly, and asks package fit.
func (z *puzzle) wantValid(t *testing.T, hull int, use []float64, choices fit.Choices, counts []int) {
	t.Helper()
	all := fit.Choices{Settled: make([]bool, len(z.pack.Slots)), Counts: counts}
	for s := range all.Settled {
		all.Settled[s] = true
		def := &z.pack.Slots[s]
		if choices.Settled[s] && !slices.Equal(counts[def.First:def.End], choices.Counts[def.First:def.End]) {
			t.Fatalf("slot %s was settled", def.ID)
		}
	}
	if b := z.fit.Complete(hull, use, all, 1); len(b.Clashes) > 0 {
		t.Fatalf("%v clashes: %+v", counts, b.Clashes)
	}
}

// deviations counts how far a boat is from what its soft slots hold by themselves: nothing where they are closed.
func (z *puzzle) deviations(choices fit.Choices, counts []int, hull int, use []float64) (n int) {
	all := fit.Choices{Settled: make([]bool, len(z.pack.Slots)), Counts: counts}
	for s := range all.Settled {
		all.Settled[s] = true
	}
	st, standard := z.fit.Complete(hull, use, all, 1).State, z.pack.Default(hull)
	for s, def := range z.pack.Slots {
		if choices.Settled[s] || !z.pack.Exists(s, hull) || !def.When.Empty() && !def.When.Truth()(st) {
			continue
		}
		other := 0
		for o := def.First; o < def.End; o++ {
			if counts[o] != standard[o] {
				other++
			}
		}
		if !def.Multiple {
			other = min(other, 1)
		}
		n += other
	}
	return n
}

// The same over the demo book, where rules over the mass and over how it floats are lazy.
func TestCompleteAgreesWithFitOnTheDemo(t *testing.T) {
	z, r := demo(), rand.New(rand.NewPCG(1, 8))
	wishes := z.wishes(25, 12)
	for i := range 35 {
		wishes = append(wishes, wish{i % len(z.pack.Hulls), z.standardUse(), z.anyChoices(r, 6)})
	}
	statuses := map[fit.Status]int{}
	for _, w := range wishes {
		c := clauses.Compile(z.pack, z.figures, w.hull, w.use)
		statuses[z.compare(t, c, w.hull, w.use, w.choices, fit.DefaultTries)]++
	}
	t.Log(statuses)
	if statuses[fit.Optimal] < 15 || statuses[fit.Infeasible] < 15 || statuses[fit.Unknown] > 6 {
		t.Errorf("%v make no test", statuses)
	}
}

// Proofs fail where they should: the checker refuses a core from which a literal that it needs was taken.
func TestProofsAreNoFormality(t *testing.T) {
	p := demo().pack
	z := demo()
	c := clauses.Compile(p, z.figures, 0, z.standardUse())
	choices := z.fit.NewChoices()
	for s, def := range p.Slots {
		if def.ID == "cradle" {
			choices.Settled[s] = true
			choices.Counts[optionOf(p, "cradle-flat-rack")] = 1
		}
		if def.ID == "lifting" {
			choices.Settled[s] = true
		}
	}
	limits := clauses.DefaultLimits
	limits.Proof = true
	got, err := c.Complete(asked(choices), limits)
	if err != nil || got.Status != sat.Unsat {
		t.Fatalf("%+v, %v", got, err)
	}
	for i := range got.Core {
		if fewer := slices.Delete(slices.Clone(got.Core), i, i+1); got.Proof.Check(fewer) == nil {
			t.Errorf("the proof holds without %d of %v", got.Core[i], got.Core)
		}
	}
}

func optionOf(p *pack.Pack, id string) int {
	return slices.IndexFunc(p.Options, func(o pack.Option) bool { return o.ID == id })
}
