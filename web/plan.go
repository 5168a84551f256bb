package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"ribband/core/orders"
	"ribband/core/plan"
)

// PlanReport is what plan -json prints: the plan with what would help it, and what was wrong with files. Its fields are
// those of package orders, under the names of their JSON.
type PlanReport struct {
	*orders.Plan
	Gains  []orders.Gain `json:"gains"`
	Faults []string      `json:"faults,omitempty"` // of files, each with its place and remedy
}

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

// efforts are how long a command may look for a better plan.
var efforts = map[string]plan.Effort{"quick": plan.Quick, "thorough": plan.Thorough, "long": plan.Long}

// reportPlan prints a plan for the yard: boats, shops by week, what holds them up, and what would help. What would help
// is asked here and not for a diary: it plans once more for each shop or mould that a launch waits for.
func reportPlan(c *console, p *orders.Plan, effort plan.Effort, faults []orders.Fault, asJSON bool) error {
	// with the same effort, or what is gained would be the longer search
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
	for _, b := range p.SetUps {
		fmt.Fprintf(w, "Set up once: %s for %s, %s h less.\n", b.Operation, strings.Join(b.Orders, ", "), b.Hours)
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
		// what a supplier does takes days and nobody's hours
		takes := r.Hours.Fixed(1) + " h"
		if r.Days > 0 {
			takes = plural(r.Days, "day")
		}
		fmt.Fprintf(t, "%s\t%s\t%s\t%s to %s\t%s\t%s\n", r.Number, r.Shop, r.Title, r.Start, r.Finish, takes,
			waitWords[r.Waits]+r.For)
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
