package sat_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"ribband/core/fit/sat"
)

// pigeons is the formula that p pigeons sit in h holes, no two in one. Literal (i-1)·h+j: pigeon i sits in hole j.
func pigeons(p, h int) sat.Formula {
	f := sat.Formula{Variables: p * h}
	at := func(i, j int) sat.Lit { return sat.Lit(i*h + j + 1) }
	for i := range p {
		var somewhere []sat.Lit
		for j := range h {
			somewhere = append(somewhere, at(i, j))
		}
		f.Clauses = append(f.Clauses, somewhere)
	}
	for j := range h {
		for i := range p {
			for k := range i {
				f.Clauses = append(f.Clauses, []sat.Lit{-at(i, j), -at(k, j)})
			}
		}
	}
	return f
}

// No short proof by clauses exists that there are too few holes. Source: Haken, The intractability of resolution
// (1985), from memory.
func TestGivesUpAtTheLimits(t *testing.T) {
	tests := []struct {
		name   string
		limits sat.Limits
	}{
		{"conflicts", sat.Limits{Conflicts: 500}},
		{"propagations", sat.Limits{Propagations: 20_000}},
	}
	for _, x := range tests {
		t.Run(x.name, func(t *testing.T) {
			s := load(t, pigeons(10, 9))
			s.Limits = x.limits
			for range 2 { // the limits are those of each call
				before := s.Stats()
				if got := s.Solve(); got != sat.Unknown {
					t.Fatalf("%v, want %v", got, sat.Unknown)
				}
				did := s.Stats()
				// A conflict and what follows from it are seen to the end.
				if n := did.Conflicts - before.Conflicts; x.limits.Conflicts > 0 &&
					(n < x.limits.Conflicts || n > x.limits.Conflicts+20) {
					t.Errorf("%d conflicts", n)
				}
				if n := did.Propagations - before.Propagations; x.limits.Propagations > 0 &&
					(n < x.limits.Propagations || n > x.limits.Propagations+500) {
					t.Errorf("%d propagations", n)
				}
			}
		})
	}
}

func TestEveryCallGivesUp(t *testing.T) {
	f := pigeons(10, 9)
	f.Variables = 91 // says that the last pigeon needs a hole; without it there is room
	f.Clauses[9] = append(f.Clauses[9], -91)
	s := load(t, f)
	s.Limits = sat.Limits{Conflicts: 300}
	if core, status := s.MinimalCore(91); status != sat.Unknown || core != nil {
		t.Errorf("core %v, %v", core, status)
	}
	best, err := s.Minimise([]sat.Lit{-91}, []int64{7})
	if err != nil || best.Status != sat.Unknown || best.Weight != 7 || !allows(f, best.Model) {
		t.Errorf("least %d, %v, %v", best.Weight, best.Status, err)
	}
	models := 0
	if status := s.Enumerate([]sat.Lit{91}, nil,
		func(sat.Model) bool { models++; return true }); status != sat.Unknown || models != 1 {
		t.Errorf("%d models, %v", models, status)
	}
	if status := s.Enumerate([]sat.Lit{91}, nil, func(sat.Model) bool { return false }); status != sat.Sat {
		t.Errorf("stopped by the caller: %v", status)
	}
}

// A core that is found, but cannot be made smaller within the limits, is still a core.
func TestMinimalCoreGivesUpWithACore(t *testing.T) {
	f := pigeons(10, 9)
	for i := range f.Clauses[:10] {
		f.Clauses[i] = append(f.Clauses[i], -91)
	}
	f.Clauses = append(f.Clauses, []sat.Lit{-91, -92})
	f.Variables = 92
	s := load(t, f)
	s.Limits = sat.Limits{Conflicts: 300}
	core, status := s.MinimalCore(91, 92)
	if status != sat.Unknown || !slices.Equal(core, []sat.Lit{91, 92}) {
		t.Fatalf("core %v, %v", core, status)
	}
	proved(t, s)
}

func TestInterrupt(t *testing.T) {
	s := load(t, pigeons(10, 9))
	asked := 0
	s.Interrupt = func() bool { asked++; return asked > 3 }
	if got := s.Solve(); got != sat.Unknown || asked != 4 {
		t.Errorf("%v after %d looks", got, asked)
	}
}

// When the count is said, counting is enough: ten pigeons are housed and nine holes house nine.
func TestCountingIsImmediate(t *testing.T) {
	f := pigeons(10, 9)
	f.Clauses = f.Clauses[:10]
	var housed []sat.Lit
	for i := range 10 {
		f.Variables++
		h := sat.Lit(f.Variables)
		f.Clauses[i] = append(f.Clauses[i], -h)
		f.Clauses = append(f.Clauses, []sat.Lit{h})
		housed = append(housed, h)
	}
	f.Sums = []sat.Sum{{Lits: housed, Bound: 9}}
	s := load(t, f)
	if got := s.Solve(); got != sat.Unsat || s.Stats().Conflicts > 0 {
		t.Errorf("%v after %d conflicts", got, s.Stats().Conflicts)
	}
	proved(t, s)
}

func TestSumsWithWrongWeights(t *testing.T) {
	tests := []struct {
		name    string
		weights []int64
		want    string
	}{
		{"too few", []int64{1}, "adding a sum: 2 literals have 1 weights; give each one, or none"},
		{"too large", []int64{1, math.MinInt64},
			"adding a sum: weight -9223372036854775808 at place 2 makes the weights more than 2305843009213693952 in " +
				"all; use a coarser unit"},
		{"too large together", []int64{1 << 61, 1},
			"adding a sum: weight 1 at place 2 makes the weights more than 2305843009213693952 in all; use a coarser " +
				"unit"},
	}
	for _, x := range tests {
		t.Run(x.name, func(t *testing.T) {
			s := sat.New(2)
			if err := s.AtMost([]sat.Lit{1, 2}, x.weights, 3); err == nil || err.Error() != x.want {
				t.Errorf("got %v\nwant %s", err, x.want)
			}
			if _, err := s.Minimise([]sat.Lit{1, 2}, x.weights); err == nil || err.Error() != x.want {
				t.Errorf("got %v\nwant %s", err, x.want)
			}
			if err := s.AddFormula(sat.Formula{Sums: []sat.Sum{{Lits: []sat.Lit{1, 2},
				Weights: x.weights}}}); err == nil {
				t.Error("a formula with that sum is taken")
			}
			if s.Solve(1, 2) != sat.Sat {
				t.Error("something was added all the same")
			}
		})
	}
}

// The largest weights and bounds overflow nowhere, in the solver as in the checker.
func TestLargestWeights(t *testing.T) {
	const most = 1 << 60
	for _, bound := range []int64{math.MinInt64, -2 * most, -most, 0, most, 2 * most, math.MaxInt64} {
		for _, on := range []sat.Lit{0, 3, -3} {
			f := sat.Formula{Variables: 3, Sums: []sat.Sum{{On: on, Lits: []sat.Lit{1, -2},
				Weights: []int64{most, -most}, Bound: bound}}}
			for _, a := range [][]sat.Lit{{1, 2, 3}, {1, -2, -3}, {-1, -2, 3}, {-1, 2, -3}} {
				s := load(t, f)
				got := s.Solve(a...)
				if got != want(models(f, a)) {
					t.Errorf("on %d, bound %d, %v: %v", on, bound, a, got)
				}
				if got == sat.Unsat {
					proved(t, s)
				}
			}
		}
	}
}

func TestExactlyOne(t *testing.T) {
	for n := range 5 {
		s := sat.New(n)
		var lits []sat.Lit
		for v := 1; v <= n; v++ {
			lits = append(lits, sat.Lit(v))
		}
		s.ExactlyOne(lits...)
		found := 0
		s.Enumerate(lits, nil, func(m sat.Model) bool {
			if m.Weigh(lits, nil) != 1 {
				t.Errorf("%v has not one", m)
			}
			found++
			return true
		})
		if found != n {
			t.Errorf("%d models, want %d", found, n)
		}
	}
}

// A model is the preferred one where that is allowed, and goes back to it when it is again.
func TestPreferred(t *testing.T) {
	s := sat.New(4)
	s.Prefer(1, -2, 3, -4)
	if s.Solve(-1, 2); !s.Model().Holds(3) || s.Model().Holds(4) {
		t.Errorf("open variables are not as preferred: %v", s.Model())
	}
	if s.Solve(); !slices.Equal(s.Model()[1:], []bool{true, false, true, false}) {
		t.Errorf("%v is not the preferred model", s.Model())
	}
}

func TestUnknownVariablePanics(t *testing.T) {
	for name, call := range map[string]func(*sat.Solver){
		"zero":     func(s *sat.Solver) { s.Add(0) },
		"too far":  func(s *sat.Solver) { s.Add(1, -3) },
		"smallest": func(s *sat.Solver) { s.Add(math.MinInt32) },
		"on":       func(s *sat.Solver) { _ = s.AddSum(sat.Sum{On: 3}) },
		"assumed":  func(s *sat.Solver) { s.Solve(5) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if said, _ := recover().(string); !strings.Contains(said,
					"is none of the variables 1 to 2; make it with NewVar") {
					t.Errorf("panic %q", said)
				}
			}()
			call(sat.New(2))
			t.Error("no panic")
		})
	}
}

// A caller that evaluates models itself adds what it has learnt of each and goes on: here, that the numbers of the true
// variables multiply to 12.
func TestSolveEvaluateLearn(t *testing.T) {
	s := sat.New(6)
	lits := []sat.Lit{1, 2, 3, 4, 5, 6}
	var found [][]int
	status := s.Enumerate(lits, []sat.Lit{-1}, func(m sat.Model) bool {
		product, chosen := 1, []int(nil)
		var blame []sat.Lit
		for v := 1; v <= 6; v++ {
			if m[v] {
				product *= v
				chosen = append(chosen, v)
				blame = append(blame, sat.Lit(-v))
			}
		}
		switch {
		case product == 12:
			found = append(found, chosen)
		case 12%product != 0:
			s.Add(blame...) // more of them do not make it better
		}
		return true
	})
	slices.SortFunc(found, slices.Compare)
	if status != sat.Unsat || !slices.EqualFunc(found, [][]int{{2, 6}, {3, 4}}, slices.Equal) {
		t.Errorf("%v, %v", status, found)
	}
}

// Repeated assumptions take more levels than there are variables.
func TestRepeatedAssumptions(t *testing.T) {
	s := load(t, pigeons(4, 3))
	if got := s.Solve(1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1); got != sat.Unsat {
		t.Error(got)
	}
	proved(t, s)
	s = load(t, pigeons(3, 3))
	if got := s.Solve(slices.Repeat([]sat.Lit{1, 5}, 20)...); got != sat.Sat || !s.Model().Holds(9) {
		t.Error(got, s.Model())
	}
}
