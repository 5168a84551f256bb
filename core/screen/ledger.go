package screen

import (
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
)

// ledger is the price of the boat, line by line.
func (v *View) ledger() []g.Node {
	s := v.Answer.Price
	digits := s.Currency.Digits
	rows := []g.Node{}
	for _, l := range s.Lines {
		rows = append(rows, Tr(Th(g.Attr("scope", "row"), g.Text(v.Engine.Text(l.Title)),
			g.If(v.kept(l.Key), Span(Class("kept"), g.Text(" locked"))),
			g.If(!l.Detail.Empty(), Span(Class("note"), g.Text(v.Engine.Text(l.Detail))))),
			Td(Class("number"), g.Text(money.Grouped(l.Shown.Fixed(digits))))))
	}
	for _, d := range s.Discounts {
		rows = append(rows, tableRow("discount", d.Title, money.Grouped(d.Amount.Neg().Fixed(digits))))
	}
	return []g.Node{
		H2(g.Text(v.pack().Hulls[v.Answer.Hull].Title)),
		P(Class("sum"), ID("total"), g.Text(v.money(s.Total))),
		P(Class("note"), g.Text(v.taxNote())),
		Table(Class("lines"), TBody(rows...), TFoot(v.totals()...)),
		v.stages(),
	}
}

func (v *View) taxNote() string {
	r := v.Answer.Price.Region
	if r == nil {
		return ""
	}
	switch r.TaxMode {
	case pack.Inclusive:
		return "including " + r.TaxRate.Percent() + " " + r.TaxName + ", " + r.Title
	case pack.Exclusive:
		return strings.TrimSpace(r.TaxRate.Percent() + " " + r.TaxName + " added, " + r.Title + ". " + r.Condition)
	}
	return r.Title + ", without " + r.TaxName + ". " + r.Condition
}

func (v *View) totals() []g.Node {
	s := v.Answer.Price
	digits := s.Currency.Digits
	rows := []g.Node{}
	if s.Region != nil && s.Region.TaxMode == pack.Exclusive {
		rows = append(rows, tableRow("part", "Net", money.Grouped(s.Net.Fixed(digits))),
			tableRow("part", s.Region.TaxName, money.Grouped(s.Tax.Fixed(digits))))
	}
	rows = append(rows, tableRow("total", "Total in "+s.Currency.Code, money.Grouped(s.Total.Fixed(digits))))
	if s.Region != nil && s.Region.TaxMode == pack.Inclusive {
		rows = append(rows, tableRow("part", "of which "+s.Region.TaxName, money.Grouped(s.Tax.Fixed(digits))))
	}
	if s.TradeIn != nil {
		rows = append(rows, tableRow("part", "Trade-in: "+s.TradeIn.Title,
			money.Grouped(s.TradeIn.Allowance.Neg().Fixed(digits))),
			tableRow("total", "Payable", money.Grouped(s.Payable.Fixed(digits))))
	}
	return rows
}

func (v *View) stages() g.Node {
	s := v.Answer.Price
	if len(s.Stages) == 0 {
		return nil
	}
	return Details(ID("stages-details"), Summary(g.Text("Stage payments")),
		Table(TBody(g.Map(s.Stages, func(st price.Stage) g.Node {
			title := st.Title + ", " + st.Share.Percent()
			if st.TradeIn.Sign() > 0 {
				title += ", less the trade-in, " + money.Grouped(st.TradeIn.Fixed(s.Currency.Digits))
			}
			return tableRow("", title, money.Grouped(st.Amount.Fixed(s.Currency.Digits)))
		}))))
}

func (v *View) figures() []g.Node {
	nodes := g.Map(v.pack().Cautions, func(c string) g.Node { return P(Class("note"), g.Text(c)) })
	index := map[string]int{}
	for i, f := range v.Engine.FigureList() {
		index[f.ID] = i
	}
	for _, f := range v.Engine.FigureValues(v.Answer.Build, v.System) {
		t := v.Engine.UnfoldFigure(v.Answer.Build, index[f.ID])
		nodes = append(nodes, Details(Class("unfold"), ID("figure-"+f.ID),
			Summary(Span(Class("name"), g.Text(f.Title)), Span(Class("amount"), g.Text(f.Message().String()))),
			P(Code(g.Text(v.Engine.Text(t.Formula)))),
			g.If(len(t.Inputs) > 0, Ul(g.Map(t.Inputs, func(i engine.Term) g.Node {
				return Li(g.Text(v.Engine.Text(i.Name) + " = " + v.Engine.Text(i.Value)))
			}))),
			g.If(!t.Source.Empty(), P(Class("note"), g.Text("Source: "+v.Engine.Text(t.Source)+".")))))
	}
	return nodes
}

// bar is the foot of a small screen: the total, and the way to the ledger.
func (v *View) bar() []g.Node {
	state := "Details"
	if n := len(v.Answer.Build.Clashes); n > 0 {
		state = "Cannot be built"
	}
	undo := g.Node(nil)
	if v.Undo != "" {
		undo = Button(Type("button"), ID("undo-bar"), act("undo"), Aria("label", "Undo: "+v.Undo), g.Text("Undo"))
	}
	return []g.Node{Span(Class("name"), g.Text(v.pack().Hulls[v.Answer.Hull].Title)),
		Span(Class("sum"), g.Text(v.money(v.Answer.Price.Total))), undo,
		A(Href("#side"), g.Attr("data-do", "go"), g.Text(state))}
}

// Announcement is what a screen reader is told after a change.
func (v *View) Announcement() string {
	text := "Total " + v.money(v.Answer.Price.Total) + "."
	if len(v.Answer.Build.Clashes) > 0 {
		text += " This boat cannot be built: " + v.Engine.Text(engine.Because(v.Answer.Build.Clashes[0]))
	}
	if v.Announced != "" {
		text = v.Announced + " " + text
	}
	return strings.Join(append(append([]string{}, v.Remarks...), text), " ")
}
