package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"strconv"
	"strings"
	"text/tabwriter"

	"ribband/core/money"
	"ribband/core/orders"
	"ribband/core/plan"
)

// A customer calls while his boat stands in the mould: could it be another colour, and what about a bow thruster?
// Whoever answers the telephone needs four things at once: whether it still can be had, what it costs, when the boat
// would be ready then, and whose launch that moves. Prices are those of the book of today, as for any new order; what
// undoing takes is charged at what it costs the yard, and the owner may make the customer another offer.

// changeOrder says what a change of an order comes to. It changes no file: what the customer agrees to is issued on the
// quotation desk, as another revision with the spec that -json gives, and then stands in the order among its changes.
func changeOrder(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "change", "change -orders DIR -order NUMBER -set SLOT=OPTION ... [-book DIR] [-day YYYY-MM-DD] "+
		"[-json]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	number := f.String("order", "", "the number of the order to change")
	set := f.list("set", "what a slot is to hold: SLOT=OPTION, SLOT=OPTION*2+OPTION, or SLOT= for nothing")
	dayText := f.String("day", "", "the day from which is planned, as for plan")
	asJSON := f.Bool("json", false, "print the change as JSON, with the spec of the changed boat")
	f.about = "Says what a change of a boat that is being built comes to: what can no longer be had and why, what " +
		"has to be undone and at which cost, the new price, the hours by shop, and the launch beside those of the " +
		"other boats. Exit code 1 where something can no longer be had."
	if err := f.parse(args); err != nil {
		return err
	}
	if *folder == "" || *number == "" || len(*set) == 0 {
		return f.wrong("which change of which order? Give -orders DIR, -order NUMBER and -set SLOT=OPTION")
	}
	// the command first, the files next, the book last: what is wrong is told before anybody has waited
	choices, err := choicesOf(*set)
	if err != nil {
		return f.wrong("%w", err)
	}
	load, faults, e, err := loadOrders(c, f, *folder, *dayText)
	if err != nil {
		return err
	}
	for _, fault := range faults {
		c.progress("%v", fault)
	}
	o, err := orders.Find(load.Orders(), *number)
	if err != nil {
		return err
	}
	// of a copy: the order's own choices are what the change is compared with
	to := o.Quote().Spec
	to.Choices = maps.Clone(to.Choices)
	if to.Choices == nil {
		to.Choices = map[string]map[string]int{}
	}
	maps.Copy(to.Choices, choices)
	// with the effort that the plan is made with, so that the launches are those that plan prints
	change, err := orders.NewChangeOrder(e, load.Orders(), *number, to, load.Day, plan.Thorough)
	if err != nil {
		return err
	}
	if *asJSON {
		err = printJSON(c.out, change)
	} else {
		printChange(c.out, change)
	}
	if err == nil && len(change.Refused) > 0 {
		return errFaults
	}
	return err
}

// A slot stands on the left and what it is to hold on the right, with the identifiers of the book; what is not named
// stays.

// choicesOf reads what slots are to hold: the whole of each, as a spec says it, so that "=" alone empties one. Whether
// the book has such slots and options, the engine says.
func choicesOf(list []string) (map[string]map[string]int, error) {
	choices := map[string]map[string]int{}
	for _, text := range list {
		slot, options, ok := strings.Cut(text, "=")
		if !ok || slot == "" {
			return nil, fmt.Errorf("-set %q: write SLOT=OPTION", text)
		}
		choices[slot] = map[string]int{} // of two for one slot the later one holds, as typed
		for option := range strings.SplitSeq(options, "+") {
			if option == "" {
				continue
			}
			// several of one option, such as fenders
			id, times, many := strings.Cut(option, "*")
			n := 1
			if many {
				var err error
				if n, err = strconv.Atoi(times); err != nil || n < 1 {
					return nil, fmt.Errorf("-set %q: %q is no count; write OPTION*2", text, times)
				}
			}
			choices[slot][id] = n
		}
	}
	return choices, nil
}

// printChange writes a change to be read on a screen: what is refused, what is undone, then what moves. Amounts are as
// the engine has them, to the minor unit; nothing is added up here.
func printChange(w io.Writer, c *orders.ChangeOrder) {
	fmt.Fprintf(w, "Change of order %s, revision %d of its quotation\n\n", c.Order, c.Revision)
	// refusals first: with one of them the rest is only what it would have been
	for _, r := range c.Refused {
		fmt.Fprintf(w, "Can no longer be had: %s (%s). %q was begun on %s.\n", r.Slot, strings.Join(r.Options, ", "),
			r.Operation, r.Begun)
	}
	amount := func(a money.Amount) string { return a.Fixed(c.Currency.Digits) + " " + c.Currency.Code }
	for _, u := range c.Undone {
		fmt.Fprintf(w, "Undone: %s (%s), since %q was begun on %s: %s h, material of %s lost; charged at cost, %s "+
			"net.\n", u.Slot, strings.Join(u.Options, ", "), u.Operation, u.Begun, u.Hours.Fixed(1), amount(u.Lost),
			amount(u.Cost))
	}
	// other boats stand below the one that is changed: who moves one promise has to look at the others
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "\tbefore\tafter\tchange\t")
	for _, row := range []struct {
		title         string
		before, after money.Amount
	}{{"Price net", c.Before.Net, c.After.Net}, {"Tax", c.Before.Tax, c.After.Tax},
		{"Price with tax", c.Before.Total, c.After.Total}} {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t\n", row.title, amount(row.before), amount(row.after),
			amount(row.after.Sub(row.before)))
	}
	for _, h := range c.Hours {
		fmt.Fprintf(t, "%s, h\t%s\t%s\t%s\t\n", h.Shop, h.Before.Fixed(1), h.After.Fixed(1),
			(h.After - h.Before).Fixed(1))
	}
	fmt.Fprintf(t, "Launch\t%s\t%s\t%+d days\t\n", c.Launch.Before, c.Launch.After, c.Launch.Days())
	for _, m := range c.Others {
		fmt.Fprintf(t, "Launch of %s\t%s\t%s\t%+d days\t\n", m.Order, m.Before, m.After, m.Days())
	}
	t.Flush()
}
