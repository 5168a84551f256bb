package sheet

import (
	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/works"
)

// CostPart is the cost in its parts, with the margin that the price leaves. Total is the sum of those above it. All
// amounts are rounded to the currency's minor unit.
type CostPart struct {
	Materials           money.Amount `json:"materials"`
	Leftovers           money.Amount `json:"rests_of_packs"` // of packs that are bought for this boat
	Labour              money.Amount `json:"labour"`
	Outside             money.Amount `json:"outside_work,omitzero"` // of suppliers
	OverheadOnMaterials money.Amount `json:"overhead_on_materials"`
	OverheadOnLabour    money.Amount `json:"overhead_on_labour"`
	Contingency         money.Amount `json:"contingency"`
	Total               money.Amount `json:"total"`
	NetPrice            money.Amount `json:"net_price"`
	// what is allowed for a trade-in beyond its value, a cost of the deal
	TradeInOver money.Amount `json:"trade_in_beyond_value,omitzero"`
	// the dealer's share of the net price, another
	Commission money.Amount `json:"commission,omitzero"`
	Margin     money.Rate   `json:"margin"`                // share of the net price
	Approval   string       `json:"approved_by,omitempty"` // of what is beyond a salesperson's authority
}

// RatePart is an amount that a rate of the book makes of a sum.
type RatePart struct {
	Part   msg.Message  `json:"part"`
	Rate   money.Rate   `json:"rate"`
	Of     money.Amount `json:"of"` // the sum
	Amount money.Amount `json:"amount"`
	At     string       `json:"at"` // file:line:column of the rate
}

// PriceTrace is how the sell price of one of an item, net of tax, came about: by a list price, or from its cost by a
// margin or markup.
type PriceTrace struct {
	For    string         `json:"for"` // identifier of the option, or [engine.BoatKey]
	Count  int            `json:"count"`
	Method string         `json:"method"`        // list, margin or markup: the key of the book
	Rate   money.Rate     `json:"rate,omitzero"` // of a margin or markup
	Cost   money.Amount   `json:"cost"`          // of one, without leftovers of packs
	Net    money.Amount   `json:"net"`           // price of one
	At     string         `json:"at"`
	Terms  []engine.Trace `json:"terms,omitempty"` // of a list price
}

// costPart states the cost of a boat, and who approved what goes beyond a salesperson's authority.
func costPart(e *engine.Engine, a *engine.Answer, approval string) CostPart {
	s := a.Cost.Summary
	c := CostPart{Materials: s.Materials, Leftovers: s.Leftovers, Labour: s.Labour, Outside: s.Outside,
		OverheadOnMaterials: s.OverheadOnMaterials, OverheadOnLabour: s.OverheadOnLabour, Contingency: s.Contingency,
		Total: s.Total, NetPrice: a.Price.Net, Margin: a.Margin, Approval: approval}
	// a trade-in worth what is allowed for it costs nothing
	if over := a.Price.TradeIn.Over(); over.Sign() > 0 {
		c.TradeInOver = over
	}
	if x := e.Commission(a, a.Price.Net); x.Sign() > 0 {
		c.Commission = x
	}
	return c
}

// rateParts are the general rates of the book with what each makes of this boat.
func rateParts(e *engine.Engine, s cost.Summary) []RatePart {
	t, at := e.Pack.Costs, &e.Pack.Work.RatesAt
	// outside work bears none but the contingency, as core/cost has it;
	// overhead is absorbed on what is charged to the boat, leftovers of packs included, as core/cost does
	materials := s.Materials.Add(s.Leftovers)
	before := money.Sum(materials, s.Labour, s.Outside, s.OverheadOnMaterials, s.OverheadOnLabour)
	part := func(code msg.Code, r money.Rate, of, amount money.Amount, at int) RatePart {
		return RatePart{msg.New(code), r, of, amount, e.Pack.Where(at)}
	}
	return []RatePart{
		part("sheet.overhead-on-materials", t.OnMaterials, materials, s.OverheadOnMaterials, at.OnMaterials),
		part("sheet.overhead-on-labour", t.OnLabour, s.Labour, s.OverheadOnLabour, at.OnLabour),
		part("sheet.contingency", t.Contingency, before, s.Contingency, at.Contingency),
	}
}

// priceTraces unfolds the price of the base boat and of every option in it. What cannot be computed has stopped the
// answer before.
func priceTraces(e *engine.Engine, a *engine.Answer) []PriceTrace {
	st := a.Build.State
	net, _ := e.Pricing.Base(st)
	c, _ := e.Costing.Item(st, works.Base())
	traces := []PriceTrace{priceTrace(e, a, &e.Pack.Costs.Hulls[a.Hull], works.Base(), net, c.Total)}
	for o, n := range st.Counts {
		if n > 0 && e.Pack.Made(o, st.HullID) {
			net, _ := e.Pricing.Option(st, o)
			c, _ := e.Costing.Item(st, works.Of(o, 1))
			traces = append(traces, priceTrace(e, a, &e.Pack.Costs.Options[o], works.Of(o, n), net, c.Total))
		}
	}
	return traces
}

// priceTrace unfolds one price, given it and its cost. A list price stands where its item does, another where its rate
// does.
func priceTrace(e *engine.Engine, a *engine.Answer, item *pack.BillOfMaterials, cause works.Cause,
	net, costs money.Amount) PriceTrace {
	t := PriceTrace{For: causeID(e, cause), Count: cause.Count, Method: "list", Net: net, Cost: costs,
		At: e.Pack.Where(item.At)}
	for _, l := range item.List {
		t.Terms = append(t.Terms, e.Unfold(a.Build, l.At))
	}
	switch {
	case item.Margin != nil:
		t.Method, t.Rate, t.At = "margin", item.Margin.Rate, e.Pack.Where(item.Margin.At)
	case item.Markup != nil:
		t.Method, t.Rate, t.At = "markup", item.Markup.Rate, e.Pack.Where(item.Markup.At)
	}
	return t
}
