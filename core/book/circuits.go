package book

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ribband/core/suggest"
	"ribband/core/wiring"
)

// circuits reports functions and ratings that wiring does not know, titles given twice, and plain numbers that can be
// no current, length or voltage. What a formula gives is known only on a boat.
func (v *validation) circuits() {
	titles := map[string]Position{}
	for i := range v.book.Circuits {
		c := &v.book.Circuits[i]
		if known := wiring.Functions(); !slices.Contains(known, c.Function.Value) {
			v.error(c.Function.At, suggest.Nearest(c.Function.Value, known,
				"the functions are "+strings.Join(known, ", ")), "unknown function %q", c.Function)
		}
		if first, ok := titles[c.Title.Value]; ok {
			v.error(c.Title.At, fmt.Sprintf("the first is at %s; give one of them another title", first),
				"two circuits are called %q", c.Title)
		} else {
			titles[c.Title.Value] = c.Title.At
		}
		if known := wiring.Ratings(); c.Insulation.Given() &&
			!slices.Contains(known, wiring.Rating(c.Insulation.Value)) {
			v.error(c.Insulation.At, fmt.Sprintf("the ratings in °C are %v", known),
				"insulation for %g °C is not in the table of ampacities", c.Insulation.Value)
		}
		v.aboveZero(c.Amps, "the current of "+c.ID.Value)
		v.aboveZero(c.Volts, "the voltage of "+c.ID.Value)
		v.aboveZero(c.PeakV, "the highest voltage of "+c.ID.Value)
		v.aboveZero(c.LengthM, "the length of "+c.ID.Value)
		v.aboveZero(c.Count, "the count of "+c.ID.Value)
		v.aboveZero(c.FaultA, "the fault current of "+c.ID.Value)
		v.whole(c.Bundled, "the conductors in the bundle of "+c.ID.Value, 60)
		v.whole(c.Parallel, "the conductors side by side of "+c.ID.Value, wiring.MostParallel)
		if len(v.book.Fuses) > 0 && c.FaultA.Empty() {
			v.error(c.ID.At, "add fault_a: with the current that its source feeds into a short circuit, in A",
				"nothing says what fault current the fuse of %s has to interrupt", c.ID)
		}
	}
}

// whole reports a number that is given and is no whole one from 1 on.
func (v *validation) whole(n Number, what string, most float64) {
	if n.Given() && !(n.Value >= 1 && n.Value <= most && n.Value == math.Trunc(n.Value)) {
		v.error(n.At, fmt.Sprintf("write a whole number from 1 to %.0f", most), "%s are %g", what, n.Value)
	}
}

// aboveZero reports a formula that is a plain number and not above zero.
func (v *validation) aboveZero(f Formula, what string) {
	if n, err := strconv.ParseFloat(f.Value, 64); err == nil && !(n > 0) {
		v.error(f.At, "write a number above zero; a circuit that a boat may lack says so in when:",
			"%s: %s is not above zero", what, f.Value)
	}
}
