package quote

import (
	"fmt"
	"slices"
	"strconv"

	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/money"
)

// Conditions are what a quote says beyond its price and specification: the hull's dimensions, what the standard build
// contains, and how the boat is sold.
type Conditions struct {
	Dimensions []Value       `json:"dimensions,omitempty"`
	Includes   []string      `json:"every_boat_has,omitempty"` // of this hull, before any option
	Standard   []SectionPart `json:"standard_build,omitempty"`
	Delivery   []string      `json:"delivery,omitempty"`
	Exclusions []string      `json:"exclusions,omitempty"`
	Warranty   []string      `json:"warranty,omitempty"`
	Acceptance string        `json:"acceptance,omitempty"` // stands above the signature
}

func (e *Engine) conditions(a *Answer, units measure.System) Conditions {
	p := e.Pack
	return Conditions{Dimensions: e.dimensions(a.Hull, units), Includes: p.Hulls[a.Hull].Includes,
		Standard: e.contentsPart(a.Standard, a.Standard),
		Delivery: p.Delivery, Exclusions: p.Exclusions, Warranty: p.Warranty, Acceptance: p.Acceptance}
}

// dimensions are the fields of a hull that the book has on quotations, to the centimetre.
func (e *Engine) dimensions(hull int, units measure.System) (list []Value) {
	for i, f := range e.Pack.HullFields {
		if !f.Quoted {
			continue
		}
		unit, _ := measure.UnitOf(f.Unit)
		v, symbol := unit.In(units, e.Pack.Hulls[hull].Fields[i])
		digits := 2
		if measure.Counted(f.Unit) {
			digits = 0
		}
		list = append(list, Value{ID: f.ID, Title: f.Title, Value: measure.Decimal(v, digits), Unit: symbol})
	}
	return list
}

// quotedFigures are the figures that the book has on quotations, without those that are nothing on this boat; all that
// are shown where the book marks none.
func (e *Engine) quotedFigures(b *fit.Build, units measure.System) []Value {
	list, quoted := e.FigureValues(b, units), map[string]bool{}
	for _, f := range e.Pack.Figures {
		if f.Quoted {
			quoted[f.ID] = true
		}
	}
	return slices.DeleteFunc(list, func(v Value) bool { return len(quoted) > 0 && !quoted[v.ID] || v.none() })
}

// none says that a value is zero.
func (v Value) none() bool {
	n, err := strconv.ParseFloat(v.Value, 64)
	return err == nil && n == 0
}

// asked leaves out of a use what nobody asked for, such as a range of 0.
func asked(list []Value) []Value { return slices.DeleteFunc(list, Value.none) }

// Titles of the lines of a price that belong to no section of the book.
const (
	boatSection  = "Boat"
	extraSection = "Extra items"
)

// carry puts each line under its section, and on each the sum so far, so that a table that goes on over the page can be
// added up on each.
func (e *Engine) carry(p *PricePart) {
	sum := money.Amount{}
	for _, list := range [][]LinePart{p.Lines, p.Discounts} {
		for i := range list {
			amount, err := money.Parse(list[i].Amount)
			if err != nil { // it was written by us
				panic(fmt.Sprintf("summing a price: %v", err))
			}
			sum = sum.Add(amount)
			list[i].Carried = sum.Fixed(e.Pricing.Currency().Digits)
		}
	}
	for i := range p.Lines {
		p.Lines[i].Section = e.sectionOf(p.Lines[i].Key)
	}
}

// sectionOf is the title of the section that a line belongs to.
func (e *Engine) sectionOf(key string) string {
	if s, ok := e.slots[key]; ok {
		return e.Pack.Sections[e.Pack.Slots[s].Section].Title
	}
	switch key {
	case BoatKey, "fixed", "base":
		return boatSection
	}
	return extraSection
}

func (c *comparison) conditions(was, now *Conditions) {
	c.keyed("dimensions", values(was.Dimensions), values(now.Dimensions))
	c.keyed("every_boat_has", texts(was.Includes), texts(now.Includes))
	c.keyed("standard_build", contents(was.Standard), contents(now.Standard))
	c.keyed("delivery", texts(was.Delivery), texts(now.Delivery))
	c.keyed("exclusions", texts(was.Exclusions), texts(now.Exclusions))
	c.keyed("warranty", texts(was.Warranty), texts(now.Warranty))
	c.text("acceptance", was.Acceptance, now.Acceptance)
}
