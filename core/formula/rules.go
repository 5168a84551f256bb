package formula

// Rule is broken where When holds and Need does not. Both are of kind Truth; an empty one holds.
type Rule struct{ When, Need Program }

// Rules are rules compiled together, so that one loop judges them all.
type Rules struct {
	code  code
	begin []label // of each rule; where one ends the next begins, and after the last stands the exit
}

// NewRules compiles rules.
func NewRules(list []Rule) *Rules {
	r := &Rules{begin: make([]label, len(list)+1)}
	r.begin[len(list)] = holds
	for i := len(list) - 1; i >= 0; i-- { // the last first, since code is written from its end
		next := r.begin[i+1]
		// a rule whose condition fails goes on to the next rule, as one does whose need is met
		need := r.code.program(list[i].Need, next, broken(i))
		r.begin[i] = r.code.program(list[i].When, need, next)
	}
	return r
}

// broken is the exit at which rule i is found broken; of that exit it gives i.
func broken[I int | label](i I) label { return fails - label(i) }

// program appends the tests of a condition; the empty one has none and holds.
func (c *code) program(p Program, yes, no label) label {
	if p.Empty() {
		return yes
	}
	return c.condition(p.tree(), yes, no)
}

// Broken appends the indices of the rules that a state breaks, in order. to is appended to, so that a search that asks
// a thousand times uses one list again.
func (r *Rules) Broken(st *State, to []int) []int {
	for at := r.begin[0]; ; {
		exit := r.code.run(st, at, holds)
		if exit == holds {
			return to
		}
		i := int(broken(exit))
		to = append(to, i)
		// after a broken rule the next is asked: all of them count
		at = r.begin[i+1]
	}
}

// Breaks says whether a state breaks rule i.
func (r *Rules) Breaks(i int, st *State) bool {
	next := max(r.begin[i+1], holds) // a rule that is always broken begins at its exit
	return r.code.run(st, r.begin[i], next) == broken(i)
}
