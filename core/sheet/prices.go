package sheet

import (
	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/works"
)

// CostPart is the cost in its parts, with the margin that the price leaves. Total is the sum of the six above it.
type CostPart struct {
	Materials           string `json:"materials"`
	Leftovers           string `json:"rests_of_packs"` // of packs that are bought for this boat
	Labour              string `json:"labour"`
	OverheadOnMaterials string `json:"overhead_on_materials"`
	OverheadOnLabour    string `json:"overhead_on_labour"`
	Contingency         string `json:"contingency"`
	Total               string `json:"total"`
	NetPrice            string `json:"net_price"`
	// what is allowed for a trade-in beyond its value, a cost of the deal
	TradeInOver string `json:"trade_in_beyond_value,omitempty"`
	Margin      string `json:"margin"`                // share of the net price
	Approval    string `json:"approved_by,omitempty"` // of what is beyond a salesperson's authority
}

// RatePart is an amount that a rate of the book makes of a sum.
type RatePart struct {
	Part   string `json:"part"`
	Rate   string `json:"rate"`
	Of     string `json:"of"` // the sum
	Amount string `json:"amount"`
	At     string `json:"at"` // file:line:column of the rate
}

// PriceTrace is how the sell price of one of an item, net of tax, came about: by a list price, or from its cost by a
// margin or markup.
type PriceTrace struct {
	For    string         `json:"for"` // identifier of the option
	Count  int            `json:"count"`
	Method string         `json:"method"` // list, margin or markup
	Rate   string         `json:"rate,omitempty"`
	Cost   string         `json:"cost"` // of one, without leftovers of packs
	Net    string         `json:"net"`  // price of one
	At     string         `json:"at"`
	Terms  []engine.Trace `json:"terms,omitempty"` // of a list price
}

// costPart states the cost of a boat, and who approved what goes beyond a salesperson's authority.
func costPart(e *engine.Engine, a *engine.Answer, approval string) CostPart {
	s, digits := a.Cost.Summary, e.Pricing.Currency().Digits
	c := CostPart{Materials: s.Materials.Fixed(digits), Leftovers: s.Leftovers.Fixed(digits),
		Labour: s.Labour.Fixed(digits), OverheadOnMaterials: s.OverheadOnMaterials.Fixed(digits),
		OverheadOnLabour: s.OverheadOnLabour.Fixed(digits), Contingency: s.Contingency.Fixed(digits),
		Total: s.Total.Fixed(digits), NetPrice: a.Price.Net.Fixed(digits), Margin: a.Margin.Percent(),
		Approval: approval}
	if over := a.Price.TradeIn.Over(); over.Sign() > 0 {
		c.TradeInOver = over.Fixed(digits)
	}
	return c
}

// rateParts are the general rates of the book with what each makes of this boat.
func rateParts(e *engine.Engine, s cost.Summary) []RatePart {
	t, at, digits := e.Pack.Costs, &e.Pack.Work.RatesAt, e.Pricing.Currency().Digits
	// overhead is absorbed on what is charged to the boat, leftovers of packs included, as core/cost does
	materials := s.Materials.Add(s.Leftovers)
	before := money.Sum(materials, s.Labour, s.OverheadOnMaterials, s.OverheadOnLabour)
	part := func(name string, r money.Rate, of, amount money.Amount, at int) RatePart {
		return RatePart{name, r.Percent(), of.Fixed(digits), amount.Fixed(digits), e.Pack.Where(at)}
	}
	return []RatePart{
		part("overhead on materials", t.OnMaterials, materials, s.OverheadOnMaterials, at.OnMaterials),
		part("overhead on labour", t.OnLabour, s.Labour, s.OverheadOnLabour, at.OnLabour),
		part("contingency", t.Contingency, before, s.Contingency, at.Contingency),
	}
}

// priceTraces unfolds the price of the base boat and of every option in it. What cannot be computed has stopped the
// answer before.
func priceTraces(e *engine.Engine, a *engine.Answer) []PriceTrace {
	st, digits := a.Build.State, e.Pricing.Currency().Digits
	net, _ := e.Pricing.Base(st)
	c, _ := e.Costing.Item(st, works.Base())
	traces := []PriceTrace{priceTrace(e, a, &e.Pack.Costs.Hulls[a.Hull], works.Base(), net.Fixed(digits),
		c.Total.Fixed(digits))}
	for o, n := range st.Counts {
		if n > 0 && e.Pack.Made(o, st.HullID) {
			net, _ := e.Pricing.Option(st, o)
			c, _ := e.Costing.Item(st, works.Of(o, 1))
			traces = append(traces, priceTrace(e, a, &e.Pack.Costs.Options[o], works.Of(o, n), net.Fixed(digits),
				c.Total.Fixed(digits)))
		}
	}
	return traces
}

// priceTrace unfolds one price, given it and its cost. A list price stands where its item does, another where its rate
// does.
func priceTrace(e *engine.Engine, a *engine.Answer, item *pack.BillOfMaterials, cause works.Cause,
	net, costs string) PriceTrace {
	t := PriceTrace{For: causeID(e, cause), Count: cause.Count, Method: "list", Net: net, Cost: costs,
		At: e.Pack.Where(item.At)}
	for _, l := range item.List {
		t.Terms = append(t.Terms, e.Unfold(a.Build, l.At))
	}
	switch {
	case item.Margin != nil:
		t.Method, t.Rate, t.At = "margin", item.Margin.Rate.Percent(), e.Pack.Where(item.Margin.At)
	case item.Markup != nil:
		t.Method, t.Rate, t.At = "markup", item.Markup.Rate.Percent(), e.Pack.Where(item.Markup.At)
	}
	return t
}
