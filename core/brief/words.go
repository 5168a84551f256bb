package brief

import (
	"cmp"
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
)

// Words say a wish with its amount: "Range at that speed: at least 25 nm (46 km)". The region, "" for none, says how
// money is written, and the system in which units an amount is.
func Words(e *engine.Engine, w *pack.Wish, v Value, region string, units measure.System) msg.Message {
	wish := msg.Text("wish", w.Title)
	switch w.Kind {
	case pack.WishPrice:
		if a, err := v.Money(); err == nil {
			amount := msg.New("brief.number", msg.Money("number", a, e.Pricing.Currency(), region))
			return msg.New("brief.at-most", wish, msg.Words("amount", amount))
		}
	case pack.WishFigure:
		bound := msg.Code("brief.at-most")
		if w.Bound == pack.AtLeast {
			bound = "brief.at-least"
		}
		return msg.New(bound, wish, msg.Words("amount",
			number(units, v.Number, e.Pack.Figures[w.Index].Unit)))
	case pack.WishUse:
		u := &e.Pack.Use[w.Index]
		for _, c := range u.Choices {
			if c.ID == v.Text {
				return msg.New("brief.wish", wish, msg.Text("amount", c.Title))
			}
		}
		return msg.New("brief.wish", wish, msg.Words("amount", number(units, v.Number, u.Unit)))
	}
	return msg.Plain(w.Title)
}

// number is an amount with its unit, with the decimals that it was stated with. What stands in brackets behind some
// units, such as kilometres behind nautical miles, comes with the unit.
func number(units measure.System, v float64, unit string) msg.Message {
	if u, ok := measure.UnitOf(unit); ok {
		v, unit = u.Stated(units, v)
	}
	return msg.New("brief.number", msg.Quantity("number", v, unit, msg.Exact))
}

// Region is the identifier of the region that a brief states, or else the standard one; "" where the book has none.
// Money is written as there: a brief is read by somebody who buys in that region, whatever the language.
func Region(e *engine.Engine, b Brief) string {
	if e.Pack.RegionField < 0 {
		return ""
	}
	u := &e.Pack.Use[e.Pack.RegionField]
	if v, ok := b.Use[u.ID]; ok {
		return v.Choice
	}
	return u.Choices[int(u.Standard)].ID
}

// Words say how a wish gives way: "Cruising speed: 4.5 kn". The page has what was asked above it, so that the new
// amount is enough.
func (r *Relaxation) Words(e *engine.Engine, region string, units measure.System) msg.Message {
	w := &e.Pack.Brief.Wishes[r.Wish]
	if r.Left {
		return msg.New("brief.without", msg.Text("wish", w.Title))
	}
	return Words(e, w, r.To, region, units)
}

// Merits say in what none of the boats is better than one: lowest price, most range. A boat may have several, and most
// have none: the page makes cards of those that have one.
func (a *Answer) Merits(e *engine.Engine, boat int) (list []msg.Message) {
	if boat == 0 {
		list = append(list, msg.New("brief.lowest-price"))
	}
	if boat == a.Most {
		f := &e.Pack.Figures[e.Pack.Brief.Most]
		list = append(list, msg.New("brief.most", msg.Inside("figure", cmp.Or(f.Short, f.Title))))
	}
	if boat == a.Soonest {
		list = append(list, msg.New("brief.fewest-hours"))
	}
	return list
}

// Summary says what an answer comes to, and how sure that is. What is proved is said of the combinations that were
// searched, since slots that the book does not try out hold what goes with the others. A stopped run says no more than
// what was found.
func (a *Answer) Summary() msg.Message {
	switch {
	case len(a.Boats) > 0 && a.Proved && a.Most < 0:
		return msg.New("brief.proved")
	case len(a.Boats) > 0 && a.Proved:
		return msg.New("brief.proved-most")
	case len(a.Boats) > 0:
		return msg.New("brief.found")
	case a.Proved && len(a.Relaxations) > 0:
		return msg.New("brief.one-gives-way")
	case a.Proved:
		return msg.New("brief.more-give-way")
	}
	return msg.New("brief.none-found")
}
