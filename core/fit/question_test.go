package fit_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
)

// rewritten compiles a book anew with other rules.
func rewritten(t *testing.T, p *pack.Pack, rules []pack.Rule) *fit.Fit {
	t.Helper()
	other := *p
	other.Rules = rules
	figs, err := figures.Compile(&other)
	if err != nil {
		t.Fatal(err)
	}
	return fit.Compile(&other, figs)
}

// Under other terms each search answers as it does of a book that is written so: with one rule reversed, or with one
// more that asks for an option or forbids it.
func TestTermsAreAsABookWrittenSo(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 4))
	statuses, alike, unlike := map[fit.Status]int{}, 0, 0
	for range 250 {
		z := anyPuzzle(t, r)
		q := fit.Question{Hull: short, Use: []float64{4}, Choices: z.anyChoices(r)}
		rule, o := r.IntN(len(z.pack.Rules)), r.IntN(len(z.pack.Options))
		def := z.pack.Rules[rule]
		broken := []formula.Step{{Op: formula.Not}}
		if !def.When.Empty() {
			broken = append(broken, formula.Step{Op: formula.And})
		}
		reversed, err := formula.New(slices.Concat(def.When.Steps(), def.Need.Steps(), broken))
		if err != nil {
			t.Fatal(err)
		}
		has := composed(t, formula.Step{Op: formula.Has, Index: o})
		hasNot := composed(t, formula.Step{Op: formula.Has, Index: o}, formula.Step{Op: formula.Not})
		others := slices.Delete(slices.Clone(z.pack.Rules), rule, rule+1)
		for name, c := range map[string]struct {
			terms *fit.Terms
			rules []pack.Rule
		}{
			"reversed": {z.fit.Reversed(rule), append(others, pack.Rule{Need: reversed})},
			"with":     {z.fit.Having(o, true), append(slices.Clone(z.pack.Rules), pack.Rule{Need: has})},
			"without":  {z.fit.Having(o, false), append(slices.Clone(z.pack.Rules), pack.Rule{Need: hasNot})},
		} {
			book := rewritten(t, z.pack, c.rules)
			q.Terms = c.terms
			plain := q
			plain.Terms = nil
			got, want := z.fit.Search(q, fit.DefaultTries), book.Search(plain, fit.DefaultTries)
			if statuses[got.Status]++; got.Status != want.Status || !slices.Equal(got.State.Counts, want.State.Counts) {
				t.Fatalf("%s: %s %v, the book written so gives %s %v", name, got.Status,
					contents(z.pack, got.State.Counts), want.Status, contents(z.pack, want.State.Counts))
			}
			solved, none := z.fit.Solve(q)
			if solved != nil && got.Status == fit.Infeasible || none != nil && len(got.Clashes) == 0 ||
				solved == nil && none == nil {
				t.Fatalf("%s: %s, the solver says %v, %v", name, got.Status, solved, none)
			}
			why, because := z.fit.Reason(q, -1), book.Reason(plain, -1)
			if (why == nil) != (because == nil) || why != nil && (!slices.Equal(why.Slots, because.Slots) ||
				len(why.Rules) != len(because.Rules) || !slices.Equal(why.Fields, because.Fields)) {
				t.Fatalf("%s: because of %+v, of the book written so %+v", name, why, because)
			}
			// any boat is there where the nearest is, and a reason of this use is one of another, or none
			q := q
			q.Any = true
			if b, no := z.fit.Solve(q); (b == nil) != (solved == nil) || (no == nil) != (none == nil) ||
				b != nil && (len(b.Clashes) > 0 || b.Status != fit.Feasible) {
				t.Fatalf("%s: any boat is %+v, the nearest %+v", name, b, solved)
			}
			if why == nil {
				continue
			}
			if same := z.fit.ReasonLike(q, -1, why); same == nil || !slices.Equal(same.Fields, why.Fields) {
				t.Fatalf("%s: the reason %+v of the same question became %+v", name, why, same)
			}
			for _, q.Hull = range []int{short, long} {
				q.Use = []float64{float64(1 + r.IntN(8))}
				if like := z.fit.ReasonLike(q, -1, why); like == nil {
					unlike++
				} else if _, none := z.fit.Solve(q); none == nil {
					t.Fatalf("%s: on hull %d for %v the solver knows of no reason like %+v", name, q.Hull, q.Use, like)
				} else {
					alike++
				}
			}
		}
	}
	t.Log(statuses, alike, unlike)
	if statuses[fit.Optimal] < 200 || statuses[fit.Infeasible] < 200 || alike < 200 || unlike == 0 {
		t.Errorf("%v, reasons for other uses %d and %d make no test", statuses, alike, unlike)
	}
}

func composed(t *testing.T, steps ...formula.Step) formula.Program {
	t.Helper()
	p, err := formula.New(steps)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Clauses are kept for the last questions only, and what one question learns changes no other: an answer is the same
// the first and the second time, and after others.
func TestDeepCompletionHasNoHistory(t *testing.T) {
	z := anyPuzzle(t, rand.New(rand.NewPCG(2, 7)))
	answer := func(persons float64, c fit.Choices) []int {
		b, _ := z.fit.Solve(fit.Question{Hull: short, Use: []float64{persons}, Choices: c})
		if b == nil {
			return nil
		}
		return b.State.Counts
	}
	r := rand.New(rand.NewPCG(2, 8))
	var asked []fit.Choices
	var first [][]int
	for i := range 12 {
		asked = append(asked, z.anyChoices(r))
		first = append(first, answer(float64(1+i), asked[i]))
	}
	if n := z.fit.CompiledClauses(); n > 8 {
		t.Errorf("clauses of %d uses are kept", n)
	}
	for i := range asked {
		if again := answer(float64(1+i), asked[i]); !slices.Equal(again, first[i]) {
			t.Errorf("%v became %v", first[i], again)
		}
	}
}

// What the first search leaves open on the demo book and the solver proves infeasible has a reason, too: of its choices
// alone there is no boat, and without any one of them one is found, judged by the search.
func TestReasonsOfWhatTheSolverProves(t *testing.T) {
	d := demo()
	r := rand.New(rand.NewPCG(11, 3))
	reasons, smaller, open := 0, 0, 0
	for range 220 {
		q := fit.Question{Hull: r.IntN(len(d.pack.Hulls)), Use: d.use(), Choices: d.fit.NewChoices()}
		for range 12 {
			o := r.IntN(len(d.pack.Options))
			if s := d.pack.Options[o].Slot; d.pack.Made(o, q.Hull) && !q.Choices.Settled[s] {
				q.Choices.Settled[s], q.Choices.Counts[o] = true, 1
			}
		}
		if d.fit.Search(q, fit.DefaultTries).Status != fit.Unknown {
			continue
		}
		open++
		why := d.fit.Reason(q, -1)
		if _, none := d.fit.Solve(q); (none != nil) != (why != nil) {
			t.Fatalf("the solver says %+v, the reason is %+v", none, why)
		}
		if why == nil {
			continue
		}
		reasons++
		of := q
		of.Choices = d.fit.NewChoices()
		for _, s := range why.Slots {
			def := &d.pack.Slots[s]
			of.Choices.Settled[s] = true
			copy(of.Choices.Counts[def.First:def.End], q.Choices.Counts[def.First:def.End])
		}
		if b := d.fit.CompleteDeep(of.Hull, of.Use, of.Choices); b.Status != fit.Infeasible {
			t.Fatalf("with the choices of %+v alone: %s", why, b.Status)
		}
		for _, s := range why.Slots {
			if b := d.fit.CompleteDeep(of.Hull, of.Use, d.fit.Drop(of.Choices, s)); why.Smallest && len(b.Clashes) > 0 {
				t.Fatalf("slot %s is no part of %+v: %s", d.pack.Slots[s].ID, why, b.Status)
			} else if why.Smallest {
				smaller++
			}
		}
	}
	t.Logf("%d open, %d reasons; without one of the choices there was a boat %d times", open, reasons, smaller)
	if reasons < 3 || smaller < 3 {
		t.Errorf("%d reasons, %d boats make no test", reasons, smaller)
	}
}
