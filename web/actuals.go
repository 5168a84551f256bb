package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"text/tabwriter"

	"ribband/core/actuals"
	"ribband/core/book/amend"
	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/paper"
)

// What a boat takes is known when it is built. Cards come back from the shops with hours on them, somebody types them
// into a list, and once or twice a year the owner wants to know: which of the book's hours are wrong, by how much, and
// is that sure enough to change a price for it? The command answers with package actuals, and changes nothing: it
// prints an edit of the book's files, which the owner looks over and applies.
//
// Of a shop it says how far it is off, and proposes nothing: a shop is what its operations are.

// ActualsReport is what actuals -json prints.
type ActualsReport struct {
	*actuals.Result
	Margins []actuals.Margin `json:"margins,omitempty"`
	Edit    *amend.Edit      `json:"edit"`
	Notes   []string         `json:"notes,omitempty"`
	Faults  []string         `json:"faults,omitempty"` // of rows and orders, each with its place and remedy
}

// compareHours sets the hours that were booked against the book. Rows that are wrong are told, and the others count;
// the exit code says that there were such.
func compareHours(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "actuals", "actuals -hours FILE [-orders DIR] [-book DIR] [-all] [-json | -diff] "+
		"[-format text|html|csv|xlsx]")
	file := f.String("hours", "", "what was booked: CSV with the columns boat, operation and hours; day and option "+
		"may stand beside them, and planned and hull of boats that are no order any more")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json: what was planned for their "+
		"boats, and what their quotations were to leave")
	all := f.Bool("all", false, "list options, too, whose hours are as the book says")
	asJSON := f.Bool("json", false, "print everything as JSON")
	asDiff := f.Bool("diff", false, "print what to change in the book, as a unified diff for `patch -p1` in its folder")
	format := oneOf(f, "format", "of the table; xlsx is a workbook", paper.AsText, paper.AsHTML, paper.AsCSV,
		paper.AsWorkbook)
	f.about = "Compares the hours that were booked with those of the book: how far operations, shops, options and " +
		"hulls are off and how sure that is, what margin was left of what was quoted, and what to change in the book."
	if err := f.parse(args); err != nil {
		return err
	}
	// a command that cannot be meant is told before anything is read
	switch {
	case *file == "":
		return f.wrong("which hours? Give -hours FILE")
	case *asJSON && *asDiff:
		return f.wrong("-json and -diff are two; give one")
	}
	// the list comes from a person, and is looked at before the book, which takes a second to load
	text, err := readFile(c, *file)
	if err != nil {
		return err
	}
	r, e, err := readHours(c, f, *folder, *file, text)
	if err != nil {
		return err
	}
	// the files are read once more, as text: the edit keeps what a pack does not know, comments and layout
	if r.Edit, err = r.Result.Edit(os.DirFS(f.book)); err != nil {
		return err
	}
	switch {
	case *asJSON:
		err = printJSON(c.out, r)
	case *asDiff:
		// standard output is for patch alone
		for _, s := range r.Edit.ByHand {
			c.progress("To be changed by hand: %s", s)
		}
		_, err = c.out.Write(r.Edit.Diff())
	case *format != paper.AsText:
		err = writeListing(c, hoursTable(e, r.Result), e.Language(), "Hours", *format, r)
	default:
		printHours(c.out, r, *all)
	}
	if err == nil && len(r.Faults) > 0 {
		return errFaults
	}
	return err
}

// readHours compares the hours of a file, and tells what is wrong with it. Without a folder of orders the list has to
// say itself what was planned, as it does for boats that were delivered long ago.
func readHours(c *console, f *flags, folder, file string, text []byte) (*ActualsReport, *engine.Engine, error) {
	r := &ActualsReport{}
	// orders are planned for what their boats take; where there are none, only the book is wanted
	var boats []orders.Boat
	var e *engine.Engine
	if folder != "" {
		load, faults, made, err := loadOrders(c, f, folder, "")
		if err != nil {
			return nil, nil, err
		}
		for _, x := range faults {
			r.Faults = append(r.Faults, x.Error())
		}
		boats, e = load.Boats, made
	} else {
		packs, err := load(c, f.book)
		if err != nil {
			return nil, nil, err
		}
		if e, err = engine.Compile(packs[pack.Yard]); err != nil {
			return nil, nil, err
		}
	}
	b, err := actuals.Read(text, e, boats)
	if err != nil {
		return nil, nil, fmt.Errorf("%s: %w", file, err)
	}
	for _, x := range b.Faults {
		r.Faults = append(r.Faults, file+": "+x.Error())
	}
	for _, s := range b.Notes {
		r.Notes = append(r.Notes, file+": "+s)
	}
	// notes are no faults: they say what became of rows, and leave the exit code alone
	for _, list := range [][]string{r.Faults, r.Notes} {
		for _, s := range list {
			c.progress("%s", s)
		}
	}
	r.Result = actuals.Compare(e, b.List)
	c.progress("%d rows are read: %d bookings of %d boats count; %d faults are told above.", b.Rows, r.Bookings,
		r.Boats, len(r.Faults))
	r.Margins, err = actuals.Margins(e, b.List, boats)
	return r, e, err
}

// printHours prints the report of the command: shops first, since that is where an owner looks, then what they do, then
// the hulls, and of the options those that are off.
func printHours(w io.Writer, r *ActualsReport, all bool) {
	fmt.Fprintf(w, "Hours booked against the book: %d boats, %d bookings.\n", r.Boats, r.Bookings)
	if r.Bookings == 0 {
		fmt.Fprintln(w, "Nothing to compare.")
		return
	}
	fmt.Fprintf(w, "Factor: what a thing alone takes of the hours of the book, drawn towards 1 by what all of its "+
		"kind tell; it lies\nwithin 80 %% and 95 %% with these chances. Booked/planned has every cause in it. Spread: "+
		"of the hours of one boat.\nOf all spread, boats differ by %s, and chance by %s.\n", percent(r.OfBoats),
		percent(r.Within))
	for _, kind := range []actuals.Kind{actuals.OfShop, actuals.OfOperation, actuals.OfHull, actuals.OfOption} {
		title := map[actuals.Kind]string{actuals.OfShop: "Shops", actuals.OfOperation: "Operations",
			actuals.OfHull: "Hulls", actuals.OfOption: "Options"}[kind]
		fmt.Fprintf(w, "\n%s\n", title)
		t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
		fmt.Fprintln(t, "\tBoats\tPlanned h\tBooked h\tBooked/planned\tFactor\tWithin 80 %\tWithin 95 %\tSpread\t")
		left := 0 // that are not listed
		for i := range r.Biases {
			b := &r.Biases[i]
			if b.Kind != kind {
				continue
			}
			// a book has hundreds of options, and few of them are off
			if kind == actuals.OfOption && !b.Off() && !all {
				left++
				continue
			}
			fmt.Fprintf(t, "%s\t%d\t%s\t%s\t%.2f\t%.2f\t%s\t%s\t%s\t%s\n", b.ID, b.Boats, b.Planned.Fixed(0),
				b.Booked.Fixed(0), b.Raw, b.Ratio, interval(b.In80), interval(b.In95), percent(b.Spread), toDo(b))
		}
		t.Flush()
		if left > 0 {
			fmt.Fprintf(w, "%d options are as the book says, as far as can be told; -all lists them.\n", left)
		}
	}
	printMargins(w, r.Margins)
	printEdit(w, r.Edit)
}

// interval is a range of factors, as far as they are worth stating.
func interval(i actuals.Interval) string { return fmt.Sprintf("%.2f to %.2f", i.Low, i.High) }

// percent is a share without decimals: a spread is not known better.
func percent(v float64) string { return fmt.Sprintf("%.0f %%", 100*v) }

// toDo is what is to be done about a bias; nothing where the book is right as far as can be told.
func toDo(b *actuals.Bias) string {
	if b.Kind == actuals.OfShop || !b.Off() {
		return ""
	}
	return "change the book"
}

// printMargins prints what was left of the orders. Only the hours are those that were booked: what a material cost is
// in the yard's accounts, which nobody reads here.
func printMargins(w io.Writer, list []actuals.Margin) {
	if len(list) == 0 {
		return
	}
	fmt.Fprint(w, "\nMargins, with the hours booked in the place of those planned, at the book's rates:\n")
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "Order\tCustomer\tNet price\tPlanned h\tof these booked\tas\tCost planned\tCost now\t"+
		"Margin quoted\tMargin now\t")
	for _, m := range list {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n", m.Order, m.Customer, m.Net.Fixed(0),
			m.Hours.Fixed(0), m.Counted.Fixed(0), m.Booked.Fixed(0), m.Cost.Fixed(0), m.Actual.Fixed(0),
			ofNet(m.Quoted), ofNet(m.Left))
	}
	t.Flush()
}

// ofNet is a margin in per cent, with one decimal.
func ofNet(m money.Rate) string { return fmt.Sprintf("%.1f %%", float64(m.Millionths())/1e4) }

// printEdit prints what to change in the book, with its place. What cannot be changed by a program, since the book says
// it by a formula of its own, is told to be changed by hand.
func printEdit(w io.Writer, e *amend.Edit) {
	if len(e.Changes)+len(e.ByHand) == 0 {
		fmt.Fprint(w, "\nNothing in the book is off by so much, and so surely, that it should be changed.\n")
		return
	}
	fmt.Fprintf(w, "\n%d figures of the book to change; `go run ./web actuals -diff` writes them for patch:\n",
		len(e.Changes))
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, x := range e.Changes {
		fmt.Fprintf(t, "%s\t%s\t%s\tto\t%s\n", x.Place, x.What, x.Was, x.Now)
	}
	t.Flush()
	fmt.Fprintln(w, "What a hull is off goes into its own list of operations; options keep theirs, whatever hull they "+
		"are on.")
	for _, s := range e.ByHand {
		fmt.Fprintf(w, "By hand: %s\n", s)
	}
}

// hoursTable is the table of all biases as a paper. Numbers have all their digits, since a spreadsheet rounds by
// itself.
func hoursTable(e *engine.Engine, r *actuals.Result) *doc.Doc {
	yard := e.Public().Yard
	// every bias has a row, also where nothing is to be changed: a spreadsheet sorts and leaves out by itself
	columns := []doc.Column{{Title: "What"}, {Title: "Kind"}}
	for _, title := range []string{"Boats", "Planned h", "Booked h", "Booked/planned", "Factor", "80 % from", "80 % to",
		"95 % from", "95 % to", "Spread"} {
		columns = append(columns, doc.Column{Title: title, Right: true})
	}
	columns = append(columns, doc.Column{Title: "Change"})
	table := doc.Table{Style: "listing", Columns: columns, Groups: doc.Rows(r.Biases, func(b actuals.Bias) doc.Row {
		return doc.Row{Label: b.Title, Cells: []doc.Cell{doc.Text(string(b.Kind)), doc.Some(float64(b.Boats)),
			doc.Some(b.Planned.Float()), doc.Some(b.Booked.Float()), doc.Some(b.Raw), doc.Some(b.Ratio),
			doc.Some(b.In80.Low), doc.Some(b.In80.High), doc.Some(b.In95.Low), doc.Some(b.In95.High),
			doc.Some(b.Spread), doc.Text(toDo(&b))}}
	})}
	const title = "Hours booked against the book"
	return &doc.Doc{Title: title, Dense: true, Data: &table, Blocks: []doc.Block{
		doc.Letterhead{Name: yard.Name, Address: append(append([]string{}, yard.Address...), yard.Email, yard.Phone)},
		doc.Heading(title), doc.Section{Blocks: []doc.Block{table}}}}
}
