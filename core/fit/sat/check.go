package sat

import (
	"fmt"
	"slices"
)

// Check confirms that a formula does not allow assumptions together; without assumptions, that it has no model. An
// error says which step does not follow.
//
// It goes through the steps of a proof in order. A learnt clause follows if making all its literals false leads to a
// conflict by unit propagation alone, from the formula and the clauses learnt before (reverse unit propagation); sums
// take part by their bounds. In the end the assumptions themselves have to lead to a conflict.
//
// It shares nothing with the solver but the types, and works in another way: it counts the false literals of every
// clause, and adds up every sum anew. So an error in the one is not hidden by the same error in the other.
//
// Source: Goldberg and Novikov, Verification of Proofs of Unsatisfiability for CNF Formulas, DATE 2003; from memory.
func Check(f Formula, steps []Step, assumptions []Lit) error {
	c := checker{
		n:       f.Variables,
		value:   make([]int8, f.Variables+1),
		clauses: make([][]int, 2*f.Variables+1),
		sums:    make([][]*checkedSum, f.Variables+1),
		byText:  map[string][]*checkedClause{},
	}
	if err := c.load(f); err != nil {
		return err
	}
	for i, step := range steps {
		if c.contradiction {
			return nil // everything follows
		}
		if err := c.step(step); err != nil {
			return fmt.Errorf("checking a proof: step %d: %w", i+1, err)
		}
	}
	if err := c.inRange(assumptions); err != nil {
		return fmt.Errorf("checking a proof: the assumptions: %w", err)
	}
	if !c.contradiction && !c.conflictUnder(assumptions) {
		return fmt.Errorf("checking a proof: after its %d steps, that %v cannot hold together does not follow "+
			"by unit propagation", len(steps), assumptions)
	}
	return nil
}

// checker is a solver that never guesses. It has no reasons, watches or heuristics: what it does not have cannot be
// wrong.
type checker struct {
	n             int
	value         []int8 // by variable: 1, -1, or 0 if open
	trail         []Lit
	next          int // the first on the trail that has not been looked at
	all           []*checkedClause
	clauses       [][]int         // by n + literal: the clauses that have it, as places in all
	sums          [][]*checkedSum // by variable: the sums that have it
	byText        map[string][]*checkedClause
	contradiction bool // no model, by unit propagation alone
}

type checkedClause struct {
	lits      []Lit
	falsified int // how many of them are false
	gone      bool
}

// checkedSum has for each variable what it adds to the sum when it is true and when it is false.
type checkedSum struct {
	on        Lit
	variables []int
	ifTrue    map[int]int64
	ifFalse   map[int]int64
	bound     int64
}

func (c *checker) load(f Formula) error {
	for i, lits := range f.Clauses {
		if err := c.inRange(lits); err != nil {
			return fmt.Errorf("checking a proof: clause %d of the formula: %w", i+1, err)
		}
		c.add(lits)
	}
	for i, x := range f.Sums {
		err := c.inRange(x.Lits)
		if err == nil && x.On != 0 {
			err = c.inRange([]Lit{x.On})
		}
		if err == nil {
			err = x.check()
		}
		if err != nil {
			return fmt.Errorf("checking a proof: sum %d of the formula: %w", i+1, err)
		}
		c.addSum(x)
	}
	return nil
}

func (c *checker) step(step Step) error {
	if err := c.inRange(step.Lits); err != nil {
		return err
	}
	if step.Forgotten {
		same := c.byText[text(step.Lits)]
		if len(same) == 0 {
			return fmt.Errorf("it forgets %v, which is not there", step.Lits)
		}
		last := len(same) - 1
		same[last].gone = true
		c.byText[text(step.Lits)] = same[:last]
		return nil
	}
	negated := make([]Lit, len(step.Lits))
	for i, l := range step.Lits {
		negated[i] = -l
	}
	if !c.conflictUnder(negated) {
		return fmt.Errorf("%v does not follow by unit propagation", step.Lits)
	}
	c.add(step.Lits)
	return nil
}

func (c *checker) inRange(lits []Lit) error {
	for _, l := range lits {
		if l == 0 || l.Var() > c.n {
			return fmt.Errorf("literal %d is none of the variables 1 to %d", l, c.n)
		}
	}
	return nil
}

// conflictUnder says whether literals made true lead to a conflict. It leaves everything as it was.
func (c *checker) conflictUnder(lits []Lit) bool {
	before := len(c.trail)
	conflict := false
	for _, l := range lits {
		conflict = conflict || !c.set(l)
	}
	conflict = conflict || !c.propagate()
	for i := len(c.trail) - 1; i >= before; i-- {
		l := c.trail[i]
		if i < c.next {
			for _, at := range c.clauses[c.n-int(l)] {
				c.all[at].falsified--
			}
		}
		c.value[l.Var()] = 0
	}
	c.trail, c.next = c.trail[:before], before
	return conflict
}

// add takes a clause in, for good. It may follow something at once, which then holds for all later steps too.
func (c *checker) add(lits []Lit) {
	own := slices.Clone(lits)
	slices.Sort(own)
	clause := &checkedClause{lits: slices.Compact(own)}
	for _, l := range clause.lits {
		c.clauses[c.n+int(l)] = append(c.clauses[c.n+int(l)], len(c.all))
		if c.holds(l) < 0 {
			clause.falsified++
		}
	}
	c.all = append(c.all, clause)
	c.byText[text(lits)] = append(c.byText[text(lits)], clause)
	c.contradiction = c.contradiction || !c.look(clause) || !c.propagate()
}

func (c *checker) addSum(x Sum) {
	own := &checkedSum{on: x.On, bound: min(max(x.Bound, -heaviest-1), heaviest), ifTrue: map[int]int64{},
		ifFalse: map[int]int64{}}
	for i, l := range x.Lits {
		side := own.ifTrue
		if l < 0 {
			side = own.ifFalse
		}
		side[l.Var()] += weightOf(x.Weights, i)
		own.variables = append(own.variables, l.Var())
	}
	slices.Sort(own.variables)
	own.variables = slices.Compact(own.variables)
	for _, v := range own.variables {
		c.sums[v] = append(c.sums[v], own)
	}
	if on := x.On.Var(); on != 0 && !slices.Contains(own.variables, on) {
		c.sums[on] = append(c.sums[on], own)
	}
	c.contradiction = c.contradiction || !c.weigh(own) || !c.propagate()
}

func (c *checker) holds(l Lit) int8 {
	if l < 0 {
		return -c.value[-l]
	}
	return c.value[l]
}

// set makes a literal true; false says that it is false already.
func (c *checker) set(l Lit) bool {
	if now := c.holds(l); now != 0 {
		return now > 0
	}
	c.value[l.Var()] = 1
	if l < 0 {
		c.value[l.Var()] = -1
	}
	c.trail = append(c.trail, l)
	return true
}

// propagate looks at everything that the literals on the trail touch. False is a conflict, as in all of the following.
// A literal counts in all its clauses before any of them is looked at, so that undoing it is the same whichever clause
// was in conflict.
func (c *checker) propagate() bool {
	for c.next < len(c.trail) {
		l := c.trail[c.next]
		c.next++
		touched := c.clauses[c.n-int(l)]
		for _, at := range touched {
			c.all[at].falsified++
		}
		for _, at := range touched {
			if !c.look(c.all[at]) {
				return false
			}
		}
		for _, x := range c.sums[l.Var()] {
			if !c.weigh(x) {
				return false
			}
		}
	}
	return true
}

// look sets the last literal of a clause that is not false.
func (c *checker) look(x *checkedClause) bool {
	if x.gone || x.falsified < len(x.lits)-1 {
		return true
	}
	for _, l := range x.lits {
		if c.holds(l) >= 0 {
			return c.set(l)
		}
	}
	return false
}

// weigh adds up the least that a sum can still come to. If that is too much, its condition is false; if it is too much
// with one variable at its worse value, that variable has the other.
func (c *checker) weigh(x *checkedSum) bool {
	if x.on != 0 && c.holds(x.on) < 0 {
		return true
	}
	var least int64
	for _, v := range x.variables {
		low, _ := c.span(x, v)
		least += low
	}
	if least > x.bound {
		return x.on != 0 && c.set(-x.on)
	}
	if x.on != 0 && c.holds(x.on) == 0 {
		return true
	}
	for _, v := range x.variables {
		low, high := c.span(x, v)
		if least-low+high <= x.bound {
			continue
		}
		l := Lit(v)
		if x.ifTrue[v] > x.ifFalse[v] {
			l = -l
		}
		if !c.set(l) {
			return false
		}
	}
	return true
}

// span is the least and the most that a variable can add to a sum while its condition holds.
func (c *checker) span(x *checkedSum, v int) (low, high int64) {
	value := c.value[v]
	if x.on.Var() == v {
		value = 1
		if x.on < 0 {
			value = -1
		}
	}
	a, b := x.ifTrue[v], x.ifFalse[v]
	switch {
	case value > 0:
		return a, a
	case value < 0:
		return b, b
	}
	return min(a, b), max(a, b)
}

// text is a clause as a key, whatever the order of its literals.
func text(lits []Lit) string {
	sorted := slices.Clone(lits)
	slices.Sort(sorted)
	return fmt.Sprint(sorted)
}
