package sheet

import (
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/works"
)

// MaterialPart is a material for the base boat or an option, with the operation that takes it and its shop, where the
// book says so.
type MaterialPart struct {
	For       string           `json:"for"`                 // identifier of the option
	Operation string           `json:"operation,omitempty"` // title, as of the shop
	Shop      string           `json:"shop,omitempty"`      // or the supplier to whom it goes along
	Material  string           `json:"material"`            // identifier
	Title     string           `json:"title"`
	Unit      string           `json:"unit"`               // a word of package measure, of both quantities
	BuiltIn   measure.Quantity `json:"built_in"`           // as measured on the boat
	Used      measure.Quantity `json:"used"`               // with waste; pieces are whole
	Amount    money.Amount     `json:"amount"`             // at the price of the book, with waste
	Customer  bool             `json:"customer,omitempty"` // who brings it
	Trace     engine.Trace     `json:"trace"`
}

// PurchasePart is a material for the whole boat: what is used, and the packs to buy or to take from the store. What is
// sold by the unit has no packs.
type PurchasePart struct {
	Material string           `json:"material"` // identifier
	Title    string           `json:"title"`
	Unit     string           `json:"unit"`
	UnitCode string           `json:"unit_code"` // UN/CEFACT Recommendation 20
	Used     measure.Quantity `json:"used"`
	Pack     measure.Quantity `json:"pack,omitzero"` // units in one
	Packs    int64            `json:"packs,omitempty"`
	Leftover measure.Quantity `json:"rest,omitempty"`  // of the last pack
	Stock    bool             `json:"stock,omitempty"` // from the store, which keeps what is left over
	Supplier string           `json:"supplier,omitempty"`
	LeadDays int              `json:"lead_days,omitempty"`   // days from order to yard; 0: not stated
	Charged  money.Amount     `json:"rest_charged,omitzero"` // to this boat, for what is left over
}

// materialParts are the materials of a boat, item by item.
func materialParts(e *engine.Engine, a *engine.Answer) (list []MaterialPart) {
	for _, l := range a.Cost.Materials {
		m := &e.Pack.Costs.Materials[l.Material]
		part := MaterialPart{For: causeID(e, l.For), Material: m.ID, Title: m.Title, Unit: m.Unit, BuiltIn: l.BuiltIn,
			Used: l.Used, Amount: l.Amount, Customer: l.Customer, Trace: e.Unfold(a.Build, l.At)}
		// a book without operations has no shop to hand the material to
		if l.Operation >= 0 {
			op := &e.Work.Operations[l.Operation]
			part.Operation = op.Title
			part.Shop = e.Work.Place(&works.Task{Operation: l.Operation, Shop: op.Shop})
		}
		list = append(list, part)
	}
	return list
}

// purchaseParts are the materials of a boat summed, in the order of the book.
func purchaseParts(e *engine.Engine, a *engine.Answer) (list []PurchasePart) {
	for _, p := range a.Cost.Purchases {
		m, from := &e.Pack.Costs.Materials[p.Material], &e.Pack.Work.Supplies[p.Material]
		code, _ := measure.Code(m.Unit) // a unit of the book has none
		part := PurchasePart{Material: m.ID, Title: m.Title, Unit: m.Unit, UnitCode: code, Used: p.Used,
			Packs: p.Packs, Leftover: p.Leftover, Stock: m.Stock, Supplier: from.Supplier, LeadDays: from.LeadDays,
			Charged: p.Charged}
		if p.Packs > 0 {
			part.Pack = measure.Quantity(m.Pack.Millionths())
		}
		list = append(list, part)
	}
	return list
}
