package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
)

// The side of the page: what the boat comes to and why, what it does, and, on a small screen, the bar below.

// ledger is the price of the boat, line by line. The lines are as the customer sees them: where prices are shown with
// tax, with tax.
func (v *View) ledger() []g.Node {
	s := v.Answer.Price
	rows := []g.Node{}
	for _, l := range s.Lines {
		rows = append(rows, Tr(
			rowHead(v.Engine.Text(l.Title), v.lock(l.Key), noted(v.Engine.Text(l.Detail))), numbers(v.amount(l.Shown))))
	}
	// a discount stands below what it is given on, as an amount whatever it was given as
	for _, d := range s.Discounts {
		rows = append(rows, tableRow("discount", d.Title, v.amount(d.Amount.Neg())))
	}
	return []g.Node{
		note(g.Text(v.taxNote(true))), v.converted(),
		Table(Class("lines"), TBody(rows...), TFoot(v.totals()...)),
		v.stages(),
	}
}

// hullTitle heads the ledger and the bar: which boat the price is of. On a small screen the sheet with the hulls is far
// above.
func (v *View) hullTitle() string { return v.pack().Hulls[v.Answer.Hull].Title }

// converted says what the price comes to in the currency of where the boat goes; nil where it has none.
func (v *View) converted() g.Node {
	s := v.Answer.Price
	c := s.Converted
	if c == nil {
		return nil
	}
	return note(v.text(c.Message(s.Currency, s.Region.ID)))
}

// taxNote says what tax is in the total, and at length, where the buyer has to do something to pay none, what that is.
func (v *View) taxNote(atLength bool) string {
	r := v.Answer.Price.Region
	if r == nil {
		return ""
	}
	rate, name, region := msg.Share("rate", r.TaxRate), msg.Text("tax", r.TaxName), msg.Text("region", r.Title)
	var tax msg.Message
	switch r.TaxMode {
	case pack.Inclusive:
		return v.Engine.Say("screen.tax-included", rate, name, region)
	case pack.Exclusive:
		tax = msg.New("screen.tax-added", rate, name, region)
	default:
		tax = msg.New("screen.tax-none", name, region)
	}
	if atLength && r.Condition != "" {
		tax = msg.Sentences(tax, msg.Plain(r.Condition))
	}
	return v.Engine.Text(tax)
}

// totals are the foot of the ledger: net and tax where prices are net, of which tax where they are not, and what a
// trade-in leaves to pay.
func (v *View) totals() []g.Node {
	s := v.Answer.Price
	rows := []g.Node{}
	row := func(class string, a money.Amount, title string) {
		rows = append(rows, tableRow(class, title, v.amount(a)))
	}
	// without a region there is no tax, and so neither of the two
	exclusive := s.Region != nil && s.Region.TaxMode == pack.Exclusive
	if exclusive {
		row("part", s.Net, v.Engine.Say("screen.net"))
		row("part", s.Tax, s.Region.TaxName)
	}
	row("total", s.Total, v.Engine.Say("screen.total-in", msg.Text("currency", s.Currency.Code)))
	if v.withTax() {
		row("part", s.Tax, v.Engine.Say("screen.of-which", msg.Text("tax", s.Region.TaxName)))
	}
	if s.TradeIn != nil {
		row("part", s.TradeIn.Allowance.Neg(), v.Engine.Say("screen.traded-in", msg.Text("title", s.TradeIn.Title)))
		row("total", s.Payable, v.Engine.Say("screen.payable"))
	}
	return rows
}

// stages are the payments as the boat is built. A trade-in is set against the last of them, and its line says so.
func (v *View) stages() g.Node {
	s := v.Answer.Price
	if len(s.Stages) == 0 {
		return nil
	}
	return Details(ID("stages-details"), Summary(v.say("screen.stages")),
		Table(TBody(g.Map(s.Stages, func(st price.Stage) g.Node {
			title := v.Engine.Say("screen.stage", msg.Text("stage", st.Title), msg.Share("share", st.Share))
			if st.TradeIn.Sign() > 0 {
				title = v.Engine.Say("screen.stage-less", msg.Text("stage", title),
					msg.Text("amount", v.amount(st.TradeIn)))
			}
			return tableRow("", title, v.amount(st.Amount))
		}))))
}

// figures are what the boat does and measures, each with how that is computed: an estimate that a person can follow.
func (v *View) figures() []g.Node {
	nodes := g.Map(v.pack().Cautions, func(c string) g.Node { return note(g.Text(c)) })
	// values come in the order of the book, but without those that are hidden or that this boat has no part for
	index := map[string]int{}
	for i, f := range v.Engine.FigureList() {
		index[f.ID] = i
	}
	for _, f := range v.Engine.FigureValues(v.Answer.Build, v.System) {
		// not only the value: an estimate that nobody can check is no estimate
		t := v.Engine.UnfoldFigure(v.Answer.Build, index[f.ID])
		nodes = append(nodes, Details(Class("unfold"), ID("figure-"+f.ID),
			unfolding(f.Title, v.Engine.Text(f.Message())), v.words(f.Title), v.unfolded(t.Formula, t.Inputs),
			g.If(!t.Source.Empty(), note(v.say("screen.source", msg.Words("source", t.Source))))))
	}
	return nodes
}

// bar is the foot of a small screen: the total, and the way to the ledger. It says when the boat cannot be built, since
// the place where that stands may be out of view.
func (v *View) bar() []g.Node {
	state := msg.Code("screen.bar-details")
	if len(v.Answer.Build.Clashes) > 0 {
		state = "screen.bar-clashes"
	}
	// the other button for undo may be far out of view on a small screen
	undo := g.Node(nil)
	if last := v.lastChange(); last != "" {
		undo = button(ID("undo-bar"), act("undo"), v.told("aria-label", "screen.undo", msg.Text("change", last)),
			v.say("screen.bar-undo"))
	}
	return []g.Node{Span(Class("name"), g.Text(v.hullTitle())),
		Span(Class("sum"), g.Text(v.money(v.Answer.Price.Total))), undo,
		A(Href("#page-price"), g.Attr("data-do", "go"), v.say(state))}
}

// Announcement is what a screen reader is told after a change: what the change brought about, and the price. Of several
// clashes it names the first alone; the others stand on the page, and a long announcement would be cut off by the next
// key that is pressed.
func (v *View) Announcement() string {
	var list []msg.Message
	for _, r := range v.Remarks {
		list = append(list, msg.Plain(r))
	}
	if v.Announced != "" {
		list = append(list, msg.Plain(v.Announced))
	}
	list = append(list, msg.New("screen.total-now", v.priced("total", v.Answer.Price.Total)))
	if clashes := v.Answer.Build.Clashes; len(clashes) > 0 {
		list = append(list, msg.New("screen.clashes-now", msg.Words("reason", engine.Because(clashes[0]))))
	}
	return v.Engine.Text(msg.Sentences(list...))
}
