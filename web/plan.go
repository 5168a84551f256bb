package main

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"text/tabwriter"

	"ribband/core/engine"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/plan"
)

// PlanReport is what plan -json prints: the plan with what would help it, and what was wrong with files. Its fields are
// those of package orders, under the names of their JSON.
type PlanReport struct {
	*orders.Plan
	Gains  []orders.Gain `json:"gains"`
	Faults []string      `json:"faults,omitempty"` // of files, each with its place and remedy
}

// The folder of orders is the yard's: one file for each boat that was ordered, by its number (package core/orders has
// their form, testdata/orders a dozen of them). It is written by whoever keeps the list on the wall: an order comes
// when a customer accepts, a step when an operation is begun, its last day when it is done, a payment when it is there.
// An order whose boat is gone may stay, or be moved into a folder below: it takes no hours any more.
//
// An order as somebody writes it, with the file of the quotation put in whole:
//
//	{
//	  "kind": "order of a launch", "format": 1, "number": "2027-014",
//	  "accepted": "2027-01-18", "promised": "2027-W22",
//	  "quotation": {"kind": "quote of a launch", ...},
//	  "done": [
//	    {"operation": "prepare-mould", "begun": "2027-02-01", "done": "2027-02-02", "hours": "5.5"},
//	    {"operation": "laminate-hull", "begun": "2027-02-03", "hours": "12"}
//	  ],
//	  "paid": [{"stage": "With the order", "on": "2027-01-20", "amount": "6000.00"}]
//	}
//
// A plan is made anew each time, from the orders and the book alone: nothing is kept between two runs that could be
// out of date. Who works on it is the yard, which wants to know first what is late, then why, then what would help.

// The command reads, asks package orders, and prints; it decides nothing about a boat.

// planOrders says when each boat of a folder of orders is launched. Orders that are wrong are told, and the others are
// planned; the exit code says that there were such.
func planOrders(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "plan", "plan -orders DIR [-book DIR] [-day YYYY-MM-DD] [-effort thorough|quick|long] "+
		"[-why ORDER] [-json | -ics]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	dayText := f.String("day", "", "the day from which what is left is planned; none: the one after the last of "+
		"which the orders tell, so that the same orders give the same plan")
	effort := oneOf(f, "effort", "how long it looks for a better plan", "thorough", "quick", "long")
	why := f.String("why", "", "the number of an order: why it is launched then, operation by operation")
	asJSON := f.Bool("json", false, "print the plan as JSON")
	asICS := f.Bool("ics", false, "print the launches for a diary, as iCalendar")
	f.about = "Plans the boats of all orders into the shops: when each is launched, what it waits for, how full each " +
		"shop is in each week, and what one more person or one more mould would gain. Promised weeks come first."
	if err := f.parse(args); err != nil {
		return err
	}
	if *folder == "" {
		return f.wrong("which orders? Give -orders DIR")
	}
	// two answers cannot go into one file
	if *asJSON && *asICS {
		return f.wrong("-json and -ics are two; give one")
	}
	load, faults, _, err := loadOrders(c, f, *folder, *dayText)
	if err != nil {
		return err
	}
	// before the plan, which takes seconds: who sees them may want to mend the files first
	for _, fault := range faults {
		c.progress("%v", fault)
	}
	efforts := map[string]plan.Effort{"quick": plan.Quick, "thorough": plan.Thorough, "long": plan.Long}
	p, err := load.Make(efforts[*effort])
	if err != nil {
		return err
	}
	// one plan, whatever is asked of it: text, data and diary agree
	switch {
	case *asICS:
		_, err = c.out.Write(p.Diary())
	case *why != "":
		err = printWhy(c.out, p, *why)
	default:
		err = reportPlan(c, p, efforts[*effort], faults, *asJSON)
	}
	// a plan without some of the boats is read with care: the last line says so
	if err == nil && len(faults) > 0 {
		c.progress("%d of the files have faults, told above; %d orders are planned.", countFiles(faults), len(p.Boats))
		return errFaults
	}
	return err
}

// countFiles is how many files have faults; one file may have many.
func countFiles(faults []orders.Fault) int {
	files := map[string]bool{}
	for _, f := range faults {
		files[f.File] = true
	}
	return len(files)
}

// loadOrders reads a folder of orders and makes it ready to be planned by the yard's book. Faults are of single files,
// and leave the others in the plan; an error leaves nothing to plan.
func loadOrders(c *console, f *flags, folder, dayText string) (*orders.Load, []orders.Fault, *engine.Engine, error) {
	files, err := filesOf(folder)
	if err != nil {
		return nil, nil, nil, err
	}
	read := orders.Read(files)
	// The clock is not asked. A plan of today would be another one tomorrow, with nothing changed: the day is asked for
	// where it matters.
	day := read.Day()
	if dayText != "" {
		if day, err = orders.ParseDay(dayText); err != nil {
			return nil, nil, nil, f.wrong("-day: %w", err)
		}
	}
	// a wrong folder more often than a yard without work
	if len(read.Orders) == 0 {
		for _, fault := range read.Faults {
			c.progress("%v", fault)
		}
		return nil, nil, nil, fmt.Errorf("reading orders: %s holds no order; give -orders DIR, with a file ending in "+
			".json for each", folder)
	}
	// after the files, which are read in no time: loading a book takes a second
	packs, err := load(c, f.book)
	if err != nil {
		return nil, nil, nil, err
	}
	e, err := engine.Compile(packs[pack.Yard])
	if err != nil {
		return nil, nil, nil, err
	}
	l, faults := orders.NewLoad(e, read.Orders, day)
	return l, slices.Concat(read.Faults, faults), e, nil
}

// filesOf reads the files of a folder that may be orders, by their names. Folders within it are not looked into: a yard
// moves the orders of boats that are gone into one.
func filesOf(folder string) (map[string][]byte, error) {
	list, err := os.ReadDir(folder)
	if err != nil {
		return nil, fmt.Errorf("reading orders: %w", err)
	}
	files := map[string][]byte{}
	for _, entry := range list {
		// what is no plain file, or ends otherwise, is somebody's note
		if entry.Type()&fs.ModeType != 0 || filepath.Ext(entry.Name()) != ".json" {
			continue
		}
		if files[entry.Name()], err = readNamed(filepath.Join(folder, entry.Name())); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// reportPlan prints a plan for the yard: boats, shops by week, what holds them up, and what would help. What would help
// is asked here and not for a diary: it plans once more for each shop or mould that a launch waits for.
func reportPlan(c *console, p *orders.Plan, effort plan.Effort, faults []orders.Fault, asJSON bool) error {
	gains, err := p.Gains(effort)
	if err != nil {
		return err
	}
	if asJSON {
		// faults go with the data, since a program does not read standard error
		r := PlanReport{Plan: p, Gains: gains}
		for _, f := range faults {
			r.Faults = append(r.Faults, f.Error())
		}
		return printJSON(c.out, r)
	}
	printPlan(c.out, p, gains)
	return nil
}

// printPlan writes a plan to be read on a screen: a line for each boat, one for each shop, and sentences.
func printPlan(w io.Writer, p *orders.Plan, gains []orders.Gain) {
	// weeks alone would hide a Friday that slips to a Monday, and days alone what was promised
	fmt.Fprintf(w, "Planned from %s. Weeks are of ISO 8601; P50 and P80: by then five and eight of ten simulated "+
		"builds are launched.\n\n", p.Day)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "Order\tBoat\tCustomer\tPromised\tLaunch\tWeek\tP50\tP80\tKept\t")
	for _, b := range p.Boats {
		late := ""
		if b.Late > 0 {
			late = plural(b.Late, "week") + " late"
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%d %%\t%s\n", b.Number, b.Hull, b.Customer, b.Promised,
			b.Launch, b.Week, b.P50, b.P80, b.Kept, late)
	}
	t.Flush()
	// below the table, since few boats have such
	for _, b := range p.Boats {
		if b.Material != nil {
			fmt.Fprintf(w, "\n%s waits for %s, which comes on %s, to begin %q.", b.Number, b.Material.Material,
				b.Material.Day, b.Material.Operation)
		}
		for _, x := range b.Breaches {
			fmt.Fprintf(w, "\n%s: %s.", b.Number, x)
		}
	}
	// the first week is partly gone; what was done in it counts as worked
	fmt.Fprint(w, "\n\nLoad of the shops, per cent of their open hours by week:\n\n")
	printShops(w, p)
	if p.Bottleneck != "" {
		fmt.Fprintf(w, "\nWhat launches wait for most: %s.\n", p.Bottleneck)
	}
	for _, g := range gains {
		fmt.Fprintf(w, "One more of %s: %s.\n", g.Of, gained(g))
	}
}

// plural is a number of things, as English counts them.
func plural(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%d %ss", n, thing)
}

// gained is what one more of something gains, in words. It may be less than nothing: both plans are the best that was
// found, and neither is proved to be the best there is. That is told as it is.
func gained(g orders.Gain) string {
	var list []string
	switch {
	case g.Weeks > 0:
		list = append(list, fmt.Sprintf("boats launched %s earlier in all", plural(g.Weeks, "week")))
	case g.Weeks < 0:
		list = append(list, fmt.Sprintf("boats launched %s later in all", plural(-g.Weeks, "week")))
	}
	switch {
	case g.Late > 0:
		list = append(list, fmt.Sprintf("%d fewer late", g.Late))
	case g.Late < 0:
		list = append(list, fmt.Sprintf("%d more late", -g.Late))
	}
	if len(list) == 0 {
		return "no launch moves by a week"
	}
	return strings.Join(list, ", ")
}

// printShops prints a table of shops and weeks, in per cent: what a foreman reads is whether his shop is full, and not
// how many hours it has.
func printShops(w io.Writer, p *orders.Plan) {
	t := tabwriter.NewWriter(w, 0, 0, 1, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "\t")
	for _, week := range p.Shops[0].Weeks {
		fmt.Fprintf(t, "%s\t", week.Week.String()[len("2027-"):]) // the year would double the width
	}
	fmt.Fprintln(t)
	for _, s := range p.Shops {
		fmt.Fprintf(t, "%s\t", s.Title)
		for _, week := range s.Weeks {
			switch {
			// a week in which the shop is closed has no share: that is no idle week
			case week.Open > 0:
				fmt.Fprintf(t, "%.0f\t", 100*week.Work/week.Open)
			default:
				fmt.Fprint(t, "closed\t")
			}
		}
		fmt.Fprintln(t)
	}
	t.Flush()
}

// printWhy prints the chain that decides the launch of one order. It passes through other boats where these have the
// people or the mould: that is what a customer who asks is told least, and the yard has to know.
func printWhy(w io.Writer, p *orders.Plan, number string) error {
	i := slices.IndexFunc(p.Boats, func(b orders.Planned) bool { return b.Number == number })
	// with the numbers that there are: a number is soon mistyped
	if i < 0 {
		var known []string
		for _, b := range p.Boats {
			known = append(known, b.Number)
		}
		return fmt.Errorf("there is no order %q in the plan; it has %s", number, strings.Join(known, ", "))
	}
	b := &p.Boats[i]
	fmt.Fprintf(w, "%s, %s for %s: launch on %s (%s), promised for %s. What decides it, from the first:\n\n", b.Number,
		b.Hull, b.Customer, b.Launch, b.Week, b.Promised)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	for _, r := range b.Chain {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s to %s\t%s h\t%s\n", r.Number, r.Shop, r.Title, r.Start, r.Finish,
			r.Hours.Fixed(1), waitWords[r.Waits]+r.For)
	}
	t.Flush()
	fmt.Fprintln(w, "\nHours saved elsewhere do not move this launch.")
	return nil
}

// waitWords are what stands before what an operation waits for: each cause is another thing to do about it. People can
// be hired or lent, a mould cannot, and material can be asked for at another supplier.
var waitWords = map[string]string{orders.ForNothing: "begins with the plan", orders.ForWork: "after: ",
	orders.ForPlace: "waits for equipment: ", orders.ForPeople: "waits for people: ",
	orders.ForMaterial: "waits for material: ", orders.ForWindow: "not earlier, for the coat after it",
	orders.AsBegun: "under way"}
