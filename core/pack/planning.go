package pack

import (
	"slices"
	"strings"

	"ribband/core/plan"
)

// Planning is what a launch is planned by: who works when and with what, in which order operations are done, and how
// busy the yard is. The yard has it as a part of its [Work]; the show's desk by itself, where the book lets it read a
// launch week.
type Planning struct {
	Closed     []Period        `json:"closed,omitempty"` // days on which no shop works
	Spread     Spread          `json:"spread"`           // of work for which the book has no operation
	Shops      []ShopWork      `json:"shops"`            // of [Costs.Shops]
	Equipment  []Equipment     `json:"equipment,omitempty"`
	Operations []OperationWork `json:"operations"` // of [Costs.Operations]
	// of [Public.Hulls]; nil where every boat takes the hours of the book
	Learning []Learning `json:"learning,omitempty"`
	// nil where the pack was published without the orders of the yard
	Load *Load `json:"load,omitempty"`
}

// Learning is how the hours of a hull's boats fall: to Rate each time their number doubles, down to those of the book
// with the boat Steady.
type Learning struct {
	Rate   float64 `json:"rate"`
	Built  int     `json:"built,omitempty"` // before the first order
	Steady int     `json:"steady"`
}

// Load is how busy the yard is with the orders that it has: what a further boat finds taken of its means, in the order
// in which package launch has them. It names no order. It is no part of the edition, which is the book's.
type Load struct {
	Day    string     `json:"day"`    // on which it was planned
	Orders int        `json:"orders"` // that are being built
	Built  []int      `json:"built"`  // of [Public.Hulls], how many are ordered or built
	Taken  plan.Taken `json:"taken"`  // from the Monday of that day's week on
}

// Planned is what this pack plans launches by; nil where its desk is not to know.
func (p *Pack) Planned() *Planning {
	if p.Work != nil {
		return &p.Work.Planning
	}
	if p.Planning != nil {
		return &p.Planning.Planning
	}
	return nil
}

// Arrival is a material that has to come before an operation can begin, since an item takes it there.
type Arrival struct {
	Operation int `json:"operation"`
	Material  int `json:"material"` // of [Costs.Materials]
	Days      int `json:"days"`     // from its order on
}

// Arrivals are those of what the boats of a hull and options take; materials that come on the same day are not named.
type Arrivals struct {
	Hulls   [][]Arrival `json:"hulls"`
	Options [][]Arrival `json:"options"`
}

// Arrivals are the materials that have to come, by what takes them.
func (p *Pack) Arrivals() Arrivals {
	if p.Planning != nil {
		return p.Planning.Arrivals
	}
	all := Arrivals{Hulls: make([][]Arrival, len(p.Hulls)), Options: make([][]Arrival, len(p.Options))}
	if p.Work == nil {
		return all
	}
	// a material of a circuit follows from its size, which the boat decides: what it takes is kept in stock
	of := func(item *BillOfMaterials) (list []Arrival) {
		for _, n := range item.Materials {
			if n.Index < 0 || p.Taker(n.At) < 0 || p.Work.Supplies[n.Index].LeadDays == 0 {
				continue
			}
			list = append(list, Arrival{p.Taker(n.At), n.Index, p.Work.Supplies[n.Index].LeadDays})
		}
		return list
	}
	// by item, so that a desk can plan any boat without the amounts
	for i := range p.Costs.Hulls {
		all.Hulls[i] = of(&p.Costs.Hulls[i])
	}
	for i := range p.Costs.Options {
		all.Options[i] = of(&p.Costs.Options[i])
	}
	return all
}

// ShowPlanning is the part of the show's desk, with its own words of other languages.
type ShowPlanning struct {
	Planning
	Arrivals Arrivals                     `json:"arrivals"`
	Words    map[string]map[string]string `json:"words,omitempty"` // see [Pack.In]
}

// ForShow is what the show's desk gets of the planning in the work: no steps, no checks, no names of papers, no
// suppliers.
func (p *Pack) ForShow() *ShowPlanning {
	w := p.Work
	t := &ShowPlanning{Planning: w.Planning, Arrivals: p.Arrivals()}
	// of its own, since the yard's keeps what is taken out here
	t.Shops = slices.Clone(w.Shops)
	for i := range t.Shops {
		t.Shops[i].Papers = nil
	}
	t.Operations = slices.Clone(w.Operations)
	for i := range t.Operations {
		t.Operations[i].Steps, t.Operations[i].Checks, t.Operations[i].Supplier = nil, nil, ""
	}
	for language, words := range w.Words {
		own := map[string]string{}
		for place, text := range words {
			// people and equipment are waited for by name
			if strings.HasPrefix(place, "equipment.") || strings.HasPrefix(place, "shops.") {
				own[place] = text
			}
		}
		if t.Words == nil {
			t.Words = map[string]map[string]string{}
		}
		t.Words[language] = own
	}
	return t
}
