// Package screen renders the page as HTML: every word and number that a person sees there. The page's own script only
// puts fragments where they belong. A fragment is the inside of the element with its id; only those that changed
// travel.
//
// The page is a specification sheet: a line for every slot, in build order, that opens to what else could stand there,
// and beside it the ledger of what the boat comes to. Elements that a person acts on carry data-act with what package
// desk understands.
package screen

import (
	"fmt"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// View is all that is shown.
type View struct {
	Engine      *engine.Engine
	Answer      *engine.Answer
	Asked       *Asked // why something cannot be had; nil where nobody asked
	Undo        string // what the last change was, to be taken back; "" for none
	System      measure.System
	Details     quote.Details
	Remarks     []string           // what the last change brought about
	Differences []quote.Difference // of a reopened quote
	Reopened    *quote.Quote
	Announced   string // beyond the remarks, to who listens
	Brief       Brief

	columns []column
	yard    *sheet.Yard
}

// Fragment is the inside of one element.
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

func (v *View) pack() *pack.Public { return v.Engine.Public() }

// element makes an element, placed one with a panel inside.
type (
	element func(...g.Node) g.Node
	placed  func(e element, id string, attributes ...g.Node) g.Node
)

// Page is the whole body for the first paint, with every panel in its place.
func (v *View) Page() string {
	html := map[string]string{}
	list := Panels(v.Engine)
	for _, p := range list {
		html[p.ID] = p.HTML(v)
	}
	in := func(element element, id string, attributes ...g.Node) g.Node { // rendered and escaped by the panel
		return element(ID(id), g.Attr("data-panel"), g.Group(attributes), g.Raw(html[id]))
	}
	at := func(id string, attributes ...g.Node) g.Node { return in(Div, id, attributes...) }
	return render([]g.Node{
		A(Class("skip"), Href("#sheet"), g.Attr("data-do", "go"), g.Text("Skip to the specification")),
		v.masthead(),
		v.notice(),
		Div(Class("layout"),
			Nav(ID("nav"), Aria("label", "Sections"), Ol(v.navigation(in)...)),
			Main(ID("sheet"), TabIndex("-1"),
				v.opener(),
				g.If(deals(v.Engine), at("reopened")),
				v.aside(),
				Section(Class("hulls"), Aria("label", "Hull"), at("hulls")),
				v.briefSection(at),
				at("profile", Class("drawing")),
				Details(Class("drawing"), ID("plan-details"), Summary(g.Text("Plan")), at("plan")),
				at("remarks", Role("status")),
				at("clashes", Role("status")),
				Details(Class("use"), ID("panel-use"),
					Summary(H2(g.Text("Intended use")),
						P(g.Text("How and where the boat will be used. Some choices follow from it."))),
					at("use")),
				v.effectsNote(),
				g.Map(v.sectionIndexes(), func(i int) g.Node { return v.section(i, in) }),
			),
			Aside(ID("side"), TabIndex("-1"), Aria("label", "Price and performance"),
				at("ledger"),
				v.actions(in(Span, "undo")),
				boxes(list, at),
			),
		),
		at("bar", Class("bar"), TabIndex("-1")),
		P(ID("live"), Class("unseen"), Aria("live", "polite")),
		paperDialog(),
		kept(),
		v.footer(),
	})
}

// boxes are the parts at the side that fold, each with its panels.
func boxes(list []Panel, at func(string, ...g.Node) g.Node) g.Node {
	var nodes g.Group
	for i := 0; i < len(list); {
		b := list[i].box
		if b == nil {
			i++
			continue
		}
		var inside g.Group
		for ; i < len(list) && list[i].box == b; i++ {
			inside = append(inside, at(list[i].ID, g.If(list[i].class != "", Class(list[i].class))))
		}
		nodes = append(nodes, Details(Class("panel"), ID(b.id), g.If(b.open, g.Attr("open")),
			Summary(g.Text(b.title)), inside))
	}
	return nodes
}

func (v *View) masthead() g.Node {
	y := v.pack().Yard
	return Header(Class("masthead"),
		P(Class("yard"), g.Text(y.Name)),
		P(Class("place"), g.Text(deskTitle(v.Engine.Desk()))),
		g.If(y.Note != "", P(Class("note"), g.Text(y.Note))),
		P(ID("state"), Class("state"), Role("status"), g.Attr("data-ready", "Works on this device; nothing is sent."),
			g.Attr("data-failed", "The prices could not be loaded. Check the connection and reload the page."),
			g.Attr("data-copied", "The link to this boat is copied."),
			g.Text("Loading prices. You can start choosing now.")),
	)
}

func deskTitle(d pack.Desk) string {
	return map[pack.Desk]string{pack.Buyer: "Specify your launch", pack.Show: "Quotation desk",
		pack.Yard: "Yard desk"}[d]
}

func (v *View) footer() g.Node {
	p := v.pack()
	return Footer(Class("foot"),
		g.Map(p.Cautions, func(c string) g.Node { return P(g.Text(c)) }),
		P(g.Textf("Price book %s of %s, %.12s.", p.Edition.Name, quote.Day(p.Edition.Date), p.Edition.Digest)),
	)
}

// actions are what can be done with the boat as a whole. The script knows them by their data-do.
func (v *View) actions(undo g.Node) g.Node {
	do := func(what, title string) g.Node { return Button(Type("button"), g.Attr("data-do", what), g.Text(title)) }
	return Div(Class("actions"),
		undo,
		do("link", "Copy link"),
		do("specification", "Print or save"),
		Button(Type("button"), g.Attr("data-do", "reset"), g.Attr("data-confirm", "Reset every item to standard?"),
			g.Text("Start again")),
		v.sheets(do("sheet", "Build sheet")),
	)
}

// sheets are the yard's: a choice of shop beside the button.
func (v *View) sheets(button g.Node) g.Node {
	if !v.Engine.Can(pack.Sheets) {
		return nil
	}
	return Span(Class("sheets"), button, Label(For("sheet-shop"), Class("unseen"), g.Text("Sheet for")),
		Select(ID("sheet-shop"), Option(Value(""), g.Text("of the whole boat")), g.Group(v.shops())))
}

// opener takes a quote or specification from a file, on the yard's own desks.
func (v *View) opener() g.Node {
	if !v.Engine.Can(pack.Quotations) {
		return nil
	}
	return P(Class("opener"), Label(For("open-file"), g.Text("Open a quotation or specification")),
		Input(Type("file"), ID("open-file"), Accept(".json,application/json"), g.Attr("data-do", "file")))
}

// aside is where the page lists the boats that it set aside. What it says is here; the list is the page's.
func (v *View) aside() g.Node {
	file := "set-aside.json"
	if v.Engine.Can(pack.Discounts) {
		file = "set-aside-for-the-yard.json" // it holds what a customer should not get
	}
	return Section(Class("aside"), ID("aside"), Aria("labelledby", "aside-title"), g.Attr("hidden"),
		g.Attr("data-open", "Open"), g.Attr("data-save", "Save as a file"), g.Attr("data-drop", "Delete"),
		g.Attr("data-confirm", "Delete this boat for good?"), g.Attr("data-file", file),
		H2(ID("aside-title"), g.Text("Set aside on this device")),
		P(Class("note"), g.Text("Another boat was opened while these were here. Nothing of them is lost.")),
		Ul(ID("aside-list")))
}

// paperDialog shows a paper, to print or to save.
func paperDialog() g.Node {
	return Dialog(ID("paper"), Aria("labelledby", "paper-title"),
		Header(H2(ID("paper-title")),
			Button(Type("button"), Class("main"), g.Attr("data-do", "print"), g.Text("Print")),
			Button(Type("button"), g.Attr("data-do", "close"), g.Text("Close"))),
		P(Class("files"), g.Text("Save: "), Span(ID("paper-files"))),
		IFrame(ID("paper-frame"), Title("The document as it prints")))
}

func (v *View) sectionIndexes() []int {
	list := make([]int, len(v.pack().Sections))
	for i := range list {
		list[i] = i
	}
	return list
}

func (v *View) navigation(in placed) []g.Node {
	return g.Map(v.sectionIndexes(), func(i int) g.Node {
		s := v.pack().Sections[i]
		return Li(A(Href("#section-"+s.ID), g.Attr("data-do", "go"), Span(Class("mark"), g.Textf("%d", i+1)),
			in(Span, "nav-"+s.ID)))
	})
}

// navEntry is a section's entry in the list of sections, with how many of its slots differ from the standard build.
func (v *View) navEntry(i int) []g.Node {
	changed := 0
	for s, def := range v.pack().Slots {
		if def.Section == i && v.differs(s) {
			changed++
		}
	}
	nodes := []g.Node{g.Text(v.pack().Sections[i].Title)}
	if changed > 0 {
		nodes = append(nodes, Span(Class("count"), Title(fmt.Sprintf("%d differ from the standard build", changed)),
			g.Textf(" +%d", changed)))
	}
	return nodes
}

func (v *View) section(i int, in placed) g.Node {
	sec := v.pack().Sections[i]
	var slots []g.Node
	for _, def := range v.pack().Slots {
		if def.Section == i {
			slots = append(slots, Details(Class("slot"), ID("slot-"+def.ID),
				Summary(ID("summary-"+def.ID), in(Span, "line-"+def.ID, Class("line"))),
				in(Div, "choices-"+def.ID, Class("choices"))))
		}
	}
	return Section(Class("section"), ID("section-"+sec.ID), TabIndex("-1"), Aria("labelledby", "title-"+sec.ID),
		H2(ID("title-"+sec.ID), Span(Class("mark"), Aria("hidden", "true"), g.Textf("%d", i+1)), g.Text(" "+sec.Title)),
		g.If(sec.Note != "", P(Class("note"), g.Text(sec.Note))),
		g.Group(slots))
}

// money writes an amount for a reader, with the currency.
func (v *View) money(a money.Amount) string {
	c := v.Engine.Pricing.Currency()
	return money.Priced(a.Fixed(c.Digits), c.Code, v.region())
}

// region is the identifier of the region where the boat goes; "" where the book has none.
func (v *View) region() string {
	if r := v.Answer.Price.Region; r != nil {
		return r.ID
	}
	return ""
}

// difference writes an amount with its sign, without the currency.
func (v *View) difference(a money.Amount) string {
	text := money.Grouped(a.Fixed(v.Engine.Pricing.Currency().Digits))
	if a.Sign() >= 0 {
		return "+" + text
	}
	return text
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
