package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"ribband/core/engine"
	"ribband/core/orders"
	"ribband/core/plan"
	"ribband/core/quote"
)

// A customer says yes. What was a quotation is an order from then on: it has a number of its own, a place among the
// other boats and a week in which it is to be in the water. Before the yard promises that week it wants to know what
// the plan makes of it, and whose launch the new boat moves.

// What is refused, and why here and not later:
//
//	a draft                     it binds nobody, and has no number to be found by
//	a changed quotation         the customer has another paper in his drawer than the yard in its folder
//	one that holds no more      its prices were those of a spring that is over
//	a number that is taken      a plate on a mould, a card and a bill would be of two boats
//	a quotation ordered before  the same boat would be built twice
//	a week that cannot be kept  unless the yard says that it promises it all the same
//
// The price is that of the quotation, whatever the book says by now; hours and waits are those of the book of today.

// takeOrder makes the file of an order from a quotation that was accepted.
func takeOrder(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "order", "order -quotation FILE -orders DIR -number NUMBER -accepted YYYY-MM-DD "+
		"-promised YYYY-Www [-book DIR] [-day YYYY-MM-DD] [-unsigned] [-late]")
	file := f.String("quotation", "", "the quotation that was accepted, as the desk has written it for the yard")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	number := f.String("number", "", "number of the order, of the yard's own counting, such as 2027-014")
	accepted := dayFlag(f, "accepted", "the day on which the customer said yes")
	promised := weekFlag(f, "promised", "the week in which the boat is to be launched")
	dayText := f.String("day", "", "the day from which is planned, as for plan")
	unsigned := f.Bool("unsigned", false, "take a quotation that nobody has signed, where the book has signing_keys")
	late := f.Bool("late", false, "promise the week although the plan does not keep it")
	f.about = "Makes an order of a quotation that a customer has accepted. It refuses a draft, a quotation that was " +
		"changed, a number that is taken and a week that the plan cannot keep; it says what the plan expects, and " +
		"whose launch moves."
	if err := f.parse(args); err != nil {
		return err
	}
	if *file == "" || *folder == "" || *number == "" || accepted.IsZero() || *promised == (orders.Week{}) {
		return f.wrong("which order? Give -quotation FILE, -orders DIR, -number NUMBER, -accepted DAY and -promised " +
			"WEEK")
	}
	// what can be seen from the two files alone is said before the book is loaded
	text, err := readFile(c, *file)
	if err != nil {
		return err
	}
	o, err := orders.New(*number, *accepted, *promised, text)
	if err != nil {
		return fmt.Errorf("%s: %w", *file, err)
	}
	in, err := openOrders(c, *folder, true)
	if err != nil {
		return err
	}
	// taken by number and by quotation: either alone would let a boat be built twice
	all, err := in.with(o)
	if err != nil {
		return err
	}
	// others that are damaged are not in the plan that the promise is held to
	for _, fault := range in.read.Faults {
		c.progress("%v", fault)
	}
	e, err := yardEngine(c, f)
	if err != nil {
		return err
	}
	if err := asIssued(c, e, o.Quote(), *unsigned); err != nil {
		return fmt.Errorf("%s: making an order: %w", *file, err)
	}
	// two desks may have quoted the last one of something, and one customer has said yes before the other
	if err := orders.Short(o, all, e.Pack); err != nil {
		return fmt.Errorf("making an order: %w", err)
	}
	// of all orders with the new one, which may be the last of which they tell
	with := &orderFolder{read: &orders.Folder{Orders: all}}
	day, err := with.dayOf(f, *dayText)
	if err != nil {
		return err
	}
	return in.take(c, e, o, all, day, *late)
}

// with are the orders of a folder and a new one, which must not be there already, neither by its number nor by its
// quotation.
func (o *orderFolder) with(order *orders.Order) ([]*orders.Order, error) {
	name := order.Number + orderEnding
	// whatever has the name: a damaged order or a link is somebody's, too
	if _, err := os.Lstat(filepath.Join(o.dir, name)); !errors.Is(err, fs.ErrNotExist) {
		return nil, fmt.Errorf("making an order: there is %s in %s already; give another -number", name, o.dir)
	}
	if first := orders.OfQuotation(o.read.Orders, order.Quote().Number); first != nil {
		return nil, fmt.Errorf("making an order: quotation %s is order %s already; a change of it is made by "+
			"`go run ./web change`", order.Quote().Number, first.Number)
	}
	// where its number puts it, so that a plan of the folder reads the same tomorrow
	all := append(slices.Clone(o.read.Orders), order)
	slices.SortStableFunc(all, orders.ByNumber)
	return all, nil
}

// asIssued refuses a quotation that somebody else made or changed, or from which this book gives another price on the
// same edition. A later edition gives what it gives: the customer has the price of his quotation.
func asIssued(c *console, e *engine.Engine, q *quote.Quote, unsigned bool) error {
	keys := keysOf(e.Pack)
	// by whom it was issued, then whether it adds up: one does not stand for the other
	verdict, err := verdictOf(q, keys)
	if err != nil {
		return err
	}
	switch {
	case verdict.Bad():
		return fmt.Errorf("%s", verdict.Message())
	case verdict == quote.NotSigned && len(keys) > 0 && !unsigned:
		return errors.New("nobody has signed it, and the book has signing_keys; confirm it first, or give -unsigned")
	}
	// as it would be written: how a file is indented, which an order changes, its digest does not mind
	if q, err = quote.Decode(q.Encode()); err != nil {
		return err
	}
	_, _, differences, err := quote.Reopen(e, q)
	if err != nil {
		return err
	}
	// on its own edition it has to come out as it is; on another one it hardly ever does
	switch {
	case len(differences) == 0:
	case q.Edition == e.Public().Edition:
		return fmt.Errorf("it is not what the book of its own edition gives:\n%s", differenceLines(differences))
	default:
		c.progress("It was quoted from another edition; its own price holds. What this book would give:\n%s",
			differenceLines(differences))
	}
	return nil
}

// take plans the new order among the others, says what the plan expects, and writes its file.
func (o *orderFolder) take(c *console, e *engine.Engine, order *orders.Order, all []*orders.Order, day orders.Day,
	late bool) error {
	// an order that the yard could not plan is none that it should take
	if _, faults := orders.NewLoad(e, []*orders.Order{order}, day); len(faults) > 0 {
		return faults[0].Err
	}
	// the week that is promised is held to the same plan that everybody prints
	x, err := orders.Expect(e, all, order.Number, day, plan.Thorough)
	if err != nil {
		return err
	}
	fmt.Fprintf(c.out, "%s: %s for %s, promised for %s. Planned from %s the launch is on %s (%s); half of the "+
		"simulated builds are launched by %s, four of five by %s; %d %% keep the promise.\n", x.Number, x.Hull,
		x.Customer, x.Promised, x.Day, x.Launch, x.Week, x.P50, x.P80, x.Kept)
	printMoved(c, x.Others)
	if err := foundPromise(c, x.Promised, x.Week, x.P80, late); err != nil {
		return fmt.Errorf("making the order %s: %w", order.Number, err)
	}
	// a new file and nothing else: an order of the same number that came meanwhile is not overwritten
	text, err := order.Encode()
	if err != nil {
		return err
	}
	name := filepath.Join(o.dir, order.Number+orderEnding)
	if err := writeNew(name, text, 0o644); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "Wrote %s.\n", name)
	return nil
}

// printMoved says which other launches move into another week.
func printMoved(c *console, list []orders.Moved) {
	for _, m := range list {
		late := ""
		if m.Late > 0 {
			late = ", " + plural(m.Late, "week") + " after its promise"
		}
		fmt.Fprintf(c.out, "It moves the launch of %s from %s (%s) to %s (%s)%s.\n", m.Order, m.Before, m.Before.Week(),
			m.After, m.After.Week(), late)
	}
}
