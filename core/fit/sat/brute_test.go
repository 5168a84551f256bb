package sat_test

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/fit/sat"
)

// question is a small formula with everything that can be asked of it.
type question struct {
	formula     sat.Formula
	later       []sat.Lit // a clause that is added after the first answers
	assumptions []sat.Lit
	lits        []sat.Lit // what is to be least
	weights     []int64
	projection  []sat.Lit
	preferred   []sat.Lit
}

func questions() *rapid.Generator[question] {
	return rapid.Custom(func(t *rapid.T) question {
		n := rapid.IntRange(1, 8).Draw(t, "variables")
		lit := rapid.Custom(func(t *rapid.T) sat.Lit {
			v := sat.Lit(rapid.IntRange(1, n).Draw(t, "variable"))
			if rapid.Bool().Draw(t, "negative") {
				return -v
			}
			return v
		})
		lits := func(least, most int, name string) []sat.Lit {
			return rapid.SliceOfN(lit, least, most).Draw(t, name)
		}
		weights := func(n int) []int64 {
			if rapid.Bool().Draw(t, "unweighted") {
				return nil
			}
			return rapid.SliceOfN(rapid.Int64Range(-3, 9), n, n).Draw(t, "weights")
		}
		q := question{formula: sat.Formula{Variables: n}}
		for range rapid.IntRange(0, 3*n).Draw(t, "clauses") {
			q.formula.Clauses = append(q.formula.Clauses, lits(1, 4, "clause"))
		}
		for range rapid.IntRange(0, 3).Draw(t, "sums") {
			x := sat.Sum{Lits: lits(0, n+2, "sum"), Bound: rapid.Int64Range(-4, 12).Draw(t, "bound")}
			x.Weights = weights(len(x.Lits))
			if rapid.Bool().Draw(t, "conditional") {
				x.On = lit.Draw(t, "on")
			}
			q.formula.Sums = append(q.formula.Sums, x)
		}
		q.later = lits(1, 3, "later")
		q.assumptions = lits(0, n, "assumptions")
		q.lits = lits(0, n+2, "objective")
		q.weights = weights(len(q.lits))
		q.projection = lits(0, 4, "projection")
		q.preferred = lits(0, n, "preferred")
		return q
	})
}

// models are all of a formula in which literals hold, by trying every valuation and with an evaluation of its own.
func models(f sat.Formula, lits []sat.Lit) []sat.Model {
	var all []sat.Model
	for bits := range 1 << f.Variables {
		m := make(sat.Model, f.Variables+1)
		for v := 1; v <= f.Variables; v++ {
			m[v] = bits>>(v-1)&1 == 1
		}
		if allows(f, m) && !slices.ContainsFunc(lits, func(l sat.Lit) bool { return !truth(m, l) }) {
			all = append(all, m)
		}
	}
	return all
}

func truth(m sat.Model, l sat.Lit) bool {
	if l < 0 {
		return !m[-l]
	}
	return m[l]
}

func allows(f sat.Formula, m sat.Model) bool {
	for _, c := range f.Clauses {
		some := false
		for _, l := range c {
			some = some || truth(m, l)
		}
		if !some {
			return false
		}
	}
	for _, x := range f.Sums {
		if (x.On == 0 || truth(m, x.On)) && weigh(m, x.Lits, x.Weights) > x.Bound {
			return false
		}
	}
	return true
}

func weigh(m sat.Model, lits []sat.Lit, weights []int64) (total int64) {
	for i, l := range lits {
		switch {
		case !truth(m, l):
		case weights == nil:
			total++
		default:
			total += weights[i]
		}
	}
	return total
}

// Every answer about small formulas is what trying all valuations gives, and the checker confirms every Unsat.
func TestAgainstAllValuations(t *testing.T) {
	t.Run("property", func(t *testing.T) {
		rapid.Check(t, func(t *rapid.T) { answers(t, questions().Draw(t, "question")) })
	})
	t.Run("seeded", func(t *testing.T) {
		all := questions()
		for seed := range 4000 {
			if q := all.Example(seed); !t.Run(fmt.Sprint(seed), func(t *testing.T) { answers(t, q) }) {
				t.Fatalf("question %+v", q)
			}
		}
	})
}

func answers(t fataler, q question) {
	s := load(t, q.formula)
	s.Prefer(q.preferred...)
	if len(q.preferred)%2 == 1 {
		s.Cramp()
	}
	ask(t, s, q)
	if given := s.Proof.Given; !sameStart(given, q.formula) {
		t.Fatalf("given %v, recorded %v", q.formula, given)
	}
	// The answers leave nothing behind but what holds anyway.
	q.formula.Clauses = append(slices.Clone(q.formula.Clauses), q.later)
	s.Add(q.later...)
	ask(t, s, q)
}

// sameStart says whether a record begins with what was added first.
func sameStart(given, f sat.Formula) bool {
	return fmt.Sprint(given.Clauses[:len(f.Clauses)]) == fmt.Sprint(f.Clauses) &&
		fmt.Sprint(given.Sums[:len(f.Sums)]) == fmt.Sprint(f.Sums)
}

func ask(t fataler, s *sat.Solver, q question) {
	all := models(q.formula, q.assumptions)
	solves(t, s, q, all)
	minimalCore(t, s, q, all)
	minimises(t, s, q, all)
	enumerates(t, s, q, all)
	solves(t, s, q, all)
}

func want(all []sat.Model) sat.Status {
	if len(all) > 0 {
		return sat.Sat
	}
	return sat.Unsat
}

func solves(t fataler, s *sat.Solver, q question, all []sat.Model) {
	if got := s.Solve(q.assumptions...); got != want(all) {
		t.Fatalf("%v, want %v", got, want(all))
	}
	if len(all) > 0 {
		modelHolds(t, s.Model(), q)
		return
	}
	for _, l := range s.Core() {
		if !slices.Contains(q.assumptions, l) {
			t.Fatalf("core %v is not of the assumptions %v", s.Core(), q.assumptions)
		}
	}
	if len(models(q.formula, s.Core())) > 0 {
		t.Fatalf("core %v is possible", s.Core())
	}
	proved(t, s)
}

func modelHolds(t fataler, m sat.Model, q question) {
	if !allows(q.formula, m) || !q.formula.Allows(m) {
		t.Fatalf("%v is no model", m)
	}
	for _, a := range q.assumptions {
		if !truth(m, a) {
			t.Fatalf("assumption %d does not hold in %v", a, m)
		}
	}
}

func minimalCore(t fataler, s *sat.Solver, q question, all []sat.Model) {
	core, status := s.MinimalCore(q.assumptions...)
	if status != want(all) || status == sat.Sat && core != nil {
		t.Fatalf("minimal core %v, %v; want %v", core, status, want(all))
	}
	if status == sat.Sat {
		return
	}
	if len(models(q.formula, core)) > 0 {
		t.Fatalf("core %v is possible", core)
	}
	for i := range core {
		if rest := slices.Delete(slices.Clone(core), i, i+1); len(models(q.formula, rest)) == 0 {
			t.Fatalf("core %v does without %d", core, core[i])
		}
	}
	proved(t, s)
}

func minimises(t fataler, s *sat.Solver, q question, all []sat.Model) {
	best, err := s.Minimise(q.lits, q.weights, q.assumptions...)
	if err != nil || best.Status != want(all) {
		t.Fatalf("%v, %v; want %v", best.Status, err, want(all))
	}
	if best.Status == sat.Unsat {
		proved(t, s)
		return
	}
	modelHolds(t, best.Model, q)
	least := weigh(all[0], q.lits, q.weights)
	for _, m := range all {
		least = min(least, weigh(m, q.lits, q.weights))
	}
	if got := weigh(best.Model, q.lits, q.weights); got != best.Weight || got != least {
		t.Fatalf("least %d with a model of %d, want %d", best.Weight, got, least)
	}
	// The certificate: less is impossible for a solver that is asked only this, and the checker confirms it.
	less := load(t, q.formula)
	if err := less.AtMost(q.lits, q.weights, least-1); err != nil {
		t.Fatalf("%v", err)
	}
	if got := less.Solve(q.assumptions...); got != sat.Unsat {
		t.Fatalf("less than %d is %v", least, got)
	}
	proved(t, less)
}

func enumerates(t fataler, s *sat.Solver, q question, all []sat.Model) {
	view := func(m sat.Model) string {
		var values []bool
		for _, l := range q.projection {
			values = append(values, truth(m, l))
		}
		return fmt.Sprint(values)
	}
	left := map[string]bool{}
	for _, m := range all {
		left[view(m)] = true
	}
	status := s.Enumerate(q.projection, q.assumptions, func(m sat.Model) bool {
		modelHolds(t, m, q)
		if !left[view(m)] {
			t.Fatalf("%v came twice", view(m))
		}
		delete(left, view(m))
		return true
	})
	if status != sat.Unsat || len(left) > 0 {
		t.Fatalf("enumeration ends %v with %v left", status, left)
	}
}
