package formula

// Guard is what must be in the boat for a condition to hold: at least one of the options, or something in one of the
// slots. As long as there is none of them, the condition fails, whatever the figures are.
type Guard struct{ Options, Slots []int }

// Asleep says that a state has nothing of the guard.
func (g *Guard) Asleep(st *State) bool {
	for _, o := range g.Options {
		if st.Counts[o] > 0 {
			return false
		}
	}
	for _, s := range g.Slots {
		if st.Slots[s] > 0 {
			return false
		}
	}
	return true
}

// Guard finds the guard of a condition; nil where none is seen, as of a condition that may hold on an empty boat. Most
// rules of a book speak of options that few boats have. A search that knows this need not run them.
func (p Program) Guard() *Guard {
	stack := make([]*Guard, 0, 16) // of the values on the stack; nil for numbers too
	for _, s := range p.steps {
		n := len(signatures[s.Op].takes)
		in := stack[len(stack)-n:]
		var g *Guard
		switch s.Op {
		case Has:
			g = &Guard{Options: []int{s.Index}}
		case Filled:
			g = &Guard{Slots: []int{s.Index}}
		// either guard is enough, since the condition fails without it; the first is taken
		case And:
			if g = in[0]; g == nil {
				g = in[1]
			}
		// one side may hold without the other, so that both must be asleep
		case Or:
			if in[0] != nil && in[1] != nil {
				g = &Guard{append(in[0].Options[:len(in[0].Options):len(in[0].Options)], in[1].Options...),
					append(in[0].Slots[:len(in[0].Slots):len(in[0].Slots)], in[1].Slots...)}
			}
		}
		stack = append(stack[:len(stack)-n], g)
	}
	if len(stack) != 1 {
		return nil
	}
	return stack[0]
}
