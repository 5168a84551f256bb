package pack

import (
	"fmt"
	"slices"
	"strings"
)

// Desk is for whom a pack is published. It names files and titles; what may be seen and done follows from the parts of
// the pack: see [Pack.Can].
type Desk string

const (
	Buyer  Desk = "buyer"  // the public part
	Dealer Desk = "dealer" // with what he sells by: the kind of all that [DeskOfDealer] names
	Show   Desk = "show"   // with what is sold by and the costs
	Yard   Desk = "yard"   // with all of it
)

// Desks are those of every book. A book has one more for each of its dealers.
var Desks = []Desk{Buyer, Show, Yard}

// DeskOfDealer is the desk of a dealer by his identifier. Each has a pack and files of his own, since none may know the
// terms of another.
func DeskOfDealer(id string) Desk { return Dealer + "-" + Desk(id) }

// Kind is a desk without the dealer's name: buyer, dealer, show or yard.
func (d Desk) Kind() Desk {
	if strings.HasPrefix(string(d), string(Dealer)+"-") {
		return Dealer
	}
	return d
}

// DeskOf finds a desk by its name. Which dealers there are, a pack does not know: any name of one is good.
func DeskOf(name string) (Desk, error) {
	if d := Desk(name); slices.Contains(Desks, d) || d.Kind() == Dealer && len(name) <= maxDeskName {
		return d, nil
	}
	return "", fmt.Errorf("choosing a desk: %.40q is none; want buyer, show, yard or a dealer's", name)
}

// maxDeskName is beyond any identifier of a dealer, in bytes.
const maxDeskName = 80

// Ability is something that can be seen or done with a pack. Whoever shows or does something asks for it by its name,
// not for a desk: a desk with other parts then needs no change.
type Ability int

// The first ones need what is sold by, the next the costs, the others the work.
const (
	Discounts  Ability = iota // give discounts, within what whoever works at the desk may give
	Quotations                // issue a quotation, and open one again
	Extras                    // add extra items and trade-ins, of which somebody has to know the cost and the worth
	Margins                   // see what a boat costs the yard, and what is left of its price
	Hours                     // see hours by shop, and what an option adds to them; with the planning alone, too
	Sheets                    // see materials, looms, cuts and the rest of a build sheet, with their places in the book
)

// Can says whether the parts that the pack holds are enough for something.
// A desk without an ability shows nothing of it, and refuses what is asked for it by hand.
func (p *Pack) Can(a Ability) bool {
	switch a {
	case Discounts, Quotations:
		return p.Selling != nil
	case Hours:
		return p.Planned() != nil
	case Sheets:
		return p.Work != nil
	}
	return p.Costs != nil
}
