package formula

import "math"

// NumberFunc evaluates a formula that gives a number.
type NumberFunc func(*State) float64

// TruthFunc evaluates a formula that gives a truth value.
type TruthFunc func(*State) bool

// Number compiles the program to a closure. The program must be of kind Number; the empty one gives 0.
func (p Program) Number() NumberFunc {
	if p.Empty() {
		return func(*State) float64 { return 0 }
	}
	return p.tree().number()
}

// Truth compiles the program to a closure. The program must be of kind Truth; the empty one gives true.
func (p Program) Truth() TruthFunc {
	if p.Empty() {
		return func(*State) bool { return true }
	}
	return p.tree().truth()
}

// A condition runs as jumping code even within a number, so that there is one way to judge it.
func (n *node) truth() TruthFunc {
	var c code
	begin := c.condition(n, holds, fails)
	return func(st *State) bool { return c.run(st, begin, holds) == holds }
}

// number makes a tree of closures of one that gives a number. What needs no look at the operation while it runs is
// settled here, once: the closure of a sum only adds.
func (n *node) number() NumberFunc {
	switch len(n.in) {
	case 0:
		return n.leaf()
	case 1:
		return n.unary(n.in[0].number())
	case 2:
		return n.arithmetic(n.in[0].number(), n.in[1].number())
	}
	cond, a, b := n.in[0].truth(), n.in[1].number(), n.in[2].number()
	return func(st *State) float64 {
		if cond(st) {
			return a(st)
		}
		return b(st)
	}
}

// leaf reads one number of the state.
func (s Step) leaf() NumberFunc {
	i, v := s.Index, s.Value
	switch s.Op {
	case Hull:
		return func(st *State) float64 { return st.Hull[i] }
	case HullID:
		return func(st *State) float64 { return float64(st.HullID) }
	case Use:
		return func(st *State) float64 { return st.Use[i] }
	case Figure:
		return func(st *State) float64 { return st.Figures[i] }
	case Count:
		return func(st *State) float64 { return float64(st.Counts[i]) }
	}
	return func(*State) float64 { return v }
}

// unary is an operation on one number.
func (s Step) unary(a NumberFunc) NumberFunc {
	switch s.Op {
	case Neg:
		return func(st *State) float64 { return -a(st) }
	case Abs:
		return func(st *State) float64 {
			x := a(st)
			if x < 0 { // as expr does it, so that minus zero stays
				return -x
			}
			return x
		}
	case Ceil:
		return func(st *State) float64 { return math.Ceil(a(st)) }
	case Floor:
		return func(st *State) float64 { return math.Floor(a(st)) }
	}
	return func(st *State) float64 { return math.Round(a(st)) }
}

// arithmetic is an operation on two numbers. A division by zero gives an infinity: who uses the result asks [Finite].
func (s Step) arithmetic(a, b NumberFunc) NumberFunc {
	switch s.Op {
	case Add:
		return func(st *State) float64 { return a(st) + b(st) }
	case Sub:
		return func(st *State) float64 { return a(st) - b(st) }
	case Mul:
		return func(st *State) float64 { return a(st) * b(st) }
	case Div:
		return func(st *State) float64 { return a(st) / b(st) }
	case Min:
		return func(st *State) float64 {
			x, y := a(st), b(st)
			if y < x { // as expr does it, so that NaN gives the same
				return y
			}
			return x
		}
	}
	return func(st *State) float64 {
		x, y := a(st), b(st)
		if x < y {
			return y
		}
		return x
	}
}

// comparison compares two numbers. Every other comparison was lowered to one of these three.
func (n *node) comparison() TruthFunc {
	a, b := n.in[0].number(), n.in[1].number()
	switch n.Op {
	case Less:
		return func(st *State) bool { return a(st) < b(st) }
	case AtMost:
		return func(st *State) bool { return a(st) <= b(st) }
	}
	return func(st *State) bool { return a(st) == b(st) }
}
