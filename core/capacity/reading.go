package capacity

import "ribband/core/msg"

// Reading is how the rule's "boat weight" is read; the rule can be read in two ways.
type Reading int

const (
	// Handbook counts motor, drive, controls, fuel and batteries as boat weight. It is the zero value and the one to
	// use.
	Handbook Reading = iota
	// Literal counts only the motor besides hull, fixed gear and fuel: 183.3 keeps batteries and controls out of the
	// permanent appurtenances. It never gives less capacity, and is an option for a yard that is advised so.
	Literal
)

// String names the reading.
func (r Reading) String() string {
	switch r {
	case Handbook:
		return "handbook"
	case Literal:
		return "literal"
	}
	return "unknown"
}

// Text says on papers which reading was taken and why.
//
// Valid: [Handbook] and [Literal]. Source: 33 CFR 183.3, 183.33(b)(2); US Coast Guard, Boatbuilder's Handbook, Safe
// Loading, note 3 of the displacement worksheets.
func (r Reading) Text() msg.Message {
	return msg.New("capacity.reading", msg.Choice("reading", r.String()))
}
