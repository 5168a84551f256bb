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

// PlanReport is what plan -json prints.
type PlanReport struct {
	*orders.Plan
	Gains  []orders.Gain `json:"gains"`
	Faults []string      `json:"faults,omitempty"` // of files, each with its place and remedy
}

// planOrders says when each boat of a folder of orders is launched. Orders that are wrong are told, and the others are
// planned; the exit code says that there were such.
func planOrders(_ context.Context, c *console, args []string) error {
	f := newFlags(
		c,
		"plan",
		"plan -orders DIR [-book DIR] [-day YYYY-MM-DD] [-effort quick|thorough|long] [-why ORDER] "+
			"[-json | -ics]",
	)
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	dayText := f.String(
		"day",
		"",
		"the day from which what is left is planned; none: the one after the last of which the "+
			"orders tell, so that the same orders give the same plan",
	)
	effort := oneOf(f, "effort", "how long it looks for a better plan", "thorough", "quick", "long")
	why := f.String("why", "", "the number of an order: why it is launched then, operation by operation")
	asJSON := f.Bool("json", false, "print the plan as JSON")
	asICS := f.Bool("ics", false, "print the launches for a diary, as iCalendar")
	f.about = "Plans the boats of all orders into the shops: when each is launched, what it waits for, how full each shop " +
		"is in each week, and what one more person or one more mould would gain. Promised weeks come first."
	if err := f.parse(args); err != nil {
		return err
	}
	if *folder == "" {
		return f.wrong("which orders? Give -orders DIR")
	}
	if *asJSON && *asICS {
		return f.wrong("-json and -ics are two; give one")
	}
	load, faults, _, err := loadOrders(c, f, *folder, *dayText)
	if err != nil {
		return err
	}
	for _, fault := range faults {
		c.progress("%v", fault)
	}
	efforts := map[string]plan.Effort{"quick": plan.Quick, "thorough": plan.Thorough, "long": plan.Long}
	p, err := load.Make(efforts[*effort])
	if err != nil {
		return err
	}
	switch {
	case *asICS:
		_, err = c.out.Write(p.Diary())
	case *why != "":
		err = printWhy(c.out, p, *why)
	default:
		err = reportPlan(c, p, efforts[*effort], faults, *asJSON)
	}
	if err == nil && len(faults) > 0 {
		c.progress("%d of the files have faults, told above; %d orders are planned.", countFiles(faults), len(p.Boats))
		return errFaults
	}
	return err
}

// countFiles is how many files have faults.
func countFiles(faults []orders.Fault) int {
	files := map[string]bool{}
	for _, f := range faults {
		files[f.File] = true
	}
	return len(files)
}

// loadOrders reads a folder of orders and makes it ready to be planned by the yard's book.
func loadOrders(c *console, f *flags, folder, dayText string) (*orders.Load, []orders.Fault, *engine.Engine, error) {
	files, err := filesOf(folder)
	if err != nil {
		return nil, nil, nil, err
	}
	read := orders.Read(files)
	day := read.Day()
	if dayText != "" {
		if day, err = orders.ParseDay(dayText); err != nil {
			return nil, nil, nil, f.wrong("-day: %w", err)
		}
	}
	if len(read.Orders) == 0 {
		for _, fault := range read.Faults {
			c.progress("%v", fault)
		}
		return nil, nil, nil, fmt.Errorf("reading orders: %s holds no order; give -orders DIR, with a file ending in "+
			".json for each", folder)
	}
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

// filesOf reads the files of a folder, by their names.
func filesOf(folder string) (map[string][]byte, error) {
	list, err := os.ReadDir(folder)
	if err != nil {
		return nil, fmt.Errorf("reading orders: %w", err)
	}
	files := map[string][]byte{}
	for _, entry := range list {
		if entry.Type()&fs.ModeType != 0 || filepath.Ext(entry.Name()) != ".json" {
			continue
		}
		if files[entry.Name()], err = readNamed(filepath.Join(folder, entry.Name())); err != nil {
			return nil, err
		}
	}
	return files, nil
}

// reportPlan prints a plan for the yard: boats, shops by week, what holds them up.
func reportPlan(c *console, p *orders.Plan, effort plan.Effort, faults []orders.Fault, asJSON bool) error {
	gains, err := p.Gains(effort)
	if err != nil {
		return err
	}
	if asJSON {
		r := PlanReport{Plan: p, Gains: gains}
		for _, f := range faults {
			r.Faults = append(r.Faults, f.Error())
		}
		return printJSON(c.out, r)
	}
	printPlan(c.out, p, gains)
	return nil
}

func printPlan(w io.Writer, p *orders.Plan, gains []orders.Gain) {
	fmt.Fprintf(
		w,
		"Planned from %s. Weeks are of ISO 8601; P50 and P80: by then five and eight of ten simulated builds "+
			"are launched.\n\n",
		p.Day,
	)
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "Order\tBoat\tCustomer\tPromised\tLaunch\tWeek\tP50\tP80\tKept\t")
	for _, b := range p.Boats {
		late := ""
		if b.Late > 0 {
			late = fmt.Sprintf("%d weeks late", b.Late)
		}
		fmt.Fprintf(
			t,
			"%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%d %%\t%s\n",
			b.Number,
			b.Hull,
			b.Customer,
			b.Promised,
			b.Launch,
			b.Week,
			b.P50,
			b.P80,
			b.Kept,
			late,
		)
	}
	t.Flush()
	for _, b := range p.Boats {
		if b.Material != nil {
			fmt.Fprintf(w, "\n%s waits for %s, which comes on %s, to begin %q.", b.Number, b.Material.Material,
				b.Material.Day, b.Material.Operation)
		}
		for _, x := range b.Breaches {
			fmt.Fprintf(w, "\n%s: %s.", b.Number, x)
		}
	}
	fmt.Fprint(w, "\n\nLoad of the shops, per cent of their open hours by week:\n\n")
	printShops(w, p)
	if p.Bottleneck != "" {
		fmt.Fprintf(w, "\nWhat launches wait for most: %s.\n", p.Bottleneck)
	}
	for _, g := range gains {
		fmt.Fprintf(w, "One more of %s: %s.\n", g.Of, gained(g))
	}
}

// gained is what one more of something gains, in words.
func gained(g orders.Gain) string {
	var list []string
	switch {
	case g.Weeks > 0:
		list = append(list, fmt.Sprintf("boats launched %d weeks earlier in all", g.Weeks))
	case g.Weeks < 0:
		list = append(list, fmt.Sprintf("boats launched %d weeks later in all", -g.Weeks))
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

// printShops prints a table of shops and weeks.
func printShops(w io.Writer, p *orders.Plan) {
	t := tabwriter.NewWriter(w, 0, 0, 1, ' ', tabwriter.AlignRight)
	fmt.Fprint(t, "\t")
	for _, week := range p.Shops[0].Weeks {
		fmt.Fprintf(t, "%s\t", week.Week.String()[5:])
	}
	fmt.Fprintln(t)
	for _, s := range p.Shops {
		fmt.Fprintf(t, "%s\t", s.Title)
		for _, week := range s.Weeks {
			switch {
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

// printWhy prints the chain that decides the launch of one order.
func printWhy(w io.Writer, p *orders.Plan, number string) error {
	i := slices.IndexFunc(p.Boats, func(b orders.Planned) bool { return b.Number == number })
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
		fmt.Fprintf(
			t,
			"%s\t%s\t%s\t%s to %s\t%s h\t%s\n",
			r.Number,
			r.Shop,
			r.Title,
			r.Start,
			r.Finish,
			r.Hours.Fixed(1),
			waitWords[r.Waits]+r.For,
		)
	}
	t.Flush()
	fmt.Fprintln(w, "\nHours saved elsewhere do not move this launch.")
	return nil
}

// waitWords are what stands before what an operation waits for.
var waitWords = map[string]string{orders.ForNothing: "begins with the plan", orders.ForWork: "after: ",
	orders.ForPlace: "waits for equipment: ", orders.ForPeople: "waits for people: ",
	orders.ForMaterial: "waits for material: ", orders.ForWindow: "not earlier, for the coat after it",
	orders.AsBegun: "under way"}
