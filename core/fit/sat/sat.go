// Package sat decides propositional formulas: is there a choice of true and false for the variables 1 to n under which
// every clause and every weighted sum holds? It is a solver with conflict-driven clause learning (CDCL).
//
// How it works. [Solver.Solve] guesses a literal, draws every consequence of the guess, and guesses again. Then either
// all variables have a value (a model), or some constraint is broken (a conflict). Of a conflict it works out which
// guesses were to blame, writes that down as a new clause that follows from the formula, and goes back to where that
// clause has something to say. Each file has one of the ideas:
//
//	solver.go     the search: guess, propagate, learn, go back
//	propagate.go  consequences of clauses, found by watching two literals of each
//	sum.go        weighted sums, Σ w·l ≤ bound, propagated by counting and explained when asked
//	analyse.go    what is learnt of a conflict: the first unique implication point, without redundant literals
//	decide.go     which literal is guessed: the busiest variable, in its last or preferred phase
//	restart.go    when the guesses are taken back
//	forget.go     which learnt clauses are thrown away
//	core.go       which assumptions cannot hold together
//	minimise.go   the least of a sum, by wishes and what their cores cost
//	enumerate.go  all models, seen through some of the variables
//	proof.go      what the solver was given and what it learnt
//	check.go      a second, plain program that confirms "impossible" from that record
//	formula.go    a formula as data
//	dimacs.go     and as text
//
// What it is not: it does no preprocessing, and it learns clauses, not sums. A question whose short proof needs adding
// up several sums (more pigeons than holes) takes it as long as if the sums were written as clauses; [Limits] bound the
// effort.
//
// It reads no clock and no random source, so that the same calls give the same answers, natively and in a browser.
//
// Source (all from memory): Marques-Silva and Sakallah, GRASP, IEEE Trans. Computers 48 (1999), for learning; Moskewicz
// et al., Chaff, DAC 2001, for watched literals and activities; Eén and Sörensson, An Extensible SAT-solver, SAT 2003,
// for the whole and the assumptions; Audemard and Simon, IJCAI 2009, for rating learnt clauses by levels.
package sat

import "fmt"

// Lit is a literal: v says that variable v is true, -v that it is false. 0 is no literal.
type Lit int32

// Var is the variable of a literal.
func (l Lit) Var() int {
	if l < 0 {
		return -int(l)
	}
	return int(l)
}

// index numbers the literals for slices: 2v for v, 2v+1 for -v. It is written without a branch because propagation
// lives on it.
func (l Lit) index() int {
	sign := l >> 31
	return int((l^sign)-sign)<<1 | int(sign&1)
}

// Status is the answer to a question.
type Status int

// The answers.
const (
	Unknown Status = iota // the limits were reached, or the caller interrupted
	Sat                   // there is a model
	Unsat                 // there is none
)

func (s Status) String() string {
	switch s {
	case Unknown:
		return "gave up"
	case Sat:
		return "satisfiable"
	case Unsat:
		return "unsatisfiable"
	}
	return fmt.Sprintf("status %d", int(s))
}

// Model is the value of each variable; that of 0 is unused. Variables that were made for [Solver.Minimise] and
// [Solver.Enumerate] are in it too.
type Model []bool

// Holds says whether a literal is true in the model. Of a variable that the model does not have, only the negative
// literal is. That lets a model be asked about variables that were made after it.
func (m Model) Holds(l Lit) bool {
	v := l.Var()
	return (v < len(m) && m[v]) == (l > 0)
}

// Weigh sums the weights of the literals that hold; without weights it counts them.
func (m Model) Weigh(lits []Lit, weights []int64) int64 {
	var total int64
	for i, l := range lits {
		if m.Holds(l) {
			total += weightOf(weights, i)
		}
	}
	return total
}

func weightOf(weights []int64, i int) int64 {
	if weights == nil {
		return 1
	}
	return weights[i]
}
