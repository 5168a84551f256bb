// Package sheet gathers what the yard and its shops read of a boat: work and materials by shop, what is bought, the
// wire loom, cut layouts, plates, transport. It arranges what core/engine, core/cost and core/takeoff computed, and adds
// no figure of its own.
package sheet

import (
	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/work"
)

// Yard is what the yard must know of a boat: hours by shop, operations, materials, costs, the loom. Amounts are
// decimal text.
type Yard struct {
	Hull      string              `json:"hull"`
	Spec      string              `json:"spec_digest"`
	Edition   pack.Edition        `json:"edition"`
	Currency  string              `json:"currency"`
	Clashes   []string            `json:"clashes,omitempty"`
	Contents  []quote.SectionPart `json:"specification"`
	Use       []engine.Value      `json:"use"`
	Figures   []engine.Value      `json:"figures"`
	Solar     *look.SolarPart     `json:"solar,omitempty"`
	Shops     []ShopHours         `json:"shops"`
	Hours     ShopHours           `json:"hours"` // the sum over the shops
	Options   []OptionHours       `json:"options"`
	Work      []WorkPart          `json:"operations"`
	Materials []MaterialPart      `json:"materials"`
	Laminates *LaminateSheet      `json:"laminates,omitempty"`
	Parts     *ShopParts          `json:"parts,omitempty"`
	Cuts      []CutPart           `json:"cuts,omitempty"`
	Purchases []PurchasePart      `json:"purchases"`
	Cost      CostPart            `json:"cost"`
	Circuits  []CircuitPart       `json:"circuits,omitempty"`
	Loom      *LoomPart           `json:"loom,omitempty"`
	Rates     []RatePart          `json:"rates"`
	Prices    []PriceTrace        `json:"prices"`
	Papers    BoatPapers          `json:"papers_of_the_boat"`
	Transport Transport           `json:"transport"`
}

// ShopHours are the hours of a shop: of the base boat (the hull before any option), of the options, together, of the
// standard build, and what this boat takes over the standard build.
type ShopHours struct {
	Shop     string        `json:"shop"`
	Base     measure.Hours `json:"base_h"`
	Options  measure.Hours `json:"options_h"`
	Total    measure.Hours `json:"total_h"`
	Standard measure.Hours `json:"standard_h"`
	Over     measure.Hours `json:"over_standard_h"`
}

// OptionHours are the hours that an option or an extra item adds.
type OptionHours struct {
	ID    string        `json:"id,omitempty"`
	Slot  string        `json:"slot,omitempty"`
	Title string        `json:"title"`
	Count int           `json:"count"`
	Hours measure.Hours `json:"hours"`
}

// WorkPart is the hours of an operation for the base boat or an option.
type WorkPart struct {
	For       string        `json:"for"`
	Operation string        `json:"operation"`
	Shop      string        `json:"shop"`
	Hours     measure.Hours `json:"hours"`
	Amount    string        `json:"amount"`
	Trace     engine.Trace  `json:"trace"`
}

// MaterialPart is a material for the base boat or an option, with the operation that takes it and its shop.
type MaterialPart struct {
	For       string           `json:"for"`
	Operation string           `json:"operation,omitempty"`
	Shop      string           `json:"shop,omitempty"`
	Material  string           `json:"material"`
	Title     string           `json:"title"`
	Unit      string           `json:"unit"`
	BuiltIn   measure.Quantity `json:"built_in"`
	Used      measure.Quantity `json:"used"`
	Amount    string           `json:"amount"`
	Trace     engine.Trace     `json:"trace"`
}

// PurchasePart is a material for the whole boat: what is used, and the packs to buy or to take from the store.
type PurchasePart struct {
	Material string           `json:"material"`
	Title    string           `json:"title"`
	Unit     string           `json:"unit"`
	UnitCode string           `json:"unit_code"` // UN/CEFACT Recommendation 20
	Used     measure.Quantity `json:"used"`
	Pack     string           `json:"pack,omitempty"`
	Packs    int64            `json:"packs,omitempty"`
	Rest     measure.Quantity `json:"rest,omitempty"`
	Stock    bool             `json:"stock,omitempty"`
	Supplier string           `json:"supplier,omitempty"`
	LeadDays int              `json:"lead_days,omitempty"`
	Charged  string           `json:"rest_charged,omitempty"`
}

// CostPart is the cost in its parts with the margin that the price leaves.
type CostPart struct {
	Materials           string `json:"materials"`
	Rests               string `json:"rests_of_packs"`
	Labour              string `json:"labour"`
	OverheadOnMaterials string `json:"overhead_on_materials"`
	OverheadOnLabour    string `json:"overhead_on_labour"`
	Contingency         string `json:"contingency"`
	Total               string `json:"total"`
	NetPrice            string `json:"net_price"`
	// what is allowed for a trade-in beyond its value, a cost of the deal
	TradeInOver string `json:"trade_in_beyond_value,omitempty"`
	Margin      string `json:"margin"`
	Approval    string `json:"approved_by,omitempty"` // of what is beyond a salesperson's authority
}

// RatePart is an amount that a rate of the book makes of a sum.
type RatePart struct {
	Part   string `json:"part"`
	Rate   string `json:"rate"`
	Of     string `json:"of"`
	Amount string `json:"amount"`
	At     string `json:"at"`
}

// PriceTrace is how the sell price of one of an item, net of tax, came about: by a list price, or from its cost by a
// margin or markup.
type PriceTrace struct {
	For    string         `json:"for"`
	Count  int            `json:"count"`
	Method string         `json:"method"` // list, margin or markup
	Rate   string         `json:"rate,omitempty"`
	Cost   string         `json:"cost"`
	Net    string         `json:"net"`
	At     string         `json:"at"`
	Terms  []engine.Trace `json:"terms,omitempty"` // of a list price
}

// ForYard makes the sheet of an answer; nil on desks without build sheets. The hull number comes from the details.
func ForYard(e *engine.Engine, a *engine.Answer, d quote.Details) *Yard {
	if !e.Pack.Can(pack.Sheets) {
		return nil
	}
	draft := quote.Draft(e, a)
	y := &Yard{Hull: draft.Hull, Spec: draft.SpecDigest, Edition: draft.Edition, Currency: e.Pack.Currency,
		Clashes:  draft.Clashes,
		Contents: draft.Contents, Use: e.UseValues(a.Build, measure.Metric),
		Figures: append(e.FigureValues(a.Build, measure.Metric), toBaseLine(e, a.Build)...), Solar: draft.Solar}
	shopHours(e, y, a)
	optionHours(e, y, a)
	digits := e.Pricing.Currency().Digits
	for _, t := range a.Work.Tasks() {
		if t.Operation == work.NoOperation {
			continue // extra items stand among the options
		}
		for _, i := range t.Lines {
			l := &a.Cost.Labour[i]
			y.Work = append(y.Work, WorkPart{causeID(e, l.For), e.Work.Operations[l.Operation].Title,
				e.Work.Shops[l.Shop].Title, l.Hours, l.Amount.Fixed(digits), e.Unfold(a.Build, l.At)})
		}
	}
	for _, l := range a.Cost.Materials {
		m := &e.Pack.Costs.Materials[l.Material]
		part := MaterialPart{For: causeID(e, l.For), Material: m.ID, Title: m.Title, Unit: m.Unit, BuiltIn: l.BuiltIn,
			Used: l.Used, Amount: l.Amount.Fixed(digits), Trace: e.Unfold(a.Build, l.At)}
		if l.Operation >= 0 {
			op := &e.Work.Operations[l.Operation]
			part.Operation, part.Shop = op.Title, e.Work.Shops[op.Shop].Title
		}
		y.Materials = append(y.Materials, part)
	}
	for _, p := range a.Cost.Purchases {
		y.Purchases = append(y.Purchases, purchase(e, p, digits))
	}
	s := a.Cost.Summary
	y.Cost = CostPart{Materials: s.Materials.Fixed(digits), Rests: s.Leftovers.Fixed(digits),
		Labour: s.Labour.Fixed(digits), OverheadOnMaterials: s.OverheadOnMaterials.Fixed(digits),
		OverheadOnLabour: s.OverheadOnLabour.Fixed(digits), Contingency: s.Contingency.Fixed(digits),
		Total: s.Total.Fixed(digits), NetPrice: a.Price.Net.Fixed(digits),
		Margin: a.Margin.Percent(), Approval: d.Approval}
	if over := a.Price.TradeIn.Over(); over.Sign() > 0 {
		y.Cost.TradeInOver = over.Fixed(digits)
	}
	y.Circuits, y.Loom = Circuits(e, a.Build), Loom(e, a.Build)
	y.Rates = rateParts(e, s, digits)
	y.Prices = priceTraces(e, a, digits)
	y.Laminates, y.Parts, y.Cuts = Laminates(e, a.Build), AllParts(e, a), feeds(e, a, Cuts(e, a.Build))
	y.Papers = boatPapers(e, a.Build, d)
	y.Transport = shipping(e, a.Build)
	return y
}

func causeID(e *engine.Engine, c work.Cause) string {
	if c.Kind == work.BaseBoat {
		return "base boat"
	}
	return e.Pack.Options[c.Index].ID
}

// shopHours are the hours by shop against the standard build, and their sum. Extra items count as options.
func shopHours(e *engine.Engine, y *Yard, a *engine.Answer) {
	hours := func(title string, h, standard work.KindHours) ShopHours {
		return ShopHours{Shop: title, Base: h.Base, Options: h.Options + h.Extras, Total: h.Total(),
			Standard: standard.Total(), Over: h.Total() - standard.Total()}
	}
	for i, shop := range e.Work.Shops {
		y.Shops = append(y.Shops, hours(shop.Title, a.Work.ByShop[i], a.StandardWork.ByShop[i]))
	}
	y.Hours = hours("All shops", a.Work.Hours(), a.StandardWork.Hours())
}

func optionHours(e *engine.Engine, y *Yard, a *engine.Answer) {
	for _, c := range a.Work.ByCause {
		switch c.Kind {
		case work.Option:
			o := &e.Pack.Options[c.Index]
			y.Options = append(y.Options, OptionHours{o.ID, e.Pack.Slots[o.Slot].Title, o.Title, c.Count, c.Hours})
		case work.ExtraItem:
			y.Options = append(y.Options, OptionHours{Title: a.Work.Extras[c.Index].Title, Slot: "Extra item",
				Count: c.Count, Hours: c.Hours})
		}
	}
}

func purchase(e *engine.Engine, p cost.Purchase, digits int) PurchasePart {
	m, from := &e.Pack.Costs.Materials[p.Material], &e.Pack.Work.Supplies[p.Material]
	unit, _ := measure.UnitOf(m.Unit)
	part := PurchasePart{Material: m.ID, Title: m.Title, Unit: m.Unit, UnitCode: unit.Rec20, Used: p.Used,
		Packs: p.Packs, Rest: p.Leftover, Stock: m.Stock,
		Supplier: from.Supplier, LeadDays: from.LeadDays}
	if p.Packs > 0 {
		part.Pack = m.Pack.String()
	}
	if !p.Charged.IsZero() {
		part.Charged = p.Charged.Fixed(digits)
	}
	return part
}

// toBaseLine are the draughts aft and fore to the base line, which only the yard reads, if the book has them.
func toBaseLine(e *engine.Engine, b *fit.Build) (list []engine.Value) {
	for i, f := range e.Pack.Figures {
		if id := figures.ID(f.Computed); f.Hidden && (id == figures.FloatingDraftAft || id == figures.FloatingDraftFore) {
			list = append(list, e.FigureValue(b.State, i, measure.Metric))
		}
	}
	return list
}
