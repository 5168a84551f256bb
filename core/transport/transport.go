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

	"ribband/core/msg"
)

// Status is how well a limit is known.
type Status string

// The ways in which a limit is known.
const (
	Found     Status = "found"
	Second    Status = "secondary"
	Several   Status = "several"
	Recalled  Status = "memory"
	Payload   Status = "payload" // dimensions from a secondary source, the payload from memory
	GivenHere Status = "given"   // by the yard
)

// Words say how a limit is known.
//
// Valid: the ways named. Source: as each limit says.
func (s Status) Words() msg.Message {
	return msg.New("transport.status", msg.Choice("status", string(s)))
}

// MarshalText writes the words, in English.
//
// Valid: as [Status.Words]. Source: as there.
func (s Status) MarshalText() ([]byte, error) { return s.Words().MarshalText() }

// Check is one figure against its limit.
type Check struct {
	Name     msg.Message `json:"name"`
	Unit     string      `json:"unit"`
	Value    float64     `json:"value"`
	Limit    float64     `json:"limit"`
	Margin   float64     `json:"margin"`             // limit less value; below zero it is over
	NoLimit  bool        `json:"no_limit,omitempty"` // no limit is known; limit and margin are nothing
	OK       bool        `json:"ok"`
	Sentence msg.Message `json:"sentence"`
	Source   msg.Message `json:"source"`
	Status   Status      `json:"status"`
}

// Cautions are the sentences that stand beside these figures on any paper.
//
// Valid: always. Source: own words; common practice, no source.
func Cautions() []msg.Message {
	return []msg.Message{msg.New("transport.caution-law"), msg.New("transport.caution-bridges"),
		msg.New("transport.caution-lifting"), msg.New("transport.caution-batteries")}
}

// slack takes away the noise of adding decimal lengths and masses: a value that is over by less than a hundredth of a
// millimetre or a hundredth of a gram meets its limit.
const slack = 1e-5

// against compares a value with the most that it may be.
func against(name msg.Message, unit string, value, limit float64, source msg.Message, status Status) Check {
	c := Check{Name: name, Unit: unit, Value: value, Limit: limit, Margin: limit - value, OK: value <= limit+slack,
		Source: source, Status: status}
	digits := 3
	if unit == "kg" {
		digits = 0
	}
	code, margin := msg.Code("transport.within"), max(0, c.Margin)
	if !c.OK {
		code, margin = "transport.over", -c.Margin
	}
	c.Sentence = msg.New(code, msg.Words("name", name), msg.Number("value", value, digits), msg.Text("unit", unit),
		msg.Number("limit", limit, digits), msg.Number("margin", margin, digits))
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
