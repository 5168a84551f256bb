package screen

import (
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
)

// What a choice makes of the whole boat: its price beside the option, and below it the figures that the book has
// compared, and the hours.

// effectsNote says once what the numbers beside the options mean.
func (v *View) effectsNote() g.Node {
	text := "Prices show the change in the total, with everything the option adds or removes"
	if v.pack().Can(pack.Discounts) {
		text += ", before extra items and discounts"
	}
	text += "; the small numbers below show the change in performance and dimensions"
	if v.pack().Can(pack.Hours) {
		text += " and in hours"
	}
	return P(Class("note"), g.Text(text+"."))
}

// netPrice is the difference in price that an option makes, or where it stands to the boat.
func (v *View) netPrice(status fit.Availability, n *engine.Effect) string {
	switch {
	case status == fit.Chosen:
		return "selected"
	case status == fit.Forced:
		return "only choice"
	case status == fit.Blocked:
		return ""
	case n == nil:
		return "price not known"
	}
	return v.difference(n.Price)
}

// effects are the differences below a price; nil where nothing changes by as much as it is shown to. The id is of the
// option or repair.
func (v *View) effects(id string, n *engine.Effect) g.Node {
	if n == nil {
		return nil
	}
	figures, hours := v.figureEffects(n), v.hourEffects(id, n.Hours)
	if figures == "" && hours == nil {
		return nil
	}
	return Div(Class("effects"), ID("effects-"+id), g.If(figures != "", P(g.Text(figures))), hours)
}

// compared is a figure that the book has compared.
type compared struct {
	title  string
	unit   measure.Unit
	digits int
}

func (v *View) comparedFigures() []compared {
	if v.compared == nil {
		for _, i := range v.Engine.Compared() {
			f := &v.pack().Figures[i]
			c := compared{title: f.Short, digits: f.Digits}
			if c.title == "" {
				c.title = f.Title
			}
			c.unit, _ = measure.UnitOf(f.Unit)
			v.compared = append(v.compared, c)
		}
	}
	return v.compared
}

// figureEffects names the compared figures that change, with sign and unit.
func (v *View) figureEffects(n *engine.Effect) string {
	var b strings.Builder
	for j, c := range v.comparedFigures() {
		value, symbol := c.unit.In(v.System, n.Figures[j])
		q, err := measure.FromFloat[measure.Quantity](value)
		if err != nil { // it is not known
			continue
		}
		text := signed(q.Fixed(c.digits))
		if text == "" {
			continue
		}
		title := c.title
		if b.Len() > 0 {
			b.WriteString(", ")
			title = lowerFirst(title)
		}
		b.WriteString(title + "\u00a0" + text)
		if symbol != "" {
			b.WriteString("\u00a0" + symbol)
		}
	}
	return b.String()
}

// hourEffects are the hours that change, by shop where there are several; nil on all desks but the yard's.
func (v *View) hourEffects(id string, hours []measure.Hours) g.Node {
	var sum measure.Hours
	var parts []string
	for i, h := range hours {
		sum += h
		if text := signed(h.Fixed(1)); text != "" {
			parts = append(parts, fmt.Sprintf("%s\u00a0%s\u00a0h", v.pack().Costs.Shops[i].Title, text))
		}
	}
	switch len(parts) {
	case 0:
		return nil
	case 1:
		return P(g.Text(parts[0]))
	}
	total := signed(sum.Fixed(1))
	if total == "" {
		total = "0"
	}
	return Details(ID("hours-"+id), Summary(g.Text("Hours\u00a0"+total)), P(g.Text(strings.Join(parts, ", "))))
}

// signed writes a decimal with its sign; nothing for zero.
func signed(decimal string) string {
	switch {
	case !strings.ContainsAny(decimal, "123456789"):
		return ""
	case decimal[0] == '-':
		return money.Grouped(decimal)
	}
	return "+" + money.Grouped(decimal)
}
