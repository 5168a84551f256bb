// Package formula is the lowered form of the book's formulas: what travels in a pack and runs on every desk.
//
// A Program is a checked formula in postfix order, written as text of space-separated tokens, so that a pack stays
// readable and small. It reads one State: how many of each option the boat has, and vectors of numbers. It cannot loop,
// allocate or fail: every program ends after at most as many steps as it has tokens, and a division by zero gives an
// infinity or NaN that the caller reports with the name of what it computed ([Finite]).
//
// The text of a formula is expr-lang; package formula/source checks and lowers it natively, and its virtual machine is
// the reference that what is compiled here is held to. This package does not know expr.
package formula

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"ribband/core/msg"
)

// Kind is what a formula gives.
type Kind byte

const (
	// Number is of IEEE 754 double precision, as on every desk.
	Number Kind = 'n'
	// Truth is never a number: neither of the two stands for the other.
	Truth Kind = 't'
)

func (k Kind) String() string {
	if k == Truth {
		return "truth value"
	}
	return "number"
}

// State is what formulas read. Indices are those of the pack.
type State struct {
	Counts  []int     // of each option, in the boat
	Slots   []int     // sum of the counts in each slot
	HullID  int       // which hull
	Hull    []float64 // fields of the hull
	Use     []float64 // fields of the use; a choice is the index of what is chosen
	Figures []float64 // figures computed so far
	Masses  Masses    // of the boat without persons; package figures keeps it between its modules
	Faults  []Fault   // why figures of this boat could not be computed; those are zero
}

// Masses are the sums of a boat's mass table, without persons and growth.
type Masses struct {
	Kg      float64
	X, Y, Z float64 // of its centre: from the aft end, to starboard and above the base line, m

	MachineryKg float64
	RestKg      float64 // hull, deck and gear: all that is no machinery
	SubmergedKg float64 // what the rest weighs under water
}

// Fault says why figures of a boat could not be computed, for whoever puts it into words. The zero Fault is none.
type Fault struct {
	Code  FaultCode
	Cause msg.Message // what the computation said, where the code does not say it all
}

// None says that there is no fault.
func (f Fault) None() bool { return f.Code == "" }

// Same says whether two faults are one, to the arguments of their causes.
func (f Fault) Same(g Fault) bool { return f.Code == g.Code && reflect.DeepEqual(f.Cause, g.Cause) }

// FaultCode names a kind of fault; package figures has them.
type FaultCode string

// Op is one operation of a program: the first letter of its token.
type Op byte

// The operations. Those with an argument name an index of the pack; Const carries a number.
const (
	Const  Op = 'n' // n2.5   the number 2.5
	Hull   Op = 'h' // h3     hull field 3
	HullID Op = 'i' // i      index of the hull
	Use    Op = 'u' // u1     use field 1
	Figure Op = 'f' // f7     figure 7
	Count  Op = 'c' // c12    how many of option 12
	Has    Op = 'o' // o12    is there any of option 12
	Filled Op = 's' // s4     is there anything in slot 4
	True   Op = 'T'
	False  Op = 'F'
	Add    Op = '+'
	Sub    Op = '-'
	Mul    Op = '*'
	Div    Op = '/'
	Neg    Op = '~'
	Min    Op = 'm'
	Max    Op = 'M'
	Abs    Op = 'a'
	Ceil   Op = '^'
	Floor  Op = '_'
	Round  Op = 'r' // halves away from zero
	Less   Op = '<'
	AtMost Op = '{' // <=
	Equal  Op = '='
	And    Op = '&'
	Or     Op = '|'
	Not    Op = '!'
	If     Op = '?' // condition, then, else
)

// signature is what an operation takes from the stack and leaves there.
type signature struct {
	// kinds of the operands, a letter each; ? is either kind
	takes string
	gives Kind
	// whether an index or a number stands behind the letter
	arg bool
	// whether there is such an operation at all: most letters name none
	known bool
}

// signatures are those of the operations, by their letter.
var signatures = [256]signature{
	Const: {"", Number, true, true}, Hull: {"", Number, true, true}, HullID: {"", Number, false, true},
	Use:    {"", Number, true, true},
	Figure: {"", Number, true, true}, Count: {"", Number, true, true}, Has: {"", Truth, true, true},
	Filled: {"", Truth, true, true},
	True:   {"", Truth, false, true}, False: {"", Truth, false, true},
	Add: {"nn", Number, false, true}, Sub: {"nn", Number, false, true}, Mul: {"nn", Number, false, true},
	Div: {"nn", Number, false, true},
	Neg: {"n", Number, false, true}, Min: {"nn", Number, false, true}, Max: {"nn", Number, false, true},
	Abs:  {"n", Number, false, true},
	Ceil: {"n", Number, false, true}, Floor: {"n", Number, false, true}, Round: {"n", Number, false, true},
	Less: {"nn", Truth, false, true}, AtMost: {"nn", Truth, false, true}, Equal: {"nn", Truth, false, true},
	And: {"tt", Truth, false, true}, Or: {"tt", Truth, false, true}, Not: {"t", Truth, false, true},
	If: {"t??", 0, false, true}, // both branches of one kind, which it gives
}

// Step is one operation with its argument.
type Step struct {
	Op    Op
	Index int     // of the operations that name something in the pack
	Value float64 // of Const
}

// Program is a checked formula. The zero Program is "no formula": see [Program.Empty].
type Program struct {
	kind  Kind
	steps []Step
}

// New checks that steps are one well-formed formula and makes it a program. The stack of kinds is run instead of
// values, so that a program that passes can never lack an operand or find one of the wrong kind. This is what stands
// between a pack from outside and the closures, which check nothing.
func New(steps []Step) (Program, error) {
	var stack []Kind
	for i, s := range steps {
		sig := signatures[s.Op]
		if !sig.known {
			return Program{}, fmt.Errorf("reading a lowered formula: step %d: unknown operation %q", i+1,
				string(rune(s.Op)))
		}
		// the language cannot write one, and comparisons with it would be neither true nor false
		if s.Op == Const && (math.IsNaN(s.Value) || math.IsInf(s.Value, 0)) {
			return Program{}, fmt.Errorf("reading a lowered formula: step %d: constant is not finite", i+1)
		}
		// operands lie on top, in the order in which they were computed
		base := len(stack) - len(sig.takes)
		if base < 0 || !fits(sig.takes, stack[base:]) {
			return Program{}, fmt.Errorf("reading a lowered formula: step %d: %q does not fit what stands before it",
				i+1, string(rune(s.Op)))
		}
		gives := sig.gives
		if s.Op == If {
			gives = stack[base+1]
		}
		stack = append(stack[:base], gives)
	}
	if len(stack) != 1 {
		return Program{}, fmt.Errorf("reading a lowered formula: %d values left, want 1", len(stack))
	}
	return Program{stack[0], steps}, nil
}

// fits says whether operands have the kinds that an operation takes; the branches of a conditional have either, alike.
func fits(takes string, have []Kind) bool {
	for i, want := range []byte(takes) {
		if want != '?' && Kind(want) != have[i] {
			return false
		}
	}
	return !strings.HasPrefix(takes, "t??") || have[1] == have[2]
}

// Constant is a program that gives one number. It reads nothing, so that nothing is computed anew for it.
func Constant(v float64) Program {
	return Program{Number, []Step{{Op: Const, Value: v}}}
}

// Empty says that there is no formula.
func (p Program) Empty() bool { return len(p.steps) == 0 }

// Kind says what the program gives.
func (p Program) Kind() Kind { return p.kind }

// Steps are the operations in postfix order. They must not be changed. Provers and the solver walk them; what runs is
// compiled from them.
func (p Program) Steps() []Step { return p.steps }

// String writes the program as it travels in a pack; [Parse] reads it back.
func (p Program) String() string {
	var b strings.Builder
	for i, s := range p.steps {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteByte(byte(s.Op))
		switch {
		case s.Op == Const:
			// the shortest text that reads back as the same number
			b.WriteString(strconv.FormatFloat(s.Value, 'g', -1, 64))
		case signatures[s.Op].arg:
			b.WriteString(strconv.Itoa(s.Index))
		}
	}
	return b.String()
}

// MaxSteps bounds a program; the longest formula of a real book has some dozens.
const MaxSteps = 10_000

// Parse reads what [Program.String] writes. The empty text is the empty program. Packs come from a network, so that no
// text may make it panic or fill the memory.
func Parse(text string) (Program, error) {
	if text == "" {
		return Program{}, nil
	}
	tokens := strings.Split(text, " ")
	if len(tokens) > MaxSteps {
		return Program{}, fmt.Errorf("reading a lowered formula: %d steps; at most %d", len(tokens), MaxSteps)
	}
	steps := make([]Step, len(tokens))
	for i, t := range tokens {
		s, err := parseStep(t)
		if err != nil {
			return Program{}, fmt.Errorf("reading a lowered formula: step %d: %w", i+1, err)
		}
		steps[i] = s
	}
	return New(steps)
}

// parseStep reads one token: a letter with what it names or counts.
func parseStep(t string) (Step, error) {
	if t == "" {
		return Step{}, fmt.Errorf("nothing between two spaces")
	}
	s := Step{Op: Op(t[0])}
	switch sig := signatures[s.Op]; {
	case s.Op == Const:
		v, err := strconv.ParseFloat(t[1:], 64)
		if err != nil {
			return Step{}, fmt.Errorf("%.20q is not a number", t[1:])
		}
		s.Value = v
	case sig.arg:
		// 31 bits, so that an index is an int on every machine
		n, err := strconv.ParseUint(t[1:], 10, 31)
		if err != nil {
			return Step{}, fmt.Errorf("%.20q is not an index", t[1:])
		}
		s.Index = int(n)
	case len(t) > 1:
		return Step{}, fmt.Errorf("unknown operation %.20q", t)
	}
	return s, nil
}

// MarshalText writes what [Program.String] does, so that packs hold programs as text.
func (p Program) MarshalText() ([]byte, error) { return []byte(p.String()), nil }

// UnmarshalText reads as [Parse] does.
func (p *Program) UnmarshalText(b []byte) (err error) {
	*p, err = Parse(string(b))
	return err
}

// Reads is what a program depends on: sorted indices of the pack, each once.
type Reads struct {
	Options []int // by Has or Count
	Slots   []int // by Filled
	Hull    []int
	HullID  bool
	Use     []int
	Figures []int
}

// Reads lists what the program depends on directly; figures have dependencies of their own. A program that reads
// nothing of a change gives what it gave: all incremental work rests on this.
func (p Program) Reads() Reads {
	var r Reads
	for _, s := range p.steps {
		switch s.Op {
		case Has, Count:
			r.Options = append(r.Options, s.Index)
		case Filled:
			r.Slots = append(r.Slots, s.Index)
		case Hull:
			r.Hull = append(r.Hull, s.Index)
		case HullID:
			r.HullID = true
		case Use:
			r.Use = append(r.Use, s.Index)
		case Figure:
			r.Figures = append(r.Figures, s.Index)
		}
	}
	return r.tidy()
}

// With joins two sets of dependencies. Neither of the two is changed.
func (r Reads) With(s Reads) Reads {
	return Reads{
		Options: append(slices.Clone(r.Options), s.Options...),
		Slots:   append(slices.Clone(r.Slots), s.Slots...),
		Hull:    append(slices.Clone(r.Hull), s.Hull...),
		HullID:  r.HullID || s.HullID,
		Use:     append(slices.Clone(r.Use), s.Use...),
		Figures: append(slices.Clone(r.Figures), s.Figures...),
	}.tidy()
}

// Union joins many sets of dependencies at once. Joining them two by two would sort as often as there are sets.
func Union(list []Reads) (all Reads) {
	for _, r := range list {
		all.Options, all.Slots, all.Hull = append(all.Options, r.Options...), append(all.Slots, r.Slots...),
			append(all.Hull, r.Hull...)
		all.Use, all.Figures, all.HullID = append(all.Use, r.Use...), append(all.Figures, r.Figures...), all.HullID ||
			r.HullID
	}
	return all.tidy()
}

// tidy sorts the lists and takes out what is there twice.
func (r Reads) tidy() Reads {
	for _, list := range []*[]int{&r.Options, &r.Slots, &r.Hull, &r.Use, &r.Figures} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	return r
}

// Space is how many of everything a pack has: the bounds of the indices in its programs.
type Space struct{ Options, Slots, Hull, Use, Figures int }

// Within checks that every index of the program is inside the space, so that it can run on any state of that size. The
// closures index without a check of their own.
func (p Program) Within(sp Space) error {
	// constants and operations name nothing
	bounds := map[Op]int{Hull: sp.Hull, Use: sp.Use, Figure: sp.Figures, Count: sp.Options, Has: sp.Options,
		Filled: sp.Slots}
	for i, s := range p.steps {
		if n, ok := bounds[s.Op]; ok && s.Index >= n {
			return fmt.Errorf("reading a lowered formula: step %d: %s%d names one of %d", i+1, string(rune(s.Op)),
				s.Index, n)
		}
	}
	return nil
}

// Finite says whether a result can be used: an infinity or NaN comes from a division by zero or an overflow.
func Finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
