package pack

import "ribband/core/formula"

// Circuit is a DC circuit, or several alike; see package wiring. Which of them are public is decided by what public
// figures follow from; the others stand in the costs.
type Circuit struct {
	ID       string          `json:"id"`
	Title    string          `json:"title"`
	Function string          `json:"function"` // a word of package wiring
	Amps     formula.Program `json:"amps"`
	Volts    formula.Program `json:"volts"`
	// highest volts; empty: the nominal voltage
	Peak   formula.Program `json:"peak"`
	Length formula.Program `json:"length"` // of the run one way, m
	// the boat has it; empty: always
	When formula.Program `json:"when"`
	// how many are alike; empty: one
	Count formula.Program `json:"count"`
	// A of its source in a short circuit; empty: not stated
	Fault formula.Program `json:"fault"`
	// current-carrying conductors in its bundle
	Bundled int `json:"bundled,omitempty"`
	// most conductors side by side in each pole; 0: one
	Parallel    int  `json:"parallel,omitempty"`
	Critical    bool `json:"critical,omitempty"`
	EngineSpace bool `json:"engine_space,omitempty"`
	Insulation  int  `json:"insulation"` // °C
}

// OtherCircuit is a circuit that is not public: a lamp or a pump, from which no figure follows that a buyer sees.
// Place is its index among all circuits, in the order of the book.
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
	// mm², of single conductors, thinnest first
	Sections []float64  `json:"sections,omitempty"`
	Fuses    []FuseSize `json:"fuses,omitempty"` // smallest first
	// A, what battery switches carry all the time, smallest first
	Switches []float64 `json:"switches,omitempty"`
}

// FuseSize is a fuse that a yard keeps.
type FuseSize struct {
	Amps     float64 `json:"a"`
	Volts    float64 `json:"v"`  // the highest that it may break
	KiloAmps float64 `json:"ka"` // interrupting capacity at that voltage
}
