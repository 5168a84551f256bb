package main

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/orders"
)

// Cards come back from the shops, and statements from the bank. Whoever types them in is asked for what stands on them
// and for nothing else, and is told at once where something cannot be: an operation before what it follows, a stage
// that the quotation does not have, the same line a second time.

// A list is how a week of cards is typed in, in any spreadsheet:
//
//	order;operation;begun;done;hours
//	2027-014;check-mould;2027-02-15;2027-02-15;1
//	2027-014;prepare-mould;2027-02-16;;2,5
//
// The same list may be entered again with more rows: hours are totals, so that nothing is booked twice. A row that is
// wrong is told with its line, and the others are entered.

// bookWork enters work that was done, of one operation or of a list.
func bookWork(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "booked", "booked -orders DIR (-order NUMBER -operation ID -begun YYYY-MM-DD [-done YYYY-MM-DD] "+
		"-hours H | -list FILE) [-correct] [-book DIR]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	number := f.String("order", "", "the number of the order")
	operation := f.String("operation", "", "the operation, by its identifier in the book, as on its card")
	begun := dayFlag(f, "begun", "the day on which it was begun")
	done := dayFlag(f, "done", "the day on which it was done; none while it is under way")
	hoursText := f.String("hours", "", "hours of all hands on it until now")
	file := f.String("list", "", "several at once: CSV with the columns order, operation, begun, done and hours")
	correct := f.Bool("correct", false, "put it in the place of what was entered of the operation before")
	f.about = "Enters work that was done into the files of orders. Hours are all those of the operation until now, " +
		"so that what is entered twice counts once. Exit code 1 where something was not entered; the rest is."
	if err := f.parse(args); err != nil {
		return err
	}
	// one operation by its flags, or a list; a mixture would leave it open which of the two holds
	one := *number != "" && *operation != "" && !begun.IsZero() && *hoursText != ""
	any := *number != "" || *operation != "" || !begun.IsZero() || !done.IsZero() || *hoursText != ""
	switch {
	case *folder == "":
		return f.wrong("which orders? Give -orders DIR")
	case (*file == "") != one || *file != "" && any:
		return f.wrong("what was done? Give -order NUMBER, -operation ID, -begun DAY and -hours H, or -list FILE")
	}
	// one operation is a list of one, so that both go the same way
	list := []orders.Booking{{Order: *number, Step: orders.Step{Operation: *operation, Begun: *begun, Done: *done}}}
	var faults []error
	if *file != "" {
		text, err := readFile(c, *file)
		if err != nil {
			return err
		}
		if list, faults, err = orders.ReadBookings(text); err != nil {
			return fmt.Errorf("%s: %w", *file, err)
		}
	} else if err := list[0].Step.Hours.UnmarshalText([]byte(*hoursText)); err != nil {
		return f.wrong("-hours: %w", err)
	}
	// the list is read before the book, which takes a second
	in, err := openOrders(c, *folder, false)
	if err != nil {
		return err
	}
	e, err := yardEngine(c, f)
	if err != nil {
		return err
	}
	// what can be entered is; the rest is told with its place, and may be mended and entered again
	entered, more, err := in.book(c, e, list, *correct)
	if err != nil {
		return err
	}
	// rows that could not be read, then those that could not be entered
	for _, fault := range append(faults, more...) {
		if *file != "" {
			fault = fmt.Errorf("%s: %w", *file, fault)
		}
		c.progress("%v", fault)
	}
	left := len(faults) + len(more)
	// of one that was refused all is said
	if entered > 0 {
		fmt.Fprintf(c.out, "%s entered, %d left out.\n", plural(entered, "operation"), left)
	}
	if left > 0 {
		return errFaults
	}
	return nil
}

// book enters what can be entered, order by order, and writes each order once. Faults bear the line of a list.
func (o *orderFolder) book(c *console, e *engine.Engine, list []orders.Booking, correct bool) (entered int,
	faults []error, err error) {
	placed := func(b *orders.Booking, err error) error {
		if b.Line > 0 {
			return fmt.Errorf("line %d: %w", b.Line, err)
		}
		return err
	}
	// each order once, with all that is for it: what comes before may stand further down in the list
	var numbers []string // in the order of the list
	by := map[string][]orders.Booking{}
	for _, b := range list {
		if by[b.Order] == nil {
			numbers = append(numbers, b.Order)
		}
		by[b.Order] = append(by[b.Order], b)
	}
	for _, number := range numbers {
		of, err := o.find(number)
		if err != nil {
			for i := range by[number] {
				faults = append(faults, placed(&by[number][i], err))
			}
			continue
		}
		var steps []orders.Step
		for _, b := range by[number] {
			steps = append(steps, b.Step)
		}
		// what is wrong of it is told by the row, and keeps no other row out
		next, wrong, err := o.enter(e, of, steps, correct)
		if err != nil {
			return entered, faults, err
		}
		for _, x := range wrong {
			faults = append(faults, placed(&by[number][x.Step], x.Err))
		}
		if err := o.save(next); err != nil {
			return entered, faults, err
		}
		entered += len(steps) - len(wrong)
		farOff(c, e, next, steps)
	}
	return entered, faults, nil
}

// enter enters work in an order beside the others of the folder: a mould that another boat has takes no second one.
func (o *orderFolder) enter(e *engine.Engine, of *orders.Order, steps []orders.Step, correct bool) (*orders.Order,
	[]orders.EntryFault, error) {
	// what was so before keeps nobody from entering what is right
	before := o.contentions(e, of)
	left := make([]int, len(steps)) // rows that may be entered
	for i := range left {
		left[i] = i
	}
	var faults []orders.EntryFault
	// again until nothing clashes, since one row may rest on another: each round leaves out a row at least
	for {
		var some []orders.Step
		for _, i := range left {
			some = append(some, steps[i])
		}
		next, wrong, err := of.Enter(e, some, correct)
		if err != nil {
			return nil, nil, err
		}
		// without the row that takes the place, or where none does, as one that takes a day back, without all of them
		operation, text, clashes := news(before, o.contentions(e, next))
		if !clashes {
			for _, x := range wrong {
				faults = append(faults, orders.EntryFault{Step: left[x.Step], Err: x.Err})
			}
			slices.SortFunc(faults, func(x, y orders.EntryFault) int { return cmp.Compare(x.Step, y.Step) })
			return next, faults, nil
		}
		// each of its rows with the same words, since the one who typed them may know which is wrong
		takes := func(i int) bool { return steps[i].Operation == operation }
		all := !slices.ContainsFunc(left, takes)
		left = slices.DeleteFunc(left, func(i int) bool {
			if !all && !takes(i) {
				return false
			}
			faults = append(faults, orders.EntryFault{Step: i,
				Err: fmt.Errorf("entering work in the order %s: %s", of.Number, text)})
			return true
		})
	}
}

// contentions are the places that an order has while others of the folder have them: what is said of it, by operation.
func (o *orderFolder) contentions(e *engine.Engine, of *orders.Order) map[string]string {
	list := slices.Clone(o.read.Orders)
	for i := range list {
		if list[i].Number == of.Number {
			list[i] = of
		}
	}
	// from the day on from which a plan would be made
	texts := map[string]string{}
	for _, c := range orders.Contentions(e, list, (&orders.Folder{Orders: list}).Day()) {
		for _, h := range []orders.Holding{c.Earlier, c.Later} {
			if h.Order == of.Number {
				texts[h.Operation] = c.Of(of.Number)
			}
		}
	}
	return texts
}

// news is the first contention, by its operation, that there was not before.
func news(before, now map[string]string) (operation, text string, ok bool) {
	for _, operation := range slices.Sorted(maps.Keys(now)) {
		if before[operation] != now[operation] {
			return operation, now[operation], true
		}
	}
	return "", "", false
}

// farOff tells of hours that are many times those of the book, or next to nothing of them: a slip of the keyboard more
// often than a hard day. They are entered all the same.
func farOff(c *console, e *engine.Engine, o *orders.Order, steps []orders.Step) {
	// wide bounds: whoever is warned for every second card reads no warning
	const many, little = 4, 8 // times as many, or one part of so many
	hours, err := o.BookHours(e)
	if err != nil {
		return // an order that the book cannot answer was refused before
	}
	for _, s := range steps {
		was := hours[s.Operation]
		if was == 0 || s.Hours <= many*was && (s.Done.IsZero() || s.Hours*little >= was) {
			continue
		}
		c.progress("%s: %s h for %q, where the book has %s h; look at it again, and mend it with -correct.", o.Number,
			s.Hours, s.Operation, was)
	}
}

// enterPayment enters what came in for a stage.
func enterPayment(_ context.Context, c *console, args []string) error {
	f := newBookless(c, "paid", "paid -orders DIR -order NUMBER -stage TITLE -on YYYY-MM-DD -amount A [-again]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	number := f.String("order", "", "the number of the order")
	stage := f.String("stage", "", "the stage, as the quotation calls it, or its identifier in the book")
	on := dayFlag(f, "on", "the day on which it came in")
	amountText := f.String("amount", "", "what came in, in the quotation's currency; below zero what was paid back")
	again := f.Bool("again", false, "the same amount came in for the same stage on the same day once more")
	f.about = "Enters a payment into the file of an order, and says what is open of its stages."
	if err := f.parse(args); err != nil {
		return err
	}
	if *folder == "" || *number == "" || *stage == "" || on.IsZero() || *amountText == "" {
		return f.wrong("what was paid? Give -orders DIR, -order NUMBER, -stage TITLE, -on DAY and -amount A")
	}
	// decimal, as it is typed; a comma between thousands is refused and not guessed
	amount, err := money.Parse(*amountText)
	if err != nil {
		return f.wrong("-amount: %w", err)
	}
	in, err := openOrders(c, *folder, false)
	if err != nil {
		return err
	}
	o, err := in.find(*number)
	if err != nil {
		return err
	}
	// as the quotation calls it, in its language: that is what the customer writes on his transfer
	title, err := o.Stage(*stage)
	if err != nil {
		return err
	}
	// below zero is a repayment, and is entered like any other payment
	next, err := o.Pay(orders.Payment{Stage: title, On: *on, Amount: amount}, *again)
	if err != nil {
		return err
	}
	if err := in.save(next); err != nil {
		return err
	}
	return printOpen(c, next, title)
}

// printOpen says what stands open of an order, and what was paid too much.
func printOpen(c *console, o *orders.Order, stage string) error {
	a, err := o.Account()
	if err != nil {
		return err
	}
	// the stage first, which somebody has just read on the statement of the bank
	amount := func(x money.Amount) string { return x.Fixed(a.Currency.Digits) + " " + a.Currency.Code }
	for _, s := range a.Stages {
		if s.Title == stage {
			fmt.Fprintf(c.out, "%s, %s: %s of %s paid, %s open.\n", a.Order, s.Title, amount(s.Paid), amount(s.Amount),
				amount(s.Open))
			if s.SetOff.Sign() < 0 {
				fmt.Fprintf(c.out, "%s more than the stage; it is set off against the other stages.\n",
					amount(s.SetOff.Neg()))
			}
		}
	}
	fmt.Fprintf(c.out, "All stages: %s of %s paid, %s open.\n", amount(a.Paid), amount(a.Amount), amount(a.Open))
	if a.Surplus.Sign() > 0 {
		fmt.Fprintf(c.out, "%s more than all stages: it is to be paid back.\n", amount(a.Surplus))
	}
	return nil
}
