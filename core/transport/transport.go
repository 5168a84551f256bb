// Package transport holds what decides how a boat leaves the yard: its height, width and mass on the trailer against
// the limits of the road, the film it is wrapped in, the container it fits, and the freight zone of the way.
//
// All inputs and results are metres, kilograms and kilometres; the limits that a rule states in inches or feet are
// converted once, in limits.go.
//
// CAUTION. This is an own-words record of some limits, not legal text. Confirm them with the authority of each road,
// the maker of the trailer and the carrier before the boat moves; bridges are lower than laws, and private towing is
// State or national law. A qualified person decides how the boat is lifted, lashed and towed. See [Cautions].
package transport

import (
	"errors"
	"fmt"
)

// Check is one figure against its limit.
type Check struct {
	Name     string  `json:"name"`
	Unit     string  `json:"unit"`
	Value    float64 `json:"value"`
	Limit    float64 `json:"limit"`
	Margin   float64 `json:"margin"`             // limit less value; below zero it is over
	NoLimit  bool    `json:"no_limit,omitempty"` // no limit is known; limit and margin are nothing
	OK       bool    `json:"ok"`
	Sentence string  `json:"sentence"`
	Source   string  `json:"source"`
	Status   string  `json:"status"`
}

// Cautions are the sentences that stand beside these figures on any paper.
//
// Valid: always. Source: own words; common practice, no source.
func Cautions() []string {
	return []string{
		"These limits are not legal text. Confirm them with the authority of every road on the way, and measure the " +
			"loaded trailer before it leaves.",
		"Low bridges and trees do not follow the law: plan the route for the measured height, with tops folded and " +
			"secured.",
		"A qualified person decides how the boat is lifted and lashed. Keep from under it. The trailer's plate and " +
			"the towing vehicle's limits come before any figure here.",
		"Lithium batteries are dangerous goods by sea, road and air: ask the carrier how they travel and at what " +
			"charge.",
	}
}

// slack takes away the noise of adding decimal lengths and masses: a value that is over by less than a hundredth of a
// millimetre or a hundredth of a gram meets its limit.
const slack = 1e-5

// against compares a value with the most that it may be.
func against(name, unit string, value, limit float64, source, status string) Check {
	c := Check{Name: name, Unit: unit, Value: value, Limit: limit, Margin: limit - value, OK: value <= limit+slack,
		Source: source, Status: status}
	digits := 3
	if unit == "kg" {
		digits = 0
	}
	if c.OK {
		c.Sentence = fmt.Sprintf("%s %.*f %s, within %.*f %s by %.*f.", name, digits, value, unit, digits, limit, unit,
			digits, max(0, c.Margin))
	} else {
		c.Sentence = fmt.Sprintf("%s %.*f %s is %.*f over the %.*f %s allowed.", name, digits, value, unit, digits,
			-c.Margin, digits, limit, unit)
	}
	return c
}

// inputs gathers what is wrong with the numbers given, so that all of it is said at once.
type inputs struct {
	doing string
	errs  []error
}

// number asks for a finite number from low to high.
func (in *inputs) number(name string, value, low, high float64, unit, remedy string) {
	if !(value >= low && value <= high) { // NaN is neither
		in.errs = append(in.errs, fmt.Errorf("%s: %s is %v %s, not from %v to %v: %s", in.doing, name, value, unit, low,
			high, remedy))
	}
}

func (in *inputs) wrong(format string, args ...any) {
	in.errs = append(in.errs, fmt.Errorf("%s: "+format, append([]any{in.doing}, args...)...))
}

func (in *inputs) err() error { return errors.Join(in.errs...) }
