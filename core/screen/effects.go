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
	if v.Engine.Can(pack.Discounts) {
		text += ", before extra items and discounts"
	}
	text += "; the small numbers below show the change in performance and dimensions"
	if v.Engine.Can(pack.Hours) {
		text += " and in hours"
	}
	return P(Class("note"), g.Text(text+"."))
}

// netPrice is the difference in price that an option makes, or where it stands to the boat.
func (v *View) netPrice(status fit.Availability, x engine.Effect) string {
	switch {
	case status == fit.Chosen:
		return "selected"
	case status == fit.Forced:
		return "only choice"
	case status == fit.Blocked:
		return ""
	case x == nil:
		return "price not known"
	}
	return v.difference(x.Price())
}

// effects are the differences below a price; nil where nothing changes by as much as it is shown to. The id is of the
// option or repair.
func (v *View) effects(id string, x engine.Effect) g.Node {
	var figures []string
	var more g.Group
	for i, c := range v.shownColumns() {
		if x == nil || !x[i].Known {
			continue
		}
		switch c.Kind {
		case engine.InUnits:
			if text := v.figureEffect(&c, x[i].Number); text != "" {
				if len(figures) > 0 {
					text = lowerFirst(text)
				}
				figures = append(figures, text)
			}
		case engine.InHours:
			if node := v.hourEffects(id, x[i].ByShop); node != nil {
				more = append(more, node)
			}
		}
	}
	if len(figures)+len(more) == 0 {
		return nil
	}
	return Div(Class("effects"), ID("effects-"+id), g.If(len(figures) > 0, P(g.Text(strings.Join(figures, ", ")))),
		more)
}

// column is how a column of effects is shown.
type column struct {
	engine.Column
	title  string
	unit   measure.Unit
	digits int
}

func (v *View) shownColumns() []column {
	if v.columns == nil {
		for _, c := range v.Engine.Columns() {
			shown := column{Column: c}
			if c.Kind == engine.InUnits {
				f := &v.Engine.FigureList()[c.Figure]
				if shown.title, shown.digits = f.Short, f.Digits; f.Short == "" {
					shown.title = f.Title
				}
				shown.unit, _ = measure.UnitOf(f.Unit)
			}
			v.columns = append(v.columns, shown)
		}
	}
	return v.columns
}

// figureEffect is a figure's title with the difference, sign and unit; nothing where it does not change as it is shown.
func (v *View) figureEffect(c *column, by float64) string {
	value, symbol := c.unit.In(v.System, by)
	q, err := measure.FromFloat[measure.Quantity](value)
	if err != nil {
		return ""
	}
	text := signed(q.Fixed(c.digits))
	if text == "" {
		return ""
	}
	if symbol != "" {
		text += "\u00a0" + symbol
	}
	return c.title + "\u00a0" + text
}

// hourEffects are the hours that change, by shop where there are several; nil where none do.
func (v *View) hourEffects(id string, hours []measure.Hours) g.Node {
	var sum measure.Hours
	var parts []string
	for i, h := range hours {
		sum += h
		if text := signed(h.Fixed(1)); text != "" {
			parts = append(parts, fmt.Sprintf("%s\u00a0%s\u00a0h", v.Engine.Shops()[i].Title, text))
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
