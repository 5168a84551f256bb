package papers

import (
	"slices"

	"ribband/core/doc"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/orders"
	"ribband/core/quote"
)

// Change is what a paper of a change order is made of.
type Change struct {
	Was *orders.Order // as it is ordered
	// as it would be with the change accepted; nil where nothing of it can be had any more
	Now    *orders.Order
	Change *orders.ChangeOrder // in the language of the quotation, without what can no longer be had
	// what was asked for and can no longer be had, in that language
	Refused []orders.Refused
	Day     orders.Day // of the paper
}

// ChangeOrder is a change of a boat that is being built, for its customer to sign: what changes and what can no longer,
// what has to be undone, what it costs, what is to pay when, and which week of launch holds from then on. Undoing
// stands at the price that is charged for it; hours and costs of the yard stay with the yard.
func ChangeOrder(l *msg.Language, x *Change) *doc.Doc {
	c := &change{writer: in(l), x: x, was: x.Was.Quote().ForCustomer()}
	c.now = c.was
	if x.Now != nil {
		c.now = x.Now.Quote().ForCustomer()
	}
	return c.build()
}

// change builds the paper.
type change struct {
	writer
	x        *Change
	was, now *quote.Quote
}

// build follows the questions of a customer: what do I get, what not and why, what does it cost, what do I pay when,
// when is my boat ready, and where do I sign.
func (c *change) build() *doc.Doc {
	q, yard := c.now, &c.now.Yard
	title := c.Say("office.change-order", msg.Text("number", c.x.Was.Number), msg.Count("n", len(c.x.Was.Changes)+1))
	blocks := []doc.Block{letterhead(yard), doc.Heading(title), c.particulars()}
	if c.x.Now == nil {
		blocks = append(blocks, c.refused(), doc.Paragraph{Text: c.Say("office.stays-as-ordered")})
	} else {
		blocks = append(blocks, c.changes(), c.refused(), c.undone(), c.price(), c.stages(), c.launch(),
			notes(c.Say("paper.terms"), append([]string{c.Say("office.work-goes-on")}, q.Terms...)),
			notes(c.Say("paper.cautions"), q.Cautions), c.signatures())
	}
	return &doc.Doc{Title: title, Foot: title + " · " + yard.Name, Head: c.listed(q.Hull, q.Customer.Name),
		Blocks: append(blocks, law(yard)), Data: c.data()}
}

// particulars are for whom the paper is, and of which boat.
func (c *change) particulars() doc.Terms {
	customer := c.now.Customer
	// a paper that offers nothing holds for no time
	until := ""
	if c.x.Now != nil {
		until = c.Date(c.now.ValidUntil)
	}
	return particulars([2]string{c.Say("paper.boat"), c.now.Hull},
		[2]string{c.Say("paper.for"), c.listed(append(append([]string{customer.Name}, customer.Address...),
			customer.Email, customer.Phone)...)},
		[2]string{c.Say("paper.date"), c.Date(c.x.Day.String())}, [2]string{c.Say("paper.valid-until"), until},
		[2]string{c.Say("office.changes-quotation"), c.Say("paper.quotation", msg.Text("number", c.was.Number),
			msg.Count("revision", c.was.Revision))},
		[2]string{c.Say("paper.prepared-by"), c.now.Seller})
}

// changes are the slots that differ, section by section: what goes, and what comes in its place. What follows from a
// choice without having been asked for is among them, or the customer would find it on his boat and not on his paper.
func (c *change) changes() doc.Section {
	t := doc.Table{Style: "listing", Columns: []doc.Column{{Title: c.Say("office.place")},
		{Title: c.Say("office.until-now")}, {Title: c.Say("office.from-now-on")}}}
	for _, name := range both(c.was.Contents, c.now.Contents, func(s quote.SectionPart) string { return s.Title }) {
		g := doc.Group{Title: name}
		was, now := slotsOf(c.was, name), slotsOf(c.now, name)
		for _, id := range both(was, now, func(s quote.SlotPart) string { return s.ID }) {
			// by what the slots hold in words: two options of one title are one to a customer
			title, before := c.slot(was, id)
			other, after := c.slot(now, id)
			if before == after {
				continue
			}
			if other != "" {
				title = other
			}
			g.Rows = append(g.Rows, row(title, doc.Text(before), doc.Text(after)))
		}
		if len(g.Rows) > 0 {
			t.Groups = append(t.Groups, g)
		}
	}
	return section(c.Say("office.what-changes"), "", t)
}

// both are the names of two lists, in the order of the second; those of the first alone stand behind it.
func both[T any](was, now []T, name func(T) string) (list []string) {
	// the second first, since that is the boat which the customer is about to have
	for _, l := range [][]T{now, was} {
		for _, x := range l {
			if n := name(x); !slices.Contains(list, n) {
				list = append(list, n)
			}
		}
	}
	return list
}

// slotsOf are the slots of a section.
func slotsOf(q *quote.Quote, name string) []quote.SlotPart {
	for _, s := range q.Contents {
		if s.Title == name {
			return s.Slots
		}
	}
	return nil
}

// slot is what a slot is called and holds; one that is not there holds nothing.
func (c *change) slot(list []quote.SlotPart, id string) (title, holds string) {
	i := slices.IndexFunc(list, func(s quote.SlotPart) bool { return s.ID == id })
	if i < 0 {
		return "", c.Say("office.nothing")
	}
	// with counts, as in the specification: two fenders fewer are a change
	var options []string
	for _, o := range list[i].Options {
		text := o.Title
		if o.Count > 1 {
			text = c.Say("paper.counted", msg.Count("n", o.Count), msg.Text("title", o.Title))
		}
		options = append(options, text)
	}
	return list[i].Title, c.listed(options...)
}

// refused is what can no longer be had, and why: the customer reads what was begun and when.
func (c *change) refused() doc.Section {
	// a sentence each, which stands by itself: it is read to somebody on the telephone
	var list []string
	for _, r := range c.x.Refused {
		list = append(list, c.Say("office.too-late", msg.Text("slot", r.Slot), msg.Texts("options", msg.And, r.Options),
			msg.Text("operation", r.Operation), msg.Date("day", r.Begun.String())))
	}
	return section(c.Say("office.no-longer"), "", doc.List(list))
}

// undone is what is built in already and is taken out, at what is charged for it.
func (c *change) undone() doc.Section {
	t := doc.Table{Columns: []doc.Column{{Title: c.Say("office.place")}, {Title: c.Say("office.given-up")},
		{Title: c.Say("office.since")}, {Title: c.now.Price.Currency.Code, Right: true}}}
	var rows []doc.Row
	for _, u := range c.x.Change.Undone {
		rows = append(rows, row(u.Slot, doc.Text(c.listed(u.Options...)), doc.Text(c.Say("office.begun-on",
			msg.Text("operation", u.Operation), msg.Date("day", u.Begun.String()))),
			some(amountOf(c.now.Price.Lines, u.Extra), c.now.Price.Currency)))
	}
	// as the price has it, with tax where prices are shown with it
	t.Groups = []doc.Group{{Rows: rows}}
	s := section(c.Say("office.undone"), "", t)
	s.Note = c.Say("office.undone-note")
	return s
}

// amountOf is the amount of a line of a price.
func amountOf(lines []quote.LinePart, key string) (sum money.Amount) {
	for _, l := range lines {
		if l.Key == key {
			sum = sum.Add(l.Amount)
		}
	}
	return sum
}

// priceStyle is that of a price that fits on a page, by the style sheet of quotations. It is two names there, which no
// reader sees.
const priceStyle = "price" + " " + "short"

// price has the lines that differ, before and after, and what both come to. Each column adds up as it stands.
func (c *change) price() doc.Section {
	was, now := &c.was.Price, &c.now.Price
	t := doc.Table{Style: priceStyle, Columns: columns(c.Say("paper.item"), c.Say("office.until-now"),
		c.Say("office.from-now-on"), c.Say("office.difference"))}
	pair := func(style, title string, before, after money.Amount) doc.Row {
		return doc.Row{Label: title, Style: style, Cells: amounts(now.Currency, before, after, after.Sub(before))}
	}
	// what stays is one row: a list of eighty lines that are the same twice hides the three that are not
	var rows []doc.Row
	var same money.Amount
	for _, l := range c.lines() {
		if l.before.Equal(l.after) {
			same = same.Add(l.before)
			continue
		}
		rows = append(rows, pair("", l.title, l.before, l.after))
	}
	if !same.IsZero() {
		rows = append([]doc.Row{pair("", c.Say("office.all-else"), same, same)}, rows...)
	}
	t.Groups = []doc.Group{{Rows: rows}}
	// of both the rate of today: that of a region changes by law, and then for both
	tax := c.Say("paper.tax", msg.Text("tax", now.TaxName), msg.Share("rate", now.TaxRate))
	if now.TaxName == "" {
		tax = c.Say("paper.tax-amount")
	}
	t.Foot = []doc.Row{pair("part", c.Say("paper.net"), was.Net, now.Net), pair("part", tax, was.Tax, now.Tax),
		pair("total", c.Say("paper.total"), was.Total, now.Total)}
	if !was.Payable.Equal(was.Total) {
		t.Foot = append(t.Foot, pair("total", c.Say("paper.payable"), was.Payable, now.Payable))
	}
	return section(c.listed(c.Say("paper.price"), now.Currency.Code), "", t)
}

// line is a line of both prices, or a discount.
type line struct {
	kind, key, title string
	before, after    money.Amount
}

// lines are those of both prices, each once: the second one's, then what was in the first alone.
func (c *change) lines() (list []line) {
	// amounts of one line are added up, since a slot may have several
	add := func(kind string, lines []quote.LinePart, after bool) {
		for _, l := range lines {
			key := l.Key
			if kind == "discount" { // several discounts may be on one line
				key += "\x00" + l.Title
			}
			i := slices.IndexFunc(list, func(x line) bool { return x.kind == kind && x.key == key })
			if i < 0 {
				i, list = len(list), append(list, line{kind: kind, key: key, title: l.Title})
			}
			if after {
				list[i].after = list[i].after.Add(l.Amount)
			} else {
				list[i].before = list[i].before.Add(l.Amount)
			}
		}
	}
	add("line", c.now.Price.Lines, true)
	add("line", c.was.Price.Lines, false)
	add("discount", c.now.Price.Discounts, true)
	add("discount", c.was.Price.Discounts, false)
	return list
}

// stages are what is to pay when from then on, with what was paid already.
func (c *change) stages() doc.Section {
	a, err := c.x.Now.Account()
	if err != nil {
		return doc.Section{} // an order whose stages cannot be divided was refused when it was read
	}
	// by title, which a change of the boat leaves alone
	before := map[string]money.Amount{}
	for _, s := range c.was.Price.Stages {
		before[s.Title] = s.Amount
	}
	rows := doc.Rows(a.Stages, func(s orders.StageAccount) doc.Row {
		return row(s.Title, amounts(a.Currency, before[s.Title], s.Amount, s.Paid, s.Open)...)
	})
	t := doc.Table{Columns: columns(c.Say("paper.when"), c.Say("office.until-now"), c.Say("office.from-now-on"),
		c.Say("office.paid"), c.Say("office.open")), Groups: rows}
	t.Foot = []doc.Row{{Label: c.Say("paper.total"), Style: "total", Cells: amounts(a.Currency,
		c.was.Price.Payable, a.Amount, a.Paid, a.Open)}}
	s := section(c.listed(c.Say("office.stages-after"), a.Currency.Code), "stages", t)
	if a.Surplus.Sign() > 0 {
		s.Blocks = append(s.Blocks, doc.Paragraph{Text: c.Say("office.paid-back", msg.Money("amount", a.Surplus,
			a.Currency, c.now.Price.RegionID))})
	}
	return s
}

// launch is the week that holds from then on, and what the plan makes of the change.
func (c *change) launch() doc.Section {
	// The promise is a person's, the days are the plan's: both stand there, and may differ.
	days := c.x.Change.Launch.Days()
	moved := c.Say("office.launch-stays")
	switch {
	case days > 0:
		moved = c.Say("office.launch-later", msg.Count("days", days))
	case days < 0:
		moved = c.Say("office.launch-earlier", msg.Count("days", -days))
	}
	t := particulars([2]string{c.Say("office.week-until-now"), c.week(c.x.Was.Promise())},
		[2]string{c.Say("office.week-from-now-on"), c.week(c.x.Now.Promise())})
	t.Style = ""
	return section(c.Say("office.launch"), "", t, doc.Paragraph{Text: moved})
}

// signatures are what is agreed to, and where.
func (c *change) signatures() doc.Section {
	return section(c.Say("paper.acceptance"), "acceptance", doc.Paragraph{Text: c.Say("office.accepts-change")},
		doc.Signatures{c.Say("paper.customer-signs"), c.Say("paper.yard-signs", msg.Text("yard", c.now.Yard.Name))})
}

// data are the amounts of both prices for a program.
func (c *change) data() *doc.Table {
	t := doc.Table{Groups: []doc.Group{{}}}
	for _, name := range []string{"kind", "key", "title", "currency", "before", "after"} {
		t.Columns = append(t.Columns, doc.Column{Title: name})
	}
	was, now := &c.was.Price, &c.now.Price
	add := func(kind, key, title string, before, after money.Amount) {
		t.Groups[0].Rows = append(t.Groups[0].Rows, row(kind, append([]doc.Cell{doc.Text(key), doc.Text(title),
			doc.Text(now.Currency.Code)}, amounts(now.Currency, before, after)...)...))
	}
	// codes and no words where a program looks; amounts with a point and without groups
	for _, l := range c.lines() {
		if l.kind == "discount" {
			l.key = ""
		}
		if !l.before.Equal(l.after) {
			add(l.kind, l.key, l.title, l.before, l.after)
		}
	}
	add("net", "", "", was.Net, now.Net)
	add("tax", "", "", was.Tax, now.Tax)
	add("total", "", "", was.Total, now.Total)
	add("payable", "", "", was.Payable, now.Payable)
	for i, s := range now.Stages {
		var before money.Amount
		if i < len(was.Stages) {
			before = was.Stages[i].Amount
		}
		add("stage", "", s.Title, before, s.Amount)
	}
	return &t
}
