package quote

import (
	"slices"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
)

// Conditions are what a quote says beyond its price and specification: the hull's dimensions, what the standard build
// contains, and how the boat is sold.
type Conditions struct {
	Dimensions []engine.Value `json:"dimensions,omitempty"`     // of the hull, each in a unit of its own
	Includes   []string       `json:"every_boat_has,omitempty"` // of this hull, before any option
	Standard   []SectionPart  `json:"standard_build,omitempty"` // what the first line of the price stands for
	Delivery   []string       `json:"delivery,omitempty"`       // how and from where the boat is handed over
	Exclusions []string       `json:"exclusions,omitempty"`     // what the price does not cover
	Warranty   []string       `json:"warranty,omitempty"`
	Acceptance string         `json:"acceptance,omitempty"` // stands above the signature
}

// conditions are copied whole, since the book may change while the quotation is valid.
func conditions(e *engine.Engine, a *engine.Answer, units measure.System) Conditions {
	p := e.Pack
	return Conditions{Dimensions: dimensions(e, a.Hull, units), Includes: p.Hulls[a.Hull].Includes,
		Standard: contentsPart(e, a.Standard, a.Standard),
		Delivery: p.Delivery, Exclusions: p.Exclusions, Warranty: p.Warranty, Acceptance: p.Acceptance}
}

// dimensions are the fields of a hull that the book has on quotations, to the centimetre.
func dimensions(e *engine.Engine, hull int, units measure.System) (list []engine.Value) {
	for i, f := range e.Pack.HullFields {
		if !f.Quoted {
			continue
		}
		// a dimension to the centimetre, what is counted whole
		digits := 2
		if measure.Counted(f.Unit) {
			digits = 0
		}
		v := engine.In(units, e.Pack.Hulls[hull].Fields[i], f.Unit, digits)
		v.ID, v.Title = f.ID, f.Title
		list = append(list, v)
	}
	return list
}

// quotedFigures are the figures that the book has on quotations, without those that are nothing on this boat; all that
// are shown where the book marks none.
func quotedFigures(e *engine.Engine, b *fit.Build, units measure.System) []engine.Value {
	// a book that marks none has all of them on paper: better too much than a boat without figures
	list, quoted := e.FigureValues(b, units), map[string]bool{}
	for _, f := range e.Pack.Figures {
		if f.Quoted {
			quoted[f.ID] = true
		}
	}
	return slices.DeleteFunc(list, func(v engine.Value) bool {
		return len(quoted) > 0 && !quoted[v.ID] || v.Nothing()
	})
}

// asked leaves out of a use what nobody asked for, such as a range of 0.
func asked(list []engine.Value) []engine.Value { return slices.DeleteFunc(list, engine.Value.Nothing) }

// sectionOf is the title of the section that a line belongs to.
func sectionOf(e *engine.Engine, key string) string {
	if s, ok := e.FindSlot(key); ok {
		return e.Pack.Sections[e.Pack.Slots[s].Section].Title
	}
	switch key {
	// the lines of no slot: the standard build, what of it has no discount, and what the base boat costs
	// more for the choices
	case engine.BoatKey, "fixed", "base":
		return e.Say("quote.boat")
	}
	return e.Say("quote.extra-items")
}
