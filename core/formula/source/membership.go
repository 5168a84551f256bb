package source

import (
	"fmt"

	"github.com/expr-lang/expr/ast"

	"ribband/core/formula"
	"ribband/core/suggest"
)

// domain is what a text may be compared with: the options of a slot, the hulls, or the choices of a use field.
type domain struct {
	what  string                            // for messages
	known func() []string                   // for messages
	test  func(l *lowering, id string) bool // emits the comparison with one name
}

// domain recognises chosen("slot"), hull.id and use.choice. It reports an error in them itself.
func (l *lowering) domain(n ast.Node) (domain, bool) {
	switch n := n.(type) {
	case *ast.CallNode:
		// chosen("slot") is the only call that gives a text
		if callee, ok := n.Callee.(*ast.IdentifierNode); ok && callee.Value == "chosen" {
			return l.slotDomain(n)
		}
	case *ast.MemberNode:
		root, field, ok := memberNames(n)
		if ok && root == "hull" && field == "id" {
			// hulls are told apart by their index
			return domain{what: "hull", known: func() []string { return keys(l.scope.Hulls) },
				test: indexTest(formula.HullID, 0, l.scope.Hulls)}, true
		}
		if ok && root == "use" {
			// a number of the use is compared like any other
			if u := l.scope.Use[field]; u.Choices != nil {
				return domain{what: "choice of use." + field, known: func() []string { return keys(u.Choices) },
					test: indexTest(formula.Use, u.Index, u.Choices)}, true
			}
		}
	}
	return domain{}, false
}

// A slot with multiple options has no one chosen: expr's machine would have to pick one, and which is nobody's
// business.
func (l *lowering) slotDomain(n *ast.CallNode) (domain, bool) {
	id, at, ok := l.textArgument(n, "chosen", "slot")
	if !ok {
		return domain{}, false
	}
	slot, ok := l.scope.Slots[id]
	if !ok {
		l.fail(at, fmt.Sprintf("unknown slot %q", id),
			suggest.Nearest(id, keys(l.scope.Slots), "no slot of the book has this identifier"))
		return domain{}, false
	}
	if slot.Multiple {
		l.fail(n, fmt.Sprintf("slot %q holds several options, so there is no one chosen", id),
			"ask with has or count for the option that matters")
		return domain{}, false
	}
	// found only when a message needs it: a book has hundreds of options, and nearly every text is right
	known := func() (list []string) {
		for _, k := range keys(l.scope.Options) {
			if l.scope.Options[k].Slot == slot.Index {
				list = append(list, k)
			}
		}
		return list
	}
	return domain{what: "option of slot " + id, known: known, test: func(l *lowering, name string) bool {
		// chosen is "" where nothing stands in the slot
		if name == "" {
			l.emit(formula.Filled, slot.Index)
			l.emit(formula.Not, 0)
			return true
		}
		o, ok := l.scope.Options[name]
		// an option of another slot could never be chosen here: a slip, and no condition that fails
		if !ok || o.Slot != slot.Index {
			return false
		}
		l.emit(formula.Has, o.Index)
		return true
	}}, true
}

// indexTest tests a number of the state against the index of a name: hulls and choices are held as numbers.
func indexTest(op formula.Op, index int, known map[string]int) func(*lowering, string) bool {
	return func(l *lowering, name string) bool {
		i, ok := known[name]
		if ok {
			l.emit(op, index)
			l.number(float64(i))
			l.emit(formula.Equal, 0)
		}
		return ok
	}
}

// membership lowers a comparison of a domain with one text or a list of them to tests joined by or. So a book of the
// language needs no texts at run time, and the solver sees a clause over options.
func (l *lowering) membership(n *ast.BinaryNode, d domain, right ast.Node) formula.Kind {
	if l.err != nil {
		return formula.Truth
	}
	if d.test == nil {
		return l.fail(n, "in asks about a hull, a slot or a choice of the use",
			`write chosen("slot") in ["a", "b"], hull.id in [...] or use.region in [...]`)
	}
	items := []ast.Node{right}
	if n.Operator == "in" {
		// a list of one is allowed: owners add the second hull later
		list, ok := right.(*ast.ArrayNode)
		if !ok || len(list.Nodes) == 0 {
			return l.fail(right, "in wants a list of texts", `write in ["a", "b"]`)
		}
		items = list.Nodes
	}
	for i, item := range items {
		text, ok := item.(*ast.StringNode)
		if !ok {
			return l.fail(item, "the "+d.what+" is compared with a text in quotes", "the texts are "+quoted(d.known()))
		}
		if !d.test(l, text.Value) {
			return l.fail(item, fmt.Sprintf("%q is no %s", text.Value, d.what),
				suggest.Nearest(text.Value, d.known(), "the known ones are "+quoted(d.known())))
		}
		// in postfix: the second test, or, the third, or
		if i > 0 {
			l.emit(formula.Or, 0)
		}
	}
	if n.Operator == "!=" {
		l.emit(formula.Not, 0)
	}
	return formula.Truth
}
