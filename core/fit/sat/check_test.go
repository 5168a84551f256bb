package sat_test

import (
	"slices"
	"strings"
	"testing"

	"ribband/core/fit/sat"
)

// all is the formula that forbids every valuation of two variables.
var all = sat.Formula{Variables: 2, Clauses: [][]sat.Lit{{1, 2}, {1, -2}, {-1, 2}, {-1, -2}}}

func TestCheck(t *testing.T) {
	two := sat.Formula{Variables: 3, Sums: []sat.Sum{{On: 3, Lits: []sat.Lit{1, 2}, Weights: []int64{2, 3}, Bound: 4}}}
	tests := []struct {
		name        string
		formula     sat.Formula
		steps       []sat.Step
		assumptions []sat.Lit
		want        string // "" if it is a proof
	}{
		{"learnt", all, []sat.Step{{Lits: []sat.Lit{1}}}, nil, ""},
		{"nothing learnt", all, nil, nil, "after its 0 steps, that [] cannot hold together does not follow"},
		{"assumed", all, nil, []sat.Lit{2}, ""},
		{"does not follow", sat.Formula{Variables: 2, Clauses: all.Clauses[:2]}, []sat.Step{{Lits: []sat.Lit{2}}}, nil,
			"step 1: [2] does not follow"},
		{"has a model", sat.Formula{Variables: 2, Clauses: all.Clauses[:3]}, []sat.Step{{Lits: []sat.Lit{1}}}, nil,
			"that [] cannot hold"},
		{"forgotten too early", all, []sat.Step{{Lits: []sat.Lit{-2, 1}, Forgotten: true}, {Lits: []sat.Lit{1}}}, nil,
			"step 2: [1] does not follow"},
		{"forgotten in time", all, []sat.Step{{Lits: []sat.Lit{1, -1, 2}}, {Lits: []sat.Lit{2, -1, 1}, Forgotten: true},
			{Lits: []sat.Lit{1}}}, nil, ""},
		{"forgotten, not there", all, []sat.Step{{Lits: []sat.Lit{1, 1}, Forgotten: true}}, nil,
			"step 1: it forgets [1 1], which is not there"},
		{"sum", two, nil, []sat.Lit{1, 2, 3}, ""},
		{"sum forces", two, []sat.Step{{Lits: []sat.Lit{-1, -2, -3}}}, []sat.Lit{3, 2, 1}, ""},
		{"sum off", two, nil, []sat.Lit{1, 2, -3}, "that [1 2 -3] cannot hold"},
		{"opposite assumptions", two, nil, []sat.Lit{1, -1}, ""},
		{"literal of the formula", sat.Formula{Variables: 1, Clauses: [][]sat.Lit{{2}}}, nil, nil,
			"clause 1 of the formula: literal 2 is none of the variables 1 to 1"},
		{"literal of a sum", sat.Formula{Variables: 1, Sums: []sat.Sum{{On: -2}}}, nil, nil,
			"sum 1 of the formula: literal -2"},
		{"weights of a sum", sat.Formula{Variables: 1, Sums: []sat.Sum{{Weights: []int64{1}}}}, nil, nil,
			"sum 1 of the formula: adding a sum"},
		{"literal of a step", all, []sat.Step{{Lits: []sat.Lit{0}}}, nil, "step 1: literal 0"},
		{"literal assumed", all, nil, []sat.Lit{-3}, "the assumptions: literal -3"},
	}
	for _, x := range tests {
		t.Run(x.name, func(t *testing.T) {
			err := sat.Check(x.formula, x.steps, x.assumptions)
			if x.want == "" && err != nil || x.want != "" && (err == nil || !strings.Contains(err.Error(), x.want)) {
				t.Errorf("got %v\nwant %q", err, x.want)
			}
		})
	}
}

// A proof with its learnt clauses spoilt, or about a formula that lacks a needed clause, is refused.
func TestCheckRefusesSpoiltProofs(t *testing.T) {
	f := pigeons(5, 4)
	s := load(t, f)
	if got := s.Solve(); got != sat.Unsat {
		t.Fatal(got)
	}
	proved(t, s)
	if len(s.Proof.Steps) < 5 {
		t.Fatalf("only %d steps", len(s.Proof.Steps))
	}
	for i := range f.Clauses { // each is needed: with one fewer there is a model
		less := f
		less.Clauses = slices.Delete(slices.Clone(f.Clauses), i, i+1)
		if err := sat.Check(less, s.Proof.Steps, nil); err == nil {
			t.Errorf("a proof without clause %v is taken", f.Clauses[i])
		}
	}
	for i, step := range s.Proof.Steps {
		if len(step.Lits) < 2 {
			continue
		}
		steps := slices.Clone(s.Proof.Steps)
		steps[i] = sat.Step{Lits: []sat.Lit{step.Lits[0], -step.Lits[0]}} // says nothing
		steps = slices.Insert(steps, i, sat.Step{Lits: nil})              // says too much
		if err := sat.Check(f, steps, nil); err == nil {
			t.Errorf("the empty clause as step %d is taken", i+1)
		}
	}
}

// Many learnt clauses are forgotten on a long way, and the proof with their deletions still holds.
func TestProofWithForgottenClauses(t *testing.T) {
	s := load(t, pigeons(8, 7))
	if got := s.Solve(); got != sat.Unsat {
		t.Fatal(got)
	}
	if s.Stats().Forgotten == 0 {
		t.Errorf("nothing was forgotten in %d conflicts", s.Stats().Conflicts)
	}
	proved(t, s)
}
