package papers

import (
	"fmt"

	"ribband/core/doc"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/orders"
	"ribband/core/quote"
)

// Request asks a customer for what is due of an order, or says what is paid back to him where he has paid more than the
// boat costs. It is no invoice: what an invoice has to say is a matter of the tax law of the place, and of the yard's
// accounts. Amounts and tax are those of the quotation's stages.
func Request(l *msg.Language, o *orders.Order, a *orders.Account, day orders.Day) *doc.Doc {
	r := &request{writer: in(l), o: o, a: a, day: day, q: o.Quote().ForCustomer()}
	return r.build()
}

// RequestNumber is what a request is called: the order, and how many of its stages are due. A later request of the same
// stages bears the same number, as it is about the same money; its date tells them apart.
func RequestNumber(a *orders.Account) string {
	// of what is due, paid or not: so the number grows with the boat
	n := 0
	for i := range a.Stages {
		if !a.Stages[i].Due.IsZero() {
			n++
		}
	}
	return fmt.Sprintf("%s-%d", a.Order, n)
}

// request builds the paper.
type request struct {
	writer
	o   *orders.Order
	a   *orders.Account
	day orders.Day
	q   *quote.Quote
}

// build says what is to pay and how before it says how that comes about: most who get it want no more than that.
func (r *request) build() *doc.Doc {
	// the number stands in the heading, in the foot and as the reference: it is what comes back with the money
	yard, customer := &r.q.Yard, r.q.Customer
	number := RequestNumber(r.a)
	title := r.Say("office.request", msg.Text("number", number))
	if r.a.Asked.IsZero() {
		title = r.Say("office.repayment", msg.Text("number", number))
	}
	return &doc.Doc{Title: title, Foot: title + " · " + yard.Name, Head: r.listed(r.q.Hull, customer.Name),
		Blocks: []doc.Block{
			letterhead(yard), doc.Heading(title),
			particulars([2]string{r.Say("paper.for"), r.listed(append(append([]string{customer.Name},
				customer.Address...), customer.Email)...)}, [2]string{r.Say("paper.date"), r.Date(r.day.String())},
				[2]string{r.Say("paper.boat"), r.q.Hull}, [2]string{r.Say("office.order"), r.o.Number},
				[2]string{r.Say("office.by"), r.Say("paper.quotation", msg.Text("number", r.q.Number),
					msg.Count("revision", r.q.Revision))}),
			r.asked(), r.how(number), r.all(), notes(r.Say("paper.terms"), []string{r.Say("office.no-invoice")}),
			law(yard),
		}, Data: r.data()}
}

// money is an amount as the region of the price writes it.
func (r *request) money(name string, a money.Amount) msg.Arg {
	return msg.Money(name, a, r.a.Currency, r.q.Price.RegionID)
}

// asked are the stages that are due and not paid in full.
func (r *request) asked() doc.Section {
	// the tax is that of the quotation, of which each stage has its share to the cent
	p := &r.q.Price
	tax := r.Say("office.contains-tax", msg.Text("tax", p.TaxName), msg.Share("rate", p.TaxRate))
	if p.Tax.IsZero() {
		tax = r.Say("paper.tax-amount")
	}
	t := doc.Table{Columns: columns(r.Say("office.stage"), r.listed(r.Say("office.amount"), p.Currency.Code), tax,
		r.Say("office.paid"), r.Say("office.to-pay"))}
	var rows []doc.Row
	for i := range r.a.Stages {
		s := &r.a.Stages[i]
		if s.Due.IsZero() || s.Open.Sign() == 0 {
			continue
		}
		line := row(s.Title, amounts(r.a.Currency, s.Amount, s.Tax, s.Paid.Add(s.SetOff), s.Open)...)
		line.Detail = r.Say("office.due-since", msg.Date("since", s.Due.String()), msg.Date("by", s.PayBy.String()))
		// the tax is that of the whole stage; without this line it would look too large beside the amount
		if less := p.Stages[i].TradeIn; !less.IsZero() {
			line.Detail += " " + r.Say("paper.less-trade-in",
				msg.Text("amount", doc.Money(less.Neg(), p.Currency).Words(r.Language)))
		}
		rows = append(rows, line)
	}
	if len(rows) == 0 {
		return doc.Section{}
	}
	none := doc.Cell{}
	t.Groups = []doc.Group{{Rows: rows}}
	t.Foot = []doc.Row{{Label: r.Say("paper.total"), Style: "total", Cells: []doc.Cell{none, none, none,
		doc.Money(r.a.Asked, r.a.Currency)}}}
	s := section(r.Say("office.due"), "stages", t, doc.Paragraph{Text: r.taxNote(), Note: true})
	if late := r.a.Overdue(); late.Sign() > 0 {
		s.Blocks = append(s.Blocks, doc.Paragraph{Text: r.Say("office.overdue", r.money("amount", late))})
	}
	return s
}

// taxNote says under which condition no tax is in the amounts; nothing where there is some.
func (r *request) taxNote() string {
	// a business needs the reason for its own books
	p := &r.q.Price
	if !p.Tax.IsZero() || p.TaxName == "" {
		return ""
	}
	return r.listed(r.Say("paper.tax-none", msg.Text("tax", p.TaxName), msg.Text("region", p.Region)), p.Condition)
}

// how says how to pay, or that something is paid back.
func (r *request) how(number string) doc.Section {
	// of the quotation, as the customer has it: another account would have to be asked about
	b, to := r.q.Yard.Bank, doc.Terms{}
	var list []string
	if r.a.Asked.Sign() > 0 {
		// each by itself, as the form of a bank asks for it
		to = particulars([2]string{r.Say("office.to-pay"), r.Money(r.a.Asked.Fixed(r.a.Currency.Digits),
			r.a.Currency.Code, r.q.Price.RegionID)}, [2]string{r.Say("office.payee"), r.q.Yard.Name},
			[2]string{"IBAN", b.IBAN}, [2]string{"BIC", b.BIC}, [2]string{r.Say("office.bank"), b.Name},
			[2]string{r.Say("office.reference"), number})
		// without an account in the book a customer has to ask; better than a line that looks like one
		if b.IBAN == "" {
			list = append(list, r.Say("office.ask-account"))
		}
	}
	if r.a.Surplus.Sign() > 0 {
		list = append(list, r.Say("office.paid-back", r.money("amount", r.a.Surplus)),
			r.Say("office.back-to-account"))
	}
	for i := range r.a.Stages {
		if s := &r.a.Stages[i]; s.SetOff.Sign() > 0 {
			list = append(list, r.Say("office.set-off", r.money("amount", s.SetOff), msg.Text("stage", s.Title)))
		}
	}
	title := r.Say("office.how-to-pay")
	if r.a.Asked.IsZero() { // it is the yard that pays
		title = ""
	}
	return section(title, "", to, doc.List(list))
}

// all are all stages of the boat, so that the customer sees where he is.
func (r *request) all() doc.Section {
	// paid as it came in, stage by stage; what is set off is said above
	rows := doc.Rows(r.a.Stages, func(s orders.StageAccount) doc.Row {
		return row(s.Title, amounts(r.a.Currency, s.Amount, s.Paid, s.Open)...)
	})
	return section(r.listed(r.Say("paper.stages"), r.a.Currency.Code), "stages", doc.Table{
		Columns: columns(r.Say("office.stage"), r.Say("office.amount"), r.Say("office.paid"), r.Say("office.open")),
		Groups:  rows, Foot: []doc.Row{{Label: r.Say("paper.total"), Style: "total",
			Cells: amounts(r.a.Currency, r.a.Amount, r.a.Paid, r.a.Open)}}})
}

// data are the stages for a program, due or not.
func (r *request) data() *doc.Table { return DueData([]orders.Account{*r.a}) }

// DueData are the stages of accounts in one table for a spreadsheet: with codes for titles of columns, dates of ISO
// 8601, and amounts with a point.
func DueData(list []orders.Account) *doc.Table {
	t := &doc.Table{Groups: []doc.Group{{}}}
	for _, name := range []string{"order", "customer", "stage", "currency", "amount", "tax", "due", "pay_by", "paid",
		"set_off", "open", "late_days"} {
		t.Columns = append(t.Columns, doc.Column{Title: name})
	}
	// a row for each stage, due or not: whoever adds up what is to come has it here
	for _, a := range list {
		for _, s := range a.Stages {
			cells := []doc.Cell{doc.Text(a.Customer), doc.Text(s.Title), doc.Text(a.Currency.Code)}
			cells = append(append(cells, amounts(a.Currency, s.Amount, s.Tax)...), doc.Date(s.Due.String()),
				doc.Date(s.PayBy.String()))
			cells = append(append(cells, amounts(a.Currency, s.Paid, s.SetOff, s.Open)...), doc.Some(float64(s.Late)))
			t.Groups[0].Rows = append(t.Groups[0].Rows, row(a.Order, cells...))
		}
	}
	return t
}
