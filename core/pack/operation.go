package pack

import (
	"slices"

	"ribband/core/money"
)

// ShopWork is who works in a shop and when, and what the shop reads.
type ShopWork struct {
	People int        `json:"people"`
	Week   [7]float64 `json:"week"` // hours of one person by day, Monday first
	Closed []Period   `json:"closed,omitempty"`
	Skills []Skill    `json:"skills,omitempty"`
	// drawings and lists on the shop's own card
	Papers []string `json:"papers,omitempty"`
}

// HoursWeek are the hours of all people of the shop together in a week without a day closed.
func (s *ShopWork) HoursWeek() (sum float64) {
	for _, h := range s.Week {
		sum += h
	}
	return float64(s.People) * sum
}

// Skill is what only some people of a shop can do.
type Skill struct {
	ID     string `json:"id"`
	Title  string `json:"title"`
	People int    `json:"people"`
}

// Period is days on which nobody works, from the first to the last one, as YYYY-MM-DD. One day alone is both.
type Period struct {
	First string `json:"first"`
	Last  string `json:"last"`
}

// Spread is factors of the likely hours: where all goes well, and where much goes wrong.
type Spread struct {
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Exactly is the spread of hours that are known.
var Exactly = Spread{1, 1}

// Equipment is what a boat occupies while it is worked on, or for longer.
type Equipment struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Count int    `json:"count"`           // alike
	Hulls []int  `json:"hulls,omitempty"` // that it serves; none named means all
}

// Serves says whether boats of a hull occupy the equipment.
func (e *Equipment) Serves(hull int) bool { return len(e.Hulls) == 0 || slices.Contains(e.Hulls, hull) }

// OperationWork is how an operation is worked: after what, by whom, with what, and what its card says. Of the equipment
// that it names a boat occupies what serves its hull.
type OperationWork struct {
	After  []Predecessor `json:"after,omitempty"`
	Crew   int           `json:"crew"`            // people at once; hours are those of one; 0 of outside work
	Skill  int           `json:"skill,omitempty"` // of its shop, that all of the crew have, counted from 1; 0 for none
	Spread Spread        `json:"spread"`
	Uses   []int         `json:"uses,omitempty"` // equipment, while it is worked on
	Holds  []Hold        `json:"holds,omitempty"`
	Batch  Batch         `json:"batch,omitempty"`
	SetUp  float64       `json:"set_up_h,omitempty"` // h of one person, of its hours, once for such boats in a row
	Steps  []string      `json:"steps,omitempty"`
	Checks []Check       `json:"checks,omitempty"`
	// of outside work, for which there is no crew: working days until it is back, and who does it
	Days     int    `json:"days,omitempty"`
	Supplier string `json:"supplier,omitempty"`
}

// Predecessor is an operation that is done before another, with the time by the clock from the end of the one to the
// begin of the other, h: at least, and at most where there is a bound.
type Predecessor struct {
	Operation int      `json:"operation"`
	Wait      float64  `json:"wait_h,omitempty"`
	Within    *float64 `json:"within_h,omitempty"`
}

// Hold is equipment that stays occupied until the end of a later operation.
type Hold struct {
	Equipment int `json:"equipment"`
	Until     int `json:"until"`
}

// Batch says which boats in a row share the set-up of an operation.
type Batch string

// The boats that share a set-up.
const (
	NoBatch    Batch = ""
	SameHull   Batch = "hull"
	SameColour Batch = "colour" // the same options cause it
)

// Check is a value that the shop fills in. What is noted in words has no unit and no bounds.
type Check struct {
	ID     string   `json:"id"`
	Title  string   `json:"title"`
	Unit   string   `json:"unit,omitempty"`
	Least  *float64 `json:"least,omitempty"`
	Most   *float64 `json:"most,omitempty"`
	Figure string   `json:"figure,omitempty"` // identifier of the figure that predicts it, in the same unit
}

// Plate is a plate laminated under the deck for one of an option, drilled and tapped: on each side of the boat, or once
// on the centre line.
type Plate struct {
	Option    int     `json:"option"`
	Title     string  `json:"title"`
	Along     float64 `json:"along"`                // share of the length, from the aft end
	InboardMm float64 `json:"inboard_mm,omitempty"` // mm from the edge of the deck to its middle
	Centre    bool    `json:"centre,omitempty"`
	Thread    string  `json:"thread"` // metric, coarse
	Holes     int     `json:"holes"`
	AlongMm   float64 `json:"along_mm,omitempty"` // mm from hole to hole
	AcrossMm  float64 `json:"across_mm,omitempty"`
}

// Block is flotation foam of an option at one place, on each side of the boat.
type Block struct {
	Option    int     `json:"option"`
	Title     string  `json:"title"`
	Share     float64 `json:"share"` // of the boat's foam, both sides together
	From      float64 `json:"from"`  // shares of the length, from the aft end
	To        float64 `json:"to"`
	InboardMm float64 `json:"inboard_mm,omitempty"` // mm from the edge of the deck to its outer face
	BreadthMm float64 `json:"breadth_mm"`
}

// SlotWork is until when an order may change the choice of a slot, and what undoing takes afterwards.
type SlotWork struct {
	// the operation until whose begin the choice is free, counted from 1; 0: the first operation of what is given up
	FreeUntil int   `json:"free_until,omitempty"`
	Undo      *Undo `json:"undo,omitempty"` // nil: it cannot be undone
}

// Undo is what it takes to undo a choice that is built in.
type Undo struct {
	Hours     []ShopHours `json:"hours,omitempty"`
	ShareLost money.Rate  `json:"share_lost"` // of the material of what is given up
}

// ShopHours are hours of one person in a shop.
type ShopHours struct {
	Shop  int     `json:"shop"`
	Hours float64 `json:"hours"`
}
