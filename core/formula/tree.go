package formula

// node is an operation with its operands.
type node struct {
	Step
	in []node
}

// tree makes a tree of the postfix order. New has checked that every operand is there and of its kind. A tree is for
// compiling: what runs is made of it once, and no boat ever walks it.
func (p Program) tree() *node {
	var stack []node
	for _, s := range p.steps {
		base := len(stack) - len(signatures[s.Op].takes)
		n := node{s, append([]node(nil), stack[base:]...)}
		stack = append(stack[:base], n)
	}
	return &stack[0]
}

// Split takes a program apart: its outermost operation, and the operands of that as programs of their own. The program
// must not be empty.
func (p Program) Split() (root Step, operands []Program) {
	var starts []int // where each value on the stack begins
	// in postfix the outermost operation stands last
	end := len(p.steps) - 1
	root = p.steps[end]
	for i, s := range p.steps[:end] {
		base := len(starts) - len(signatures[s.Op].takes)
		// an operation begins where its first operand does
		start := i
		if base < len(starts) {
			start = starts[base]
		}
		starts = append(starts[:base], start)
	}
	for i, start := range starts {
		to := end
		if i+1 < len(starts) {
			to = starts[i+1]
		}
		part, err := New(p.steps[start:to:to])
		if err != nil {
			panic(err) // an operand of a formula is one
		}
		operands = append(operands, part)
	}
	return root, operands
}
