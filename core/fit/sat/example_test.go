package sat_test

import (
	"fmt"
	"strings"

	"ribband/core/fit/sat"
)

// A boat takes one of two motors; the strong one needs the large bank, and the large bank leaves no room for a locker.
func Example() {
	const (
		small sat.Lit = iota + 1
		strong
		bank
		locker
	)
	s := sat.New(4)
	s.ExactlyOne(small, strong)
	s.Add(-strong, bank)
	s.Add(-bank, -locker)
	fmt.Println(s.Solve(locker), "with the strong motor:", s.Model().Holds(strong))
	fmt.Println(s.Solve(strong, locker), s.Core())
	// Output:
	// satisfiable with the strong motor: false
	// unsatisfiable [2 4]
}

func ExampleSolver_MinimalCore() {
	s := sat.New(5)
	s.Add(-1, 2)
	s.Add(-2, -4)
	core, status := s.MinimalCore(1, 2, 3, 4, 5)
	fmt.Println(status, core)
	// Output: unsatisfiable [1 4]
}

// The least weight of at least two of three batteries of 31, 24 and 29 kg.
func ExampleSolver_Minimise() {
	s := sat.New(3)
	batteries := []sat.Lit{1, 2, 3}
	if err := s.AtMost(batteries, []int64{-1, -1, -1}, -2); err != nil { // at least two
		fmt.Println(err)
	}
	best, err := s.Minimise(batteries, []int64{31, 24, 29})
	fmt.Println(best.Status, best.Weight, best.Model[1:4], err)
	// Output: satisfiable 53 [false true true] <nil>
}

// A bound that holds only if a literal is true can be assumed, or not.
func ExampleSolver_AddSum() {
	s := sat.New(3)
	light := s.NewVar()
	err := s.AddSum(sat.Sum{On: light, Lits: []sat.Lit{1, 2, 3}, Weights: []int64{40, 25, 70}, Bound: 100})
	fmt.Println(err, s.Solve(1, 3), s.Solve(1, 3, light), s.Core())
	// Output: <nil> satisfiable unsatisfiable [1 3 4]
}

func ExampleSolver_Enumerate() {
	s := sat.New(3)
	s.Add(1, 2, 3)
	s.Add(-1, -2)
	status := s.Enumerate([]sat.Lit{1, 2}, nil, func(m sat.Model) bool {
		fmt.Println(m.Holds(1), m.Holds(2))
		return true
	})
	fmt.Println("then", status)
	// Output:
	// false false
	// false true
	// true false
	// then unsatisfiable
}

// The checker confirms that there is no model, from what the solver has written down.
func ExampleCheck() {
	f, err := sat.ReadDIMACS(strings.NewReader("p cnf 2 4\n1 2 0 1 -2 0\n-1 2 0 -1 -2 0\n"))
	if err != nil {
		fmt.Println(err)
	}
	s := sat.New(0)
	s.Proof = &sat.Proof{}
	if err := s.AddFormula(f); err != nil {
		fmt.Println(err)
	}
	fmt.Println(s.Solve(), sat.Check(f, s.Proof.Steps, s.Core()))
	fmt.Println(sat.Check(f, nil, nil))
	// Output:
	// unsatisfiable <nil>
	// checking a proof: after its 0 steps, that [] cannot hold together does not follow by unit propagation
}
