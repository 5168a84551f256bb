// Package wiring sizes the DC circuits of a boat: conductor, fuse, colour, and the loom sheet with every wire on it.
//
// A conductor has to pass three tests, and the result says which of them decides: the voltage drop, the current that
// the insulation stands (ampacity), and a fuse that both carries the load and protects the wire. The smallest wire
// allowed comes on top. [Size] computes this from the standard sizes; a [Sizer] adds what is bought of those that a
// yard keeps, on the safe side of what was computed. Nothing here reads a file, a clock or the network.
//
// The ampacity and fuse rules are those of 33 CFR 183 Subpart I. It binds boats with gasoline engines; for an electric
// launch it is a yardstick of practice, and so this package says in [Caution], which belongs on every paper that shows
// its figures.
package wiring

import (
	"fmt"

	"ribband/core/msg"
)

// Caution belongs beside every figure of this package.
var Caution = msg.New("wiring.caution")

// Circuit is a DC circuit from its source to one load.
type Circuit struct {
	Name     string
	Function Function // decides the colour of the positive wire
	Load     float64  // A, the steady current
	Length   float64  // m, one way along the run
	Volts    float64  // V, nominal; the allowed drop is a share of it
	// V, the highest in service, charging included; 0 means Volts. A 48 V bank charges at more than 50 V
	Peak        float64
	Critical    bool   // the allowed drop is 3 %, else 10 %
	EngineSpace bool   // some of the run lies in the engine space
	Insulation  Rating // temperature rating of the insulation
	Sheathed    bool   // the conductors share a sheath: AWG 18 is allowed
	Bundled     int    // current-carrying conductors in the bundle; counts at 50 V and more
	// up to so many conductors side by side for each pole, where one is not enough; 0 means 1. See [Size]
	Parallel int
	Fault    float64 // A, the most that the source feeds into a short circuit; 0 where it is not known
	// where the positive wire starts and both end; blank: the fuse block, the circuit's name. Negative wires start at
	// their bus bar
	From, To string
}

// Rules are the yard's settings for all circuits.
type Rules struct {
	SAE        bool    // count a gauge by its SAE minimum section, not by ASTM B258
	FuseMargin float64 // a fuse is at least this many times the load
	Slack      float64 // m added to each wire for its ends
}

// DefaultRules are a cautious start: gauges by ASTM B258, fuses at 1.25 times the load, 0.15 m more for each wire.
//
// Source: margin: NEC 210.20(A) for continuous loads, used here as practice. Slack: common practice, no source.
func DefaultRules() Rules { return Rules{FuseMargin: 1.25, Slack: 0.15} }

// least and most bound every number that comes in, so that no result is infinite.
const (
	least = 1e-6
	most  = 1e6
)

func number(place, what, unit string, v float64) error {
	if v >= least && v <= most {
		return nil
	}
	return fmt.Errorf("%s: the %s is %.6g %s; give a number above zero, at most %.0f", place, what, v, unit, most)
}

func (c *Circuit) place() string { return fmt.Sprintf("sizing circuit %q", c.Name) }

// MostParallel is how many conductors of one pole may lie side by side.
const MostParallel = 4

func (c *Circuit) check() error {
	if c.Name == "" {
		return fmt.Errorf("%s: it has no name; name it as it stands on the switch panel", c.place())
	}
	if _, err := ColoursOf(c.Function); err != nil {
		return fmt.Errorf("%s: %w", c.place(), err)
	}
	for _, n := range [...]struct {
		what, unit string
		value      float64
	}{{"load", "A", c.Load}, {"length one way", "m", c.Length}, {"nominal voltage", "V", c.Volts}} {
		if !(n.value >= least && n.value <= most) {
			return number(c.place(), n.what, n.unit, n.value)
		}
	}
	if c.Peak != 0 && !(c.Peak >= c.Volts && c.Peak <= most) {
		return fmt.Errorf("%s: the highest voltage is %v V, below the nominal %v V or no number; give the charging "+
			"voltage, or 0 for the nominal", c.place(), c.Peak, c.Volts)
	}
	if !c.Insulation.known() {
		return fmt.Errorf("%s: the insulation rating is %d °C; give one of %s", c.place(), c.Insulation, ratingList())
	}
	if c.Bundled < 0 {
		return fmt.Errorf("%s: %d bundled conductors; give the number that carry current, or 0", c.place(), c.Bundled)
	}
	if c.Parallel < 0 || c.Parallel > MostParallel {
		return fmt.Errorf("%s: %d conductors side by side; give 1 to %d", c.place(), c.Parallel, MostParallel)
	}
	if !(c.Fault >= 0 && c.Fault <= most) {
		return fmt.Errorf("%s: the fault current is %v A; give what the source feeds into a short circuit, or 0 where "+
			"it is not known", c.place(), c.Fault)
	}
	return nil
}

func (r Rules) check() error {
	if !(r.FuseMargin >= 1 && r.FuseMargin <= 1.5) {
		return fmt.Errorf("reading the wiring rules: the fuse margin is %v; give a factor from 1 to 1.5, such as 1.25",
			r.FuseMargin)
	}
	if !(r.Slack >= 0 && r.Slack <= 10) {
		return fmt.Errorf("reading the wiring rules: the slack is %v m; give a length from 0 to 10 m for each wire",
			r.Slack)
	}
	return nil
}

// highest is the voltage that the fuse and bundling rules look at.
func (c *Circuit) highest() float64 { return max(c.Volts, c.Peak) }
