// Package sheet gathers what the yard and its shops read of a boat: work and materials by shop, what is bought, the
// loom of wires, cut layouts, plates, transport. It arranges what core/engine, core/works, core/cost and core/takeoff
// computed, and adds no figure of its own; how a sheet looks on paper is the matter of package paper.
//
// Whatever a sheet states follows from the same computation as the price: a material from a line of its cost, an hour
// from a line of its work, a circuit from what its cable is bought by.
package sheet

import (
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
)

// Yard is what the yard must know of a boat. Amounts of money are in its currency, net of tax, and decimal text in
// JSON; shares and rates are parts of one: 0.25 is 25 %. At and Trace say where in the book an amount comes from.
type Yard struct {
	Hull     string         `json:"hull"`        // title
	Spec     string         `json:"spec_digest"` // of what was chosen
	Edition  pack.Edition   `json:"edition"`
	Currency money.Currency `json:"currency"` // of all amounts
	Clashes  []string       `json:"clashes,omitempty"`

	// what the boat is, as on the customer's paper, with the figures that only the yard reads
	Contents []quote.SectionPart `json:"specification"`
	Use      []engine.Value      `json:"use"`
	Figures  []engine.Value      `json:"figures"`
	Solar    *look.SolarPart     `json:"solar,omitempty"`

	// hands: by shop, in all, by option, by operation as they are done
	Shops   []ShopHours   `json:"shops"`
	Hours   ShopHours     `json:"hours"`
	Options []OptionHours `json:"options"`
	Work    []WorkPart    `json:"operations"`
	Sent    []SentPart    `json:"outside,omitempty"` // to suppliers

	// things: what is taken, how it is laid up, cut and coated, and what is bought for it
	Materials []MaterialPart `json:"materials"`
	Laminates *LaminateSheet `json:"laminates,omitempty"`
	Parts     *ShopParts     `json:"parts,omitempty"`
	Cuts      []CutPart      `json:"cuts,omitempty"`
	Purchases []PurchasePart `json:"purchases"`

	Cost     CostPart      `json:"cost"`
	Circuits []CircuitPart `json:"circuits,omitempty"`
	Loom     *LoomPart     `json:"loom,omitempty"`
	Rates    []RatePart    `json:"rates"`
	Prices   []PriceTrace  `json:"prices"`

	Papers    BoatPapers `json:"papers_of_the_boat"`
	Transport Transport  `json:"transport"`
}

// ForYard makes the sheet of an answer; nil on desks without build sheets. The hull number comes from the details.
func ForYard(e *engine.Engine, a *engine.Answer, d quote.Details) *Yard {
	if !e.Pack.Can(pack.Sheets) {
		return nil
	}
	b, draft := a.Build, quote.DraftIn(e, a, measure.Sea) // so that the specification reads as on the customer's paper
	y := &Yard{Hull: draft.Hull, Spec: draft.SpecDigest, Edition: draft.Edition, Currency: e.Pricing.Currency(),
		Clashes: draft.Clashes, Contents: draft.Contents, Use: draft.Use,
		Figures: append(e.FigureValues(b, measure.Sea), toBaseLine(e, b)...), Solar: draft.Solar}
	y.Shops, y.Hours = shopHours(e, a)
	y.Options, y.Work = optionHours(e, a), workParts(e, a)
	y.Sent = sentParts(e, a)
	y.Materials, y.Purchases = materialParts(e, a), purchaseParts(e, a)
	y.Laminates, y.Parts, y.Cuts = Laminates(e, b), AllParts(e, a), feeds(e, a, Cuts(e, b))
	y.Cost, y.Rates, y.Prices = costPart(e, a, d.Approval), rateParts(e, a.Cost.Summary), priceTraces(e, a)
	y.Circuits, y.Loom = Circuits(e, b), Loom(e, b)
	y.Papers, y.Transport = boatPapers(e, b, d), shipping(e, b)
	return y
}

// toBaseLine are the draughts aft and fore to the base line, which only the yard reads, if the book has them.
// A lift and a cradle are set by them; a customer reads the draught to the deepest point.
func toBaseLine(e *engine.Engine, b *fit.Build) (list []engine.Value) {
	for i, f := range e.Pack.Figures {
		id := figures.ID(f.Computed)
		if f.Hidden && (id == figures.FloatingDraftAft || id == figures.FloatingDraftFore) {
			list = append(list, e.FigureValue(b.State, i, measure.Sea))
		}
	}
	return list
}
