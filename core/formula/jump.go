package formula

import "math"

// code is conditions as jumping code: tests, each of which names the test that follows it where it holds and where it
// does not. That is how textbooks compile and, or, not and ?: (Aho, Lam, Sethi, Ullman: Compilers, section 6.6). No
// truth value is ever stored, and one loop runs a condition, or many of them one after the other. Tests are written
// from the last to the first, so that every jump goes down and every run ends.
type code struct {
	tests     []test
	questions []question
}

// label is the place of a test, or, below zero, an exit.
type label int32

// The exits of a single condition.
const (
	holds label = -1
	fails label = -2
)

// asks is the test of a question; it is no operation of a program.
const asks Op = 0

// test asks whether there is any of an option (Has), anything in a slot (Filled), or else a question. It is small, so
// that the tests of all rules of a book lie in the nearest cache.
type test struct {
	op      Op
	index   int32 // of the option, slot or question
	yes, no label
}

// question is a comparison of numbers.
type question struct {
	op     Op        // the number in the state: Hull, HullID, Use, Figure or Count
	index  int       // of what op names
	lo, hi float64   // it is asked whether the number lies between these, ends included
	ask    TruthFunc // where not nil, the question instead
}

// run follows the jumps from a test down to, and without, another label, or out of the code.
func (c *code) run(st *State, at, end label) label {
	for at > end {
		t := &c.tests[at]
		n := 0
		switch t.op {
		case Has:
			n = st.Counts[t.index]
		case Filled:
			n = st.Slots[t.index]
		default: // asks
			if c.questions[t.index].holds(st) {
				n = 1
			}
		}
		// a count is never negative, so any of it is one test for all three kinds
		if n > 0 {
			at = t.yes
		} else {
			at = t.no
		}
	}
	return at
}

// holds answers a question.
func (q *question) holds(st *State) bool {
	var x float64
	switch q.op {
	case Figure:
		x = st.Figures[q.index]
	case Use:
		x = st.Use[q.index]
	case Hull:
		x = st.Hull[q.index]
	case HullID:
		x = float64(st.HullID)
	case Count:
		x = float64(st.Counts[q.index])
	default:
		return q.ask(st)
	}
	return q.lo <= x && x <= q.hi
}

// condition appends the tests of a tree that gives a truth value, last first, and gives where they begin.
func (c *code) condition(n *node, yes, no label) label {
	switch n.Op {
	case True:
		return yes
	case False:
		return no
	case Not:
		return c.condition(&n.in[0], no, yes)
	// the second is asked only where the first holds: its tests are written first, since code is written from its end
	case And:
		return c.condition(&n.in[0], c.condition(&n.in[1], yes, no), no)
	case Or:
		return c.condition(&n.in[0], yes, c.condition(&n.in[1], yes, no))
	case If:
		return c.condition(&n.in[0], c.condition(&n.in[1], yes, no), c.condition(&n.in[2], yes, no))
	case Has, Filled:
		return c.add(test{n.Op, int32(n.Index), yes, no})
	}
	// a comparison with a constant, as nearly all of a book are, needs no closure
	q, ok := n.between()
	if !ok {
		q = question{ask: n.comparison()}
	}
	c.questions = append(c.questions, q)
	return c.add(test{asks, int32(len(c.questions) - 1), yes, no})
}

// add appends a test and gives its place.
func (c *code) add(t test) label {
	c.tests = append(c.tests, t)
	return label(len(c.tests) - 1)
}

// between makes of a comparison of a number in the state with a constant the question whether it lies in an interval.
// There the next number above or below a constant stands for "more than" and "less than", which is exact. NaN lies in
// no interval.
func (n *node) between() (question, bool) {
	a, b := &n.in[0], &n.in[1]
	low := a.Op == Const // the constant is the lower end
	if low {
		a, b = b, a
	}
	if b.Op != Const || !(a.Op == Count || a.Op == Hull || a.Op == HullID || a.Op == Use || a.Op == Figure) {
		return question{}, false
	}
	q := question{op: a.Op, index: a.Index, lo: math.Inf(-1), hi: math.Inf(1)}
	switch v := b.Value; {
	case n.Op == Equal:
		q.lo, q.hi = v, v
	case low && n.Op == AtMost:
		q.lo = v
	// a constant below a number: more than it, and so the next number up at least
	case low:
		q.lo = math.Nextafter(v, math.Inf(1))
	case n.Op == AtMost:
		q.hi = v
	default:
		q.hi = math.Nextafter(v, math.Inf(-1))
	}
	return q, true
}
