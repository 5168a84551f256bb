package sat_test

import (
	"fmt"
	"testing"

	"github.com/crillab/gophersat/solver"

	"ribband/core/fit/sat"
)

// gophersatSays asks gophersat for a plain yes or no. Only that: its Assume, Minimize, CountModels and MaxSAT have
// given wrong answers.
func gophersatSays(f sat.Formula) sat.Status {
	var all []solver.PBConstr
	for _, c := range f.Clauses {
		all = append(all, solver.PropClause(ints(c)...))
	}
	for _, x := range f.Sums {
		weights := make([]int, len(x.Lits))
		for i := range weights {
			weights[i] = int(x.Weights[i])
		}
		all = append(all, solver.LtEq(ints(x.Lits), weights, int(x.Bound)))
	}
	if solver.New(solver.ParsePBConstrs(all)).Solve() == solver.Sat {
		return sat.Sat
	}
	return sat.Unsat
}

func ints(lits []sat.Lit) []int {
	out := make([]int, len(lits))
	for i, l := range lits {
		out[i] = int(l)
	}
	return out
}

// confirmed solves a formula; a model has to obey it, and the checker has to confirm that there is none.
func confirmed(t *testing.T, f sat.Formula) sat.Status {
	t.Helper()
	s := load(t, f)
	got := s.Solve()
	switch {
	case got == sat.Unknown:
		t.Error("gave up without limits")
	case got == sat.Sat && !allows(f, s.Model()):
		t.Error("the model does not obey the formula")
	case got == sat.Unsat:
		proved(t, s)
	}
	return got
}

func TestThreeSATAgainstPeers(t *testing.T) {
	verdicts := map[sat.Status]int{}
	for _, n := range []int{50, 75, 100, 125, 150} {
		for seed := range uint64(8) {
			f := threeSAT(seed<<32+uint64(n), n)
			t.Run(fmt.Sprintf("%d/%d", n, seed), func(t *testing.T) {
				got := confirmed(t, f)
				verdicts[got]++
				if want := gophersatSays(f); got != want {
					t.Errorf("%v, gophersat says %v", got, want)
				}
				for _, p := range peers {
					t.Run(p.name, func(t *testing.T) {
						if want := peerSays(t, p.name, p.args, f); got != want {
							t.Errorf("%v, %s says %v", got, p.name, want)
						}
					})
				}
			})
		}
	}
	if verdicts[sat.Sat] < 5 || verdicts[sat.Unsat] < 5 {
		t.Errorf("%v: the formulas are not hard ones", verdicts)
	}
}

// Random sums with large weights over random clauses, against gophersat.
func TestSumsAgainstGophersat(t *testing.T) {
	verdicts := map[sat.Status]int{}
	for seed := range uint64(60) {
		f := threeSAT(seed, 30)
		f.Clauses = f.Clauses[:70]
		g := splitmix(seed)
		for range 4 {
			var x sat.Sum
			for v := 1; v <= f.Variables; v++ {
				w := int64(1 + g.below(1_000_000))
				x.Lits, x.Weights = append(x.Lits, sat.Lit(v)*sat.Lit(1-2*g.below(2))), append(x.Weights, w)
				x.Bound += w * 36 / 100
			}
			f.Sums = append(f.Sums, x)
		}
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			got := confirmed(t, f)
			verdicts[got]++
			if want := gophersatSays(f); got != want {
				t.Errorf("%v, gophersat says %v", got, want)
			}
		})
	}
	t.Log(verdicts)
	if verdicts[sat.Sat] < 5 || verdicts[sat.Unsat] < 5 {
		t.Errorf("%v: the formulas are not hard ones", verdicts)
	}
}

// The same calls give the same answers, and take the same way to them.
func TestSameCallsSameAnswers(t *testing.T) {
	ask := func(seed uint64) string {
		f := threeSAT(seed, 100)
		s := load(t, f)
		first := s.Solve()
		second := s.Solve(1, -2, 3, 4, -5, 6, 7, 8, 9, 10)
		return fmt.Sprint(first, second, s.Model(), s.Core(), s.Stats(), s.Proof.Steps)
	}
	for seed := range uint64(4) {
		if first, again := ask(seed), ask(seed); first != again {
			t.Errorf("seed %d: two answers", seed)
		}
	}
}
