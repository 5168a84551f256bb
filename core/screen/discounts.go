package screen

import (
	"slices"
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

// deal is the salesperson's part: discounts, extra items, a trade-in, and the margin or the commission, which a
// customer looking over the shoulder should not see.
func (v *View) deal() []g.Node {
	return []g.Node{v.warnings(), v.reductions(), v.discounts(), v.extras(), v.tradeIn(), v.dealers(), v.margin(),
		v.commission()}
}

// warnings are what needs the approval of whoever may give more away, and what of the spec this edition cannot use.
// They stand where the deal is made, and again where the quotation is issued.
func (v *View) warnings() g.Node {
	texts := slices.Clone(v.Answer.Warnings)
	for _, n := range v.Answer.Notes {
		texts = append(texts, n.Message())
	}
	if len(texts) == 0 {
		return nil
	}
	return v.list("warnings", texts)
}

// reductions says what is given away in all, against what may be.
func (v *View) reductions() g.Node {
	// the limit is a share of the list price: of a price reduced already it would shrink with each discount
	r := &v.Answer.Price.Reductions
	limit, _ := v.Engine.Authority(v.Answer)
	return g.Group{
		note(v.say("screen.reductions", v.priced("total", r.Total), v.priced("list", r.List),
			msg.Share("share", r.Share), msg.Share("limit", limit))),
		g.If(len(r.Parts) > 0, Table(ID("reductions"), TBody(g.Map(r.Parts, func(p price.Reduction) g.Node {
			return tableRow("", v.Engine.Text(p.Title), v.amount(p.Amount))
		})...))),
	}
}

// withTax says whether the customer of this region sees prices with tax. A region that charges none shows them net.
func (v *View) withTax() bool {
	r := v.Answer.Price.Region
	return r != nil && r.TaxMode == pack.Inclusive
}

// given is a part of the deal: what was given so far, and the form to give more. A form is emptied by the script once
// the engine has taken what was in it.
func (v *View) given(title msg.Code, about g.Node, items []g.Node, form ...g.Node) g.Node {
	return g.Group{H3(v.say(title)), about, Ul(Class("given"), g.Group(items)), FormEl(Class("add"), g.Group(form))}
}

// item is what was given, with the button that takes it back. The button is read out with the title of what it removes:
// several of them say the same on the page.
func (v *View) item(kind string, index int, title string, text msg.Message) g.Node {
	n := strconv.Itoa(index)
	return Li(v.text(text), button(ID("remove-"+kind+"-"+n), act("remove", "key", kind, "field", n),
		v.told("aria-label", "screen.remove-item", msg.Text("title", title)), v.say("screen.remove")))
}

// input is a field of such a form; the more are what its value has to be like.
func (v *View) input(id, name string, label msg.Code, more ...g.Node) g.Node {
	return v.field(id, label, Input(ID(id), Name(name), g.Group(more)))
}

// decimals has a telephone show the keys of numbers.
var decimals = g.Attr("inputmode", "decimal")

// The most that a title may have: what is longer would not fit a line of the quotation.
var (
	shortTitle = MaxLength("80")
	longTitle  = MaxLength("120")
)

// submit is the button that sends a form; its identifier lets the focus return to it when the panel is replaced.
func submit(id string, words g.Node) g.Node { return Button(Type("submit"), ID(id), words) }

// discounts are given with a reason, which the customer reads. An amount is as the customer sees prices, with tax or
// net, and the label says which.
func (v *View) discounts() g.Node {
	basis := spec.Net
	if v.withTax() {
		basis = spec.WithTax
	}
	// all that were given, also what this boat has no line for any more: the warnings say what became of it
	items := make([]g.Node, 0, len(v.Answer.Spec.Discounts))
	for i, d := range v.Answer.Spec.Discounts {
		items = append(items, v.item("discount", i, d.Title, v.discountText(d)))
	}
	return v.given("screen.discounts", nil, items, ID("add-discount"), g.Attr("data-keep"), act("discount"),
		v.input("discount-title", "title", "screen.discount-reason", Required(), shortTitle),
		Div(Class("field"), Label(For("discount-value"), v.say("screen.discount-value", basisOf(basis))),
			Input(ID("discount-value"), Name("value"), decimals, Required(),
				v.told("placeholder", "screen.discount-example"))),
		v.field("discount-on", "screen.discount-on", Select(ID("discount-on"), Name("on"),
			option("", false, v.say("screen.whole-boat")), g.Group(v.discountable()))),
		submit("give-discount", v.say("screen.discount-give")))
}

// discountable are the lines of the quote that take a discount of their own.
func (v *View) discountable() []g.Node {
	var options []g.Node
	for _, l := range v.Answer.Price.Lines {
		// what the book fixes takes no discount, and what costs nothing can be no cheaper
		if !l.Fixed && l.Shown.Sign() > 0 {
			options = append(options, option(l.Key, false, v.text(l.Title)))
		}
	}
	return options
}

// discountText is a discount as it was given, which need not be what it comes to: a share of a line follows the line,
// and its amount stands in the ledger.
func (v *View) discountText(d spec.Discount) msg.Message {
	title, value := msg.Text("title", d.Title), msg.Text("value", v.decimal(d.Amount.String()))
	if !d.Share.IsZero() {
		value = msg.Share("value", d.Share)
	}
	for _, l := range v.Answer.Price.Lines {
		if d.On == l.Key {
			return msg.New("screen.discount-on-line", title, value, msg.Words("line", l.Title))
		}
	}
	return msg.New("screen.discount", title, value)
}

// basisOf says whether a price is net.
func basisOf(b spec.Basis) msg.Arg { return msg.Choice("basis", string(b)) }

// extras are items in no list. How the price is meant has to be said: there is no standard that would be right for both
// a customer who pays tax and one who does not. The cost and the hours are the yard's, and on no paper of a customer.
func (v *View) extras() g.Node {
	items := make([]g.Node, 0, len(v.Answer.Spec.Extras))
	for i, l := range v.Answer.Spec.Extras {
		text := msg.New("screen.extra", msg.Text("title", l.Title), v.priced("price", l.Price), basisOf(l.Basis))
		// in the order of the shops, since a map has none
		for _, s := range v.Engine.Shops() {
			if h, named := l.Hours[s.ID]; named {
				text = msg.New("screen.extra-hours", msg.Words("extra", text), msg.Text("shop", s.Title),
					msg.Text("hours", v.decimal(h.String())))
			}
		}
		items = append(items, v.item("extra", i, l.Title, text))
	}
	// what the yard added can be taken out here, and nothing be added
	if !v.Engine.Can(pack.Extras) {
		return v.foreign("screen.extras", items)
	}
	basis := func(b spec.Basis) g.Node { return option(string(b), false, v.say("screen.basis", basisOf(b))) }
	return v.given("screen.extras", nil, items, ID("add-line"), g.Attr("data-keep"), act("extra"),
		v.input("free-title", "title", "screen.extra-what", Required(), longTitle),
		v.input("free-price", "price", "screen.extra-price", decimals, Required()),
		v.field("free-basis", "screen.extra-basis", Select(ID("free-basis"), Name("basis"), Required(),
			option("", false, v.say("screen.choose")), basis(spec.WithTax), basis(spec.Net))),
		v.input("free-cost", "cost", "screen.extra-cost", decimals),
		v.field("free-shop", "screen.shop", Select(ID("free-shop"), Name("shop"),
			option("", false, v.say("screen.no-shop")), g.Group(v.shops()))),
		v.input("free-hours", "hours", "screen.hours", decimals),
		submit("give-line", v.say("screen.extra-add")))
}

// tradeIn is the form of what is taken in payment. There is one: what comes with a boat, a trailer say, is part of it.
func (v *View) tradeIn() g.Node {
	items := []g.Node{}
	if t := v.Answer.Spec.TradeIn; t != nil {
		title, allowance := msg.Text("title", t.Title), v.priced("allowance", t.Allowance)
		text := msg.New("screen.trade-in-item", title, allowance)
		if t.Value.Sign() > 0 {
			text = msg.New("screen.trade-in-valued", title, allowance, v.priced("value", t.Value))
		}
		items = append(items, v.item("trade-in", 0, t.Title, text))
	}
	if !v.Engine.Can(pack.Extras) {
		return v.foreign("screen.trade-in", items)
	}
	about := note(v.say("screen.trade-in-note", msg.Words("rule", price.TradeInRule())))
	return v.given("screen.trade-in", about, items, ID("add-trade-in"), g.Attr("data-keep"), act("trade-in"),
		v.input("trade-in-title", "title", "screen.trade-in-what", Required(), longTitle),
		v.input("trade-in-allowance", "allowance", "screen.trade-in-allowance", decimals, Required()),
		v.input("trade-in-value", "value", "screen.trade-in-value", decimals),
		submit("give-trade-in", v.say("screen.trade-in-add")))
}

// foreign is a part of the deal that somebody else made: it can be taken back, and that is all. Nothing where there is
// none.
func (v *View) foreign(title msg.Code, items []g.Node) g.Node {
	if len(items) == 0 {
		return nil
	}
	return g.Group{H3(v.say(title)), Ul(Class("given"), g.Group(items))}
}

// dealers is the choice of who sells the boat, where the book has dealers and this desk may name them.
func (v *View) dealers() g.Node {
	list := v.Engine.Dealers()
	if len(list) == 0 {
		return nil
	}
	// one that the book does not have any more is none of them; the warnings say so
	options := []g.Node{option("", v.Answer.Spec.Dealer == "", v.say("screen.no-dealer"))}
	for _, d := range list {
		options = append(options, option(d.ID, v.Answer.Spec.Dealer == d.ID, g.Text(d.Firm)))
	}
	return g.Group{H3(v.say("screen.dealer")), v.field("dealer", "screen.sold-through",
		Select(ID("dealer"), act("dealer"), g.Group(options)))}
}

// commission is what the dealer sees on his own desk: his share of the net price, and what the reductions have taken of
// it. It is folded like the margin.
func (v *View) commission() g.Node {
	d := v.Answer.Dealer
	if d == nil || v.Engine.Can(pack.Margins) {
		return nil
	}
	net := v.Answer.Price.Net
	// in money, since a share of a price says little to whoever is about to give some of it away
	return Details(Class("panel"), ID("commission-details"), Summary(v.say("screen.commission")), Table(TBody(
		tableRow("", v.Engine.Say("screen.net-price"), v.amount(net)),
		tableRow("", v.Engine.Say("screen.commission-share"), v.Engine.Language().Share(d.Commission)),
		tableRow("total", v.Engine.Say("screen.commission-left"), v.amount(v.Engine.Commission(v.Answer, net))))),
		note(v.say("screen.commission-note")))
}

// shops are those of the yard, to choose one among.
func (v *View) shops() []g.Node {
	var options []g.Node
	for _, s := range v.Engine.Shops() {
		options = append(options, option(s.ID, false, g.Text(s.Title)))
	}
	return options
}

// margin is folded, as a customer may look at the same screen. Its rows add up as in core/cost, which has the method.
func (v *View) margin() g.Node {
	if !v.Engine.Can(pack.Margins) {
		return nil
	}
	c := v.Answer.Cost.Summary
	row := func(title msg.Code, a money.Amount) g.Node { return tableRow("", v.Engine.Say(title), v.amount(a)) }
	// what is allowed above the resale value is given away like a discount: the margin counts it as a cost,
	// and so it does what a dealer gets
	over, commission := v.Answer.Price.TradeIn.Over(), v.Engine.Commission(v.Answer, v.Answer.Price.Net)
	return Details(Class("panel"), ID("margin-details"), Summary(v.say("screen.margin")), Table(TBody(
		row("screen.net-price", v.Answer.Price.Net), g.If(over.Sign() > 0, row("screen.trade-in-over", over)),
		g.If(commission.Sign() > 0, row("screen.dealer-commission", commission)),
		row("screen.materials", c.Materials), row("screen.leftovers", c.Leftovers), row("screen.labour", c.Labour),
		g.If(!c.Outside.IsZero(), row("screen.outside", c.Outside)),
		row("screen.overhead-materials", c.OverheadOnMaterials), row("screen.overhead-labour", c.OverheadOnLabour),
		row("screen.contingency", c.Contingency), row("screen.cost", c.Total),
		tableRow("total", v.Engine.Say("screen.margin-on-price"), v.Engine.Language().Share(v.Answer.Margin)))))
}

// customer is the form from which a quotation is made. The script keeps what stands in it on the device.
func (v *View) customer() []g.Node {
	d := v.Details
	input := func(name string, label msg.Code, value, kind string, more ...g.Node) g.Node {
		return v.input("detail-"+name, name, label, Type(kind), Value(value), g.Group(more))
	}
	long := func(name string, label msg.Code, value, rows string) g.Node {
		id := "detail-" + name
		return v.field(id, label, Textarea(ID(id), Name(name), Rows(rows), g.Text(value)))
	}
	// who approves is asked only where something needs it
	approval := g.Node(nil)
	if len(v.Answer.Warnings) > 0 || d.Approval != "" {
		approval = g.Group{v.warnings(), input("approval", "screen.approval", d.Approval, "text")}
	}
	off := AutoComplete("off") // the browser's owner is not the customer
	return []g.Node{FormEl(Class("add"), ID("quotation"), g.Attr("data-keep"), act("freeze"),
		// the script counts revisions, since it has the records; here the count goes with the form, so that a quotation
		// which was opened and issued again stays what it was
		Input(Type("hidden"), ID("detail-revision"), Name("revision"), Value(strconv.Itoa(max(1, d.Revision)))),
		input("number", "screen.number", d.Number, "text", Required()),
		input("date", "screen.date", d.Date, "date", Required()),
		input("valid", "screen.valid-until", d.ValidUntil, "date"),
		input("name", "screen.customer", d.Customer.Name, "text", off),
		long("address", "screen.address", strings.Join(d.Customer.Address, "\n"), "3"),
		input("email", "screen.e-mail", d.Customer.Email, "email", off),
		input("phone", "screen.telephone", d.Customer.Phone, "tel", off),
		v.papersIn(),
		input("seller", "screen.prepared-by", d.Seller, "text"),
		long("remarks", "screen.remarks", d.Remarks, "2"),
		approval,
		// folded, since only a boat that is going to be built has a number and a label
		Details(ID("plates-details"), Summary(v.say("screen.plates")),
			Div(Class("add"),
				input("serial", "screen.serial", d.Serial, "text", MaxLength("5"), Placeholder("00001"), off),
				input("built", "screen.built", d.Built, "text", MaxLength("7"), Placeholder("2027-03"), off),
				input("listtest", "screen.list-test", typed(d.ListTestKg), "text", decimals),
				input("listed", "screen.persons-marked", typed(float64(d.ListedPersons)), "text",
					g.Attr("inputmode", "numeric")))),
		Button(Type("submit"), Class("main"), v.say("screen.issue")),
	)}
}

// typed writes a number into the field that it was typed in; nothing for none, since zero would be read as a
// measurement.
func typed(v float64) string {
	if v == 0 {
		return ""
	}
	return ascii(v)
}

// signature says whether the yard signed the quote that was opened; nothing of a draft, which nobody signs. It stands
// before what the book gives today: prices that differ mean little on a paper that the yard did not write.
func (v *View) signature() g.Node {
	says := v.Verdict.Message()
	if v.Reopened.Number == "" || says.Empty() {
		return nil
	}
	// That a paper was changed must not look like that it was never signed, which is how each comes from the show.
	kind := "signature"
	if v.Verdict.Bad() {
		kind += " bad"
	}
	return P(ID("signature"), Class(kind), v.text(says))
}

// reopened says what a quote that was opened says differently from this edition. It goes with the next change, since
// the quotation says nothing of the boat as it is then.
func (v *View) reopened() []g.Node {
	q := v.Reopened
	if q == nil {
		return nil
	}
	title := v.say("screen.quotation", msg.Text("number", q.Number), msg.Count("revision", q.Revision))
	if q.Customer.Name != "" {
		title = v.say("screen.quotation-for", msg.Text("number", q.Number), msg.Count("revision", q.Revision),
			msg.Text("customer", q.Customer.Name))
	}
	about := P(v.say("screen.quotation-dates", msg.Date("date", q.Date), msg.Date("valid", q.ValidUntil)))
	nodes := []g.Node{H2(title), about, v.signature()}
	// either is worth saying: that nothing differs is what a salesperson opens an old quotation to learn
	if len(v.Differences) == 0 {
		nodes = append(nodes, P(Class("same"), v.say("screen.as-quoted")))
	} else {
		titles := g.Map(v.saidAll("screen.what", "screen.quoted", "screen.now"),
			func(t string) g.Node { return Th(g.Attr("scope", "col"), g.Text(t)) })
		rows := g.Map(v.Differences, func(d quote.Difference) g.Node {
			return Tr(rowHead(v.Engine.Text(d.Place)), Td(v.text(d.Was)), Td(v.text(d.Now)))
		})
		nodes = append(nodes, P(v.say("screen.book-differs")), Table(THead(Tr(titles)), TBody(rows)))
	}
	return []g.Node{Section(Class("reopened"), g.Group(nodes))}
}
