// Package works says what hands do for a boat: its operations with shop and hours, what causes each hour, and what must
// be done before. There is no money in it, and no calendar: what an hour costs is the matter of package cost, and when
// it is worked that of a plan.
//
// Every hour is computed in one place ([Network.hoursOf]), in fixed point, so that labour cost, the sheets of the
// shops, the effects of options and a plan cannot disagree.
//
// Source: work breakdown and precedence network of project planning, as in textbooks on the critical path method; the
// hours themselves are the book's.
package works

import (
	"ribband/core/measure"
	"ribband/core/pack"
)

// Kind is what sort of thing causes work.
type Kind int

// The kinds of causes, in the order in which a boat lists them.
const (
	BaseBoat  Kind = iota // the hull before any option
	Option                // an option, as often as it is in the boat
	ExtraItem             // something outside of the book that a salesperson added
)

// Cause is what work is done for.
type Cause struct {
	Kind  Kind
	Index int // of the option in the pack, or of the extra item in its list; 0 for the base boat
	Count int // how many of the option; 1 for the others
}

// Base is the cause of what every boat of a hull takes.
func Base() Cause { return Cause{Kind: BaseBoat, Count: 1} }

// Of is the cause of so many of an option.
func Of(option, count int) Cause { return Cause{Kind: Option, Index: option, Count: count} }

// Extra is the work of an extra item. The book has no operation for it: its hours are stated by shop.
type Extra struct {
	Title string
	Hours map[int]measure.Hours // by shop, zero or more
}

// NoOperation stands for the operation of an extra item's work.
const NoOperation = -1

// Outside stands for the shop of work that a supplier does: nobody of the yard has an hour of it.
const Outside = pack.NoShop

// Line is the hours of one operation for one cause, or of an extra item in one shop; of outside work how much of it.
type Line struct {
	For       Cause
	Operation int              // index in the book; [NoOperation] for an extra item
	Shop      int              // [Outside] for outside work, which has a quantity and no hours
	Hours     measure.Hours    // for all of them: hours of one, times count
	Quantity  measure.Quantity // likewise, in the unit of its price
	At        int              // where in the book the amount stands; 0 for an extra item
}

// Boat is the work of one boat.
type Boat struct {
	Lines   []Line       // of each cause in turn, in the order of the causes; none of nothing but extra items'
	ByCause []CauseHours // the base boat, the options in the order of the book, the extra items; with no hours, too
	ByShop  []KindHours  // by shop of the book
	Extras  []Extra
	network *Network
	hull    int
}

// CauseHours are the hours of one cause in all shops.
type CauseHours struct {
	Cause
	Hours measure.Hours
}

// KindHours are hours by the kind of their cause.
type KindHours struct {
	Base, Options, Extras measure.Hours
}

// Total is the sum of all kinds.
func (k KindHours) Total() measure.Hours { return k.Base + k.Options + k.Extras }

// add counts a line.
func (k *KindHours) add(kind Kind, h measure.Hours) {
	switch kind {
	case BaseBoat:
		k.Base += h
	case Option:
		k.Options += h
	case ExtraItem:
		k.Extras += h
	}
}

// Hours are those of the boat in all shops.
func (b *Boat) Hours() (sum KindHours) {
	for _, s := range b.ByShop {
		sum.Base, sum.Options, sum.Extras = sum.Base+s.Base, sum.Options+s.Options, sum.Extras+s.Extras
	}
	return sum
}
