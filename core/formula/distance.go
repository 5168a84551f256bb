package formula

import "math"

// edge is the distance of a comparison that fails by nothing: 2 < 2. Zero would say that it holds.
const edge = 1e-3

// Distance compiles how far a truth formula is from giving a wanted value: zero exactly where it gives it, above zero
// elsewhere. A comparison is as far as its sides are apart, as a share of both, at most 1; anything else that is not as
// wanted is 1. Where two conditions are both needed their distances add up; of alternatives the nearer counts. The
// empty formula holds. A search that lowers the distance comes nearer to a boat with the value.
// Source: the branch distance of search-based software testing (B. Korel, 1990; N. Tracey et al., 1998), from memory.
func (p Program) Distance(want bool) NumberFunc {
	if p.Empty() {
		return constant(want)
	}
	return p.tree().distance(want)
}

// constant is the distance of what is as wanted, or is not and shows no way there.
func constant(there bool) NumberFunc {
	if there {
		return func(*State) float64 { return 0 }
	}
	return func(*State) float64 { return 1 }
}

// distance is that of a condition made of others; not takes the wanted value the other way round.
func (n *node) distance(want bool) NumberFunc {
	switch n.Op {
	case Not:
		return n.in[0].distance(!want)
	case And, Or:
		a, b := n.in[0].distance(want), n.in[1].distance(want)
		// both must hold, or neither may: each is a way to go. Else one of the two is enough
		if want == (n.Op == And) {
			return func(st *State) float64 { return a(st) + b(st) }
		}
		return func(st *State) float64 { return min(a(st), b(st)) }
	case If:
		cond, a, b := n.in[0].truth(), n.in[1].distance(want), n.in[2].distance(want)
		return func(st *State) float64 {
			if cond(st) {
				return a(st)
			}
			return b(st)
		}
	}
	truth, apart := n.truth(), n.apart()
	return func(st *State) float64 {
		if truth(st) == want {
			return 0
		}
		return apart(st)
	}
}

// apart is how far a condition that is not made of others is from the other value.
func (n *node) apart() NumberFunc {
	// an option is there or not: there is no nearer
	if len(n.in) != 2 {
		return constant(false)
	}
	a, b := n.in[0].number(), n.in[1].number()
	return func(st *State) float64 {
		x, y := a(st), b(st)
		share := math.Abs(x-y) / (math.Abs(x) + math.Abs(y))
		if !(share <= 1) { // both are zero, or not finite
			share = 1
			if x == y {
				share = 0
			}
		}
		return edge + float64((1-edge)*share)
	}
}
