package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/deals"
	"ribband/core/msg"
	"ribband/core/pack"
)

// Deals are the records of this device as they are listed. The page has the records; here they become rows that a
// person can read, search and act on.
type Deals struct {
	Rows  []deals.Row // the newest first
	Query string
	Today string // 2027-03-31
	Round int    // how often anything of it has changed
}

// Name is how the boat stands in a list: what it is called and what is to be paid for it.
func (v *View) Name() (boat, total string) {
	return v.pack().Hulls[v.Answer.Hull].Title, v.money(v.Answer.Price.Payable)
}

// The list is a page of its own: most visits have one boat and never open it. It is a list and not a table, since on a
// telephone a record is read as a few lines and not as columns.

// dealsSection is where the records of this device stand. What the page itself has to say of storing them is written
// into its attributes, since the engine does not know when a disk is full.
func (v *View) dealsSection(at func(string, ...g.Node) g.Node) g.Node {
	say := v.Engine.Say
	// The buyer's desk keeps boats in the same way, under words that promise no quotation.
	file := msg.Code("screen.deals-import-boats")
	if quotes(v.Engine) {
		file = "screen.deals-import"
	}
	// The script has no words of its own: it finds each in an attribute, filled in by the language of the desk, and
	// puts what it alone knows, such as the reason of a fault, in the place of {reason}.
	words := func(name string, code msg.Code) g.Node { return g.Attr("data-"+name, say(code)) }
	do := func(what string, code msg.Code) g.Node {
		return Button(Type("button"), g.Attr("data-do", what), g.Text(say(code)))
	}
	return Div(Class("deals"), ID("deals-details"),
		words("saving", "screen.store-saving"), words("saved", "screen.store-saved"),

		g.Attr("data-failed", say("screen.store-failed", msg.Text("reason", "{reason}"))), words("off",
			"screen.store-off"), words("full", "screen.store-full"),
		words("copied", "screen.store-copied"), words("elsewhere", "screen.store-elsewhere"),
		words("revised", "screen.store-revised"), words("beside", "screen.store-beside"),
		words("persisted", "screen.store-persisted"), words("evictable", "screen.store-evictable"),
		g.Attr("data-deleted", say("screen.deals-deleted", msg.Text("name", "{name}"))), words("device",
			"screen.deals-device"),
		P(Class("note"), ID("store-note")),
		Div(Class("deals-tools"),
			do("deal-new", "screen.deals-new"),
			v.field("deals-search", "screen.deals-search", Input(Type("search"), ID("deals-search"),
				AutoComplete("off")))),
		at("deals"),
		// shown by the script after a deletion, until the next one: a question before each would be answered unread
		P(ID("deals-undo"), Class("note"), g.Attr("hidden"), Span(ID("deals-deleted")), g.Text(" "),
			do("deal-undelete", "screen.deals-undelete")),
		Div(Class("deals-tools"),
			v.field("deals-since", "screen.deals-since", Input(Type("date"), ID("deals-since"))),
			do("deals-export", "screen.deals-export"),
			v.field("deals-file", file, Input(Type("file"), ID("deals-file"), Accept(".json,application/json"),
				Multiple(), g.Attr("data-do", "deals-file"))),
			g.If(quotes(v.Engine), do("deals-device", "screen.deals-rename"))))
}

// records is the list, with what can be done to each record.
func (v *View) records() []g.Node {
	say := v.Engine.Say
	word := func(s deals.State) string { return say("screen.deal-state", msg.Choice("state", string(s))) }
	var rows []deals.Row
	for _, r := range deals.Search(v.Deals.Rows, v.Deals.Query, v.Deals.Today, word) {
		// A boat that nobody has touched is a tab that was opened and left; only the one in view is worth a line.
		if !r.Plain || r.Open {
			rows = append(rows, r)
		}
	}
	switch {
	case len(v.Deals.Rows) == 0:
		return []g.Node{P(Class("note"), g.Text(say("screen.deals-none")))}
	case len(rows) == 0:
		return []g.Node{P(Class("note"), g.Text(say("screen.deals-not-found", msg.Text("query", v.Deals.Query))))}
	}
	// How many were found is heard and not shown: who sees the list sees it.
	return []g.Node{P(Class("unseen"), g.Text(say("screen.deals-count", msg.Count("n", len(rows))))),
		Ul(Class("deals-list"), g.Map(rows, func(r deals.Row) g.Node {
			return v.record(r,
				word(r.On(v.Deals.Today)))
		}))}
}

// record is one record. What can be done depends on how far it has come; what a customer has answered is not changed
// any more, and a change of the boat begins a revision.
func (v *View) record(r deals.Row, state string) g.Node {
	say := v.Engine.Say
	name := v.dealName(r)
	do := func(what string, code msg.Code) g.Node {
		title := say(code)
		return Button(Type("button"), ID(what+"-"+r.ID), g.Attr("data-do", what), g.Attr("data-key", r.ID),
			Aria("label", say("screen.deal-act", msg.Text("act", title), msg.Text("name", name))), g.Text(title))
	}
	// An answer is given once: what is accepted, declined or withdrawn can be revised or copied, and not answered
	// again.
	issued := r.State == deals.Issued
	// Every button is read out with the record that it is of, since ten buttons called Open tell a listener nothing.
	return Li(g.If(r.Open, Aria("current", "true")),
		Span(Class("deal-name"), g.Text(name)),
		Span(Class("deal-state"), g.Text(state)),
		Span(Class("note"), g.Text(v.dealDates(r))),
		Span(Class("deal-acts"),
			g.If(!r.Open, do("deal-open", "screen.deal-open")),
			g.If(r.State != deals.Draft, do("deal-revise", "screen.deal-revise")),
			// of a draft only the one on the page has a price and figures to compare
			g.If(r.Revises && (r.Open || r.State != deals.Draft), do("deal-compare", "screen.deal-compare")),
			g.If(issued, g.Group{do("deal-accepted", "screen.deal-accepted"),
				do("deal-declined", "screen.deal-declined")}),
			// what is done once in a while is folded, so that a press beside "Open" deletes nothing
			Details(ID("deal-more-"+r.ID), Summary(g.Text(say("screen.deal-more"))), Div(
				do("deal-copy", "screen.deal-copy"), do("deal-export", "screen.deal-export"),
				g.If(issued, do("deal-withdrawn", "screen.deal-withdrawn")), do("deal-delete", "screen.deal-delete")))))
}

// dealName is a record in a few words: number, customer, boat and price, what there is of them.
func (v *View) dealName(r deals.Row) string {
	// A buyer has boats and no quotations; a number would promise one.
	var parts []string
	if r.Number != "" && v.Engine.Can(pack.Quotations) {
		number := r.Number
		if r.Revision > 1 {
			number = v.Engine.Say("screen.deal-revision", msg.Text("number", number), msg.Count("revision", r.Revision))
		}
		parts = append(parts, number)
	}
	for _, p := range []string{r.Customer, r.Boat, r.Total} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if len(parts) == 0 {
		return v.Engine.Say("screen.deal-unnamed")
	}
	return v.Engine.Text(msg.New("screen.deal-name", msg.Texts("parts", msg.Commas, parts)))
}

// dealDates says from when to when a quotation holds, or when a draft was saved.
func (v *View) dealDates(r deals.Row) string {
	// Of a draft the day of saving tells which one it is; of a quotation what the customer holds in hand.
	switch {
	case r.State == deals.Draft:
		return v.Engine.Say("screen.deal-saved", msg.Date("date", r.Saved[:min(len(r.Saved), len("2027-03-31"))]))
	case r.Valid == "":
		return v.Engine.Say("screen.deal-dated", msg.Date("date", r.Date))
	}
	return v.Engine.Say("screen.deal-valid", msg.Date("date", r.Date), msg.Date("valid", r.Valid))
}
