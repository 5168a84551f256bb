package engine

import (
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/msg"
)

// Decision is the number by which a boat breaks a rule: what it comes to, and what it must not pass. A rule over
// options alone has none, and neither has one whose numbers the book has no words for.
type Decision struct {
	what, limit amount
	bound       bound
}

// bound says on which side of its limit a number has to lie.
type bound string

const (
	most  bound = "most"
	least bound = "least"
	below bound = "below"
	above bound = "above"
	same  bound = "same"
)

// amount is one side of a comparison: a figure, a field of the use or of the hull, or a number of the book, which has
// no title.
type amount struct {
	title  string
	value  float64
	unit   string
	digits int
	rank   int // what a sentence is best about comes first
}

// The ranks of what a comparison has on its sides: a sentence is about the boat, and then about its use.
const (
	byFigure  = iota
	byFormula // of figures
	byUse
	byHull
	byNumber
)

// Message is the decision in words, in the units of a system: "Height above the water: 1.77 m; at most 1.60 m (Lowest
// bridge).". Both numbers have as many decimals as it takes to tell them apart, two more than the figure has at most.
func (d *Decision) Message(system measure.System) msg.Message {
	in := func(a amount, digits int) Value { return In(system, a.value, d.what.unit, digits) }
	digits := max(d.what.digits, decimalsOf(d.limit))
	// Two that differ must not read as the same number: "1.6 m; at most 1.6 m" explains nothing.
	for range 2 {
		a, b := in(d.what, digits), in(d.limit, digits)
		if a.Number == nil || b.Number == nil || *a.Number != *b.Number {
			break
		}
		digits++
	}
	args := []msg.Arg{msg.Text("what", d.what.title), msg.Words("value", in(d.what, digits).Message()),
		msg.Choice("bound", string(d.bound)), msg.Words("limit", in(d.limit, digits).Message())}
	if d.limit.title == "" {
		return msg.New("engine.decides", args...)
	}
	return msg.New("engine.decides-by", append(args, msg.Text("by", d.limit.title))...)
}

// decimalsOf are those that a limit is stated with: of what the book writes, its own.
func decimalsOf(a amount) int {
	if a.rank == byNumber || a.rank == byHull {
		return min(decimals(a.value), 2)
	}
	return a.digits
}

// Decides is the number by which a boat breaks the rule of a clash; nil where there is none.
func (e *Engine) Decides(st *formula.State, c *fit.Clash) *Decision {
	if c == nil || c.Kind != fit.Broken {
		return nil
	}
	return e.decides(e.Pack.Rules[c.Index].Need, st, true)
}

// Decides is that of a blocked alternative, on the boat that was found with it.
func (x *Alternatives) Decides(v *fit.Verdict) *Decision {
	if v.Why == nil || v.Build == nil {
		return nil
	}
	// The comparison is lent the figures of that boat, and is given back empty.
	x.comparison.hold(v.Build.Held, v.Build.Figures, v.Build.Faults)
	defer x.comparison.hold(nil, nil, nil)
	return x.comparison.engine.Decides(x.comparison.then, v.Why)
}

// decides looks for the comparison by which a condition is not what it should be.
func (e *Engine) decides(p formula.Program, st *formula.State, want bool) *Decision {
	root, in := p.Split()
	switch root.Op {
	case formula.Not:
		return e.decides(in[0], st, !want)
	case formula.If:
		if in[0].Truth()(st) {
			return e.decides(in[1], st, want)
		}
		return e.decides(in[2], st, want)
	case formula.And, formula.Or:
		// one part that is wrong is enough where all are needed; where one of several would do, the first says it
		for _, part := range in {
			if part.Truth()(st) != want {
				if d := e.decides(part, st, want); d != nil {
					return d
				}
			}
		}
	case formula.Less, formula.AtMost, formula.Equal:
		return e.compared(root.Op, e.amount(in[0], st), e.amount(in[1], st), want)
	}
	return nil
}

// compared is a comparison, told of the side that is more the boat's.
func (e *Engine) compared(op formula.Op, a, b amount, want bool) *Decision {
	// by whether the first has to be the less, and whether it may be as much
	bounds := map[[2]bool]bound{{true, true}: most, {true, false}: below, {false, true}: least, {false, false}: above}
	less, equal := want, (op == formula.AtMost) == want
	d := &Decision{what: a, limit: b}
	if b.rank < a.rank {
		d, less = &Decision{what: b, limit: a}, !less
	}
	d.bound = bounds[[2]bool{less, equal}]
	if op == formula.Equal {
		// That something must be anything but one number says nothing of which way to go.
		if !want {
			return nil
		}
		d.bound = same
	}
	// A dimension of the hull decides, but cannot be changed, and the clash says that already.
	if d.what.title == "" || d.what.rank == byHull {
		return nil
	}
	return d
}

// amount is what one side of a comparison comes to, and what of the book it is. Of a formula it is the figure, the use
// or the dimension that it reads and comes to.
func (e *Engine) amount(p formula.Program, st *formula.State) amount {
	v := p.Number()(st)
	r := p.Reads()
	alone := len(p.Steps()) == 1
	// By its value too: a formula that scales a figure is not the figure, and must not carry its title.
	for _, i := range r.Figures {
		if f := &e.Pack.Figures[i]; st.Figures[i] == v {
			rank := byFormula
			if alone {
				rank = byFigure
			}
			return amount{f.Title, v, f.Unit, f.Digits, rank}
		}
	}
	for _, i := range r.Use {
		if u := &e.Pack.Use[i]; st.Use[i] == v && len(u.Choices) == 0 {
			return amount{u.Title, v, u.Unit, decimals(u.Step), byUse}
		}
	}
	for _, i := range r.Hull {
		if f := &e.Pack.HullFields[i]; st.Hull[i] == v {
			return amount{f.Title, v, f.Unit, 2, byHull}
		}
	}
	return amount{value: v, rank: byNumber, digits: decimals(measure.Round(v, 2))}
}
