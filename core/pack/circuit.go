package pack

import "ribband/core/formula"

// Circuit is a DC circuit, or several alike; see package wiring. Which of them are public is decided by what public
// figures follow from; the others stand in the costs.
type Circuit struct {
	ID          string          `json:"id"`
	Title       string          `json:"title"`
	Function    string          `json:"function"` // a word of package wiring
	Amps        formula.Program `json:"amps"`
	Volts       formula.Program `json:"volts"`
	Peak        formula.Program `json:"peak"`               // highest volts; empty: the nominal voltage
	Length      formula.Program `json:"length"`             // of the run one way, m
	When        formula.Program `json:"when"`               // the boat has it; empty: always
	Count       formula.Program `json:"count"`              // how many are alike; empty: one
	Fault       formula.Program `json:"fault"`              // A of its source in a short circuit; empty: not stated
	Bundled     int             `json:"bundled,omitempty"`  // current-carrying conductors in its bundle
	Parallel    int             `json:"parallel,omitempty"` // most conductors side by side in each pole; 0: one
	Critical    bool            `json:"critical,omitempty"`
	EngineSpace bool            `json:"engine_space,omitempty"`
	Insulation  int             `json:"insulation"` // °C
}

// OtherCircuit is a circuit that is not public. Place is its index among all circuits, in the order of the book.
type OtherCircuit struct {
	Place int `json:"place"`
	Circuit
}

// Run is where a circuit leads from and to, and where in the book it and what it follows from stand.
type Run struct {
	From string    `json:"from,omitempty"`
	To   string    `json:"to,omitempty"`
	At   CircuitAt `json:"at"`
}

// CircuitAt are places in the book: indices of [Work.Sources].
type CircuitAt struct {
	Circuit int `json:"circuit"`
	Amps    int `json:"amps"`
	Volts   int `json:"volts"`
	Length  int `json:"length"`
}

// Stock is what a yard keeps for circuits: sizes that are bought, none of which may be made up.
type Stock struct {
	Sections []float64  `json:"sections,omitempty"` // mm², of single conductors, thinnest first
	Fuses    []FuseSize `json:"fuses,omitempty"`    // smallest first
	Switches []float64  `json:"switches,omitempty"` // A, what battery switches carry all the time, smallest first
}

// FuseSize is a fuse that a yard keeps.
type FuseSize struct {
	Amps     float64 `json:"a"`
	Volts    float64 `json:"v"`  // the highest that it may break
	KiloAmps float64 `json:"ka"` // interrupting capacity at that voltage
}
