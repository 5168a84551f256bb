package count_test

import (
	"math/rand"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/fit/count"
)

// formulas are small ones, some of them odd: empty, repeated and contradictory clauses, groups that overlap.
func formulas(most int) *rapid.Generator[count.Formula] {
	return rapid.Custom(func(t *rapid.T) count.Formula {
		f := count.Formula{Variables: rapid.IntRange(0, most).Draw(t, "variables")}
		if f.Variables == 0 {
			return f
		}
		literal := rapid.Custom(func(t *rapid.T) int {
			v := rapid.IntRange(1, f.Variables).Draw(t, "variable")
			if rapid.Bool().Draw(t, "negative") {
				return -v
			}
			return v
		})
		f.Clauses = rapid.SliceOfN(rapid.SliceOfN(literal, 1, 4), 0, 2*f.Variables).Draw(t, "clauses")
		f.AtMostOne = rapid.SliceOfN(rapid.SliceOfNDistinct(literal, 0, min(5, f.Variables), rapid.ID[int]), 0,
			3).Draw(t, "groups")
		if rapid.IntRange(0, 30).Draw(t, "never") == 0 {
			f.Clauses = append(f.Clauses, nil)
		}
		return f
	})
}

// A run of rapid is a hundred draws; each is of this many formulas.
const atOnce = 50

// checkByEnumeration holds the count, and that by literal, to the models one by one.
func checkByEnumeration(t *rapid.T, f count.Formula) {
	total, with := brute(f)
	n, err := f.Count(count.Limits{})
	if err != nil || n.Int64() != total {
		t.Fatalf("%+v: %v models, %v; enumeration finds %d", f, n, err, total)
	}
	m, err := f.Marginals(count.Limits{})
	if err != nil || m.Total.Int64() != total {
		t.Fatalf("%+v: %v models by literal, %v; enumeration finds %d", f, m.Total, err, total)
	}
	for i, n := range with {
		v := i + 1
		if m.With(v).Int64() != n || m.With(-v).Int64() != total-n {
			t.Fatalf("%+v: %v models with %d and %v without, of %d; enumeration finds %d with", f, m.With(v), v,
				m.With(-v), total, n)
		}
	}
}

func TestCountsOfOddFormulas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, f := range rapid.SliceOfN(formulas(8), atOnce, atOnce).Draw(t, "formulas") {
			checkByEnumeration(t, f)
		}
	})
}

// Formulas of rapid are mostly small, and settled by propagation. These take some decisions each.
func TestCountsOfDenseFormulas(t *testing.T) {
	decisions, formulas := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed")))
		for range atOnce {
			f := dense(r, 8+r.Intn(5))
			checkByEnumeration(t, f)
			d, _, err := count.Effort(f, count.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			decisions += d
			formulas++
		}
	})
	if decisions < 4*formulas {
		t.Errorf("%d decisions in %d formulas: these tests test little", decisions, formulas)
	}
}

// dense is a formula of clauses of two and three literals, two for each variable, and perhaps groups.
func dense(r *rand.Rand, variables int) count.Formula {
	f := count.Formula{Variables: variables}
	some := func(size int) (literals []int) {
		for _, v := range r.Perm(variables)[:size] {
			literals = append(literals, (v+1)*(1-2*r.Intn(2)))
		}
		return literals
	}
	for range r.Intn(2 * variables) {
		f.Clauses = append(f.Clauses, some(2+r.Intn(2)))
	}
	for range r.Intn(4) {
		if r.Intn(2) == 0 {
			f.ExactlyOne(some(2 + r.Intn(4))...)
		} else {
			f.AtMostOne = append(f.AtMostOne, some(2+r.Intn(4)))
		}
	}
	return f
}

// What must not matter: how a group is written, the cache, the order and the repetition of clauses and literals.
func TestCountsDoNotFollowTheWriting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rand.New(rand.NewSource(rapid.Int64().Draw(t, "seed")))
		for range atOnce {
			f := dense(r, 5+r.Intn(25))
			want, err := f.Count(count.Limits{})
			if err != nil {
				t.Fatal(err)
			}
			turned := count.Formula{Variables: f.Variables, AtMostOne: f.AtMostOne}
			for i := len(f.Clauses) - 1; i >= 0; i-- {
				turned.Clauses = append(turned.Clauses, f.Clauses[i],
					append(f.Clauses[i][:len(f.Clauses[i]):len(f.Clauses[i])], f.Clauses[i]...))
			}
			for name, other := range map[string]struct {
				f      count.Formula
				limits count.Limits
			}{
				"groups as pairs":         {pairwise(f), count.Limits{}},
				"no cache":                {f, count.Limits{Cache: 1}},
				"clauses turned, doubled": {turned, count.Limits{}},
			} {
				if got, err := other.f.Count(other.limits); err != nil || got.Cmp(want) != 0 {
					t.Fatalf("%+v: %v models with %s, %v; %v without", f, got, name, err, want)
				}
			}
		}
	})
}

// Count(f) = Count(f and v) + Count(f and not v), at sizes that nobody enumerates.
func TestCountsAddUpOverALiteral(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := priceBook(rapid.Int64().Draw(t, "book"), rapid.IntRange(0, 120).Draw(t, "rules"), 2)
		m, err := f.Marginals(count.Limits{})
		if err != nil {
			t.Fatal(err)
		}
		v := rapid.IntRange(1, f.Variables).Draw(t, "variable")
		for _, literal := range []int{v, -v} {
			with := f
			with.Clauses = append(f.Clauses[:len(f.Clauses):len(f.Clauses)], []int{literal})
			if n, err := with.Count(count.Limits{}); err != nil || n.Cmp(m.With(literal)) != 0 {
				t.Fatalf("%v models with a clause for %d, %v; %v by literal", n, literal, err, m.With(literal))
			}
		}
	})
}
