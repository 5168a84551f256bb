package paper

import (
	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// quotation is what a customer gets: a specification with its price, and where it has a number an offer to sign.
var quotation = Paper{
	ID:      "quotation",
	Formats: []Format{AsText, AsHTML, AsJSON, AsCSV, AsUBL, AsCalendar},
	OnPage:  []Format{AsHTML, AsText, AsUBL, AsCalendar},
	Gather: func(s *Source, e *engine.Engine, a *engine.Answer, _ string) (err error) {
		s.Pictures, err = look.ForCustomer(e, a.Build, e.Units(a, s.Quote.Units))
		return err
	},
	Build: func(s *Source) *doc.Doc { return (&offer{s, s.Quote.ForCustomer()}).build() },
	Data:  quotationData,
}

// The order is that of a customer's questions: which boat, for whom and until when; what it costs and when it is due;
// what it is; what the price starts from; how it goes; how it is sold; and where to sign. Conditions and cautions stand
// before the signature, since they are what is agreed to.

// offer builds a quotation of what its customer may have of a quote.
type offer struct {
	*Source
	q *quote.Quote
}

// build puts the first picture, the boat, on the first page.
func (o *offer) build() *doc.Doc {
	q, yard := o.q, &o.q.Yard
	// a picture sells, so it stands before the price; plots and plans behind the specification
	first := min(1, len(o.Pictures))
	return &doc.Doc{Title: o.title(), Foot: o.title() + " · " + yard.Name, Head: o.listed(q.Hull, q.Customer.Name),
		Data: o.data(), Blocks: []doc.Block{
			doc.Letterhead{Name: yard.Name, Address: append(append([]string{}, yard.Address...), yard.Email,
				yard.Phone),
				Note: yard.Note},
			doc.Heading(o.title()),
			o.particulars(),
			o.clashes(q.Clashes),
			drawings(o.Pictures[:first]),
			o.price(),
			o.stages(),
			doc.Paragraph{Text: o.payTo(), Note: true},
			o.Specification(q.Contents),
			o.link(),
			o.standard(),
			drawings(o.Pictures[first:]),
			o.solar(q.Solar),
			o.values(o.Say("paper.dimensions"), "", q.Dimensions),
			o.figures(q.Figures),
			o.values(o.Say("paper.use"), "", q.Use),
			notes(o.Say("paper.delivery"), q.Delivery),
			notes(o.Say("paper.exclusions"), q.Exclusions),
			notes(o.Say("paper.warranty"), q.Warranty),
			notes(o.Say("paper.terms"), q.Terms),
			notes(o.Say("paper.cautions"), q.Cautions),
			o.acceptance(),
			o.footer(),
		}}
}

// title is what the paper is called: a quotation is one when it has a number.
func (o *offer) title() string {
	if o.q.Number == "" {
		return o.Say("paper.draft")
	}
	return o.quotation(o.q)
}

// particulars are what stands between the heading and the price: for whom, when, how long it holds.
func (o *offer) particulars() doc.Terms {
	q, c := o.q, &o.q.Customer
	// in one line: the paper is handed over or sent as a file, and meets no window of an envelope
	customer := ""
	if c.Name != "" {
		customer = o.party(c)
	}
	terms := doc.Terms{Style: "particulars"}
	// what is not given is left out, since an empty line asks to be filled in by hand
	for _, t := range [][2]string{{o.Say("paper.boat"), q.Hull}, {o.Say("paper.for"), customer},
		{o.Say("paper.date"), o.Date(q.Date)}, {o.Say("paper.valid-until"), o.Date(q.ValidUntil)},
		{o.Say("paper.prepared-by"), q.Seller}, {o.Say("paper.sold-through"), o.party(q.Dealer)},
		{o.Say("paper.destination"), q.Price.Region},
		{o.Say("paper.remarks"), q.Remarks}} {
		if t[1] != "" {
			terms.List = append(terms.List, doc.Term{Name: t[0], Values: []string{t[1]}})
		}
	}
	return terms
}

// shortTable is how many lines of a price are kept together on a page. A longer table goes on over the page, and has
// the sum so far on each line, so that it can be added up there.
const shortTable = 20

// priceStyle and one of short and long are the style of the price.
const priceStyle = "price "

// price is the table of what is paid for, and beneath it how tax and trade-in stand to the total. On a short table the
// sum so far would only be noise, so the column is left out.
func (o *offer) price() doc.Section {
	p := &o.q.Price
	t := doc.Table{Style: priceStyle + "short", Columns: columns(o.Say("paper.item"), p.Currency.Code),
		Groups: o.lines(), Foot: o.totals()}
	// discounts count: they stand in the same column, and are carried too
	if len(p.Lines)+len(p.Discounts) > shortTable {
		t.Style = priceStyle + "long"
		t.Columns = append(t.Columns, doc.Column{Title: o.Say("paper.carried"), Style: "carried", Right: true,
			Aside: true})
	} else {
		for _, g := range t.Groups {
			for i := range g.Rows {
				g.Rows[i].Cells = g.Rows[i].Cells[:1]
			}
		}
	}
	section := titled(o.Say("paper.price"), "", t, doc.Paragraph{Text: o.taxNote(), Note: true},
		doc.Paragraph{Text: o.Text(o.q.Price.ConvertedNote()), Note: true})
	if p.TradeIn != nil {
		section.Blocks = append(section.Blocks, doc.Paragraph{Text: p.TradeIn.Detail, Note: true})
	}
	return section
}

// lines are those of the price under their sections, and behind them the discounts.
func (o *offer) lines() (groups []doc.Group) {
	p := &o.q.Price
	// the price has its lines in the order of the book, so sections come one after the other
	add := func(section string, l quote.LinePart) {
		// a section that comes again is another group: the order of the lines is that of the price
		if n := len(groups); n == 0 || groups[n-1].Title != section {
			groups = append(groups, doc.Group{Title: section})
		}
		g := &groups[len(groups)-1]
		g.Rows = append(g.Rows, doc.Row{Label: l.Title, Detail: l.Detail,
			Cells: []doc.Cell{doc.Money(l.Amount, p.Currency), doc.Money(l.Carried, p.Currency)}})
	}
	for _, l := range p.Lines {
		add(l.Section, l)
	}
	for _, l := range p.Discounts {
		add(o.Say("paper.discounts"), l)
	}
	return groups
}

// totals are what the lines come to. Where prices have tax in them the total stands first.
func (o *offer) totals() (rows []doc.Row) {
	p := &o.q.Price
	add := func(style, title string, a money.Amount) {
		rows = append(rows, doc.Row{Label: title, Style: style, Cells: []doc.Cell{doc.Money(a, p.Currency)}})
	}
	// the sum that the customer pays stands last in bold, whatever lies between
	tax, rate := msg.Text("tax", p.TaxName), msg.Share("rate", p.TaxRate)
	if p.TaxMode == pack.Exclusive {
		add("part", o.Say("paper.net"), p.Net)
		add("part", o.Say("paper.tax", tax, rate), p.Tax)
	}
	// prices that have tax in them come to the total, which is then taken apart; others are added up to it
	add("total", o.Say("paper.total"), p.Total)
	if p.TaxMode == pack.Inclusive {
		add("part", o.Say("paper.of-which-net"), p.Net)
		add("part", o.Say("paper.of-which-tax", tax, rate), p.Tax)
	}
	if t := p.TradeIn; t != nil {
		add("part", o.Say("paper.trade-in", msg.Text("title", t.Title)), t.Amount)
		add("total", o.Say("paper.payable"), p.Payable)
	}
	return rows
}

// taxNote says how tax stands to the total.
func (o *offer) taxNote() string {
	p := &o.q.Price
	tax, rate, region := msg.Text("tax", p.TaxName), msg.Share("rate", p.TaxRate), msg.Text("region", p.Region)
	// what a consumer must be told, and a business needs for its own books
	switch p.TaxMode {
	case pack.Inclusive:
		return o.Say("paper.tax-included", tax, rate, region, msg.Money("amount", p.Tax, p.Currency, p.RegionID))
	case pack.Exclusive:
		return o.Text(msg.Sentences(msg.New("paper.tax-added", tax, rate), typed(p.Condition)))
	case pack.Zero:
		return o.Text(msg.Sentences(msg.New("paper.tax-none", tax, region), typed(p.Condition)))
	}
	return ""
}

// stages are what is due when: the share is of the total, the amount what the trade-in leaves to pay of it.
func (o *offer) stages() doc.Section {
	p := &o.q.Price
	return titled(o.Say("paper.stages"), "stages", doc.Table{
		Columns: columns(o.Say("paper.when"), o.Say("paper.share"), p.Currency.Code),
		Groups: doc.Rows(p.Stages, func(s quote.StagePart) doc.Row {
			r := row(s.Title, doc.Share(s.Share), doc.Money(s.Amount, p.Currency))
			// the share is of the whole; without this line the amount beside it would look wrong
			if !s.TradeIn.IsZero() {
				r.Detail = o.Say("paper.less-trade-in",
					msg.Text("amount", doc.Money(s.TradeIn.Neg(), p.Currency).Words(o.Language)))
			}
			return r
		})})
}

// payTo says where to pay to. A draft asks for nothing.
func (o *offer) payTo() string {
	// an account on a draft would invite a payment for nothing
	b := o.q.Yard.Bank
	if o.q.Number == "" || b.IBAN == "" {
		return ""
	}
	bic := ""
	if b.BIC != "" {
		bic = o.Say("paper.bic", msg.Text("code", b.BIC))
	}
	return o.Say("paper.pay-to", msg.Text("to", o.listed(o.q.Yard.Name, b.Name,
		o.Say("paper.iban", msg.Text("code", b.IBAN)), bic)))
}

// link leads to the boat on the yard's page; nothing where the book names no page.
func (o *offer) link() doc.Section {
	return titled(o.Say("paper.link-title"), "", doc.Link{Address: o.q.Link(), Short: o.q.Yard.Page,
		Text: o.Say("paper.link"), Code: o.Say("paper.link-code")})
}

// standard is what the first line of the price stands for.
func (o *offer) standard() doc.Section {
	terms := doc.Terms{}
	for _, sec := range o.q.Standard {
		t := doc.Term{Name: sec.Title}
		for _, slot := range sec.Slots {
			var names []string
			for _, x := range slot.Options {
				names = append(names, o.counted(x.Count, x.Title))
			}
			t.Values = append(t.Values, o.named(slot.Title, o.List(msg.Commas, names)))
		}
		terms.List = append(terms.List, t)
	}
	// the note keeps it from being read as what this boat has
	section := titled(o.Say("paper.standard", msg.Text("hull", o.q.Hull)), "standard", doc.List(o.q.Includes), terms)
	section.Note = o.Say("paper.standard-note")
	return section
}

// acceptance is what is signed, and where. A draft is not signed.
func (o *offer) acceptance() doc.Section {
	if o.q.Number == "" {
		return doc.Section{}
	}
	// places to sign stand without a title where the book has no words of acceptance
	title := ""
	if o.q.Acceptance != "" {
		title = o.Say("paper.acceptance")
	}
	return titled(title, "acceptance", doc.Paragraph{Text: o.q.Acceptance},
		doc.Signatures{o.Say("paper.customer-signs"), o.Say("paper.yard-signs", msg.Text("yard", o.q.Yard.Name))})
}

// footer says who the yard is by law, and from what the paper was made.
func (o *offer) footer() doc.Footer {
	yard := o.q.Yard
	// what the law of the yard's country wants on its letters: the book has the words
	law := yard.Register
	if law != "" && yard.TaxNumber != "" {
		law += ". "
	}
	if law += yard.TaxNumber; law == "" {
		return doc.Footer{o.colophon(o.q.Edition, o.q.SpecDigest)}
	}
	return doc.Footer{law, o.colophon(o.q.Edition, o.q.SpecDigest)}
}

// A row has a kind, an identifier that no translation touches, and words beside it: whoever adds up quotations in a
// spreadsheet finds "total" by its kind, and who reads them reads the words.

// data is all that the quotation says in one table. Amounts of money stand in columns of their own; what else has a
// value has it as its detail.
func (o *offer) data() *doc.Table {
	q, p := o.q, &o.q.Price
	d := newData("kind", "key", "section", "title", "detail", "currency", "amount", "carried")
	// amounts with their currency on each row, so that rows of several quotations can be put together
	priced := func(kind, key, section, title, detail string, cells ...doc.Cell) {
		d.add(kind, append([]doc.Cell{doc.Text(key), doc.Text(section), doc.Text(title), doc.Text(detail),
			doc.Text(p.Currency.Code)}, cells...)...)
	}
	// A row that would say nothing but its kind is left out.
	said := func(kind, key, section, title, detail string) {
		if title+detail != "" {
			d.add(kind, doc.Text(key), doc.Text(section), doc.Text(title), doc.Text(detail))
		}
	}
	// no address of the customer: the file goes into calculations, and is passed on without a thought
	for _, r := range [][2]string{{"number", q.Number}, {"date", q.Date}, {"valid-until", q.ValidUntil},
		{"boat", q.Hull}, {"customer", q.Customer.Name}, {"prepared-by", q.Seller}, {"sold-through", o.party(q.Dealer)},
		{"destination", p.Region},
		{"remarks", q.Remarks}, {"link", q.Link()}, {"yard", q.Yard.Name}, {"register", q.Yard.Register},
		{"tax-number", q.Yard.TaxNumber}} {
		said("quotation", r[0], "", "", r[1])
	}
	for _, list := range []struct {
		kind  string
		lines []quote.LinePart
	}{{"line", p.Lines}, {"discount", p.Discounts}} {
		for _, l := range list.lines {
			cells := []doc.Cell{doc.Money(l.Amount, p.Currency)}
			// left out where it is zero, as in the file of the quotation
			if !l.Carried.IsZero() {
				cells = append(cells, doc.Money(l.Carried, p.Currency))
			}
			priced(list.kind, l.Key, l.Section, l.Title, l.Detail, cells...)
		}
	}
	priced("net", "", "", "", "", doc.Money(p.Net, p.Currency))
	priced("tax", "", "", "", "", doc.Money(p.Tax, p.Currency))
	priced("total", "", "", "", "", doc.Money(p.Total, p.Currency))
	if t := p.TradeIn; t != nil {
		priced("trade-in", "", "", t.Title, "", doc.Money(t.Amount, p.Currency))
		priced("payable", "", "", "", "", doc.Money(p.Payable, p.Currency))
	}
	for _, s := range p.Stages {
		priced("stage", "", "", s.Title, o.Share(s.Share), doc.Money(s.Amount, p.Currency))
	}
	said("payment", "", "", "", o.payTo())
	// both builds, so that a spreadsheet can show what differs
	for _, part := range []struct {
		kind     string
		sections []quote.SectionPart
	}{{"specification", q.Contents}, {"standard-build", q.Standard}} {
		for _, sec := range part.sections {
			for _, slot := range sec.Slots {
				for _, x := range slot.Options {
					said(part.kind, x.ID, sec.Title, slot.Title, o.counted(x.Count, x.Title))
				}
			}
		}
	}
	for _, part := range []struct {
		kind   string
		values []engine.Value
	}{{"dimension", q.Dimensions}, {"figure", q.Figures}, {"use", q.Use}} {
		for _, v := range part.values {
			said(part.kind, v.ID, "", v.Title, o.Text(v.Message()))
		}
	}
	for _, part := range []struct {
		kind string
		list []string
	}{{"every-boat-has", q.Includes}, {"delivery", q.Delivery}, {"not-included", q.Exclusions},
		{"warranty", q.Warranty}, {"term", q.Terms}, {"caution", q.Cautions}, {"clash", q.Clashes}} {
		for _, text := range part.list {
			said(part.kind, "", "", "", text)
		}
	}
	if q.Number != "" {
		said("acceptance", "", "", "", q.Acceptance)
	}
	return &d.Table
}
