package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/msg"
)

// The title block is the corner of the drawing that says what it shows: the boat, who draws it, what it comes to and
// what it does, and of which edition that is (fields in the manner of ISO 7200, from memory).

// titleBlock is that of the boat on the page. The price leads to how it comes about, a figure to how it is computed.
func (v *View) titleBlock() []g.Node {
	p, s := v.pack(), v.Answer.Price
	cell := func(class, title string, content ...g.Node) g.Node {
		return Div(Class(class), Dt(v.explained(title)), Dd(content...))
	}
	nodes := []g.Node{
		cell("boat", v.Engine.Say("screen.block-boat"), Strong(g.Text(v.hullTitle())), v.state()),
		cell("price", v.Engine.Say("screen.block-price"),
			A(Class("sum"), ID("total"), Href("#page-price"), g.Attr("data-do", "go"), g.Text(v.money(s.Total))),
			noted(v.taxNote(false))),
	}
	// the figures that the book compares are those that a buyer asks for
	for _, f := range v.Engine.FigureValues(v.Answer.Build, v.System) {
		def := &v.Engine.FigureList()[v.figure(f.ID)]
		if !def.Compared {
			continue
		}
		// A field of a title block is a hand broad: the book's short name is meant for it.
		title := def.Short
		if title == "" {
			title = f.Title
		}
		// what has to be read beside a value needs the whole breadth of the block
		class := "figure"
		if f.State == engine.AtLeast || len(f.Notes) > 0 {
			class += " noted"
		}
		nodes = append(nodes, cell(class, title,
			A(Href("#figure-"+f.ID), g.Attr("data-do", "go"), v.text(f.Message()))))
	}
	return []g.Node{Dl(append(nodes,
		cell("drawn", v.Engine.Say("screen.block-yard"), g.Text(p.Yard.Name)),
		cell("as-of", v.Engine.Say("screen.block-edition"), v.say("screen.block-edition-of",
			msg.Text("edition", p.Edition.Name), msg.Date("date", p.Edition.Date))))...)}
}

// state is a word on whether the boat can be built: what stands in the way is told above the choices.
func (v *View) state() g.Node {
	if n := len(v.Answer.Build.Clashes); n > 0 {
		return A(Class("fault"), Href("#clashes"), g.Attr("data-do", "go"), v.say("screen.bar-clashes"))
	}
	// A fault comes before the count: a boat that cannot be built is not a changed boat.
	if n := v.changes(); n > 0 {
		return A(Class("note"), Href("#panel-differences"), g.Attr("data-do", "go"), v.say("screen.block-changed",
			msg.Count("n", n)))
	}
	return Span(Class("note"), v.say("screen.block-standard"))
}

// changes is in how many slots the boat differs from the standard build.
func (v *View) changes() (n int) {
	for s := range v.pack().Slots {
		if v.differs(s) {
			n++
		}
	}
	return n
}
