package formula

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"pgregory.net/rapid"
)

// space is the size of the pack that the random programs of these tests are for.
var space = Space{Options: 4, Slots: 3, Hull: 2, Use: 3, Figures: 5}

// programText draws a well-formed lowered formula of a kind.
func programText(t *rapid.T, kind Kind, depth int) string {
	index := func(op string, n int) string {
		return op + strconv.Itoa(rapid.IntRange(0, n-1).Draw(t, "index"))
	}
	join := func(op string, kinds ...Kind) string {
		var parts []string
		for _, k := range kinds {
			parts = append(parts, programText(t, k, depth-1))
		}
		return strings.Join(append(parts, op), " ")
	}
	if kind == Number {
		leaves := []string{"n", "h", "i", "u", "f", "c"}
		ops := append(slices.Clone(leaves), "+", "-", "*", "/", "m", "M", "~", "a", "^", "_", "r", "?")
		if depth == 0 {
			ops = leaves
		}
		switch op := rapid.SampledFrom(ops).Draw(t, "number"); op {
		case "n":
			return "n" + rapid.SampledFrom([]string{"0", "1", "2.5", "-3", "1e+300", "0.1"}).Draw(t, "constant")
		case "h":
			return index(op, space.Hull)
		case "i":
			return op
		case "u":
			return index(op, space.Use)
		case "f":
			return index(op, space.Figures)
		case "c":
			return index(op, space.Options)
		case "~", "a", "^", "_", "r":
			return join(op, Number)
		case "?":
			return join(op, Truth, Number, Number)
		default:
			return join(op, Number, Number)
		}
	}
	leaves := []string{"o", "s", "T", "F"}
	ops := append(slices.Clone(leaves), "<", "{", "=", "&", "|", "!", "?")
	if depth == 0 {
		ops = leaves
	}
	switch op := rapid.SampledFrom(ops).Draw(t, "truth"); op {
	case "o":
		return index(op, space.Options)
	case "s":
		return index(op, space.Slots)
	case "T", "F":
		return op
	case "&", "|":
		return join(op, Truth, Truth)
	case "!":
		return join(op, Truth)
	case "?":
		return join(op, Truth, Truth, Truth)
	default:
		return join(op, Number, Number)
	}
}

func program(t *rapid.T) Program {
	kind := rapid.SampledFrom([]Kind{Number, Truth}).Draw(t, "kind")
	text := programText(t, kind, rapid.IntRange(0, 5).Draw(t, "depth"))
	p, err := Parse(text)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	if p.Kind() != kind {
		t.Fatalf("%q gives a %s, want a %s", text, p.Kind(), kind)
	}
	return p
}

// state draws any state of the space, whether or not a boat could be in it.
func state(t *rapid.T) *State {
	count := rapid.IntRange(0, 3)
	value := rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, 2, -1.5, 0.1, 1e300, math.Inf(1), math.Inf(-1),
		math.NaN()})
	return &State{
		Counts:  rapid.SliceOfN(count, space.Options, space.Options).Draw(t, "counts"),
		Slots:   rapid.SliceOfN(count, space.Slots, space.Slots).Draw(t, "slots"),
		HullID:  rapid.IntRange(0, 2).Draw(t, "hull"),
		Hull:    rapid.SliceOfN(value, space.Hull, space.Hull).Draw(t, "hull fields"),
		Use:     rapid.SliceOfN(value, space.Use, space.Use).Draw(t, "use"),
		Figures: rapid.SliceOfN(value, space.Figures, space.Figures).Draw(t, "figures"),
	}
}

// result runs a program and writes its result bit for bit, all NaN alike.
func result(p Program, st *State) string {
	if p.Kind() == Truth {
		return fmt.Sprint(p.Truth()(st))
	}
	v := p.Number()(st)
	if math.IsNaN(v) {
		return "NaN"
	}
	return fmt.Sprintf("%016x (%v)", math.Float64bits(v), v)
}
