package pack

import "ribband/core/money"

// Prices are sell prices net of tax, by hull. They are listed when the book is published, so that a buyer's page has
// prices and nothing from which they follow.
type Prices struct {
	Base    []Table   `json:"base"`    // of the base boat, by hull
	Options [][]Table `json:"options"` // by option, then hull
}

// Table lists a price over everything that it reads. The axes are in mixed radix, the last one fastest; without axes
// there is one price.
type Table struct {
	Axes   []Axis         `json:"axes,omitempty"`
	Prices []money.Amount `json:"prices"`
}

// Axis is one thing that a price reads: which of some options of a slot is chosen (none of them is 0), how many of one
// option, whether a slot holds anything, or a use field.
type Axis struct {
	Kind    AxisKind `json:"kind"`
	Options []int    `json:"options,omitempty"`
	Index   int      `json:"index,omitempty"` // of the option, slot or use field
	Size    int      `json:"size"`
}

// AxisKind says what an axis reads.
type AxisKind string

const (
	// 0: none of Options and slot Index empty; 1…n: which; n+1: another option of the slot
	AxisOneOf AxisKind = "one-of"
	AxisCount AxisKind = "count" // count of option Index
	AxisUse   AxisKind = "use"   // use field Index: the choice, or the number of steps above min
)
