// Package count says exactly how many models a propositional formula has: in how many ways its variables can be set so
// that everything holds. Where a price book is written as such a formula, that is the number of boats it allows.
//
// The method is that of the exact counters of the field, without clause learning. The search of Davis, Putnam, Logemann
// and Loveland (DPLL) picks a variable, counts the models with it true and those with it false, and adds the two. Four
// things keep its tree small:
//
//   - Unit propagation: a clause with one open literal and no true one settles that literal (assign.go).
//   - Connected components: what is still open falls into parts that share nothing; their counts are multiplied
//     (split.go).
//   - Component caching: a part that was counted before is not counted again, whatever was decided on the way to it.
//     Equal keys mean equal formulas, so no count rests on a hash (split.go, search.go).
//   - The order: the variables that hold the formula together go first, so that it falls apart soon (order.go).
//
// Groups of which at most one literal may hold are kept as such and not as k(k-1)/2 clauses. The tree is the same, but
// at 40 options a clause would have to be looked at for each pair.
//
// Nothing is estimated: a search that runs into its limits says so (ErrGaveUp) and gives no number. The package does
// not count over some of the variables only (projected counting), weigh models, or list them.
//
// Sources, from memory: R. J. Bayardo and J. D. Pehoushek, "Counting models using connected components", AAAI 2000; T.
// Sang, F. Bacchus, P. Beame, H. Kautz and T. Pitassi, "Combining component caching and clause learning for effective
// model counting", SAT 2004; M. Thurley, "sharpSAT: counting models with advanced component caching and implicit BCP",
// SAT 2006. The order and the numbers by literal name theirs.
package count

import (
	"errors"
	"fmt"
	"math/big"
	"slices"
)

// Formula is what must hold of the variables 1 to Variables: every clause and every group. A literal is v where
// variable v is true, and -v where it is false.
type Formula struct {
	Variables int     // up to MaxVariables
	Clauses   [][]int // at least one literal of each holds; an empty clause never does
	AtMostOne [][]int // at most one literal of each holds; a group names no literal twice
}

// MaxVariables bounds the depth of the search, two calls for each variable on the path, and the square table of the
// order.
const MaxVariables = 5000

// ExactlyOne adds that one of the literals holds and no other, as of the options of a slot that must be filled.
func (f *Formula) ExactlyOne(literals ...int) {
	f.Clauses = append(f.Clauses, literals)
	f.AtMostOne = append(f.AtMostOne, literals)
}

// Limits bound the effort. One that is 0 or less stands for its default.
type Limits struct {
	Decisions int // variables picked in the whole search
	Cache     int // bytes of counted components, roughly
}

// The default limits: some seconds, and what the tab of a browser can spare.
const (
	DefaultDecisions = 200_000
	DefaultCache     = 256 << 20
)

// ErrGaveUp is in the chain of the error of a search that ran into its limits. Nothing is known of the formula then.
var ErrGaveUp = errors.New("gave up")

// Count is the number of models of clauses over the variables 1 to n; see Formula.Count.
func Count(n int, clauses [][]int, limits Limits) (*big.Int, error) {
	return Formula{Variables: n, Clauses: clauses}.Count(limits)
}

// Count is the number of models. A cache that is full is emptied, which costs time only. The error is ErrGaveUp, or
// names the clause or group that says nothing sensible. Formula and limits alone decide the answer, on every machine.
func (f Formula) Count(limits Limits) (*big.Int, error) {
	c, err := newCounter(f, limits)
	if err != nil {
		return nil, fmt.Errorf("count models: %w", err)
	}
	all, err := c.formula()
	if err != nil {
		return nil, fmt.Errorf("count models: %w", err)
	}
	return all.count, nil
}

// newCounter reads a formula. Of a clause, repeated literals are dropped, and the whole clause where it always holds.
func newCounter(f Formula, limits Limits) (*counter, error) {
	if f.Variables < 0 || f.Variables > MaxVariables {
		return nil, fmt.Errorf("%d variables; count 0 to %d", f.Variables, MaxVariables)
	}
	if limits.Decisions <= 0 {
		limits.Decisions = DefaultDecisions
	}
	if limits.Cache <= 0 {
		limits.Cache = DefaultCache
	}
	c := &counter{assignment: newAssignment(f.Variables), limits: limits, cache: map[string]*node{}}
	for i, clause := range f.Clauses {
		literals, err := f.literals(clause)
		if err != nil {
			return nil, fmt.Errorf("Clauses[%d] %w", i, err)
		}
		if !tautology(literals) {
			c.addClause(literals)
		}
	}
	for i, group := range f.AtMostOne {
		literals, err := f.literals(group)
		if err != nil {
			return nil, fmt.Errorf("AtMostOne[%d] %w", i, err)
		}
		if len(literals) < len(group) {
			return nil, fmt.Errorf("AtMostOne[%d] names a literal twice; name each once", i)
		}
		c.addGroup(literals)
	}
	return c, nil
}

// tautology is true of literals, in rising order, among which are a variable's both.
func tautology(literals []literal) bool {
	for i, l := range literals[min(1, len(literals)):] {
		if literals[i] == l.not() {
			return true
		}
	}
	return false
}

// literals are those of a clause or group in rising order, each once.
func (f Formula) literals(signed []int) ([]literal, error) {
	list := make([]literal, 0, len(signed))
	for _, s := range signed {
		l, ok := f.literal(s)
		if !ok {
			return nil, fmt.Errorf("names %d; literals are 1 to %d and their negatives", s, f.Variables)
		}
		list = append(list, l)
	}
	slices.Sort(list)
	return slices.Compact(list), nil
}

// literal numbers one as the search does.
func (f Formula) literal(signed int) (literal, bool) {
	switch {
	case 0 < signed && signed <= f.Variables:
		return literal(2 * (signed - 1)), true
	case -f.Variables <= signed && signed < 0:
		return literal(2*(-signed-1) + 1), true
	}
	return 0, false
}
