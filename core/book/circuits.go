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

// Circuit is a DC circuit from its source to one load.
type Circuit struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What it is called on the loom sheet and its labels.
	Title Text `yaml:"title,required"`
	// Decides the colour of the positive wire.
	Function Text `yaml:"function,required"`
	// The steady current, A.
	Amps Formula `yaml:"amps,required"`
	// Nominal voltage, V; the allowed drop is a share of it.
	Volts Formula `yaml:"volts,required"`
	// The highest voltage in service, V, charging included; the nominal where not given.
	PeakV Formula `yaml:"peak_v"`
	// Length one way along the run, m.
	LengthM Formula `yaml:"length_m,required"`
	// The allowed drop is 3 %, else 10 %.
	Critical bool `yaml:"critical"`
	// Some of the run lies in the engine space.
	EngineSpace bool `yaml:"engine_space"`
	// Temperature rating in °C; 105 where not given.
	Insulation Number `yaml:"insulation"`
	// Conductors that carry current in its bundle, which counts from 50 V on; its own two where not given.
	Bundled Number `yaml:"bundled"`
	// Up to so many conductors side by side for each pole, where one is not enough; 1 where not given.
	Parallel Number `yaml:"parallel"`
	// How many alike there are, as the strings of a bank; 1 where not given.
	Count Formula `yaml:"count"`
	// The most that its source feeds into a short circuit, A, which its fuse has to interrupt.
	FaultA Formula `yaml:"fault_a"`
	// Condition under which a boat has it; every boat where not given.
	When Formula `yaml:"when"`
	// Where the positive wire starts; the fuse block where not given.
	From Text `yaml:"from"`
	// Where both wires end; the title where not given.
	To Text `yaml:"to"`
	// Where it stands.
	At Position `json:"-"`
}

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
