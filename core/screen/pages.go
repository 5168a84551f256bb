package screen

import (
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
)

// The specification lies beside the drawing in pages, one in view at a time: the boat as a whole first, the sections of
// the book in build order, then what the boat does and comes to, and what a desk does with it. All of them are in the
// document, so that a search of the browser and a printed page have everything.

// page is one of them.
type page struct {
	id    string
	title string
	mark  string // the number of a section; "" for another page
	count string // the panel with what stands behind the title; "" for none
	body  g.Node
	// not to be seen while the screen is turned to a customer: what the yard knows, and what is of other customers
	private bool
}

// pageOf has the title of a message.
func (v *View) pageOf(id string, title msg.Code, body ...g.Node) page {
	return page{id: "page-" + id, title: v.Engine.Say(title), body: g.Group(body)}
}

// pages are those of the desk, in their order.
func (v *View) pages(list []Panel, in placed) []page {
	at := func(id string, attributes ...g.Node) g.Node { return in(Div, id, attributes...) }
	pages := []page{v.pageOf("boat", "screen.page-boat",
		Section(Class("hulls"), v.told("aria-label", "screen.hull"), at("hulls")),
		v.briefSection(at),
		Details(Class("use"), ID("panel-differences"), Summary(H3(v.say("screen.differences")),
			P(v.say("screen.differences-note"))), at("differences")),
		Details(Class("use"), ID("panel-beside"), Summary(H3(v.say("screen.beside")), P(v.say("screen.beside-note"))),
			at("beside")),
		Details(Class("use"), ID("panel-use"), Summary(H3(v.say("screen.use")), P(v.say("screen.use-note"))),
			at("use")))}
	for i := range v.pack().Sections {
		pages = append(pages, v.section(i, in))
	}
	pages = append(pages, v.pageOf("figures", "screen.box-figures", v.boxes(list, "figures", at)),
		v.pageOf("price", "screen.page-price", at("ledger"), v.boxes(list, "price", at)))
	if quotes(v.Engine) {
		pages = append(pages, v.pageOf("customer", "screen.box-customer", v.boxes(list, "customer", at)))
	} else {
		pages = append(pages, v.pageOf("enquiry", "screen.enquiry", v.enquiry()))
	}
	if sheets(v.Engine) {
		work := v.pageOf("work", "screen.page-work", v.sheets(), v.boxes(list, "work", at))
		work.private = true
		pages = append(pages, work)
	}
	records := msg.Code("screen.deals-boats")
	if quotes(v.Engine) {
		records = "screen.deals-quotations"
	}
	kept := v.pageOf("records", records, v.opener(), v.dealsSection(at))
	kept.private = quotes(v.Engine)
	return append(pages, kept)
}

// navigation are the links to the pages. Sections are numbered, so that two people on the telephone find the same.
func (v *View) navigation(pages []page, in placed) g.Node {
	return Nav(ID("nav"), v.told("aria-label", "screen.sections"), Ol(g.Map(pages, func(p page) g.Node {
		title := g.Node(g.Text(p.title))
		if p.count != "" {
			title = in(Span, p.count)
		}
		return Li(g.If(p.private, Class("private")), A(Href("#"+p.id), g.Attr("data-do", "go"), g.If(p.id == firstPage,
			Aria("current", "true")),
			g.If(p.mark != "", Span(Class("mark"), g.Text(p.mark))), title))
	})))
}

// firstPage is in view before anything is chosen.
const firstPage = "page-boat"

// laid are the pages as they lie in the document. Those that are not in view are hidden so that a search of the browser
// still finds what is in them, and shows it.
func laid(pages []page) g.Node {
	return g.Map(pages, func(p page) g.Node {
		class := "page"
		if p.private {
			class += " private"
		}
		return Section(Class(class), ID(p.id), TabIndex("-1"), Aria("labelledby", "title-"+p.id),
			g.If(p.id != firstPage, g.Attr("hidden", "until-found")),
			H2(ID("title-"+p.id), g.If(p.mark != "", Span(Class("mark"), Aria("hidden", "true"), g.Text(p.mark+" "))),
				g.Text(p.title)), p.body)
	})
}

// section is a page of the book: a folded element for each slot stays, and only the line and the choices inside are
// rendered anew. So what a person unfolded stays open while the boat changes.
func (v *View) section(i int, in placed) page {
	sec := v.pack().Sections[i]
	var slots []g.Node
	number := 0
	for _, def := range v.pack().Slots {
		if def.Section == i {
			number++
			slots = append(slots, Details(Class("slot"), ID("slot-"+def.ID),
				Summary(ID("summary-"+def.ID), Span(Class("item"), g.Text(itemNumber(i, number))),
					in(Span, "line-"+def.ID, Class("line"))),
				in(Div, "choices-"+def.ID, Class("choices"))))
		}
	}
	return page{id: "section-" + sec.ID, title: sec.Title, mark: strconv.Itoa(i + 1), count: navID(v.pack(), i),
		body: g.Group{g.If(sec.Note != "", note(g.Text(sec.Note))), v.effectsNote(), g.Group(slots)}}
}

// itemNumber is the number of a slot within its section, by which drawing and specification name it.
func itemNumber(section, slot int) string { return strconv.Itoa(section+1) + "." + strconv.Itoa(slot) }

// itemOf is the number of a slot by its identifier; "" for none of the book.
func (v *View) itemOf(slot string) string {
	// Counted and not kept: a slot that the owner inserts moves the numbers behind it, on page and paper alike.
	numbers := make([]int, len(v.pack().Sections)) // of the slots so far, by section
	for _, def := range v.pack().Slots {
		numbers[def.Section]++
		if def.ID == slot {
			return itemNumber(def.Section, numbers[def.Section])
		}
	}
	return ""
}

// box is a part of a page that folds, or its whole where it is alone. Several panels may share one.
type box struct {
	id    string
	page  string
	title msg.Code
	open  bool
	alone bool // the page has its title and nothing else
	// see page.private
	private bool
}

// The boxes. What a person reads most stands open; the script keeps what is folded as it is.
var (
	hoursBox     = box{"hours-details", "work", "screen.box-hours", true, false, false}
	storesBox    = box{"stores-details", "work", "screen.box-stores", false, false, false}
	loomBox      = box{"loom-details", "work", "screen.box-loom", false, false, false}
	pricesBox    = box{"prices-details", "work", "screen.box-prices", false, false, false}
	figuresBox   = box{"figures-details", "figures", "screen.box-figures", true, true, false}
	earliestBox  = box{"earliest-details", "price", "screen.box-launch", true, false, false}
	discountsBox = box{"discounts-details", "price", "screen.box-deal", true, false, true}
	dealerBox    = box{"discounts-details", "price", "screen.box-dealer", true, false, true}
	customerBox  = box{"customer-details", "customer", "screen.box-customer", true, true, false}
)

// boxes are those of a page, each with its panels, which follow each other in the list of panels.
func (v *View) boxes(list []Panel, page string, at func(string, ...g.Node) g.Node) g.Node {
	var nodes g.Group
	for i := 0; i < len(list); {
		b := list[i].box
		if b == nil || b.page != page {
			i++
			continue
		}
		var inside g.Group
		for ; i < len(list) && list[i].box == b; i++ {
			inside = append(inside, at(list[i].ID, g.If(list[i].class != "", Class(list[i].class))))
		}
		if b.alone {
			nodes = append(nodes, Div(Class("panel"), ID(b.id), inside))
			continue
		}
		class := "panel"
		if b.private {
			class += " private"
		}
		nodes = append(nodes, Details(Class(class), ID(b.id), g.If(b.open, g.Attr("open")),
			Summary(H3(v.say(b.title))), inside))
	}
	return nodes
}
