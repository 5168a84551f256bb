package formula

import (
	"math"
	"slices"
)

// Interval is the least and the greatest value that a number may have.
type Interval struct{ Lo, Hi float64 }

// Exactly is a number that is known.
func Exactly(v float64) Interval { return Interval{v, v} }

// Anything is a number of which nothing is known.
var Anything = Interval{math.Inf(-1), math.Inf(1)}

// Known says whether only one value is possible.
func (b Interval) Known() bool { return b.Lo == b.Hi }

// finite says that both ends are numbers: nothing overflowed on the way.
func (b Interval) finite() bool { return Finite(b.Lo) && Finite(b.Hi) }

// Join is what either of two may be.
func (b Interval) Join(c Interval) Interval { return Interval{min(b.Lo, c.Lo), max(b.Hi, c.Hi)} }

// Box is many boats at once: between which bounds what formulas read may lie. Each number is taken to vary by itself,
// so that a box has boats that nobody can build: what holds of all of them holds of those that can be built, and not
// the other way round.
type Box struct {
	Counts  []Interval // of each option
	Slots   []Interval // sums of the counts
	HullID  int
	Hull    []float64
	Use     []Interval
	Figures []Interval
}

// Verdict is what a truth formula may give on the boats of a box.
type Verdict struct{ MayHold, MayFail bool }

// span is one value on the way.
type span struct {
	number  Interval
	truth   Verdict
	unsound bool // a division by zero or an overflow may happen on the way to it
}

// Bounds are limits that the number keeps on every boat of the box; sound says that no division by zero and no overflow
// can happen on any of them.
//
// Interval arithmetic: the limits hold, but need not be reached, since each operand is taken to vary by itself. They
// hold for the rounded numbers too, since rounding is monotone and the operations are the same. Source: Moore, Interval
// Analysis (1966); a textbook method.
func (p Program) Bounds(b *Box) (limits Interval, sound bool) {
	if p.Empty() {
		return Interval{}, true
	}
	s := p.span(b)
	return s.number, !s.unsound
}

// Judge is what the truth value may be on the boats of the box.
func (p Program) Judge(b *Box) (v Verdict, sound bool) {
	if p.Empty() {
		return Verdict{MayHold: true}, true
	}
	s := p.span(b)
	return s.truth, !s.unsound
}

// The program runs as on one boat, with a span for each value; sixteen places keep nearly every formula off the heap.
func (p Program) span(b *Box) span {
	var room [16]span
	stack := room[:0]
	for _, s := range p.steps {
		base := len(stack) - len(signatures[s.Op].takes)
		in := stack[base:]
		out := s.span(in, b)
		out.unsound = s.unsound(in, out.number)
		stack = append(stack[:base], out)
	}
	return stack[0]
}

// unsound says whether a division by zero or an overflow may happen in an operation or in what is evaluated for it: a
// branch that is never taken does not count, nor the second of two conditions where the first decides.
func (s Step) unsound(in []span, out Interval) bool {
	switch {
	// the other branch is not taken on any boat of the box, so what may happen in it does not matter
	case s.Op == If && !in[0].truth.MayFail:
		return in[0].unsound || in[1].unsound
	case s.Op == If && !in[0].truth.MayHold:
		return in[0].unsound || in[2].unsound
	case s.Op == And && !in[0].truth.MayHold, s.Op == Or && !in[0].truth.MayFail:
		return in[0].unsound
	case s.Op == Div && in[1].number.Lo <= 0 && in[1].number.Hi >= 0:
		return true
	}
	// an infinity that came from outside is no overflow of this operation
	finite := !slices.ContainsFunc(in, func(x span) bool { return !x.number.finite() })
	// finite operands overflow
	return finite && len(in) > 0 && !out.finite() || slices.ContainsFunc(in, func(x span) bool { return x.unsound })
}

// span is what an operation gives for operands within spans.
func (s Step) span(in []span, b *Box) span {
	switch len(in) {
	case 0:
		return s.leafSpan(b)
	case 1:
		if s.Op == Not {
			return span{truth: Verdict{in[0].truth.MayFail, in[0].truth.MayHold}}
		}
		return span{number: s.unaryInterval(in[0].number)}
	case 2:
		x, y := in[0].truth, in[1].truth
		switch s.Op {
		// both must hold, and one that fails is enough: as if the two varied by themselves
		case And:
			return span{truth: Verdict{x.MayHold && y.MayHold, x.MayFail || y.MayFail}}
		case Or:
			return span{truth: Verdict{x.MayHold || y.MayHold, x.MayFail && y.MayFail}}
		case Less, AtMost, Equal:
			return span{truth: s.compare(in[0].number, in[1].number)}
		}
		return span{number: s.binaryInterval(in[0].number, in[1].number)}
	}
	switch cond := in[0].truth; {
	case !cond.MayFail:
		return in[1]
	case !cond.MayHold:
		return in[2]
	}
	// either branch may be taken
	yes, no := in[1], in[2]
	return span{number: yes.number.Join(no.number),
		truth: Verdict{yes.truth.MayHold || no.truth.MayHold, yes.truth.MayFail || no.truth.MayFail}}
}

// leafSpan is what an operation reads of the box.
func (s Step) leafSpan(b *Box) span {
	truth := func(n Interval) span { return span{truth: Verdict{n.Hi > 0, n.Lo <= 0}} }
	switch s.Op {
	case Hull:
		return span{number: Exactly(b.Hull[s.Index])}
	case HullID:
		return span{number: Exactly(float64(b.HullID))}
	case Use:
		return span{number: b.Use[s.Index]}
	case Figure:
		return span{number: b.Figures[s.Index]}
	case Count:
		return span{number: b.Counts[s.Index]}
	case Has:
		return truth(b.Counts[s.Index])
	case Filled:
		return truth(b.Slots[s.Index])
	case True:
		return span{truth: Verdict{MayHold: true}}
	case False:
		return span{truth: Verdict{MayFail: true}}
	}
	return span{number: Exactly(s.Value)}
}

// unaryInterval are those of an operation on one number: rounding is monotone, so its ends are those of the operand.
func (s Step) unaryInterval(a Interval) Interval {
	switch s.Op {
	case Neg:
		return Interval{-a.Hi, -a.Lo}
	case Abs:
		switch {
		case a.Lo >= 0:
			return a
		case a.Hi <= 0:
			return Interval{-a.Hi, -a.Lo}
		}
		// zero lies between the ends, and is the nearest to itself
		return Interval{0, max(-a.Lo, a.Hi)}
	case Ceil:
		return Interval{math.Ceil(a.Lo), math.Ceil(a.Hi)}
	case Floor:
		return Interval{math.Floor(a.Lo), math.Floor(a.Hi)}
	}
	return Interval{math.Round(a.Lo), math.Round(a.Hi)}
}

// binaryInterval are those of an operation on two numbers.
func (s Step) binaryInterval(a, b Interval) Interval {
	switch s.Op {
	case Add:
		return tidy(Interval{a.Lo + b.Lo, a.Hi + b.Hi})
	case Sub:
		return tidy(Interval{a.Lo - b.Hi, a.Hi - b.Lo})
	case Mul:
		return corners(a, b, func(x, y float64) float64 {
			if x == 0 || y == 0 { // nothing of what is unbounded is nothing
				return 0
			}
			return x * y
		})
	case Div:
		// near zero the quotient is without bound on either side
		if b.Lo <= 0 && b.Hi >= 0 {
			return Anything
		}
		return corners(a, b, func(x, y float64) float64 { return x / y })
	case Min:
		return Interval{min(a.Lo, b.Lo), min(a.Hi, b.Hi)}
	}
	return Interval{max(a.Lo, b.Lo), max(a.Hi, b.Hi)}
}

// corners are the bounds of an operation that is monotone in both operands. corners are the bounds of an operation that
// is monotone in each operand: they lie at corners of the two intervals.
func corners(a, b Interval, op func(x, y float64) float64) Interval {
	out := Exactly(op(a.Lo, b.Lo))
	for _, v := range []float64{op(a.Lo, b.Hi), op(a.Hi, b.Lo), op(a.Hi, b.Hi)} {
		out = out.Join(Exactly(v))
	}
	return tidy(out)
}

// tidy takes what is not a number for anything.
func tidy(b Interval) Interval {
	if math.IsNaN(b.Lo) || math.IsNaN(b.Hi) {
		return Anything
	}
	return b
}

// compare says what a comparison may give: it holds on some boat where the ends that favour it do, and fails on some
// where the other two do.
func (s Step) compare(a, b Interval) Verdict {
	switch s.Op {
	case Less:
		return Verdict{a.Lo < b.Hi, a.Hi >= b.Lo}
	case AtMost:
		return Verdict{a.Lo <= b.Hi, a.Hi > b.Lo}
	}
	return Verdict{a.Lo <= b.Hi && b.Lo <= a.Hi, !(a.Known() && b.Known() && a.Lo == b.Lo)}
}
