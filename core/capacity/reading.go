package capacity

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
func (r Reading) Text() string {
	switch r {
	case Handbook:
		return "Boat weight is read as in the Coast Guard's Boatbuilder's Handbook: it includes motor, drive, " +
			"controls, fuel and batteries. " +
			"The letter of 33 CFR 183.3 leaves batteries and controls out, which would let a heavy bank add nothing " +
			"to the boat's weight. " +
			"The handbook's reading never gives more capacity than the letter, so it is the safe one."
	case Literal:
		return "Boat weight is read by the letter of 33 CFR 183.33(b)(2) with 183.3: hull, deck, fixed gear, motor " +
			"and full fixed tanks, without batteries, controls and drive. " +
			"This gives more capacity than the Coast Guard's Boatbuilder's Handbook. Have a qualified person confirm " +
			"it before anything is marked."
	}
	return "No known reading of boat weight."
}
