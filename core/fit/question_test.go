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
	statuses := map[fit.Status]int{}
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
		}
	}
	t.Log(statuses)
	if statuses[fit.Optimal] < 200 || statuses[fit.Infeasible] < 200 {
		t.Errorf("%v make no test", statuses)
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
