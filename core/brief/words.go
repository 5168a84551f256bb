package brief

import (
	"fmt"
	"strconv"
	"strings"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
)

// Words say a wish with its amount: "Range at that speed: at least 25 nm (46 km)". The region, "" for none, says how
// money is written.
func Words(e *engine.Engine, w *pack.Wish, v Value, region string) string {
	switch w.Kind {
	case pack.WishNeed:
		return w.Title
	case pack.WishPrice:
		if a, err := v.Money(); err == nil {
			return fmt.Sprintf("%s: at most %s", w.Title, Amount(e, a, region))
		}
	case pack.WishFigure:
		return fmt.Sprintf("%s: %s %s", w.Title, w.Bound, number(v.Number, e.Pack.Figures[w.Index].Unit))
	case pack.WishUse:
		u := &e.Pack.Use[w.Index]
		for _, c := range u.Choices {
			if c.ID == v.Text {
				return w.Title + ": " + c.Title
			}
		}
		return w.Title + ": " + number(v.Number, u.Unit)
	}
	return w.Title
}

// number writes an amount with its unit.
func number(v float64, unit string) string {
	u, _ := measure.UnitOf(unit)
	return measure.Joined(money.Grouped(strconv.FormatFloat(v, 'f', -1, 64)), "\u00a0", u.Symbol)
}

// Region is the identifier of the region that a brief states, or else the standard one; "" where the book has none.
// Money is written as there.
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

// Amount writes money with its currency, as the region does.
func Amount(e *engine.Engine, a money.Amount, region string) string {
	c := e.Pricing.Currency()
	return money.Priced(a.Fixed(c.Digits), c.Code, region)
}

// Words say how a wish gives way: "Cruising speed: 4.5 kn in place of 7 kn".
func (r *Relaxation) Words(e *engine.Engine, region string) string {
	w := &e.Pack.Brief.Wishes[r.Wish]
	if r.Left {
		return "without: " + w.Title
	}
	return Words(e, w, r.To, region)
}

// Merits say in what none of the boats is better than one: "lowest price, most range".
func (a *Answer) Merits(e *engine.Engine, boat int) (list []string) {
	if boat == 0 {
		list = append(list, "lowest price")
	}
	if boat == a.Most {
		f := &e.Pack.Figures[e.Pack.Brief.Most]
		title := f.Short
		if title == "" {
			title = f.Title
		}
		list = append(list, "most "+strings.ToLower(title))
	}
	if boat == a.Soonest {
		list = append(list, "fewest build hours")
	}
	return list
}

// Verdict sums an answer up in a sentence.
func (a *Answer) Verdict() string {
	switch {
	case len(a.Boats) > 0 && a.Proved && a.Most < 0:
		return "No cheaper boat meets these needs: every combination searched was checked."
	case len(a.Boats) > 0 && a.Proved:
		return "No cheaper boat meets these needs, and none does more than the last: every combination searched was " +
			"checked."
	case len(a.Boats) > 0:
		return "These boats meet your needs; not every combination was checked, so a cheaper or a better one may exist."
	case a.Proved && len(a.Relaxations) > 0:
		return "No boat meets all of these needs: every combination searched was checked. Any one of these changes " +
			"would allow one:"
	case a.Proved:
		return "No boat meets all of these needs: every combination searched was checked. More than one need would " +
			"have to give way."
	}
	return "No boat was found that meets all of these needs; not every combination was checked."
}
