package main

import (
	"context"
	"fmt"
	"io"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/msg/office"
	"ribband/core/orders"
	"ribband/core/orders/papers"
	"ribband/core/plan"
	"ribband/core/quote"
	"ribband/core/spec"
)

// A customer calls while his boat stands in the mould: could it be another colour, and what about a bow thruster?
// Whoever answers the telephone needs four things at once: whether it still can be had, what it costs, when the boat
// would be ready then, and whose launch that moves. Prices are those of the book of today, as for any new order; what
// undoing takes is charged at what it costs the yard, and the owner may make the customer another offer.

// changeOrder says what a change of an order comes to. With -out it writes the paper that the customer signs; with
// -accept, once it is signed, it issues the next revision of the quotation and enters it into the order. Otherwise it
// changes no file.
func changeOrder(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "change", "change -orders DIR -order NUMBER -set SLOT=OPTION ... [-book DIR] [-day YYYY-MM-DD] "+
		"[-json] [-promised YYYY-Www -out DIR [-format html|text|pdf] [-approval NAME] [-late] [-accept [-key FILE]]]")
	folder := f.String("orders", "", "folder of orders, each a file ending in .json")
	number := f.String("order", "", "the number of the order to change")
	set := f.list("set", "what a slot is to hold: SLOT=OPTION, SLOT=OPTION*2+OPTION, or SLOT= for nothing")
	dayText := f.String("day", "", "the day of the change, from which is planned, as for plan; -accept wants it: the "+
		"day on which the customer said yes")
	asJSON := f.Bool("json", false, "print the change as JSON, with the spec of the changed boat")
	promised := weekFlag(f, "promised", "the week of the launch that is promised with the change")
	out := f.String("out", "", "folder into which the paper to sign is written, in the language of the quotation")
	format := oneOf(f, "format", "of the paper; pdf is printed by Chromium", outFormats...)
	approval := f.String("approval", "", "who approved a price beyond a salesperson's authority")
	late := f.Bool("late", false, "promise the week although the plan does not keep it")
	accept := f.Bool("accept", false, "the customer has signed: issue the quotation of the change, and enter it into "+
		"the order")
	keyFile := f.String("key", "", "the yard's key, which signs the quotation of the change; -accept wants it where "+
		"the book has signing_keys")
	f.about = "Says what a change of a boat that is being built comes to: what can no longer be had and why, what " +
		"has to be undone and at which cost, the new price, the hours by shop, and the launch beside those of the " +
		"other boats. Exit code 1 where something can no longer be had."
	if err := f.parse(args); err != nil {
		return err
	}
	switch {
	case *folder == "" || *number == "" || len(*set) == 0:
		return f.wrong("which change of which order? Give -orders DIR, -order NUMBER and -set SLOT=OPTION")
	case *out != "" && *promised == (orders.Week{}):
		return f.wrong("which week is promised with the change? Give -promised WEEK: a promise is made by a person")
	case *accept && (*out == "" || *dayText == ""):
		return f.wrong("with -accept give -out DIR for the paper, and -day DAY, on which the customer said yes")
	}
	// the command first, the files next, the book last: what is wrong is told before anybody has waited
	choices, err := choicesOf(*set)
	if err != nil {
		return f.wrong("%w", err)
	}
	k, err := askChange(c, f, *folder, *number, *dayText, choices)
	if err != nil {
		return err
	}
	if *asJSON {
		err = printJSON(c.out, k.change)
	} else {
		printChange(c.out, k.change)
	}
	if err == nil && *out != "" {
		to := &outFolder{ctx: ctx, dir: *out, format: *format, day: k.day.String()}
		err = k.offer(c, to, terms{*promised, *approval, *keyFile, *late, *accept})
	}
	if err == nil && len(k.change.Refused) > 0 {
		return errFaults
	}
	return err
}

// askedChange is a change that somebody asks for.
type askedChange struct {
	folder *orderFolder
	engine *engine.Engine
	all    []*orders.Order // that can be planned
	order  *orders.Order
	to     spec.Spec
	day    orders.Day
	change *orders.ChangeOrder
}

// askChange reads the orders and works the change out.
func askChange(c *console, f *flags, folder, number, dayText string, choices map[string]map[string]int) (*askedChange,
	error) {
	k := &askedChange{}
	var err error
	if k.folder, err = openOrders(c, folder, false); err != nil {
		return nil, err
	}
	if k.day, err = k.folder.dayOf(f, dayText); err != nil {
		return nil, err
	}
	if k.order, err = k.folder.find(number); err != nil {
		return nil, err
	}
	if k.engine, err = yardEngine(c, f); err != nil {
		return nil, err
	}
	// whatever is wrong with other orders is told, and leaves them out of both plans
	load, faults := orders.NewLoad(k.engine, k.folder.read.Orders, k.day)
	for _, fault := range slices.Concat(k.folder.read.Faults, faults) {
		c.progress("%v", fault)
	}
	k.all = load.Orders()
	// of a copy: the order's own choices are what the change is compared with
	k.to = k.order.Quote().Spec
	k.to.Choices = maps.Clone(k.to.Choices)
	if k.to.Choices == nil {
		k.to.Choices = map[string]map[string]int{}
	}
	maps.Copy(k.to.Choices, choices)
	// with the effort that the plan is made with, so that the launches are those that plan prints
	k.change, err = orders.NewChangeOrder(k.engine, k.all, number, k.to, k.day, plan.Thorough)
	return k, err
}

// offer writes the paper of the change, and where it is accepted enters it. The paper comes first: an order that says
// what no paper says would be the worse half.
func (k *askedChange) offer(c *console, out *outFolder, on terms) error {
	// two engines: one for the office, one for the customer, of the same book
	l, speaking, err := k.speaking()
	if err != nil {
		return err
	}
	said, err := k.change.In(speaking, k.order)
	if err != nil {
		return err
	}
	// in the words of the customer from here on; what was printed before is for the office
	x := &papers.Change{Was: k.order, Change: said, Refused: said.Refused, Day: k.day}
	if on.accept && len(said.Refused) > 0 {
		return fmt.Errorf("changing the order %s: some of it can no longer be had; accept the change without that",
			k.order.Number)
	}
	// A customer who asks for two things and can have one gets an offer of the one, with the reason why not of the
	// other.
	possible := k.change
	if len(said.Refused) > 0 {
		if possible, err = k.without(said.Refused); err != nil {
			return err
		}
		if possible != nil {
			if x.Change, err = possible.In(speaking, k.order); err != nil {
				return err
			}
		}
	}
	if possible != nil {
		if err := foundPromise(c, on.promised, possible.Launch.After.Week(), possible.P80, on.late); err != nil {
			return fmt.Errorf("changing the order %s: %w", k.order.Number, err)
		}
		q, err := x.Change.Issue(speaking, k.order, on.approval)
		// a paper about nothing would be signed as readily as any other
		if err == nil && reflect.DeepEqual(q.Contents, k.order.Quote().Contents) {
			err = fmt.Errorf("changing the order %s: it changes nothing, the boat has that already", k.order.Number)
		}
		if err == nil && on.accept {
			err = k.sign(q, on.key)
		}
		if err != nil {
			return err
		}
		if x.Now, err = k.order.Accept(orders.Change{Accepted: k.day, Promised: on.promised,
			Quotation: q.Encode()}); err != nil {
			return err
		}
		// the last one of something may be in another boat by now
		if err := orders.Short(x.Now, k.folder.read.Orders, k.engine.Pack); err != nil {
			return fmt.Errorf("changing the order %s: %w", k.order.Number, err)
		}
	}
	// by the order and the count of its changes, as the paper is called
	name := fmt.Sprintf("%s-change-%d", k.order.Number, len(k.order.Changes)+1)
	// one that was offered before and says the same is the one that was signed
	if err := out.write(c, name, papers.ChangeOrder(l, x), l); err != nil {
		return err
	}
	// an offer leaves the order as it is, however often it is made
	if !on.accept {
		return nil
	}
	if err := k.folder.save(x.Now); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "Order %s is changed: revision %d of quotation %s, promised for %s.\n", k.order.Number,
		x.Now.Quote().Revision, x.Now.Quote().Number, on.promised)
	return nil
}

// terms are on which a change is offered or accepted.
type terms struct {
	promised      orders.Week
	approval, key string
	late, accept  bool
}

// sign signs the quotation of a change by the yard's key. Where the book has keys, one that nobody signed proves
// nothing, and the order would hold a paper that its customer cannot verify.
func (k *askedChange) sign(q *quote.Quote, name string) error {
	keys := keysOf(k.engine.Pack)
	if name == "" {
		if len(keys) > 0 {
			return fmt.Errorf("changing the order %s: the book has signing_keys; give -key FILE", k.order.Number)
		}
		return nil
	}
	key, err := readKey(name)
	if err != nil {
		return err
	}
	if !slices.Contains(keys, key.Public()) {
		return fmt.Errorf("changing the order %s: the book does not have this key, so that nobody could verify it",
			k.order.Number)
	}
	return putSignature(q, key)
}

// speaking is the engine in the language of the customer, which is that of the quotation; English where the program
// does not speak it.
func (k *askedChange) speaking() (*msg.Language, *engine.Engine, error) {
	return speakingOf(k.engine, k.order)
}

// speakingOf is an engine in the language of the quotation of an order, with the words of its papers.
func speakingOf(e *engine.Engine, o *orders.Order) (*msg.Language, *engine.Engine, error) {
	// the customer got his quotation in it, and signs what he can compare with it
	in, ok, err := e.Speaking(o.Quote().Language)
	if err == nil && !ok {
		in, err = e.In(msg.English)
	}
	if err != nil {
		return nil, nil, fmt.Errorf("speaking with the customer of order %s: %w", o.Number, err)
	}
	return office.Words(in.Language()), in, nil
}

// without is the change without what can no longer be had; nil where nothing is left of it, or what is left hangs on
// what cannot be.
func (k *askedChange) without(refused []orders.Refused) (*orders.ChangeOrder, error) {
	// as it was ordered, slot by slot; a slot that was left open is left open again
	was, to := k.order.Quote().Spec, k.to
	to.Choices = maps.Clone(to.Choices)
	for _, r := range refused {
		if held, ok := was.Choices[r.SlotID]; ok {
			to.Choices[r.SlotID] = held
		} else {
			delete(to.Choices, r.SlotID)
		}
	}
	if reflect.DeepEqual(to.Choices, was.Choices) {
		return nil, nil
	}
	c, err := orders.NewChangeOrder(k.engine, k.all, k.order.Number, to, k.day, plan.Thorough)
	if err != nil || len(c.Refused) > 0 {
		return nil, nil // the boat cannot be built with one half of what was asked for
	}
	return c, nil
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
	// the table has it in its sums; why they are not those of the book stands below
	for _, h := range c.Hours {
		fmt.Fprintf(t, "%s, h\t%s\t%s\t%s\t\n", h.Shop, h.Before.Fixed(1), h.After.Fixed(1),
			(h.After - h.Before).Fixed(1))
	}
	fmt.Fprintf(t, "Launch\t%s\t%s\t%+d days\t\n", c.Launch.Before, c.Launch.After, c.Launch.Days())
	for _, m := range c.Others {
		fmt.Fprintf(t, "Launch of %s\t%s\t%s\t%+d days\t\n", m.Order, m.Before, m.After, m.Days())
	}
	t.Flush()
	if c.Agreed.Sign() > 0 {
		fmt.Fprintf(w, "\nThe book asks %s more for the boat as it was ordered; the price of the quotation holds, and "+
			"the change has that taken off.\n", amount(c.Agreed))
	}
}
