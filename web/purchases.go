package main

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg/office"
	"ribband/core/orders"
	"ribband/core/orders/papers"
	"ribband/core/paper"
	"ribband/core/plan"
)

// What is bought follows from the plan: the day on which an operation begins, less the days that its supplier takes.
// The store is counted first, and by whoever goes through it: its list is a file with two columns, which any
// spreadsheet writes, and what is on order and not there yet belongs into it, too, or it would be bought twice.
//
// Outside work is bought, too: it stands at the day on which it goes out, and the order to its supplier names the day
// on which it is back.
//
// The list is for the office, which buys: it has what a unit costs by all that is bought of it for all boats, which may
// be less than one boat is costed at. A supplier is sent an order of his own, which says nothing of boats, customers
// and money.

// listPurchases says what has to be bought for all orders, or for one, and by which day.
func listPurchases(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "purchases", "purchases -orders DIR [-book DIR] [-day YYYY-MM-DD] [-stock FILE] [-order NUMBER] "+
		"[-supplier NAME] [-format text|html|csv|xlsx|json] [-out DIR [-letters html|text|pdf]]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	dayText := f.String("day", "", "the day from which is planned, as for plan")
	stockFile := f.String("stock", "", "what the store has, or has on order: CSV with the columns material and "+
		"quantity")
	order := f.String("order", "", "the number of the only order to buy for; the stock serves all")
	supplier := f.String("supplier", "", "the only supplier, as the book names it")
	format := oneOf(f, "format", "of the list; xlsx is a workbook", paper.AsText, paper.AsHTML, paper.AsCSV,
		paper.AsWorkbook, paper.AsJSON)
	out := f.String("out", "", "folder into which an order to each supplier is written, in the book's first language")
	letters := oneOf(f, "letters", "form of the orders to suppliers; pdf is printed by Chromium", outFormats...)
	f.about = "Lists the materials that the boats of all orders still take and the store does not have, and the work " +
		"that suppliers do on them, by the day on which they have to be ordered or go out, late ones first; then " +
		"what the customers bring, by the day on which to ask for it."
	if err := f.parse(args); err != nil {
		return err
	}
	if *folder == "" {
		return f.wrong("which orders? Give -orders DIR")
	}
	load, faults, e, err := loadOrders(c, f, *folder, *dayText)
	if err != nil {
		return err
	}
	for _, fault := range faults {
		c.progress("%v", fault)
	}
	stock, bad, err := readStock(c, *stockFile, e)
	if err != nil {
		return err
	}
	// the days on which things are needed are those of the plan, so that the two lists agree
	p, err := load.Make(plan.Thorough)
	if err != nil {
		return err
	}
	// the whole list first, then what is asked of it: the stock has gone to what is needed first, whoever needs it
	list := only(p.Purchases(stock), *order, *supplier)
	// in the first language of the book, which is the yard's
	err = writeListing(c, purchaseList(e, list, p.Day), e.Language(), "Purchases", *format, struct {
		Day       orders.Day        `json:"day"`
		Purchases []orders.Purchase `json:"purchases"`
	}{p.Day, list})
	if err != nil {
		return err
	}
	// of what the list has and nothing else: whoever orders one supplier orders him alone
	if *out != "" {
		to := &outFolder{ctx: ctx, dir: *out, format: *letters, day: p.Day.String()}
		if err := writeSuppliers(c, to, e, list, p.Day); err != nil {
			return err
		}
	}
	// a script must not order by a list that lacks something
	if len(faults)+bad > 0 {
		return errFaults
	}
	return nil
}

// readStock reads the list of the store, if there is one, tells what is wrong with its rows, and counts that. Rows that
// are right are used: a list of four hundred lines has a slip in one of them.
func readStock(c *console, file string, e *engine.Engine) (orders.Stock, int, error) {
	if file == "" {
		return nil, 0, nil
	}
	text, err := readFile(c, file)
	if err != nil {
		return nil, 0, err
	}
	stock, faults, err := orders.ReadStock(text, e)
	if err != nil {
		return nil, 0, fmt.Errorf("%s: %w", file, err)
	}
	for _, fault := range faults {
		c.progress("%s: %v", file, fault)
	}
	if len(faults) > 0 {
		c.progress("%d materials of the store are read, %d rows are left out.", len(stock), len(faults))
	}
	return stock, len(faults), nil
}

// The two filters leave the stock alone: it serves all boats, whichever are listed.

// only are the purchases for one order, and of one supplier, where these are named.
func only(list []orders.Purchase, order, supplier string) (out []orders.Purchase) {
	for _, b := range list {
		if (supplier == "" || b.Supplier == supplier) && (order == "" || b.For(order)) {
			out = append(out, b)
		}
	}
	return out
}

// writeSuppliers writes an order to each supplier of a list, by name.
func writeSuppliers(c *console, to *outFolder, e *engine.Engine, list []orders.Purchase, day orders.Day) error {
	// each in the order of the list, what has to be ordered first above
	by, nobody := map[string][]orders.Purchase{}, 0
	for _, b := range list {
		if b.Customer != "" { // no supplier is sent an order for it
			continue
		}
		switch b.Supplier {
		case "":
			nobody++
			continue
		case e.Public().Yard.Name: // what the yard makes or has itself it does not order from itself
			continue
		}
		by[b.Supplier] = append(by[b.Supplier], b)
	}
	// the first language of the book, which is the yard's and that of its articles
	speaking, _, err := e.Speaking(languagesOf(spoken(e.Pack))[0])
	if err != nil {
		return err
	}
	// by name, so that two runs write them in the same order
	l := office.Words(speaking.Language())
	for _, supplier := range slices.Sorted(maps.Keys(by)) {
		d := papers.SupplierOrder(l, &e.Public().Yard, supplier, by[supplier], day)
		if err := to.write(c, "order-"+fileWords(supplier)+"-"+day.String(), d, l); err != nil {
			return err
		}
	}
	// what nobody supplies is on the list alone: somebody has to find out where it comes from
	if nobody > 0 {
		c.progress("%s in no order to a supplier, since the book names none.", plural(nobody, "material"))
	}
	return nil
}

// fileWords are words as the name of a file has them: letters and digits, with hyphens between.
func fileWords(text string) string {
	// letters of any alphabet stay: suppliers are called as they are
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	})
	return strings.Join(words, "-")
}

// purchaseList is the list as a paper: what is bought, by when, and what it is for first. Its rows are in the order in
// which somebody has to pick up the telephone.
func purchaseList(e *engine.Engine, list []orders.Purchase, day orders.Day) *doc.Doc {
	yard := e.Public().Yard
	title := "Purchases"
	columns := []doc.Column{{Title: "Material"}, {Title: "Supplier"}, {Title: "Order by"},
		{Title: "Days late", Right: true}, {Title: "Buy", Right: true}, {Title: "Packs", Right: true},
		{Title: "Price", Right: true}, {Title: "Amount", Right: true}, {Title: "Needed", Right: true},
		{Title: "In stock", Right: true}, {Title: "For"}}
	table := doc.Table{Style: "listing", Columns: columns, Groups: doc.Rows(list, func(b orders.Purchase) doc.Row {
		from, price, amount := b.Supplier, doc.Decimal(b.Price.String()), doc.Money(b.Amount, e.Pricing.Currency())
		if b.Customer != "" {
			from, price, amount = "from the customer, "+b.Customer, doc.Cell{}, doc.Cell{}
		}
		return doc.Row{Label: b.Title, Cells: []doc.Cell{doc.Text(from), doc.Date(b.OrderBy.String()),
			doc.Some(float64(b.Late)), doc.Used(b.Buy, b.Unit), packCount(b),
			price, amount, doc.Used(b.Needed, b.Unit),
			inStock(b), doc.Text(firstNeed(b))}}
	})}
	return &doc.Doc{Title: title, Dense: true, Data: &table, Blocks: []doc.Block{
		doc.Letterhead{Name: yard.Name, Address: append(append([]string{}, yard.Address...), yard.Email, yard.Phone)},
		doc.Heading(title + ", " + day.String()), doc.Section{Blocks: []doc.Block{table}}}}
}

// packCount and inStock are empty where there is nothing to say: a zero in every row hides the numbers that count.
func packCount(b orders.Purchase) doc.Cell {
	if b.Packs == 0 {
		return doc.Cell{}
	}
	return doc.Count(b.Packs)
}

func inStock(b orders.Purchase) doc.Cell {
	if b.Stock == measure.Quantity(0) {
		return doc.Cell{}
	}
	return doc.Used(b.Stock, b.Unit)
}

// firstNeed is for the row's last column: the first operation that lacks the material, and how many more do.
func firstNeed(b orders.Purchase) string {
	// the first decides the day, and the number of the others whether a pack more is worth it
	lacking, first := 0, ""
	for _, n := range b.Needs {
		if n.Lacking == 0 {
			continue
		}
		if lacking++; first == "" {
			first = n.Order + " on " + n.Day.String()
			if !b.Back.IsZero() { // it goes out with the order
				first = n.Order + " back on " + b.Back.String() + " (" + b.Back.Week().String() + ")"
			}
			if n.Operation != "" {
				first += ", " + n.Operation
			}
		}
	}
	if lacking > 1 {
		first += fmt.Sprintf("; %d more", lacking-1)
	}
	return first
}
