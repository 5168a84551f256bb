package pack

import "fmt"

// Desk is for whom a pack is published. It names files and titles; what may be seen and done follows from the parts of
// the pack: see [Pack.Can].
type Desk string

const (
	Buyer Desk = "buyer" // the public part
	Show  Desk = "show"  // with the costs
	Yard  Desk = "yard"  // with costs and work
)

// Desks are all of them.
var Desks = []Desk{Buyer, Show, Yard}

// DeskOf finds a desk by its name.
func DeskOf(name string) (Desk, error) {
	for _, d := range Desks {
		if string(d) == name {
			return d, nil
		}
	}
	return "", fmt.Errorf("choosing a desk: %.40q is none; want buyer, show or yard", name)
}

// Ability is something that can be seen or done with a pack. Whoever shows or does something asks for it by its name,
// not for a desk: a desk with other parts then needs no change.
type Ability int

// The first ones need the costs, the others the work.
const (
	Discounts  Ability = iota // give discounts, extra items and trade-ins, within what a salesperson may give
	Quotations                // issue a quotation, and open one again
	Margins                   // see what a boat costs the yard, and what is left of its price
	Hours                     // see hours by shop, and what an option adds to them; with the planning alone, too
	Sheets                    // see materials, looms, cuts and the rest of a build sheet, with their places in the book
)

// Can says whether the parts that the pack holds are enough for something.
// A desk without an ability shows nothing of it, and refuses what is asked for it by hand.
func (p *Pack) Can(a Ability) bool {
	switch a {
	case Hours:
		return p.Planned() != nil
	case Sheets:
		return p.Work != nil
	}
	return p.Costs != nil
}
