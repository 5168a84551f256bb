package book

// Hulls: what the yard moulds, with the tables of offsets and trials that floating, stability, speed and range are
// computed from. Lengths are in metres, from the aft end forward, from the centre line to starboard and above the base
// line.

// Hull is one boat that the yard moulds.
type Hull struct {
	// Identifier, lower-case with hyphens.
	ID Text `yaml:"id,required"`
	// What the boat is called.
	Title Text `yaml:"title,required"`
	// A sentence about it for buyers.
	Note Text `yaml:"note"`
	// Longer words about it, a paragraph each, which the page folds below the hulls.
	About []Text `yaml:"about" json:",omitempty"`
	// What it looks like, beside those words.
	Pictures []Picture `yaml:"pictures" json:",omitempty"`
	// The number of each hull field, in its unit; those computed from the offsets may be left out.
	Dimensions Pairs[Number] `yaml:"dimensions,required"`
	// What the base boat adds to each total, in the unit of the figure.
	Carries Pairs[Formula] `yaml:"carries"`
	// List price of the base boat, net of tax; without it the price follows from the cost.
	Price Price `yaml:"price"`
	// List prices of the base boat by the day from which each holds: {2027-03-01: "28450"}.
	Prices Pairs[Price] `yaml:"prices" json:",omitempty"`
	// Profit as a share of the price, if not what the book says.
	Margin Rate `yaml:"margin"`
	// Profit as a share of the cost, if not what the book says.
	Markup Rate `yaml:"markup"`
	// What every boat of the hull has, for the quotation.
	Includes []Text `yaml:"includes"`
	// What is built into the base boat.
	Materials []Quantity `yaml:"materials"`
	// Work on the base boat, with its hours.
	Operations []Work `yaml:"operations"`
	// Centre of the base boat.
	Place *Place `yaml:"place"`
	// Where the persons on board sit.
	Seats *Seats `yaml:"seats"`
	// High points, beside the sheer and the heads of the persons.
	Heights []Height `yaml:"heights"`
	// Low points that are not in the offsets.
	Depths []Depth `yaml:"depths"`
	// Where water comes aboard before the sheer is under.
	Openings []Opening `yaml:"openings"`
	// What the base boat counts as under water; grp where not given.
	Submerged Text `yaml:"submerged"`
	// How the hours of its first boats fall; without it every boat takes the hours of the book.
	Learning *Learning `yaml:"learning"`
	// Where it stands.
	At Position `json:"-"`
}

// Learning is how the hours of a boat fall as the yard builds more of its hull. The plan reckons with it; prices and
// costs stay those of the book.
//
// Source: T. P. Wright 1936, by the unit; see package plan.
type Learning struct {
	// Factor of the hours each time the number of boats doubles, from 0.5 to 1.
	Rate Number `yaml:"rate,required"`
	// How many were built before the first order of the folder.
	Built Number `yaml:"built"`
	// The boat from which on the hours are those of the book.
	Steady Number `yaml:"steady,required"`
	// Where it stands.
	At Position `json:"-"`
}

// Place is where the mass of something is, m: x from the aft end forward, y to starboard, z above the base line.
type Place struct {
	// From the aft end forward, m.
	X Formula `yaml:"x,required"`
	// From the centre line to starboard, m; 0 where not given.
	Y Formula `yaml:"y"`
	// Above the base line, m.
	Z Formula `yaml:"z,required"`
	// It hangs outside of the hull, as a propeller, a rudder or a leg.
	Outside bool `yaml:"outside"`
	// Where it stands.
	At Position `json:"-"`
}

// Offsets is the table of offsets of a hull, from the aft end forward.
type Offsets struct {
	// The hull whose table it is.
	Hull Text `yaml:"hull,required"`
	// Sections from the aft end forward, five or more.
	Stations []Station `yaml:"stations,required"`
	// Where it stands.
	At Position `json:"-"`
}

// Station is one section: half-breadths y at the heights z above the base line, from the keel to the sheer, m.
type Station struct {
	// From the aft end forward, m.
	X Number `yaml:"x,required"`
	// Heights above the base line, m, rising from the keel to the sheer.
	Z []Number `yaml:"z,required"`
	// Half-breadths at these heights, m.
	Y []Number `yaml:"y,required"`
	// Where it stands.
	At Position `json:"-"`
}

// Trial is what a hull needed at what speed when it was tried at one displacement.
type Trial struct {
	// The hull that was tried.
	Hull Text `yaml:"hull,required"`
	// Mass of the boat as it was tried, with everybody on board, kg.
	DisplacementKg Number `yaml:"displacement_kg,required"`
	// What was measured, with rising speed.
	Points []TrialPoint `yaml:"points,required"`
	// Where it stands.
	At Position `json:"-"`
}

// TrialPoint is the electrical power into the motor's controller at a speed, in calm air and flat, deep water.
type TrialPoint struct {
	// Speed through the water, knots.
	SpeedKn Number `yaml:"speed_kn,required"`
	// Electrical power into the motor's controller at that speed, W.
	PowerW Number `yaml:"power_w,required"`
	// Where it stands.
	At Position `json:"-"`
}
