package formula

import "math"

// Certain is the margin of what is simply so; one that is simply not so has its negative.
const Certain = 1e9

// Margin is by how much a truth formula holds on a boat: above zero where it does, below where it does not, and at zero on the edge. A comparison gives the difference of its sides; of two
// conditions that must both hold the lesser counts, of alternatives the greater. A search that raises it comes nearer to a boat on which the formula holds. The empty formula holds.
// Source: the usual quantitative reading of a truth formula over real numbers, from memory.
func (p Program) Margin(st *State) float64 {
	if p.Empty() {
		return Certain
	}
	return p.tree().margin(st)
}

func (n *node) margin(st *State) float64 {
	switch n.Op {
	case Not:
		return -n.in[0].margin(st)
	case And:
		return math.Min(n.in[0].margin(st), n.in[1].margin(st))
	case Or:
		return math.Max(n.in[0].margin(st), n.in[1].margin(st))
	case If:
		if n.in[0].truth()(st) {
			return n.in[1].margin(st)
		}
		return n.in[2].margin(st)
	case Less, AtMost, Equal:
		a, b := n.in[0].number()(st), n.in[1].number()(st)
		if n.Op == Equal {
			return -math.Abs(a - b)
		}
		return b - a
	}
	if n.truth()(st) {
		return Certain
	}
	return -Certain
}
