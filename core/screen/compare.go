package screen

import (
	"slices"
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/msg"
)

// Boats side by side: the boat on the page and those that were set beside it, drawn on one water to one scale, with
// what they cost and do, and in which slots they are not alike.

// MostBeside is how many boats may be set beside the one on the page: three columns are read at a glance, and fit a
// page.
const MostBeside = 2

// beside is the whole comparison; how to begin one where no boat was set beside.
func (v *View) beside() []g.Node {
	// Always the boat on the page: it is copied there, and the person goes on with this one.
	add := button(ID("set-beside"), act("beside-add"), v.say("screen.beside-add"))
	if len(v.Beside) == 0 {
		return []g.Node{note(v.say("screen.beside-none")), add}
	}
	boats := slices.Concat([]*engine.Answer{v.listed()}, v.Beside)
	return []g.Node{
		// wider than a telephone: it scrolls by itself, also by keyboard
		Div(Class("beside"), Role("region"), TabIndex("0"), v.told("aria-label", "screen.beside"),
			Table(v.besideHead(boats), TBody(g.Group(v.besideRows(boats))))),
		g.If(len(v.Beside) < MostBeside, add)}
}

// listed is the boat on the page without what a salesperson added: list prices are compared with list prices.
func (v *View) listed() *engine.Answer {
	boat := v.Answer.Spec.Boat()
	if slices.Equal(boat.Encode(), v.Answer.Spec.Encode()) {
		return v.Answer
	}
	a, err := v.Engine.Answer(boat)
	if err != nil { // a boat that can be answered can be without its deal
		return v.Answer
	}
	return a
}

// besideHead has a drawing of each boat, and what can be done with it.
func (v *View) besideHead(boats []*engine.Answer) g.Node {
	// The drawings have a row of their own, so that all of them lie on one water whatever stands below.
	drawn, doing := []g.Node{Td()}, []g.Node{Td()}
	for i, a := range boats {
		title := v.pack().Hulls[a.Hull].Title
		does := g.Node(note(v.say("screen.beside-this")))
		if i > 0 {
			key := strconv.Itoa(i - 1)
			// which of two alike a button is about, says its number
			which := msg.Text("boat", strconv.Itoa(i+1)+", "+title)
			does = Div(Class("actions"),
				button(ID("beside-take-"+key), act("beside-take", "key", key), v.told("aria-label",
					"screen.beside-take-this", which), v.say("screen.beside-take")),
				button(ID("beside-remove-"+key), act("beside-remove", "key", key), v.told("aria-label",
					"screen.beside-remove-this", which), v.say("screen.beside-remove")))
		}
		drawn = append(drawn, Th(g.Attr("scope", "col"), v.besideOutline(i, a),
			Span(Class("name"), g.Text(strconv.Itoa(i+1)+". "+title))))
		doing = append(doing, Td(does))
	}
	return THead(Tr(drawn...), Tr(doing...))
}

// besideOutline is one boat on the water that all of them lie on.
func (v *View) besideOutline(i int, a *engine.Answer) g.Node {
	p, err := look.Outline(v.Engine, a.Build, drawing.Format{Width: narrow, ID: "-beside-" + strconv.Itoa(i),
		System: v.System})
	if err != nil {
		return nil // its words still say which it is
	}
	return Span(Class("outline"), Aria("hidden", "true"), g.Raw(p.SVG)) // escaped by core/drawing
}

// besideRows are the price, the figures that the book compares, and the slots in which the boats are not alike.
func (v *View) besideRows(boats []*engine.Answer) []g.Node {
	row := func(title g.Node, class string, cell func(a *engine.Answer) string) g.Node {
		return Tr(Th(g.Attr("scope", "row"), title), g.Map(boats, func(a *engine.Answer) g.Node {
			return Td(Class(class), g.Text(cell(a)))
		}))
	}
	// The same words and numbers as in the title block and on the lines, of the same computations.
	rows := []g.Node{row(v.say("screen.block-price"), "number", func(a *engine.Answer) string {
		if len(a.Build.Clashes) > 0 { // a price of what cannot be built promises too much
			return v.Engine.Say("screen.bar-clashes")
		}
		return v.money(a.Price.Total)
	})}
	for i := range v.Engine.FigureList() {
		def := &v.Engine.FigureList()[i]
		if !def.Compared || def.Hidden {
			continue
		}
		rows = append(rows, row(g.Text(def.Title), "number", func(a *engine.Answer) string {
			return v.Engine.Text(v.Engine.FigureValue(a.Build.State, i, v.System).Message())
		}))
	}
	for s := range v.pack().Slots {
		// By what is said and not by identifiers: two that read alike are alike to who compares.
		held := func(a *engine.Answer) string { return v.pack().Contents(a.Build.State.Counts, s) }
		if !slices.ContainsFunc(boats, func(a *engine.Answer) bool { return held(a) != held(boats[0]) }) {
			continue // what is alike says nothing
		}
		rows = append(rows, row(A(Href("#slot-"+v.pack().Slots[s].ID), g.Attr("data-do", "go"),
			g.Text(v.pack().Slots[s].Title)), "", func(a *engine.Answer) string {
			switch {
			case !v.Engine.Exists(s, a.Hull):
				return v.Engine.Say("screen.not-on-hull")
			case held(a) == "":
				return v.Engine.Say("screen.none")
			}
			return held(a)
		}))
	}
	return rows
}
