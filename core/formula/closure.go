package formula

import "math"

// NumberFunc evaluates a formula that gives a number.
type NumberFunc func(*State) float64

// TruthFunc evaluates a formula that gives a truth value.
type TruthFunc func(*State) bool

// compiled is one value on the compiler's stack: one of the two is set.
type compiled struct {
	number NumberFunc
	truth  TruthFunc
}

// Number compiles the program to a closure. The program must be of kind Number; the empty one gives 0.
func (p Program) Number() NumberFunc {
	if p.Empty() {
		return func(*State) float64 { return 0 }
	}
	return p.compile().number
}

// Truth compiles the program to a closure. The program must be of kind Truth; the empty one gives true.
func (p Program) Truth() TruthFunc {
	if p.Empty() {
		return func(*State) bool { return true }
	}
	return p.compile().truth
}

// compile turns postfix order into a tree of closures. New has checked that every operand is there and of its kind.
func (p Program) compile() compiled {
	var stack []compiled
	for _, s := range p.steps {
		base := len(stack) - len(signatures[s.Op].takes)
		c := s.closure(stack[base:])
		stack = append(stack[:base], c)
	}
	return stack[0]
}

func (s Step) closure(in []compiled) compiled {
	switch len(in) {
	case 0:
		return s.leaf()
	case 1:
		if s.Op == Not {
			a := in[0].truth
			return compiled{truth: func(st *State) bool { return !a(st) }}
		}
		return compiled{number: s.unary(in[0].number)}
	case 2:
		switch s.Op {
		case And, Or:
			return compiled{truth: s.junction(in[0].truth, in[1].truth)}
		case Less, AtMost, Equal:
			return compiled{truth: s.comparison(in[0].number, in[1].number)}
		}
		return compiled{number: s.arithmetic(in[0].number, in[1].number)}
	}
	return conditional(in[0].truth, in[1], in[2])
}

func (s Step) leaf() compiled {
	i, v := s.Index, s.Value
	switch s.Op {
	case Hull:
		return compiled{number: func(st *State) float64 { return st.Hull[i] }}
	case HullID:
		return compiled{number: func(st *State) float64 { return float64(st.HullID) }}
	case Use:
		return compiled{number: func(st *State) float64 { return st.Use[i] }}
	case Figure:
		return compiled{number: func(st *State) float64 { return st.Figures[i] }}
	case Count:
		return compiled{number: func(st *State) float64 { return float64(st.Counts[i]) }}
	case Has:
		return compiled{truth: func(st *State) bool { return st.Counts[i] > 0 }}
	case Filled:
		return compiled{truth: func(st *State) bool { return st.Slots[i] > 0 }}
	case True:
		return compiled{truth: func(*State) bool { return true }}
	case False:
		return compiled{truth: func(*State) bool { return false }}
	}
	return compiled{number: func(*State) float64 { return v }}
}

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

func (s Step) comparison(a, b NumberFunc) TruthFunc {
	switch s.Op {
	case Less:
		return func(st *State) bool { return a(st) < b(st) }
	case AtMost:
		return func(st *State) bool { return a(st) <= b(st) }
	}
	return func(st *State) bool { return a(st) == b(st) }
}

func (s Step) junction(a, b TruthFunc) TruthFunc {
	if s.Op == And {
		return func(st *State) bool { return a(st) && b(st) }
	}
	return func(st *State) bool { return a(st) || b(st) }
}

func conditional(cond TruthFunc, yes, no compiled) compiled {
	if yes.truth != nil {
		a, b := yes.truth, no.truth
		return compiled{truth: func(st *State) bool {
			if cond(st) {
				return a(st)
			}
			return b(st)
		}}
	}
	a, b := yes.number, no.number
	return compiled{number: func(st *State) float64 {
		if cond(st) {
			return a(st)
		}
		return b(st)
	}}
}
