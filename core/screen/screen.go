// Package screen renders the page as HTML: every word and number that a person sees there. The page's own script only
// puts fragments where they belong. A fragment is the inside of the element with its id; only those that changed
// travel.
//
// The page is a specification sheet: a line for every slot, in build order, that opens to what else could stand there,
// and beside it the ledger of what the boat comes to. Elements that a person acts on carry data-act with what package
// desk understands.
//
// Words are those of the language of the engine that a view holds (core/msg); titles and notes are the book's. All that
// reaches the page is escaped by the package that writes HTML, but for pictures, which core/drawing escapes, and
// panels, which are rendered here first. A view computes nothing of the boat by itself: it asks the answer and the
// engine.
package screen

import (
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// View is all that is shown.
type View struct {
	// the book, and the language of all words; all views of a desk share it
	Engine *engine.Engine
	Answer *engine.Answer
	Asked  *Asked // why something cannot be had; nil where nobody asked
	// the changes, oldest first, and what redo does again; "" for nothing
	Revisions []Revision
	Redo      string
	// in which figures are shown, and numbers typed that state no unit
	System measure.System
	// what stands in the form of the quotation
	Details     quote.Details
	Papers      string             // language of the customer's papers; "" for that of the page
	Remarks     []string           // what the last change brought about
	Differences []quote.Difference // of a reopened quote
	Reopened    *quote.Quote
	Verdict     quote.Verdict // of its signature, as the browser verified it
	Announced   string        // beyond the remarks, to who listens
	Brief       Brief
	Deals       Deals
	Mistyped    Mistyped
	Find        string           // what somebody looks for by its name
	Beside      []*engine.Answer // boats that are compared with this one
	Cards       *Cards           // nil: they are worked out anew

	// worked out once for all panels of a view
	columns []column
	yard    *sheet.Yard
}

// Mistyped is what was typed in a field of the use and could not be taken, and why.
type Mistyped struct{ Field, Text, Says string }

// Fragment is the inside of one element. It is sent whole: what is the smallest change of the page is not worth finding
// out, since the script keeps focus, typed text and what is unfolded.
type Fragment struct {
	ID   string `json:"id"`
	HTML string `json:"html"`
}

// Fragments renders every panel.
func (v *View) Fragments() []Fragment {
	var list []Fragment
	for _, p := range Panels(v.Engine) {
		list = append(list, Fragment{p.ID, p.HTML(v)})
	}
	return list
}

// pack is what every desk may read of the book. What costs and hours are is asked of the engine, which knows whether
// the desk has them.
func (v *View) pack() *pack.Public { return v.Engine.Public() }

// element makes an element, placed one with a panel inside.
type (
	element func(...g.Node) g.Node
	placed  func(e element, id string, attributes ...g.Node) g.Node
)

// Page is the whole body for the first paint, with every panel in its place. It is published with the standard build on
// it, so that a person reads while engine and book are on their way. Its order is that in which it is heard: the sheet
// before the price, and a link past the navigation first.
func (v *View) Page() string {
	html := map[string]string{}
	// each panel is rendered once: some draw a boat, or work out what an option changes
	list := Panels(v.Engine)
	for _, p := range list {
		html[p.ID] = p.HTML(v)
	}
	return v.body(html)
}

// body puts panels, each the inside of its element by identifier, where they belong.
func (v *View) body(html map[string]string) string {
	list := Panels(v.Engine)
	// The body is the same to the byte as what the fragments put together would be: the script relies on that when it
	// replaces the inside of one element after the other, and a test compares.
	in := func(element element, id string, attributes ...g.Node) g.Node { // rendered and escaped by the panel
		return element(ID(id), g.Attr("data-panel"), g.Group(attributes), g.Raw(html[id]))
	}
	at := func(id string, attributes ...g.Node) g.Node { return in(Div, id, attributes...) }
	pages := v.pages(list, in)
	return render([]g.Node{
		v.skips(),
		v.masthead(),
		v.notice(),
		Div(Class("desk"),
			Section(ID("board"), TabIndex("-1"), v.told("aria-label", "screen.board"),
				v.views(at),
				Div(Class("below"),
					Section(ID("changes"), v.told("aria-label", "screen.board-changes"), at("revisions")),
					Section(ID("block"), TabIndex("-1"), v.told("aria-label", "screen.block"),
						at("title-block"), v.actions()))),
			Div(Class("work"),
				v.navigation(pages, in),
				Main(ID("sheet"), TabIndex("-1"),
					v.search(), at("found"),
					Div(Class("answers"), at("remarks", Role("status")), at("clashes", Role("status"), TabIndex("-1"))),
					g.If(discounted(v.Engine), at("reopened")),
					laid(pages)))),
		at("bar", Class("bar"), TabIndex("-1")),
		P(ID("live"), Class("unseen"), Aria("live", "polite")),
		v.paperDialog(),
		v.meanings(),
		kept(),
		v.footer(),
	})
}

// skips lead past what repeats, to the four places where somebody goes who hears the page: the drawing, the choices,
// the price and what can be done.
func (v *View) skips() g.Node {
	skip := func(to string, title msg.Code) g.Node {
		return A(Class("skip"), Href("#"+to), g.Attr("data-do", "go"), v.say(title))
	}
	return g.Group{skip("nav", "screen.skip"), skip("board", "screen.skip-drawing"), skip("block",
		"screen.skip-block"),
		skip("actions", "screen.skip-actions")}
}

// views are the drawings. One of them is large; the others are small and change places with it by a press.
func (v *View) views(at func(string, ...g.Node) g.Node) g.Node {
	view := func(id string, title msg.Code, large bool, drawing g.Node) g.Node {
		return Figure(Class("view"), ID("view-"+id), g.If(large, g.Attr("data-large")),
			drawing,
			FigCaption(button(g.Attr("data-do", "view"), g.Attr("data-key", "view-"+id),
				Aria("pressed", strconv.FormatBool(large)), v.say(title))))
	}
	flat := func(id string, title msg.Code) g.Node { return view(id, title, false, at(id, Class("drawing"))) }
	return Div(Class("views"), view("solid", "screen.view-solid", true, v.stage(at)),
		flat("profile", "screen.view-profile"), flat("plan", "screen.view-plan"),
		flat("sections", "screen.view-sections"))
}

// masthead names the yard and the desk, and says how the page stands. What the script has to say, when the engine is
// ready or cannot be had, lies beside that in data attributes: the script holds no words of any language.
func (v *View) masthead() g.Node {
	// the desk is named beside the yard: one machine may have several of them open
	y := v.pack().Yard
	return Header(Class("masthead"),
		P(Class("yard"), g.Text(y.Name)),
		P(Class("place"), g.Text(v.place())),
		v.firm(),
		g.If(y.Note != "", note(g.Text(y.Note))),
		v.languages(),
		g.If(quotes(v.Engine), button(ID("face"), g.Attr("data-do", "face"), Aria("pressed", "false"),
			v.say("screen.face"))),
		P(ID("state"), Class("state"), Role("status"), v.told("data-ready", "screen.ready"),
			v.told("data-restarted", "screen.restarted", blank("reason")),
			v.told("data-copied", "screen.copied"),
			v.told("data-coming", "screen.loading-bytes", blank("got"), blank("total")),
			v.told("data-early", "screen.early"),
			v.say("screen.loading")),
		NoScript(P(Class("state"), g.Attr("data-kind", "error"), v.say("screen.no-script"))),
	)
}

// firm is whose desk it is, on a dealer's: he has a page of his own, and may have two sites open.
func (v *View) firm() g.Node {
	if d := v.Engine.Dealer(); d != nil {
		return note(g.Text(d.Firm))
	}
	return nil
}

// blank is an argument that the page's script fills in: it stands in the text as {name}.
func blank(name string) msg.Arg { return msg.Text(name, "{"+name+"}") }

// place is what this desk is for, as a heading.
func (v *View) place() string {
	return v.Engine.Say("screen.place", msg.Choice("desk", string(v.Engine.Desk().Kind())))
}

// Title is that of the document, by which a person tells the desks apart among the tabs of a browser.
func (v *View) Title() string {
	return v.Engine.Say("screen.title", msg.Text("yard", v.pack().Yard.Name), msg.Text("place", v.place()))
}

// Tag is the language of the page, as BCP 47 names it: a screen reader speaks by it.
func (v *View) Tag() string { return v.Engine.Language().Tag() }

// footer has the cautions once more, below all that they are about, and the edition, by which the yard knows whose
// prices somebody speaks of.
func (v *View) footer() g.Node {
	p := v.pack()
	return Footer(Class("foot"),
		g.Map(p.Cautions, func(c string) g.Node { return P(g.Text(c)) }),
		P(v.say("screen.edition", msg.Text("edition", p.Edition.Name), msg.Date("date", p.Edition.Date),
			msg.Text("digest", p.Edition.Digest[:min(12, len(p.Edition.Digest))]))),
		g.Iff(p.Edition.Until != "", func() g.Node {
			return P(v.say("screen.edition-until", msg.Date("day", p.Edition.Until)))
		}))
}

// actions are what can be done with the boat as a whole. The script knows them by their data-do.
func (v *View) actions() g.Node {
	do := func(what string, title msg.Code) g.Node { return button(g.Attr("data-do", what), v.say(title)) }
	return Div(Class("actions"), ID("actions"), TabIndex("-1"),
		do("link", "screen.copy-link"),
		do("specification", "screen.print"),
		button(g.Attr("data-do", "reset"), v.told("data-confirm", "screen.reset-confirm"), v.say("screen.reset")),
		Span(ID("saved"), Class("saved"), Role("status")),
	)
}

// sheets are the yard's: a choice of shop beside the button.
func (v *View) sheets() g.Node {
	if !v.Engine.Can(pack.Sheets) {
		return nil
	}
	return Div(Class("sheets"), button(g.Attr("data-do", "sheet"), v.say("screen.build-sheet")),
		Label(For("sheet-shop"), Class("unseen"), v.say("screen.sheet-for")),
		Select(ID("sheet-shop"), option("", false, v.say("screen.sheet-whole")), g.Group(v.shops())))
}

// opener takes a quote or specification from a file, on the yard's own desks.
func (v *View) opener() g.Node {
	if !v.Engine.Can(pack.Quotations) {
		return nil
	}
	return P(Class("opener"), Label(For("open-file"), v.say("screen.open-file")),
		Input(Type("file"), ID("open-file"), Accept(".json,application/json"), g.Attr("data-do", "file")))
}

// paperDialog shows a paper, to print or to save. The paper stands in a frame, since it has a style of its own and is
// printed without the page around it.
func (v *View) paperDialog() g.Node {
	return Dialog(ID("paper"), Aria("labelledby", "paper-title"),
		Header(H2(ID("paper-title")),
			button(Class("main"), g.Attr("data-do", "print"), v.say("screen.paper-print")),
			button(g.Attr("data-do", "close"), v.say("screen.paper-close"))),
		P(Class("files"), v.say("screen.paper-save"), g.Text(" "), Span(ID("paper-files"))),
		IFrame(ID("paper-frame"), v.told("title", "screen.paper-frame")))
}

// navEntry is a section's entry in the list of sections, with how many of its slots differ from the standard build:
// that is where the choices of this boat are found again.
func (v *View) navEntry(i int) []g.Node {
	// by slot and not by option, as people count what they chose: of ten cushions one may be another, and that is one
	// change
	changed := 0
	for s, def := range v.pack().Slots {
		if def.Section == i && v.differs(s) {
			changed++
		}
	}
	nodes := []g.Node{g.Text(v.pack().Sections[i].Title)}
	if changed > 0 {
		n := msg.Count("n", changed)
		nodes = append(nodes,
			Span(Class("count"), v.told("title", "screen.differ", n), g.Text(" +"+strconv.Itoa(changed))))
	}
	return nodes
}

// differs says whether a slot holds other things than in the standard build.
func (v *View) differs(slot int) bool {
	def := &v.pack().Slots[slot]
	for o := def.First; o < def.End; o++ {
		if v.Answer.Build.State.Counts[o] != v.Answer.Standard.State.Counts[o] {
			return true
		}
	}
	return false
}
