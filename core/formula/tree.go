package formula

// node is an operation with its operands.
type node struct {
	Step
	in []node
}

// tree makes a tree of the postfix order. New has checked that every operand is there and of its kind.
func (p Program) tree() *node {
	var stack []node
	for _, s := range p.steps {
		base := len(stack) - len(signatures[s.Op].takes)
		n := node{s, append([]node(nil), stack[base:]...)}
		stack = append(stack[:base], n)
	}
	return &stack[0]
}
