package screen

import (
	"strconv"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/quote"
	"ribband/core/spec"
)

// deal is the salesperson's part: discounts, extra items, a trade-in, and the margin, which a customer looking over
// the shoulder should not see.
func (v *View) deal() []g.Node {
	return []g.Node{v.warnings(), v.reductions(), v.discounts(), v.extras(), v.tradeIn(), v.margin()}
}

func (v *View) warnings() g.Node {
	list := append([]string{}, v.Answer.Warnings...)
	for _, n := range v.Answer.Notes {
		list = append(list, n.String())
	}
	if len(list) == 0 {
		return nil
	}
	return Ul(Class("warnings"), g.Map(list, func(w string) g.Node { return Li(g.Text(w)) }))
}

// reductions says what is given away in all, against what may be.
func (v *View) reductions() g.Node {
	r, digits := &v.Answer.Price.Reductions, v.Answer.Price.Currency.Digits
	return g.Group{
		P(Class("note"), g.Textf("Reductions %s of a list price of %s: %s; your limit is %s.", v.money(r.Total),
			v.money(r.List), r.Share.Percent(), v.Engine.Authority().Percent())),
		g.If(len(r.Parts) > 0, Table(ID("reductions"), TBody(g.Map(r.Parts, func(p price.Reduction) g.Node {
			return tableRow("", p.Title, money.Grouped(p.Amount.Fixed(digits)))
		})...))),
	}
}

// withTax says whether the customer of this region sees prices with tax.
func (v *View) withTax() bool {
	r := v.Answer.Price.Region
	return r != nil && r.TaxMode == pack.Inclusive
}

func (v *View) discounts() g.Node {
	basis := "net"
	if v.withTax() {
		basis = "with tax"
	}
	items := make([]g.Node, 0, len(v.Answer.Spec.Discounts))
	for i, d := range v.Answer.Spec.Discounts {
		items = append(items, Li(g.Text(d.Title+": "+v.discountText(d)), removeButton("discount", i, d.Title)))
	}
	return g.Group{
		H3(g.Text("Discounts")),
		Ul(Class("given"), g.Group(items)),
		FormEl(Class("add"), ID("add-discount"), act("discount"),
			field("discount-title", "Reason", Input(ID("discount-title"), Name("title"), Required(), MaxLength("80"))),
			field("discount-value", "Per cent or amount, "+basis,
				Input(ID("discount-value"), Name("value"), g.Attr("inputmode", "decimal"), Required(),
					Placeholder("3 % or 500"))),
			field("discount-on", "On", Select(ID("discount-on"), Name("on"),
				Option(Value(""), g.Text("the whole boat")), g.Group(v.discountable()))),
			Button(Type("submit"), ID("give-discount"), g.Text("Give discount"))),
	}
}

// discountable are the lines of the quote that take a discount of their own.
func (v *View) discountable() []g.Node {
	var options []g.Node
	for _, l := range v.Answer.Price.Lines {
		if !l.Fixed && l.Shown.Sign() > 0 {
			options = append(options, Option(Value(l.Key), g.Text(l.Title)))
		}
	}
	return options
}

func (v *View) discountText(d spec.Discount) string {
	text := money.Grouped(d.Amount.String())
	if !d.Share.IsZero() {
		text = d.Share.Percent()
	}
	for _, l := range v.Answer.Price.Lines {
		if d.On == l.Key {
			return text + " on " + l.Title
		}
	}
	return text
}

func removeButton(kind string, index int, title string) g.Node {
	return Button(Type("button"), ID("remove-"+kind+"-"+strconv.Itoa(index)),
		act("remove", "key", kind, "field", strconv.Itoa(index)), Aria("label", "Remove "+title), g.Text("Remove"))
}

func field(id, label string, control g.Node) g.Node {
	return Div(Class("field"), Label(For(id), g.Text(label)), control)
}

func (v *View) extras() g.Node {
	items := make([]g.Node, 0, len(v.Answer.Spec.Extras))
	for i, l := range v.Answer.Spec.Extras {
		text := l.Title + ": " + v.money(l.Price) + " " + basisText(l.Basis)
		for _, s := range v.Engine.Shops() {
			if h, named := l.Hours[s.ID]; named {
				text += ", " + s.Title + " " + h.String() + " h"
			}
		}
		items = append(items, Li(g.Text(text), removeButton("extra", i, l.Title)))
	}
	return g.Group{
		H3(g.Text("Extra items")),
		Ul(Class("given"), g.Group(items)),
		FormEl(Class("add"), ID("add-line"), act("extra"),
			field("free-title", "What", Input(ID("free-title"), Name("title"), Required(), MaxLength("120"))),
			field("free-price", "Price", Input(ID("free-price"), Name("price"), g.Attr("inputmode", "decimal"),
				Required())),
			field("free-basis", "The price is", Select(ID("free-basis"), Name("basis"), Required(),
				Option(Value(""), g.Text("choose")),
				Option(Value(string(spec.WithTax)), g.Text(basisText(spec.WithTax))),
				Option(Value(string(spec.Net)), g.Text(basisText(spec.Net))))),
			field("free-cost", "Bought-in cost, net",
				Input(ID("free-cost"), Name("cost"), g.Attr("inputmode", "decimal"))),
			field("free-shop", "Shop", Select(ID("free-shop"), Name("shop"), Option(Value(""), g.Text("none")),
				g.Group(v.shops()))),
			field("free-hours", "Hours", Input(ID("free-hours"), Name("hours"), g.Attr("inputmode", "decimal"))),
			Button(Type("submit"), ID("give-line"), g.Text("Add item"))),
	}
}

func basisText(b spec.Basis) string {
	if b == spec.WithTax {
		return "with tax"
	}
	return "net"
}

// tradeIn is the form of what is taken in payment. There is one: what comes with a boat, a trailer say, is part of it.
func (v *View) tradeIn() g.Node {
	items := []g.Node{}
	if t := v.Answer.Spec.TradeIn; t != nil {
		text := t.Title + ": " + v.money(t.Allowance)
		if t.Value.Sign() > 0 {
			text += ", resale value " + v.money(t.Value)
		}
		items = append(items, Li(g.Text(text), removeButton("trade-in", 0, t.Title)))
	}
	return g.Group{
		H3(g.Text("Trade-in")),
		P(Class("note"), g.Text(price.TradeInRule+" What is allowed above its resale value counts as a reduction.")),
		Ul(Class("given"), g.Group(items)),
		FormEl(Class("add"), ID("add-trade-in"), act("trade-in"),
			field("trade-in-title", "Boat or item",
				Input(ID("trade-in-title"), Name("title"), Required(), MaxLength("120"))),
			field("trade-in-allowance", "Allowance",
				Input(ID("trade-in-allowance"), Name("allowance"), g.Attr("inputmode", "decimal"), Required())),
			field("trade-in-value", "Resale value, for the yard only",
				Input(ID("trade-in-value"), Name("value"), g.Attr("inputmode", "decimal"))),
			Button(Type("submit"), ID("give-trade-in"), g.Text("Add trade-in"))),
	}
}

func (v *View) shops() []g.Node {
	var options []g.Node
	for _, s := range v.Engine.Shops() {
		options = append(options, Option(Value(s.ID), g.Text(s.Title)))
	}
	return options
}

func (v *View) margin() g.Node {
	digits := v.Answer.Price.Currency.Digits
	c := v.Answer.Cost.Summary
	row := func(title string, a money.Amount) g.Node {
		return tableRow("", title, money.Grouped(a.Fixed(digits)))
	}
	return Details(Class("panel"), ID("margin-details"), Summary(g.Text("Margin")), Table(TBody(
		row("Net price", v.Answer.Price.Net), g.If(v.Answer.Price.TradeIn.Over().Sign() > 0,
			row("Trade-in above its resale value", v.Answer.Price.TradeIn.Over())),
		row("Materials", c.Materials), row("Part packs left over", c.Leftovers), row("Labour", c.Labour),
		row("Overhead on materials", c.OverheadOnMaterials), row("Overhead on labour", c.OverheadOnLabour),
		row("Contingency", c.Contingency),
		row("Cost", c.Total), tableRow("total", "Margin on price", v.Answer.Margin.Percent()))))
}

// customer is the form from which a quotation is made.
func (v *View) customer() []g.Node {
	d := v.Details
	input := func(name, label, value, kind string, more ...g.Node) g.Node {
		return field("detail-"+name, label, Input(ID("detail-"+name), Name(name), Type(kind), Value(value),
			g.Group(more)))
	}
	approval := g.Node(nil)
	if len(v.Answer.Warnings) > 0 || d.Approval != "" {
		approval = g.Group{v.warnings(), input("approval", "Approved by", d.Approval, "text")}
	}
	return []g.Node{FormEl(Class("add"), ID("quotation"), g.Attr("data-keep"), act("freeze"),
		Input(Type("hidden"), ID("detail-revision"), Name("revision"), Value(strconv.Itoa(max(1, d.Revision)))),
		input("number", "Number", d.Number, "text", Required()),
		input("date", "Date", d.Date, "date", Required()),
		input("valid", "Valid until", d.ValidUntil, "date"),
		input("name", "Customer", d.Customer.Name, "text", AutoComplete("off")),
		field("detail-address", "Address", Textarea(ID("detail-address"), Name("address"), Rows("3"),
			g.Text(strings.Join(d.Customer.Address, "\n")))),
		input("email", "E-mail", d.Customer.Email, "email", AutoComplete("off")),
		input("phone", "Telephone", d.Customer.Phone, "tel", AutoComplete("off")),
		input("seller", "Prepared by", d.Seller, "text"),
		field("detail-remarks", "Remarks", Textarea(ID("detail-remarks"), Name("remarks"), Rows("2"),
			g.Text(d.Remarks))),
		approval,
		Details(ID("plates-details"), Summary(g.Text("Hull identification number and capacity label")),
			Div(Class("add"),
				input("serial", "Hull serial number", d.Serial, "text", MaxLength("5"), Placeholder("00001"),
					AutoComplete("off")),
				input("built", "Month of build", d.Built, "text", MaxLength("7"), Placeholder("2027-03"),
					AutoComplete("off")),
				input("listtest", "Weight in list test, kg", given(d.ListTestKg), "text",
					g.Attr("inputmode", "decimal")),
				input("listed", "Persons marked, if fewer", given(float64(d.ListedPersons)), "text",
					g.Attr("inputmode", "numeric")))),
		Button(Type("submit"), Class("main"), g.Text("Issue quotation")),
	)}
}

// given writes a number that was given; nothing for none.
func given(v float64) string {
	if v == 0 {
		return ""
	}
	return text(v)
}

// reopened says what a quote that was opened says differently from this edition.
func (v *View) reopened() []g.Node {
	if v.Reopened == nil {
		return nil
	}
	title := "Quotation " + v.Reopened.Number
	if v.Reopened.Customer.Name != "" {
		title += ", " + v.Reopened.Customer.Name
	}
	nodes := []g.Node{H2(g.Text(title)), P(g.Textf("of %s, valid until %s", quote.Day(v.Reopened.Date),
		quote.Day(v.Reopened.ValidUntil)))}
	if len(v.Differences) == 0 {
		return []g.Node{Section(Class("reopened"),
			g.Group(append(nodes, P(Class("same"),
				g.Text("As quoted: the current price book gives exactly the same.")))))}
	}
	rows := g.Map(v.Differences, func(d quote.Difference) g.Node {
		said := func(m msg.Message) g.Node { return g.Text(v.Engine.Text(m)) }
		return Tr(Th(g.Attr("scope", "row"), said(d.Place)), Td(said(d.Was)), Td(said(d.Now)))
	})
	return []g.Node{Section(Class("reopened"), g.Group(append(nodes, P(g.Text("The current price book differs:")),
		Table(THead(Tr(Th(g.Attr("scope", "col"), g.Text("What")), Th(g.Attr("scope", "col"), g.Text("Quoted")),
			Th(g.Attr("scope", "col"), g.Text("Now")))), TBody(rows)))))}
}
