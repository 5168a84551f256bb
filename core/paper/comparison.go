package paper

import (
	"strconv"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/quote"
)

// Comparison is two versions of a quotation side by side, for the customer: the price line by line with what each
// differs by, the figures, and all other words that differ. It is made of two quotations and of no answer, so no desk
// gathers it and it is not in [Papers].
var Comparison = Paper{
	ID:      "comparison",
	Formats: []Format{AsText, AsHTML, AsCSV},
	OnPage:  []Format{AsHTML, AsCSV},
	Build: func(s *Source) *doc.Doc {
		return (&comparison{Source: s, was: s.Earlier.ForCustomer(), now: s.Quote.ForCustomer()}).build()
	},
}

// comparison builds the paper of what the customer may have of both: a comparison of the whole would tell what an extra
// item costs by the difference that it makes. The earlier stands at the left. Every row that differs is also a row of
// the data, as it is found, so that paper and file cannot say different things.
type comparison struct {
	*Source
	was, now *quote.Quote
	data     *data
}

// build goes from what a customer asks first, the price, to the words, which he has to be shown.
func (c *comparison) build() *doc.Doc {
	c.data = newData("kind", "place", "was", "now", "difference")
	title := c.Say("paper.comparison", msg.Text("was", c.version(c.was)), msg.Text("now", c.version(c.now)))
	yard := &c.now.Yard
	return &doc.Doc{Title: title, Foot: title + " · " + yard.Name, Head: c.listed(c.now.Hull, c.now.Customer.Name),
		Data: &c.data.Table, Blocks: []doc.Block{
			doc.Letterhead{Name: yard.Name, Address: append(append([]string{}, yard.Address...), yard.Email,
				yard.Phone),
				Note: yard.Note},
			doc.Heading(title),
			doc.Paragraph{Text: c.Say("paper.compared-dot"), Note: true},
			c.details(),
			c.prices(),
			c.figureTable(),
			c.others(),
		}}
}

// version is what a quotation is called, a draft too.
func (c *comparison) version(q *quote.Quote) string {
	if q.Number == "" {
		return c.Say("paper.draft")
	}
	return c.quotation(q)
}

// row is one of two texts; one that differs has a dot, which a copy in black and white keeps.
func (c *comparison) row(kind, title, was, now string) doc.Row {
	r := row(title, doc.Against(was, now), doc.Against(now, was))
	if was != now {
		r.Label = c.Say("paper.dotted", msg.Text("label", title))
		c.data.add(kind, doc.Text(title), doc.Text(was), doc.Text(now))
	}
	return r
}

// details are what the digest of a boat does not see and [quote.Compare] passes over: for whom, when and until when.
func (c *comparison) details() doc.Section {
	of := func(q *quote.Quote) [][2]string {
		return [][2]string{{c.Say("paper.boat"), q.Hull},
			{c.Say("paper.for"), c.party(&q.Customer)},
			{c.Say("paper.date"), c.Date(q.Date)}, {c.Say("paper.valid-until"), c.Date(q.ValidUntil)},
			{c.Say("paper.prepared-by"), q.Seller}, {c.Say("paper.sold-through"), c.party(q.Dealer)},
			{c.Say("paper.destination"), q.Price.Region},
			{c.Say("paper.remarks"), q.Remarks}}
	}
	var rows []doc.Row
	// number and revision are the heads of the columns
	was, now := of(c.was), of(c.now)
	for i := range now {
		// what neither says would be an empty row
		if was[i][1]+now[i][1] != "" {
			rows = append(rows, c.row("quotation", now[i][0], was[i][1], now[i][1]))
		}
	}
	return titled("", "", doc.Table{Style: "listing", Columns: []doc.Column{{}, {Title: c.version(c.was)},
		{Title: c.version(c.now)}}, Groups: []doc.Group{{Rows: rows}}})
}

// The lines of two editions are known by their slots, as in [quote.Compare]; a slot that a later edition renames is one
// line gone and one come, with the whole amount of each.

// pair is a line of both prices; nil where one of them lacks it.
type pair struct {
	title    string
	was, now *money.Amount
}

// paired puts lines of the same key beside each other: those that were, in their order, then those that are new. Lines
// of one key, such as two discounts on the whole, are told apart by their order.
func paired(was, now []quote.LinePart) (list []pair) {
	at := map[string]int{}
	enter := func(lines []quote.LinePart, set func(*pair, *money.Amount)) {
		// counted anew in each quotation
		seen := map[string]int{}
		for i := range lines {
			l := &lines[i]
			key := l.Key
			if key == "" {
				key = "\x00" + l.Title // no key of a book holds a null
			}
			seen[key]++
			key += "\x00" + strconv.Itoa(seen[key])
			j, ok := at[key]
			if !ok {
				j = len(list)
				at[key], list = j, append(list, pair{title: l.Title})
			}
			set(&list[j], &l.Amount)
		}
	}
	enter(was, func(p *pair, a *money.Amount) { p.was = a })
	enter(now, func(p *pair, a *money.Amount) { p.now = a })
	return list
}

// priced is a row of two amounts and what they differ by. Of two currencies nothing can be said.
func (c *comparison) priced(p pair) doc.Row {
	was, now := money.Amount{}, money.Amount{}
	r := row(p.title, doc.Cell{}, doc.Cell{}, doc.Cell{})
	if p.was != nil {
		was = *p.was
		r.Cells[0] = doc.Money(was, c.was.Price.Currency)
	}
	if p.now != nil {
		now = *p.now
		r.Cells[1] = doc.Money(now, c.now.Price.Currency)
	}
	// a line of nothing is not the same as no line
	if now.Equal(was) && (p.was == nil) == (p.now == nil) && c.was.Price.Currency == c.now.Price.Currency {
		return r
	}
	// below zero where the later is less
	if c.was.Price.Currency == c.now.Price.Currency {
		r.Cells[2] = doc.Money(now.Sub(was), c.now.Price.Currency)
	}
	c.data.add("price", append([]doc.Cell{doc.Text(p.title)}, r.Cells...)...)
	r.Label = c.Say("paper.dotted", msg.Text("label", p.title))
	return r
}

// prices are all lines, discounts and sums. The price is long in style whatever its length: three columns of amounts
// need the narrow rows.
func (c *comparison) prices() doc.Section {
	was, now := &c.was.Price, &c.now.Price
	t := doc.Table{Style: priceStyle + "long", Columns: []doc.Column{{Title: c.Say("paper.item")},
		{Title: c.version(c.was), Unit: was.Currency.Code, Right: true},
		{Title: c.version(c.now), Unit: now.Currency.Code, Right: true},
		{Title: c.Say("paper.difference"), Unit: now.Currency.Code, Right: true}}}
	// unchanged lines stand there too: who reads the paper alone adds them up
	t.Groups = []doc.Group{{Rows: nil}}
	for _, p := range append(paired(was.Lines, now.Lines), paired(was.Discounts, now.Discounts)...) {
		t.Groups[0].Rows = append(t.Groups[0].Rows, c.priced(p))
	}
	for _, sum := range []struct {
		title    string
		was, now *money.Amount
	}{{c.Say("paper.net"), &was.Net, &now.Net}, {c.Say("paper.tax-amount"), &was.Tax, &now.Tax},
		{c.Say("paper.total"), &was.Total, &now.Total}, {c.Say("paper.payable"), &was.Payable, &now.Payable}} {
		t.Foot = append(t.Foot, c.priced(pair(sum)))
	}
	return titled(c.Say("paper.price"), "", t)
}

// figureTable is the figures of both boats. One that is on one boat alone is empty on the other.
func (c *comparison) figureTable() doc.Section {
	words := func(list []engine.Value, id string) string {
		for _, v := range list {
			if v.ID == id {
				return c.Text(v.Message())
			}
		}
		return ""
	}
	var rows []doc.Row
	// by identifier, since a title of the book may have changed between two editions
	seen := map[string]bool{}
	for _, v := range append(append([]engine.Value{}, c.now.Figures...), c.was.Figures...) {
		if !seen[v.ID] {
			seen[v.ID] = true
			rows = append(rows, c.row("figure", v.Title, words(c.was.Figures, v.ID), words(c.now.Figures, v.ID)))
		}
	}
	section := titled(c.Say("paper.figures"), "", doc.Table{Style: "listing", Columns: []doc.Column{{},
		{Title: c.version(c.was)}, {Title: c.version(c.now)}}, Groups: []doc.Group{{Rows: rows}}})
	section.Note = c.Say("paper.preliminary")
	return section
}

// others are all differences that stand in none of the tables above, so that nothing is passed over.
func (c *comparison) others() doc.Section {
	// in the order of [quote.Compare], which is that of the paper
	var rows []doc.Row
	for _, d := range quote.Compare(c.was, c.now) {
		// the lines and figures stand above; what of the price is in words, as stages and tax, is said here too
		if d.Part != quote.PartFigures {
			rows = append(rows, c.row("other", c.Text(d.Place), c.Text(d.Was), c.Text(d.Now)))
		}
	}
	return titled(c.Say("paper.differences"), "", doc.Table{Style: "listing", Columns: []doc.Column{{},
		{Title: c.version(c.was)}, {Title: c.version(c.now)}}, Groups: []doc.Group{{Rows: rows}}})
}
