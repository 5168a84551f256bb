package sheet

import (
	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/work"
)

func rateParts(e *engine.Engine, s cost.Summary, digits int) []RatePart {
	t, at := e.Pack.Costs, &e.Pack.Work.RatesAt
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
func priceTraces(e *engine.Engine, a *engine.Answer, digits int) []PriceTrace {
	st := a.Build.State
	net, _ := e.Pricing.Base(st)
	c, _ := e.Costing.Item(st, work.Base())
	traces := []PriceTrace{priceTrace(e, a, &e.Pack.Costs.Hulls[a.Hull], work.Base(), net.Fixed(digits),
		c.Total.Fixed(digits))}
	for o, n := range st.Counts {
		if n > 0 && e.Pack.Made(o, st.HullID) {
			net, _ := e.Pricing.Option(st, o)
			c, _ := e.Costing.Item(st, work.Of(o, 1))
			traces = append(traces, priceTrace(e, a, &e.Pack.Costs.Options[o], work.Of(o, n), net.Fixed(digits),
				c.Total.Fixed(digits)))
		}
	}
	return traces
}

func priceTrace(e *engine.Engine, a *engine.Answer, item *pack.BillOfMaterials, cause work.Cause, net, costs string) PriceTrace {
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
