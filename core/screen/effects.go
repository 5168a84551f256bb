package screen

import (
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
)

// What a choice makes of the whole boat: its price beside the option, and below it the figures that the book has
// compared, and the hours.

// effectsNote says once what the numbers beside the options mean. Which price, and whether hours are among them,
// depends on what the desk can do.
func (v *View) effectsNote() g.Node {
	prices, hours := "list", "without"
	if v.Engine.Can(pack.Discounts) {
		prices = "before"
	}
	if v.Engine.Can(pack.Hours) {
		hours = "with"
	}
	return note(v.say("screen.effects-note", msg.Choice("prices", prices), msg.Choice("hours", hours)))
}

// netPrice is the difference in price that an option makes, or where it stands to the boat. What is blocked has no
// price: the one of the nearest boat with it would be that of other choices.
func (v *View) netPrice(status fit.Availability, x engine.Effect) string {
	switch {
	case status == fit.Chosen:
		return v.Engine.Say("screen.selected")
	case status == fit.Forced:
		return v.Engine.Say("screen.only-choice")
	case unavailable(status):
		return ""
	case x == nil:
		return v.Engine.Say("screen.price-not-known")
	}
	return v.difference(x.Price())
}

// effects are the differences below a price; nil where nothing changes by as much as it is shown to. The id is of the
// option or repair. Nearly every option changes the mass by some grams: only what can be seen in the figures is said.
func (v *View) effects(id string, x engine.Effect) g.Node {
	var figures []msg.Message
	var more g.Group
	for i, c := range v.shownColumns() {
		// a boat that does not float has a price and no range: such a figure is left out and not shown as zero
		if x == nil || !x[i].Known {
			continue
		}
		switch c.Kind {
		case engine.InUnits:
			if by := v.figureChange(&c, x[i].Number); by != "" {
				// one line for all figures: only its first word has a capital
				name := msg.Text("figure", c.title)
				if len(figures) > 0 { // it goes on with the line
					name = msg.Inside("figure", c.title)
				}
				figures = append(figures, msg.New("screen.effect", name, msg.Text("by", by)))
			}
		// the price is a column too, and stands beside the option's name
		case engine.InHours:
			if node := v.hourEffects(id, x[i].ByShop); node != nil {
				more = append(more, node)
			}
		case engine.InDays:
			if by := v.signed(strconv.Itoa(int(x[i].Number))); by != "" {
				more = append(more, P(Class("private"), v.say("screen.effect-launch", msg.Text("by", by),
					msg.Count("days", max(int(x[i].Number), -int(x[i].Number))))))
			}
		}
	}
	if len(figures)+len(more) == 0 {
		return nil
	}
	return Div(Class("effects"), ID("effects-"+id),
		g.If(len(figures) > 0, P(v.say("screen.effects", msg.List("effects", msg.Commas, figures...)))), more)
}

// column is how a column of effects is shown. The view makes them once: hundreds of options are shown by the same.
type column struct {
	engine.Column
	title  string
	unit   measure.Unit
	digits int
}

// shownColumns are the columns of the engine as this view shows them. A figure has a short title in the book where its
// own is too long to stand beside every option.
func (v *View) shownColumns() []column {
	if v.columns == nil {
		for _, c := range v.Engine.Columns() {
			shown := column{Column: c}
			if c.Kind == engine.InUnits {
				f := &v.Engine.FigureList()[c.Figure]
				if shown.title, shown.digits = f.Short, f.Digits; f.Short == "" {
					shown.title = f.Title
				}
				shown.unit = measure.Named(f.Unit)
			}
			v.columns = append(v.columns, shown)
		}
	}
	return v.columns
}

// figureChange is the difference of a figure with sign and unit, in the units of the page and with the digits of the
// figure; "" where it does not change as it is shown.
func (v *View) figureChange(c *column, by float64) string {
	// Rounded as a decimal and not as a float, so that the difference is shown as the two figures beside it are.
	value, in := c.unit.In(v.System, by)
	q, err := measure.FromFloat[measure.Quantity](value)
	if err != nil {
		return ""
	}
	change := v.signed(q.Fixed(c.digits))
	if symbol := measure.SymbolOf(in); change != "" && symbol != "" {
		change += "\u00a0" + symbol
	}
	return change
}

// hourEffects are the hours that change, by shop where there are several; nil where none do.
func (v *View) hourEffects(id string, hours []measure.Hours) g.Node {
	var sum measure.Hours
	var parts []msg.Message
	for i, h := range hours {
		sum += h
		if by := v.signed(h.Fixed(1)); by != "" {
			parts = append(parts, msg.New("screen.effect-hours", msg.Text("shop", v.Engine.Shops()[i].Title),
				msg.Text("by", by)))
		}
	}
	switch len(parts) {
	case 0:
		return nil
	case 1:
		return P(Class("private"), v.text(parts[0]))
	}
	// the sum in the line that opens; the shops inside
	total := v.signed(sum.Fixed(1))
	if total == "" { // what one shop has more, another has less
		total = "0"
	}
	return Details(Class("private"), ID("hours-"+id), Summary(v.say("screen.effect-all-hours", msg.Text("by", total))),
		P(v.say("screen.effects", msg.List("effects", msg.Commas, parts...))))
}
