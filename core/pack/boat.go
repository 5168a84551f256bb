package pack

import (
	"slices"

	"ribband/core/formula"
)

// Contribution adds to a total.
type Contribution struct {
	Figure int             `json:"figure"`
	Amount formula.Program `json:"amount"` // in the unit of the figure
}

// Hull is one boat that the yard moulds.
type Hull struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Note  string `json:"note,omitempty"`
	Looks
	// what every boat of the hull has
	Includes []string `json:"includes,omitempty"`
	// of [Public.HullFields], in their units
	Fields  []float64      `json:"fields"`
	Carries []Contribution `json:"carries,omitempty"`
	// the standard build, as far as slots have one
	Standard []Count `json:"standard"`
	Place    *Place  `json:"place,omitempty"` // of the mass of the base boat
	Seats    *Seats  `json:"seats,omitempty"`
	Points
	Offsets []Station `json:"offsets,omitempty"`
	Trial   *Trial    `json:"trial,omitempty"` // nil where none was made
	// nil where the book has no laminates of it, or no public figure of them
	Layup *Layup `json:"layup,omitempty"`

	// what the base boat counts as under water
	Submerged string `json:"submerged,omitempty"`
}

// Layup is what anybody may know of the laminates of a hull: that alone of which the book has a figure, the rest is
// zero. Glass and resin stand in the costs; the schedule itself is the yard's.
type Layup struct {
	ShellKg  float64 `json:"shell_kg,omitempty"` // shell, bottom and keel
	DeckKg   float64 `json:"deck_kg,omitempty"`
	BottomMm float64 `json:"bottom_mm,omitempty"` // shell and bottom
	KeelMm   float64 `json:"keel_mm,omitempty"`   // shell, bottom and keel
}

// Place is where a mass is, m: x from the aft end forward, y to starboard (empty: amidships), z above the base line.
type Place struct {
	X       formula.Program `json:"x"`
	Y       formula.Program `json:"y"`
	Z       formula.Program `json:"z"`
	Outside bool            `json:"outside,omitempty"` // of the hull
}

// Reads is what a place depends on.
func (p *Place) Reads() formula.Reads {
	if p == nil {
		return formula.Reads{}
	}
	return p.X.Reads().With(p.Y.Reads()).With(p.Z.Reads())
}

// Seats are where the persons of a hull sit, z the height of the seats. Side is how far off the centre line a person
// sits on one side, m; empty: unknown.
type Seats struct {
	Place
	Side formula.Program `json:"side,omitzero"`
}

// Points are those of a hull or an option that decide how high and how deep a boat reaches, and where water comes
// aboard.
type Points struct {
	Heights  []Point `json:"heights,omitempty"`
	Depths   []Point `json:"depths,omitempty"`
	Openings []Point `json:"openings,omitempty"`
}

// All are these points.
func (p *Points) All() []Point { return slices.Concat(p.Heights, p.Depths, p.Openings) }

// Reads is what the points depend on.
func (p *Points) Reads() (r formula.Reads) {
	for _, x := range p.All() {
		r = r.With(x.Place.Reads()).With(x.Immersed.Reads())
	}
	return r
}

// Point is a point of the boat. A height has the states in which it stands there; a depth may say how deep it must lie
// under water, m.
type Point struct {
	Title    string          `json:"title"`
	Place    Place           `json:"place"`
	States   []State         `json:"states,omitempty"`
	Immersed formula.Program `json:"immersed,omitzero"`
}

// State is how a boat stands: with its top up, with the top folded, or as shipped by road.
type State string

const (
	Up     State = "up"
	Folded State = "folded"
	Road   State = "road"
)

// States are all of them.
var States = []State{Up, Folded, Road}

// Extent is how long, broad and high something is about its place, m.
type Extent struct {
	Length formula.Program `json:"length"`
	Width  formula.Program `json:"width"`
	Height formula.Program `json:"height"`
}

// Station is one section of a hull: half-breadths Y at heights Z, m; X from the aft end forward, m.
type Station struct {
	X float64   `json:"x"`
	Z []float64 `json:"z"`
	Y []float64 `json:"y"`
}

// Trial is electrical power over speed at one displacement.
type Trial struct {
	DisplacementKg float64   `json:"displacement_kg"`
	SpeedKn        []float64 `json:"speed_kn"`
	PowerW         []float64 `json:"power_w"`
}

// Count is an option with how many of it, one or more. A standard build is a list of them.
type Count struct {
	Option int `json:"option"`
	Count  int `json:"count"`
}

// Slot is a place in the boat. It holds from Least to Most options; one that is not multiple holds at most one. Options
// are a run of the pack's list, from First to before End.
type Slot struct {
	ID       string `json:"id"`
	Section  int    `json:"section"`
	Title    string `json:"title"`
	Note     string `json:"note,omitempty"`
	Multiple bool   `json:"multiple,omitempty"`
	Least    int    `json:"least,omitempty"`
	Most     int    `json:"most,omitempty"` // 0: no limit
	// that have it; none named means all
	Hulls []int `json:"hulls,omitempty"`
	// the boat has it; empty: always
	When       formula.Program `json:"when"`
	Because    string          `json:"because,omitempty"`
	NoDiscount bool            `json:"no_discount,omitempty"`
	// of its options, where they say nothing else
	Place *Place `json:"place,omitempty"`
	First int    `json:"first"`
	End   int    `json:"end"`
	// its options are motor, drive, their controls or batteries
	Machinery bool `json:"machinery,omitempty"`
}

// Option is what can stand in a slot. Most is how many of it.
type Option struct {
	ID    string `json:"id"`
	Slot  int    `json:"slot"`
	Title string `json:"title"`
	Note  string `json:"note,omitempty"`
	Looks
	Drawn  string `json:"drawn,omitempty"`  // a word of package drawing
	Colour string `json:"colour,omitempty"` // #rrggbb
	// of which it is, a word of package drawing; empty: what is usual for what is drawn
	Surface string `json:"surface,omitempty"`
	// its layers; nil: no cushion, or none of sheets
	Cushion *Cushion `json:"cushion,omitempty"`
	// that it is made for; none named means all
	Hulls   []int          `json:"hulls,omitempty"`
	Most    int            `json:"most"`
	Carries []Contribution `json:"carries,omitempty"`
	Place   *Place         `json:"place,omitempty"`
	Extent  *Extent        `json:"extent,omitempty"`
	Points

	// what it counts as under water; empty: steel
	Submerged string `json:"submerged,omitempty"`
	// when it is sold; nil: always
	Sale *Sale `json:"sale,omitempty"`
	// the customer brings it, or something that belongs to it
	Brought bool `json:"brought,omitempty"`
}

// Sale is when an option is sold, by days of ISO 8601. What is not sold on the day of the edition is chosen by nobody
// and by nothing; a boat that has it from an older edition opens with it, keeps its price, and is told so.
type Sale struct {
	From  string `json:"from,omitempty"`  // the first day
	Until string `json:"until,omitempty"` // the last day
	Off   bool   `json:"off,omitempty"`   // not on the day of the edition
	// the option that takes its place; -1: none
	Instead int `json:"instead"`
}

// Cushion is foam in layers, from the base up.
type Cushion struct {
	Layers []FoamLayer `json:"layers"`
	Board  bool        `json:"board,omitempty"` // it lies on a board; else on an open mesh
}

// FoamLayer is a sheet of foam.
type FoamLayer struct {
	MM   float64 `json:"mm"`
	KgM3 float64 `json:"kg_m3"`
	Kind string  `json:"kind"` // one of those of the book
}

// NotSubmerged is the word for what is left out of the sum of submerged parts.
const NotSubmerged = "none"
