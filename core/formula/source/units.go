package source

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/parser"

	"ribband/core/measure"
)

// Units are the units of what formulas read, by name: identifiers of package measure. What is not among them may have
// any unit.
type Units struct {
	Hull, Use, Figures map[string]string
	// Units of the book, by identifier.
	Own map[string]Own
}

// Own is a unit of the book: so many of a unit of package measure, or a count where it is of none.
type Own struct {
	Of     string
	Factor float64
}

// Check finds where a formula adds, subtracts or compares what has different units, and whether it gives what is
// wanted: a unit of package measure, one over another as in m2/l, or "" for any. It is nil for a formula that [Lower]
// refuses, which says more. What gives another dimension than is wanted is doubtful alone: hours that are square metres
// may be meant as one hour for each.
//
// Multiplication and division combine units. What has no unit goes with every unit: a count, a share, a metre over a
// metre. A number in the text has whatever unit makes the formula right, and so has what it multiplies or divides: 8.5
// may be kg for a m², and 1000 may make W of kW. So the check finds no unit that must be wrong by itself, but two that
// cannot both be right.
//
// Source: A. Kennedy, Types for Units-of-Measure (2009): units form an Abelian group, and each number of the text is of
// a unit of its own.
func (u *Units) Check(text, wanted string) (err *Error, doubtful bool) {
	// lowering reports it, with a better message
	if unlisted(text) != nil {
		return nil, false
	}
	tree, bad := parser.ParseWithConfig(text, config(names))
	if bad != nil {
		return nil, false
	}
	c := checking{text: text, units: u}
	got, want := c.node(tree.Node), u.parsed(wanted)
	if c.err == nil && !got.goesWith(want) {
		c.fail(tree.Node, fmt.Sprintf("this gives %s, but %s is wanted here", got, wanted), got, want)
		doubtful = got.powers != want.powers
	}
	return c.err, doubtful
}

// The base units, in which all others are powers and a factor. Watt is one of them: no formula of a boat makes watts of
// kilograms and metres.
var bases = []string{"kg", "m", "h", "W", "A", "deg"}

// unit is what a number of a formula is in.
// Two units are the same where their powers and their factors are: m3 and l differ by the factor, kWh and W times h not
// at all but for it.
type unit struct {
	name   string  // of a unit of the book, as long as it is that and nothing else
	free   bool    // any
	factor float64 // of the base units
	powers [6]int  // of the base units
}

var (
	free = unit{free: true}
	pure = unit{factor: 1}
)

// base is so many of a product of powers of the base units, in the order of bases; those left out are 0.
func base(factor float64, powers ...int) (u unit) {
	u.factor = factor
	copy(u.powers[:], powers)
	return u
}

// known are the units of package measure. Source: their definitions; NIST Special Publication 811, appendix B.
var known = map[string]unit{
	"each": pure, "set": pure, "pair": pure,
	"kg": base(1, 1), "kgm": base(1, 1, 1),
	"m": base(1, 0, 1), "mm": base(1e-3, 0, 1), "km": base(1e3, 0, 1), "nm": base(1852, 0, 1),
	"m2": base(1, 0, 2), "mm2": base(1e-6, 0, 2), "m3": base(1, 0, 3), "l": base(1e-3, 0, 3),
	"h": base(1, 0, 0, 1), "kn": base(1852, 0, 1, -1),
	"W": base(1, 0, 0, 0, 1), "kW": base(1e3, 0, 0, 0, 1), "kWh": base(1e3, 0, 0, 1, 1),
	"A": base(1, 0, 0, 0, 0, 1), "Ah": base(1, 0, 0, 1, 0, 1), "V": base(1, 0, 0, 0, 1, -1),
	"deg": base(1, 0, 0, 0, 0, 0, 1),
}

// parsed reads a unit, or one over another; free for none that is known.
func (u *Units) parsed(id string) unit {
	over, under, both := strings.Cut(id, "/")
	read, ok := known[over]
	if own, defined := u.Own[over]; defined {
		if read, ok = known[own.Of], true; own.Of == "" {
			read = pure
		} else if read.factor *= own.Factor; read.factor > 0 {
			read.name = over
		} else { // an unknown unit, or a factor that the check of the book refuses
			ok = false
		}
	}
	if !ok {
		return free
	}
	if both {
		return read.times(u.parsed(under), -1)
	}
	return read
}

// times is the unit of a product (sign 1) or a quotient (-1).
func (u unit) times(v unit, sign int) unit {
	// a number of the text may turn any unit into any other
	if u.free || v.free {
		return free
	}
	u.name = ""
	u.factor *= math.Pow(v.factor, float64(sign))
	if u.factor == 0 || math.IsInf(u.factor, 0) { // of a product of some hundred numbers
		return free
	}
	for i := range u.powers {
		u.powers[i] += sign * v.powers[i]
	}
	return u
}

// near says that two factors are the same but for rounding.
func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Abs(a) }

// pure says that a number has no unit, or may have none. A millimetre over a metre has one: it is a thousandth.
func (u unit) pure() bool { return u.free || u.powers == pure.powers && near(u.factor, 1) }

// goesWith says whether numbers of two units may be added or compared.
func (u unit) goesWith(v unit) bool {
	return u.pure() || v.pure() || u.powers == v.powers && near(u.factor, v.factor)
}

// String is the unit as the book writes it, or what it is made of.
func (u unit) String() string {
	if u.free {
		return "a number of any unit"
	}
	if u.name != "" {
		return u.name
	}
	for _, m := range measure.Units {
		if k, ok := known[m.ID]; ok && k.powers == u.powers && near(k.factor, u.factor) {
			return m.ID
		}
	}
	var over, under []string
	if !near(u.factor, 1) {
		over = append(over, strconv.FormatFloat(u.factor, 'g', 6, 64))
	}
	for i, n := range u.powers {
		text := bases[i]
		if m := max(n, -n); m > 1 {
			text += strconv.Itoa(m)
		}
		switch {
		case n > 0:
			over = append(over, text)
		case n < 0:
			under = append(under, text)
		}
	}
	if len(over) == 0 {
		over = []string{"1"}
	}
	return strings.Join(append([]string{strings.Join(over, "·")}, under...), "/")
}

// checking walks the tree once; the first error stops it.
type checking struct {
	text  string
	units *Units
	err   *Error
}

// fail keeps the first fault: what follows from it would only repeat it. Its remedy is a factor that can be named where
// both have one dimension, and else a coefficient, whose unit the owner alone knows.
func (c *checking) fail(n ast.Node, message string, a, b unit) {
	if c.err != nil {
		return
	}
	if x, ok := n.(*ast.ConditionalNode); ok { // whose own location is its end, or none
		n = x.Cond
	}
	advice := "mend the formula, or give one of them a factor that has a unit: 8.5 * hull.sole_m2 is kg where 8.5 is " +
		"kg/m2"
	// the same quantity in two units: what is missing is a conversion
	if a.powers == b.powers {
		sign, times := "*", a.factor/b.factor
		// 1000 is easier to read, and to type, than 0.001
		if times < 1 {
			sign, times = "/", 1/times
		}
		advice = fmt.Sprintf("convert: %s %s %s is %s", a, sign, strconv.FormatFloat(times, 'g', 9, 64), b)
	}
	c.err = &Error{byteOffset(c.text, n.Location().From), message, advice}
}

// join is the unit of a sum or a comparison, of which how says what it does with the two.
func (c *checking) join(n ast.Node, how string, a, b unit) unit {
	if !a.goesWith(b) {
		c.fail(n, fmt.Sprintf(how, a, b), a, b)
	}
	// the unit of a sum is that of the part that has one
	if a.free || a.pure() && !b.free {
		return b
	}
	return a
}

// joins are the operators of which both sides have one unit.
var joins = map[string]string{"+": "+ adds %[2]s to %[1]s", "-": "- takes %[2]s from %[1]s",
	"<": "< compares %s with %s", "<=": "<= compares %s with %s", ">": "> compares %s with %s",
	">=": ">= compares %s with %s", "==": "== compares %s with %s", "!=": "!= compares %s with %s"}

// node is the unit of a number; of anything else it is free.
func (c *checking) node(n ast.Node) unit {
	switch n := n.(type) {
	case *ast.UnaryNode:
		return c.node(n.Node)
	case *ast.BinaryNode:
		return c.binary(n)
	case *ast.ConditionalNode:
		c.node(n.Cond)
		return c.join(n, "one branch gives %s, the other %s", c.node(n.Exp1), c.node(n.Exp2))
	case *ast.BuiltinNode:
		u := free
		for _, a := range n.Arguments {
			u = c.join(a, n.Name+" compares %s with %s", u, c.node(a))
		}
		return u
	case *ast.CallNode:
		if callee, ok := n.Callee.(*ast.IdentifierNode); ok && callee.Value == "count" {
			return pure
		}
	case *ast.MemberNode:
		if root, field, ok := memberNames(n); ok {
			of := map[string]map[string]string{"hull": c.units.Hull, "use": c.units.Use, "figures": c.units.Figures}
			return c.units.parsed(of[root][field])
		}
	}
	return free
}

// binary is the unit of an operation on two; a comparison gives a truth value, which has none.
func (c *checking) binary(n *ast.BinaryNode) unit {
	a, b := c.node(n.Left), c.node(n.Right)
	switch n.Operator {
	case "*":
		return a.times(b, 1)
	case "/":
		return a.times(b, -1)
	}
	how, ok := joins[n.Operator]
	if !ok {
		return free
	}
	u := c.join(n, how, a, b)
	if !slices.Contains([]string{"+", "-"}, n.Operator) {
		return free // a truth value
	}
	return u
}
