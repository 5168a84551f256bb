package brief

import (
	"fmt"
	"strconv"
	"strings"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
)

// Words say a wish with its amount: "Range at that speed: at least 25 nm".
func Words(e *quote.Engine, w *pack.Wish, v Value) string {
	switch w.Kind {
	case pack.WishNeed:
		return w.Title
	case pack.WishPrice:
		if a, err := v.Money(); err == nil {
			return fmt.Sprintf("%s: at most %s", w.Title, Amount(e, a))
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
	text := strconv.FormatFloat(v, 'f', -1, 64)
	u, _ := measure.UnitOf(unit)
	if _, symbol := u.In(measure.Metric, v); symbol != "" {
		text += "\u00a0" + symbol
	}
	return text
}

// Amount writes money with its currency.
func Amount(e *quote.Engine, a money.Amount) string {
	c := e.Pricing.Currency()
	return c.Code + "\u00a0" + money.Grouped(a.Fixed(c.Digits))
}

// Words say how a wish gives way: "Cruising speed: 4.5 kn in place of 7 kn".
func (r *Relaxation) Words(e *quote.Engine) string {
	w := &e.Pack.Brief.Wishes[r.Wish]
	if r.Left {
		return "without: " + w.Title
	}
	return Words(e, w, r.To)
}

// Merits say in what none of the boats is better than one: "the cheapest, most range".
func (a *Answer) Merits(e *quote.Engine, boat int) (list []string) {
	if boat == 0 {
		list = append(list, "the cheapest")
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
		return "Nothing cheaper does all of that: every way in the slots that are tried out was looked at."
	case len(a.Boats) > 0 && a.Proved:
		return "Nothing cheaper does all of that, and nothing goes beyond the last: every way in the slots that are tried out was looked at."
	case len(a.Boats) > 0:
		return "These boats do all of that; whether there are cheaper ones, or some that do more, was not tried to the end."
	case a.Proved && len(a.Relaxations) > 0:
		return "No boat does all of that: every way in the slots that are tried out was looked at. Any one of these changes would allow one:"
	case a.Proved:
		return "No boat does all of that: every way in the slots that are tried out was looked at. More than one wish would have to give way."
	}
	return "No boat was found that does all of that; not every way was tried."
}
