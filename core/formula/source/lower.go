// Package source turns the text of a formula into its lowered form: expr-lang parses it, this package checks every
// name and kind against the book's Scope, and writes the postfix program that packs carry.
//
// The language is the small part of expr-lang that rules/README.md lists; everything else of it is an error with its
// position and a remedy. The package runs natively only: neither expr nor this check is in the page.
package source

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/conf"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
	"github.com/expr-lang/expr/parser/lexer"

	"ribband/core/formula"
	"ribband/core/suggest"
)

// Scope is every name that a formula may use, with its index in the pack.
type Scope struct {
	// for has, count and, beside them, chosen
	Options map[string]Option
	// for chosen
	Slots map[string]Slot
	// what hull.id is compared with
	Hulls map[string]int
	// fields of the hull
	Hull map[string]int
	// what a buyer states
	Use map[string]Use
	// computed ones, too: a formula does not see the difference
	Figures map[string]int
}

// Option is a name that has and count take.
type Option struct{ Index, Slot int }

// Slot is a name that chosen takes, unless it holds several options.
type Slot struct {
	Index    int
	Multiple bool
}

// Use is a field of the use; Choices is nil for a number.
type Use struct {
	Index   int
	Choices map[string]int
}

// Error is a fault in the text of a formula. Offset is where, in bytes from its beginning.
type Error struct {
	Offset  int
	Message string
	Advice  string
}

func (e *Error) Error() string { return e.Message + "; " + e.Advice }

// builtins are the functions of the language, which expr knows under the same names.
var builtins = []string{"min", "max", "abs", "ceil", "floor", "round"}

// config switches everything off but the names of the language. expr's own functions read clocks, sort lists and make
// texts; none of that is in a formula of a boat.
func config(env map[string]any) *conf.Config {
	c := conf.New(env)
	for name := range c.Builtins {
		c.Disabled[name] = !slices.Contains(builtins, name)
	}
	return c
}

// names are what formulas may say, with their kinds: all numbers are floats, and a text stands only in quotes.
var names = map[string]any{
	"has": func(string) bool { return false }, "count": func(string) float64 { return 0 },
	"chosen": func(string) string { return "" },
	"hull":   map[string]any{}, "use": map[string]any{}, "figures": map[string]any{},
}

// Lower checks text, which must give want, and lowers it. What is not in the language is refused by the tree, not by
// the text: every form of expr that is not named below is unknown here, also one that a later version brings.
func Lower(text string, scope *Scope, want formula.Kind) (formula.Program, *Error) {
	// the length is checked there too, before anything is parsed
	if bad := unlisted(text); bad != nil {
		return formula.Program{}, bad
	}
	tree, err := parser.ParseWithConfig(text, config(names))
	if err != nil {
		return formula.Program{}, syntaxError(text, err)
	}
	// the tree is walked in the order in which postfix is written: operands first
	l := lowering{text: text, scope: scope}
	kind := l.node(tree.Node)
	if l.err == nil && kind != want {
		l.fail(tree.Node, fmt.Sprintf("this gives a %s, but a %s is wanted here", kind, want),
			"write a condition as (… ? 1 : 0) to make it a number, or compare a number to make it a condition")
	}
	if l.err != nil {
		return formula.Program{}, l.err
	}
	p, bad := formula.New(l.steps)
	if bad != nil { // a bug of this package, not of the book; said as an error all the same
		return formula.Program{}, &Error{0, bad.Error(), "report this formula"}
	}
	return p, nil
}

// syntaxError takes over what expr's parser says, with its place.
func syntaxError(text string, err error) *Error {
	var e *file.Error
	if !errors.As(err, &e) {
		return &Error{0, err.Error(), languageAdvice}
	}
	return &Error{byteOffset(text, e.From), e.Message, languageAdvice}
}

const languageAdvice = "the language of formulas is listed in the README of the book"

// byteOffset turns expr's offset in runes into bytes.
func byteOffset(text string, runes int) int {
	// expr counts characters, a slice of text counts bytes
	for i := range text {
		if runes == 0 {
			return i
		}
		runes--
	}
	return len(text)
}

// maxText bounds a formula, and so how deep its parentheses go; the longest formula of a real book has some hundred
// bytes.
const maxText = 10_000

// unlisted finds what the parser would turn into a form of the language without a trace in the tree: pipes, short
// conditionals, the mark of a built-in function, a semicolon. What cannot be split into tokens is left to the parser.
func unlisted(text string) *Error {
	if len(text) > maxText {
		return &Error{maxText, fmt.Sprintf("the formula has %d bytes; at most %d", len(text), maxText),
			"write parts of it as figures of their own"}
	}
	// an error of the lexer comes again from the parser, which says more
	tokens, _ := lexer.Lex(file.NewSource(text))
	for i, t := range tokens {
		short := t.Is(lexer.Operator, ":") && i > 0 && tokens[i-1].Is(lexer.Operator, "?")
		if short || t.Is(lexer.Operator, "|", "::", ";") {
			return &Error{byteOffset(text, t.From),
				fmt.Sprintf("the operator %q is not in the language of formulas", t.Value), languageAdvice}
		}
	}
	return nil
}

// lowering walks the tree once, appending steps; the first error stops it.
type lowering struct {
	text  string
	scope *Scope
	steps []formula.Step
	err   *Error
}

// fail notes the first error, where the node begins. It gives a kind, so that callers can go on; what follows from a
// first error would only hide it.
func (l *lowering) fail(n ast.Node, message, advice string) formula.Kind {
	if c, ok := n.(*ast.ConditionalNode); ok { // whose own location is its end, or none
		return l.fail(c.Cond, message, advice)
	}
	if l.err == nil {
		l.err = &Error{byteOffset(l.text, n.Location().From), message, advice}
	}
	return formula.Number
}

// emit appends an operation on something that the pack names.
func (l *lowering) emit(op formula.Op, index int) { l.step(formula.Step{Op: op, Index: index}) }

// number appends a constant.
func (l *lowering) number(v float64) formula.Kind {
	l.step(formula.Step{Op: formula.Const, Value: v})
	return formula.Number
}

// step appends one operation. A chain a < b < c lowers b twice, and a chain in a chain four times: without an end
// a short text could fill the memory.
func (l *lowering) step(s formula.Step) {
	if l.err == nil && len(l.steps) == formula.MaxSteps {
		l.err = &Error{0, fmt.Sprintf("the formula has more than %d steps", formula.MaxSteps),
			"write parts of it as figures of their own"}
	}
	if l.err == nil {
		l.steps = append(l.steps, s)
	}
}

// node lowers one form and gives its kind. Forms that are not named here are none of the language, also such as a later
// version of expr brings.
func (l *lowering) node(n ast.Node) formula.Kind {
	if l.err != nil {
		return formula.Number
	}
	switch n := n.(type) {
	case *ast.IntegerNode:
		return l.number(float64(n.Value))
	case *ast.FloatNode:
		if !formula.Finite(n.Value) {
			return l.fail(n, "this number is too large", "write a smaller one")
		}
		return l.number(n.Value)
	// true and false stand in when: and need: while an owner tries something out
	case *ast.BoolNode:
		if n.Value {
			l.emit(formula.True, 0)
		} else {
			l.emit(formula.False, 0)
		}
		return formula.Truth
	case *ast.UnaryNode:
		return l.unary(n)
	case *ast.BinaryNode:
		return l.binary(n)
	case *ast.ConditionalNode:
		return l.conditional(n)
	case *ast.CallNode:
		return l.call(n)
	case *ast.BuiltinNode:
		return l.builtin(n)
	case *ast.MemberNode:
		return l.member(n)
	case *ast.StringNode:
		return l.fail(n, "a text stands where a number or a condition is wanted",
			"texts stand in has, count, chosen and beside ==, != and in")
	case *ast.IdentifierNode:
		if _, ok := names[n.Value]; ok {
			return l.fail(n, fmt.Sprintf("%q stands alone", n.Value),
				`write has("option"), count("option"), chosen("slot"), hull.length_m, use.persons or figures.mass_kg`)
		}
		return l.fail(n, fmt.Sprintf("unknown name %q", n.Value),
			suggest.Nearest(n.Value, []string{"has", "count", "chosen", "hull", "use", "figures"}, languageAdvice))
	}
	return l.fail(n, "this form is not in the language of formulas", languageAdvice)
}

// operand lowers n, which must be of the given kind.
func (l *lowering) operand(n ast.Node, want formula.Kind, of string) {
	if got := l.node(n); l.err == nil && got != want {
		l.fail(n, fmt.Sprintf("%s wants a %s, this is a %s", of, want, got),
			"numbers and truth values never mix; write (condition ? 1 : 0) or compare the number")
	}
}

// unary lowers an operator before one operand; a plus is read and means nothing.
func (l *lowering) unary(n *ast.UnaryNode) formula.Kind {
	switch n.Operator {
	case "not", "!":
		l.operand(n.Node, formula.Truth, "not")
		l.emit(formula.Not, 0)
		return formula.Truth
	case "-":
		l.operand(n.Node, formula.Number, "-")
		l.emit(formula.Neg, 0)
		return formula.Number
	// nothing is emitted: the number stands as it is
	case "+":
		l.operand(n.Node, formula.Number, "+")
		return formula.Number
	}
	return l.fail(n, fmt.Sprintf("the operator %q is not in the language of formulas", n.Operator), languageAdvice)
}

// binaries are the operators on two numbers or two truth values. swap exchanges the operands, negate the result.
var binaries = map[string]struct {
	op           formula.Op
	takes, gives formula.Kind
	swap, negate bool
}{
	"+":   {op: formula.Add, takes: formula.Number, gives: formula.Number},
	"-":   {op: formula.Sub, takes: formula.Number, gives: formula.Number},
	"*":   {op: formula.Mul, takes: formula.Number, gives: formula.Number},
	"/":   {op: formula.Div, takes: formula.Number, gives: formula.Number},
	"<":   {op: formula.Less, takes: formula.Number, gives: formula.Truth},
	"<=":  {op: formula.AtMost, takes: formula.Number, gives: formula.Truth},
	">":   {op: formula.Less, takes: formula.Number, gives: formula.Truth, swap: true},
	">=":  {op: formula.AtMost, takes: formula.Number, gives: formula.Truth, swap: true},
	"==":  {op: formula.Equal, takes: formula.Number, gives: formula.Truth},
	"!=":  {op: formula.Equal, takes: formula.Number, gives: formula.Truth, negate: true},
	"and": {op: formula.And, takes: formula.Truth, gives: formula.Truth},
	"&&":  {op: formula.And, takes: formula.Truth, gives: formula.Truth},
	"or":  {op: formula.Or, takes: formula.Truth, gives: formula.Truth},
	"||":  {op: formula.Or, takes: formula.Truth, gives: formula.Truth},
}

// A pack has no greater-than and no not-equal: fewer operations are fewer to prove bounds of.
func (l *lowering) binary(n *ast.BinaryNode) formula.Kind {
	// beside chosen, hull.id or a choice stand texts, which are identifiers; among numbers == is what it is everywhere
	if n.Operator == "in" || n.Operator == "==" || n.Operator == "!=" {
		if domain, ok := l.domain(n.Left); ok || n.Operator == "in" {
			return l.membership(n, domain, n.Right)
		}
		if domain, ok := l.domain(n.Right); ok {
			return l.membership(n, domain, n.Left)
		}
	}
	// % and ** and .. are expr's, and none of the language
	b, ok := binaries[n.Operator]
	if !ok {
		return l.fail(n, fmt.Sprintf("the operator %q is not in the language of formulas", n.Operator), languageAdvice)
	}
	left, right := n.Left, n.Right
	// a > b is b < a; neither side has an effect, so that the order in which they run does not matter
	if b.swap {
		left, right = right, left
	}
	l.operand(left, b.takes, n.Operator)
	l.operand(right, b.takes, n.Operator)
	l.emit(b.op, 0)
	if b.negate {
		l.emit(formula.Not, 0)
	}
	return b.gives
}

// conditional lowers a choice between two branches of one kind.
func (l *lowering) conditional(n *ast.ConditionalNode) formula.Kind {
	// expr reads both forms into one node
	if !n.Ternary {
		return l.fail(n, "if … else is not in the language of formulas", "write condition ? a : b")
	}
	l.operand(n.Cond, formula.Truth, "?")
	// the first branch settles the kind, since either may stand there
	kind := l.node(n.Exp1)
	l.operand(n.Exp2, kind, "the second branch")
	l.emit(formula.If, 0)
	return kind
}

// builtin lowers a function of numbers; min and max of many are a chain of two.
func (l *lowering) builtin(n *ast.BuiltinNode) formula.Kind {
	ops := map[string]formula.Op{"min": formula.Min, "max": formula.Max, "abs": formula.Abs, "ceil": formula.Ceil,
		"floor": formula.Floor, "round": formula.Round}
	// the reference machine is given the same functions, and no others
	op, ok := ops[n.Name]
	if !ok {
		return l.fail(n, fmt.Sprintf("the function %q is not in the language of formulas", n.Name), languageAdvice)
	}
	// min(a, b, c) is min(min(a, b), c)
	fold := op == formula.Min || op == formula.Max
	if len(n.Arguments) == 0 || !fold && len(n.Arguments) != 1 {
		return l.fail(n, fmt.Sprintf("%s has %d arguments", n.Name, len(n.Arguments)),
			"min and max take one or more, the others one")
	}
	for i, a := range n.Arguments {
		l.operand(a, formula.Number, n.Name)
		if !fold || i > 0 {
			l.emit(op, 0)
		}
	}
	return formula.Number
}

// call lowers has and count; chosen stands only in comparisons.
func (l *lowering) call(n *ast.CallNode) formula.Kind {
	// the functions have plain names; methods and results of functions are not called
	callee, ok := n.Callee.(*ast.IdentifierNode)
	if !ok {
		return l.fail(n, "this form is not in the language of formulas", languageAdvice)
	}
	switch callee.Value {
	case "has", "count":
		id, at, ok := l.textArgument(n, callee.Value, "option")
		if !ok {
			return formula.Number
		}
		// an option that the book does not have would be never aboard, and its rule silently idle
		o, ok := l.scope.Options[id]
		if !ok {
			return l.fail(at, fmt.Sprintf("unknown option %q", id),
				suggest.Nearest(id, keys(l.scope.Options), "no option of the book has this identifier"))
		}
		if callee.Value == "has" {
			l.emit(formula.Has, o.Index)
			return formula.Truth
		}
		l.emit(formula.Count, o.Index)
		return formula.Number
	// by itself it would be a text, which formulas do not have
	case "chosen":
		return l.fail(n, `chosen gives an option, which stands only beside ==, != and in`,
			`write chosen("slot") == "option", or chosen("slot") != "" to ask for any`)
	}
	return l.fail(callee, fmt.Sprintf("unknown function %q", callee.Value),
		suggest.Nearest(callee.Value, append([]string{"has", "count", "chosen"}, builtins...), languageAdvice))
}

// textArgument is the identifier that a function is given. It must stand there as text: what follows from a number
// cannot be checked when the book is.
func (l *lowering) textArgument(n *ast.CallNode, name, what string) (string, ast.Node, bool) {
	if len(n.Arguments) == 1 {
		// the node goes along, so that an unknown name is reported where it stands
		if s, ok := n.Arguments[0].(*ast.StringNode); ok {
			return s.Value, s, true
		}
	}
	l.fail(n, fmt.Sprintf("%s takes the identifier of one %s in quotes", name, what),
		fmt.Sprintf(`write %s("the-%s")`, name, what))
	return "", nil, false
}

// member lowers hull.ID, use.ID and figures.ID.
func (l *lowering) member(n *ast.MemberNode) formula.Kind {
	root, field, ok := memberNames(n)
	if !ok {
		return l.fail(n, "this form is not in the language of formulas",
			"fields are written hull.length_m, use.persons, figures.mass_kg")
	}
	switch root {
	case "hull":
		if i, ok := l.scope.Hull[field]; ok {
			l.emit(formula.Hull, i)
			return formula.Number
		}
		// the hull's name is no number: formulas compare it
		if field == "id" {
			return l.fail(n, "hull.id names a hull, which stands only beside ==, != and in",
				fmt.Sprintf("write hull.id in [%s]", quoted(keys(l.scope.Hulls))))
		}
		return l.unknownField(n, "hull", field, keys(l.scope.Hull))
	case "use":
		u, ok := l.scope.Use[field]
		if !ok {
			return l.unknownField(n, "use", field, keys(l.scope.Use))
		}
		// its index is no number to reckon with
		if u.Choices != nil {
			return l.fail(n, fmt.Sprintf("use.%s is a choice, which stands only beside ==, != and in", field),
				fmt.Sprintf(`write use.%s == "%s"`, field, keys(u.Choices)[0]))
		}
		l.emit(formula.Use, u.Index)
		return formula.Number
	case "figures":
		if i, ok := l.scope.Figures[field]; ok {
			l.emit(formula.Figure, i)
			return formula.Number
		}
		return l.unknownField(n, "figures", field, keys(l.scope.Figures))
	}
	return l.fail(n, fmt.Sprintf("unknown name %q", root),
		suggest.Nearest(root, []string{"hull", "use", "figures"}, languageAdvice))
}

// unknownField says that there is no such field, and which is nearest.
func (l *lowering) unknownField(n ast.Node, root, field string, known []string) formula.Kind {
	return l.fail(n, fmt.Sprintf("unknown field %s.%s", root, field),
		suggest.Nearest(field, known, "the fields are listed in the book under hull_fields, use and figures"))
}

// memberNames are the two words of a plain member; hull["length_m"] and hull?.length_m are none.
func memberNames(n *ast.MemberNode) (root, field string, ok bool) {
	id, isName := n.Node.(*ast.IdentifierNode)
	prop, isField := n.Property.(*ast.StringNode)
	if !isName || !isField || n.Optional || n.Method {
		return "", "", false
	}
	return id.Value, prop.Value, true
}

func keys[V any](m map[string]V) []string {
	list := make([]string, 0, len(m))
	for k := range m {
		list = append(list, k)
	}
	slices.Sort(list)
	return list
}

func quoted(list []string) string { return `"` + strings.Join(list, `", "`) + `"` }
