package formula

import (
	"strconv"
	"strings"
)

// Words name the things that a program reads, for writing it out.
type Words struct {
	Options, Slots, Hull, Use, Figures func(i int) string
}

// piece is a part of the text with how tightly it binds.
type piece struct {
	text string
	tie  int
}

// ties are how tightly operators bind, as in the language of formulas; a value binds tightest.
var ties = map[Op]int{If: 1, Or: 2, And: 3, Less: 5, AtMost: 5, Equal: 5, Add: 6, Sub: 6, Mul: 7, Div: 7, Neg: 8,
	Not: 8}

const value = 9

var infixes = map[Op]string{Or: " or ", And: " and ", Less: " < ", AtMost: " <= ", Equal: " == ", Add: " + ",
	Sub: " - ", Mul: " * ", Div: " / "}

var functions = map[Op]string{Min: "min", Max: "max", Abs: "abs", Ceil: "ceil", Floor: "floor", Round: "round"}

// Infix writes a program as a formula that a person can read: it means the same, but need not be the text that it was
// lowered from.
func (p Program) Infix(w Words) string {
	var stack []piece
	for _, s := range p.steps {
		base := len(stack) - len(signatures[s.Op].takes)
		stack = append(stack[:base], s.infix(stack[base:], w))
	}
	if len(stack) == 0 {
		return ""
	}
	return stack[0].text
}

// infix writes an operation with its operands, in parentheses only where they would be read otherwise.
func (s Step) infix(in []piece, w Words) piece {
	if name, ok := functions[s.Op]; ok {
		texts := make([]string, len(in))
		for i, p := range in {
			texts[i] = p.text
		}
		return piece{name + "(" + strings.Join(texts, ", ") + ")", value}
	}
	tie := ties[s.Op]
	switch {
	case len(in) == 0:
		if s.Op == Filled { // it is a comparison in the language
			return piece{s.word(w), ties[Equal]}
		}
		return piece{s.word(w), value}
	case s.Op == If:
		// conditionals are read from the right, so that one in the last place needs no parentheses
		return piece{in[0].within(tie+1) + " ? " + in[1].within(tie+1) + " : " + in[2].within(tie), tie}
	case s.Op == Not:
		return piece{"not " + in[0].within(tie), tie}
	case s.Op == Neg:
		return piece{"-" + in[0].within(tie), tie}
	}
	// from the left: a - (b - c) keeps its parentheses, (a - b) - c loses them
	return piece{in[0].within(tie) + infixes[s.Op] + in[1].within(tie+1), tie}
}

// within puts parentheses around a piece that binds less than its place asks.
func (p piece) within(tie int) string {
	if p.tie < tie {
		return "(" + p.text + ")"
	}
	return p.text
}

// word is what an operation reads, as the language of formulas writes it.
func (s Step) word(w Words) string {
	switch s.Op {
	case Const:
		return strconv.FormatFloat(s.Value, 'g', -1, 64)
	case True:
		return "true"
	case False:
		return "false"
	case HullID:
		return "hull.id"
	case Hull:
		return "hull." + w.Hull(s.Index)
	case Use:
		return "use." + w.Use(s.Index)
	case Figure:
		return "figures." + w.Figures(s.Index)
	case Count:
		return `count("` + w.Options(s.Index) + `")`
	case Has:
		return `has("` + w.Options(s.Index) + `")`
	}
	return `chosen("` + w.Slots(s.Index) + `") != ""`
}
