package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"text/tabwriter"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/orders"
	"ribband/core/orders/papers"
	"ribband/core/paper"
)

// Money follows the work: a stage of the payment is due when an operation is done, as the book says which, and whoever
// enters the card of that operation has made it due. Once a week somebody goes through the list, late ones first, sends
// what the command writes, and enters what came in. What is asked for, what is paid and what is open come from the same
// accounts, so that no customer is asked for what he has paid.

// listDue says what is due and open of all orders, or of one, and writes the requests for payment.
func listDue(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "due", "due -orders DIR [-book DIR] [-day YYYY-MM-DD] [-order NUMBER] "+
		"[-format text|html|csv|xlsx|json] [-out DIR [-letters html|text|pdf]]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	dayText := f.String("day", "", "the day for which is asked; none: the one after the last of which the orders tell")
	number := f.String("order", "", "the number of the only order")
	format := oneOf(f, "format", "of the list; xlsx is a workbook", paper.AsText, paper.AsHTML, paper.AsCSV,
		paper.AsWorkbook, paper.AsJSON)
	out := f.String("out", "", "folder into which requests for what is due are written, in the customers' languages")
	letters := oneOf(f, "letters", "form of the requests; pdf is printed by Chromium", outFormats...)
	f.about = "Lists the stages of all orders: since when each is due, what of it is paid and open, late ones first. " +
		"With -out it writes a request for each order of which something is due."
	if err := f.parse(args); err != nil {
		return err
	}
	if *folder == "" {
		return f.wrong("which orders? Give -orders DIR")
	}
	// the whole folder is read, also for one order: what is wrong with it is told each time
	in, err := openOrders(c, *folder, false)
	if err != nil {
		return err
	}
	day, err := in.dayOf(f, *dayText)
	if err != nil {
		return err
	}
	// one that is asked for by its number, and has a damaged file, says so
	list := in.read.Orders
	if *number != "" {
		o, err := in.find(*number)
		if err != nil {
			return err
		}
		list = []*orders.Order{o}
	}
	e, err := yardEngine(c, f)
	if err != nil {
		return err
	}
	// damaged files first: their customers are asked for nothing, and somebody has to know that
	accounts, faults := orders.Dues(e, list, day)
	faults = slices.Concat(in.read.Faults, faults)
	for _, fault := range faults {
		c.progress("%v", fault)
	}
	// a screen has room for a line a stage, and a page for a table; both are of the same accounts
	if *format == paper.AsText {
		printDue(c.out, accounts, day)
	} else {
		err = writeListing(c, dueList(accounts, day), e.Language(), "Due", *format, struct {
			Day      orders.Day       `json:"day"`
			Accounts []orders.Account `json:"accounts"`
			Sums     []dueSum         `json:"sums"` // by currency
		}{day, accounts, dueSums(accounts)})
	}
	if err != nil {
		return err
	}
	// one order after the other, in the order of the list: whoever stops it has the late ones
	if *out != "" {
		to := &outFolder{ctx: ctx, dir: *out, format: *letters, day: day.String()}
		for i := range accounts {
			if err := writeRequest(c, to, e, in, &accounts[i], day); err != nil {
				return err
			}
		}
	}
	// a script must not take a list that lacks something for the whole
	if len(faults) > 0 {
		return errFaults
	}
	return nil
}

// writeRequest writes the request of an order in the language of its customer, or the word of what is paid back;
// nothing where there is neither.
func writeRequest(c *console, to *outFolder, e *engine.Engine, in *orderFolder, a *orders.Account,
	day orders.Day) error {
	if a.Asked.IsZero() && a.Surplus.IsZero() {
		return nil
	}
	// by number: the accounts have another order than the folder
	o, err := in.find(a.Order)
	if err != nil {
		return err
	}
	// a customer reads his own language, whatever the office speaks
	l, _, err := speakingOf(e, o)
	if err != nil {
		return err
	}
	// with the day, since what is asked for once more is asked for on another day
	name := papers.RequestNumber(a) + "-request-" + day.String()
	return to.write(c, name, papers.Request(l, o, a, day), l)
}

// dueSum is what accounts of one currency come to: amounts of two are not added up.
type dueSum struct {
	Currency money.Currency `json:"currency"`
	Amount   money.Amount   `json:"amount"`
	Paid     money.Amount   `json:"paid"`
	Open     money.Amount   `json:"open"`
	Asked    money.Amount   `json:"asked"`
	Late     money.Amount   `json:"late"`
	Surplus  money.Amount   `json:"surplus"`
}

// dueSums add accounts up, by currency in the order of the list.
func dueSums(list []orders.Account) (sums []dueSum) {
	for i := range list {
		a := &list[i]
		// a yard that has sold in two currencies has two sums
		at := slices.IndexFunc(sums, func(s dueSum) bool { return s.Currency == a.Currency })
		if at < 0 {
			at, sums = len(sums), append(sums, dueSum{Currency: a.Currency})
		}
		s := &sums[at]
		s.Amount, s.Paid, s.Open = s.Amount.Add(a.Amount), s.Paid.Add(a.Paid), s.Open.Add(a.Open)
		s.Asked, s.Late, s.Surplus = s.Asked.Add(a.Asked), s.Late.Add(a.Overdue()), s.Surplus.Add(a.Surplus)
	}
	return sums
}

// dueList is the list as a paper: a group for each order, what is late first. It is for the office, in English as all
// that the command line says; what customers get is in their own languages.
func dueList(list []orders.Account, day orders.Day) *doc.Doc {
	// the amount and what is paid stand beside each other, since that is what is compared with a statement of the bank
	t := doc.Table{Style: "listing", Columns: []doc.Column{{Title: "Stage"}, {Title: "Due since"}, {Title: "Pay by"},
		{Title: "Days late", Right: true}, {Title: "Amount", Right: true}, {Title: "Paid", Right: true},
		{Title: "Open", Right: true}}}
	for i := range list {
		// one group an order, with its sum in words: the eye looks for a name
		a := &list[i]
		g := doc.Group{Title: fmt.Sprintf("%s, %s, %s", a.Order, a.Customer, a.Hull), Sub: dueWords(a)}
		for _, s := range a.Stages {
			paid := s.Paid.Add(s.SetOff) // with what is set off, so that each row adds up
			g.Rows = append(g.Rows, doc.Row{Label: s.Title, Cells: []doc.Cell{doc.Text(s.Due.String()),
				doc.Text(s.PayBy.String()), doc.Some(float64(s.Late)), doc.Money(s.Amount, a.Currency),
				doc.Money(paid, a.Currency), doc.Money(s.Open, a.Currency)}})
		}
		t.Groups = append(t.Groups, g)
	}
	for _, s := range dueSums(list) {
		sum := doc.Row{Label: "All orders, " + s.Currency.Code, Style: "total", Cells: []doc.Cell{{}, {}, {}}}
		for _, amount := range []money.Amount{s.Amount, s.Paid.Sub(s.Surplus), s.Open} {
			sum.Cells = append(sum.Cells, doc.Money(amount, s.Currency))
		}
		t.Foot = append(t.Foot, sum)
	}
	title := "What is due on " + day.String()
	return &doc.Doc{Title: title, Dense: true, Data: papers.DueData(list), Blocks: []doc.Block{doc.Heading(title),
		doc.List(dueLines(list)), doc.Section{Blocks: []doc.Block{t}}}}
}

// dueWords say in a few words how an order stands.
func dueWords(a *orders.Account) string {
	amount := func(x money.Amount) string { return x.Fixed(a.Currency.Digits) + " " + a.Currency.Code }
	// what to do first is said first
	switch {
	case a.Late() > 0:
		return fmt.Sprintf("%s to ask for, %s of it late", amount(a.Asked), amount(a.Overdue()))
	case a.Asked.Sign() > 0:
		return amount(a.Asked) + " to ask for"
	case a.Surplus.Sign() > 0:
		return amount(a.Surplus) + " to pay back"
	case a.Open.IsZero():
		return "all is paid"
	}
	return "nothing is due"
}

// dueLines are the sums in sentences, before the list: most weeks nobody reads further.
func dueLines(list []orders.Account) (lines []string) {
	// first what can be done about, then the rest
	for _, s := range dueSums(list) {
		amount := func(x money.Amount) string { return x.Fixed(s.Currency.Digits) + " " + s.Currency.Code }
		lines = append(lines, fmt.Sprintf("To ask for: %s, of which %s is late.", amount(s.Asked), amount(s.Late)))
		if s.Surplus.Sign() > 0 {
			lines = append(lines, fmt.Sprintf("To pay back: %s.", amount(s.Surplus)))
		}
	}
	return lines
}

// printDue writes the list to be read on a screen. Of the stages only those stand there of which something is to be
// said: paid in part, due or late; the sums are of all.
func printDue(w io.Writer, list []orders.Account, day orders.Day) {
	// no words of a customer but his name: whoever passes the screen reads it, too
	fmt.Fprintf(w, "What is due on %s.\n", day)
	for _, line := range dueLines(list) {
		fmt.Fprintln(w, line)
	}
	// one table for all orders, so that amounts stand below each other
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "\nOrder\tStage\tDue since\tPay by\t      Amount\t        Paid\t        Open\t")
	for i := range list {
		a := &list[i]
		amount := func(x money.Amount) string { return x.Fixed(a.Currency.Digits) }
		fmt.Fprintf(t, "%s\t%s, %s\t\t\t%12s\t%12s\t%12s\t%s\n", a.Order, a.Customer, a.Hull, amount(a.Amount),
			amount(a.Paid), amount(a.Open), dueWords(a))
		for _, s := range a.Stages {
			paid, late := s.Paid.Add(s.SetOff), ""
			if s.Open.IsZero() || s.Due.IsZero() && paid.IsZero() {
				continue
			}
			// in days, since a letter after two weeks is another one than after two months
			if s.Late > 0 {
				late = plural(s.Late, "day") + " late"
			}
			fmt.Fprintf(t, "\t%s\t%s\t%s\t%12s\t%12s\t%12s\t%s\n", s.Title, s.Due, s.PayBy, amount(s.Amount),
				amount(paid), amount(s.Open), late)
		}
	}
	t.Flush()
}
