package screen

import (
	"encoding/json"
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/spec"
)

// The hulls stand side by side, drawn to one scale, each with what its standard build costs and does in the use of the
// page: that is how people first tell boats apart.

// Cards are what was worked out of the hulls. A desk keeps them from view to view: they change with the use alone, and
// not with every choice.
type Cards struct {
	use      string // for which the answers are
	answers  []*engine.Answer
	outlines []string // by hull, in words of one system of units
	system   measure.System
}

// answer is the standard build of a hull in the use of the page; nil where there is none.
func (c *Cards) answer(v *View, hull int) *engine.Answer {
	hulls := v.pack().Hulls
	use, _ := json.Marshal(v.Answer.Spec.Use)
	if c.use != string(use) || c.answers == nil {
		c.use, c.answers = string(use), make([]*engine.Answer, len(hulls))
	}
	// a boat that nobody has changed is the standard build, and is not worked out again
	if s := &v.Answer.Spec; c.answers[hull] == nil && v.Answer.Hull == hull && len(v.Answer.Notes) == 0 &&
		len(s.Choices)+len(s.Extras)+len(s.Discounts) == 0 && s.TradeIn == nil {
		c.answers[hull] = v.Answer
	}
	if c.answers[hull] == nil {
		s := spec.Spec{Format: spec.Format, Hull: hulls[hull].ID, Use: v.Answer.Spec.Use}
		c.answers[hull], _ = v.Engine.Answer(s) // a hull that has no answer is offered without figures
	}
	return c.answers[hull]
}

// outline is the drawing of a hull.
func (c *Cards) outline(v *View, hull int, a *engine.Answer) string {
	if c.outlines == nil || c.system != v.System {
		c.system, c.outlines = v.System, make([]string, len(v.pack().Hulls))
	}
	if c.outlines[hull] == "" && a != nil {
		id := "-" + v.pack().Hulls[hull].ID
		p, err := look.Outline(v.Engine, a.Build, drawing.Format{Width: narrow, ID: id, System: v.System})
		if err != nil {
			return ""
		}
		c.outlines[hull] = p.SVG
	}
	return c.outlines[hull]
}

// hulls are the choice among them.
func (v *View) hulls() []g.Node {
	cards := v.Cards
	if cards == nil {
		cards = &Cards{}
	}
	var items []g.Node
	// In the book's order, which the yard chose, and not by price.
	for i, h := range v.pack().Hulls {
		a := cards.answer(v, i)
		items = append(items, Label(Class("hull"), For("hull-"+h.ID),
			Input(Type("radio"), Name("hull"), ID("hull-"+h.ID), Value(h.ID), g.If(i == v.Answer.Hull, Checked()),
				act("hull")),
			Span(Class("name"), g.Text(h.Title)), v.from(a),
			Span(Class("outline"), Aria("hidden", "true"), g.Raw(cards.outline(v, i, a))), // escaped by core/drawing
			noted(v.facts(i, a)), noted(h.Note)))
	}
	return []g.Node{FieldSet(Legend(H3(v.say("screen.hull"))), Div(Class("row"), g.Group(items)),
		v.closer("hull", v.pack().Hulls[v.Answer.Hull].Title, &v.pack().Hulls[v.Answer.Hull].Looks))}
}

// from is what the standard build of a hull costs; nothing where that is not known.
func (v *View) from(a *engine.Answer) g.Node {
	if a == nil {
		return nil
	}
	return Span(Class("from"), v.say("screen.hull-from", v.priced("price", a.Price.Total)))
}

// facts are what somebody asks of a hull first: how large, for how many, how far.
func (v *View) facts(hull int, a *engine.Answer) string {
	list := []msg.Message{msg.Plain(v.dimensions(hull))}
	if i := v.hullField(figures.HullPersons); i >= 0 {
		list = append(list, msg.New("screen.hull-persons", msg.Count("n", int(v.pack().Hulls[hull].Fields[i]))))
	}
	if a != nil {
		for _, f := range v.Engine.FigureValues(a.Build, v.System) {
			def := &v.Engine.FigureList()[v.figure(f.ID)]
			// By what it is computed from, and not by its name, which the book is free to choose.
			if def.Computed == string(figures.PowerRange) && def.Short != "" {
				list = append(list, msg.New("screen.effect", msg.Inside("figure", def.Short), msg.Words("by",
					f.Message())))
			}
		}
	}
	return v.Engine.Say("screen.effects", msg.List("effects", msg.Commas, list...))
}

// hullField is the index of a field of hulls; -1 where the book has it not.
func (v *View) hullField(id figures.HullField) int {
	for i, f := range v.pack().HullFields {
		if f.ID == string(id) {
			return i
		}
	}
	return -1
}

// figure is the index of a figure.
func (v *View) figure(id string) int {
	list := v.Engine.FigureList()
	for i := range list {
		if list[i].ID == id {
			return i
		}
	}
	return -1
}

// dimensions names the first hull fields of a hull that a buyer asks for: length and beam, as far as the book has them.
func (v *View) dimensions(hull int) string {
	text := ""
	for i, f := range v.pack().HullFields {
		if f.ID == string(figures.HullLength) || f.ID == string(figures.HullBeam) {
			unit, _ := measure.UnitOf(f.Unit)
			value, symbol := unit.In(v.System, v.pack().Hulls[hull].Fields[i])
			if text != "" {
				text += " × "
			}
			text += v.Engine.Language().Number(value, 2) + "\u00a0" + symbol
		}
	}
	return text
}
