package orders

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/suggest"
	"ribband/core/works"
)

// What is entered into an order goes through here and not through an editor: each entry makes an order anew, holds it
// to all that a file is held to, and leaves the old one as it was. So a slip spoils no file.

// New makes the order of a quotation that a customer has accepted, as it was issued. It refuses a draft, a quotation
// that was changed since it was issued, and a day on which nobody could accept it. That its number is free and its week
// can be kept is for the folder and the plan to say.
func New(number string, accepted Day, promised Week, quotation []byte) (*Order, error) {
	o := &Order{Kind: Kind, Format: Format, Number: number, Accepted: accepted, Promised: promised,
		Quotation: quotation}
	o, err := o.anew()
	if err == nil {
		err = o.acceptable(accepted)
	}
	if err != nil {
		return nil, fmt.Errorf("making an order: %w", err)
	}
	return o, nil
}

// acceptable says what keeps the last quotation of an order from being accepted on a day.
func (o *Order) acceptable(on Day) error {
	q := o.Quote()
	if !q.Intact() {
		return fmt.Errorf("quotation: %s is not what was issued: its digest is of another text; order the file as the "+
			"desk has written it", q.Number)
	}
	// By days of the papers alone: what the clock says does not come into it.
	// a quotation was read, so that its days are days
	issued, _ := ParseDay(q.Date)
	until, _ := ParseDay(q.ValidUntil)
	switch {
	case on.Before(issued):
		return fmt.Errorf("accepted: %s is before %s, on which quotation %s was issued", on, issued, q.Number)
	case !until.IsZero() && until.Before(on):
		return fmt.Errorf("accepted: on %s quotation %s holds no more, it was valid until %s; issue another revision "+
			"of it", on, q.Number, until)
	}
	return nil
}

// anew is an order as its file would be read: with everything checked.
func (o *Order) anew() (*Order, error) {
	text, err := o.Encode()
	if err != nil {
		return nil, err
	}
	return decode(text)
}

// Accept is the order with a change that its customer has accepted.
func (o *Order) Accept(c Change) (*Order, error) {
	// of a copy, as everywhere here: who is refused still has the order that he had
	changed := *o
	changed.Changes = append(slices.Clone(o.Changes), c)
	next, err := changed.anew()
	if err == nil {
		err = next.acceptable(c.Accepted)
	}
	if err != nil {
		return nil, fmt.Errorf("changing the order %s: %w", o.Number, err)
	}
	return next, nil
}

// Pay is the order with a payment that came in, or below zero was paid back. The same payment a second time is refused,
// unless it is said that it came again: a statement of an account is soon typed twice.
func (o *Order) Pay(p Payment, again bool) (*Order, error) {
	currency := o.Quote().Price.Currency
	var err error
	switch minor, cents := currency.Minor(), p.Amount.Fixed(currency.Digits); {
	case p.Amount.IsZero():
		err = errors.New("amount: nothing came in; give what did, or below zero what was paid back")
	case p.Amount.String() != trimmed(cents):
		err = fmt.Errorf("amount: %s %s is no amount that can be paid: its least part is %s", p.Amount, currency.Code,
			minor.Fixed(currency.Digits))
	case !again && slices.ContainsFunc(o.Paid, func(was Payment) bool {
		return was.Stage == p.Stage && was.On == p.On && was.Amount.Equal(p.Amount)
	}):
		err = fmt.Errorf("%s of %s for %q stands in it already; say that it came again if it did",
			cents, p.On, p.Stage)
	}
	var next *Order
	if err == nil {
		changed := *o
		changed.Paid = append(slices.Clone(o.Paid), p)
		next, err = changed.anew()
	}
	if err != nil {
		return nil, fmt.Errorf("entering a payment in the order %s: %w", o.Number, err)
	}
	return next, nil
}

// trimmed is decimal text without zeros behind the last digit, as an amount is written.
func trimmed(decimal string) string {
	if !strings.Contains(decimal, ".") {
		return decimal
	}
	return strings.TrimSuffix(strings.TrimRight(decimal, "0"), ".")
}

// Enter is the order with work that was done. Hours are those of all hands until now, as the card of a shop has them in
// the end, and not what came since the last entry: what is entered twice counts once. Steps may come in any order; each
// is held to what comes before it by the book, with the other ones entered. What cannot be is in faults, by its place
// among the steps, and the rest is entered.
//
// What is done stays done: another day or other hours for it are a fault unless they are to correct what was entered.
// What is under way may get a later end and more hours.
func (o *Order) Enter(e *engine.Engine, steps []Step, correct bool) (*Order, []EntryFault, error) {
	b := &entering{engine: e, order: o, correct: correct}
	if err := b.boats(); err != nil {
		return nil, nil, fmt.Errorf("entering work in the order %s: %w", o.Number, err)
	}
	// as they were worked, so that of two of one day the first is entered first
	in := make([]int, len(steps))
	for i := range in {
		in[i] = i
	}
	slices.SortStableFunc(in, func(x, y int) int {
		return cmp.Or(steps[x].Begun.Since(steps[y].Begun), cmp.Compare(b.turn(&steps[x]), b.turn(&steps[y])))
	})
	// one after the other, each into the order that the one before left
	var faults []EntryFault
	for _, i := range in {
		if err := b.enter(steps[i]); err != nil {
			faults = append(faults, EntryFault{i, fmt.Errorf("entering work in the order %s: %w", o.Number, err)})
		}
	}
	slices.SortFunc(faults, func(x, y EntryFault) int { return cmp.Compare(x.Step, y.Step) })
	return b.order, faults, nil
}

// EntryFault is a step that was not entered.
type EntryFault struct {
	Step int // among those that were given
	Err  error
}

// entering is an order while work is entered.
type entering struct {
	engine  *engine.Engine
	order   *Order
	correct bool

	load  *Load
	boat  *Boat
	known []string // operations of this boat as it is, and as it was before changes
	turns map[string]int
}

// boats answers the boat as it is and as it was: a card may come late, of an operation that a change has taken out.
func (b *entering) boats() error {
	// a day that is after all others, since days are checked here against each other alone
	b.load = &Load{engine: b.engine, Day: (&Folder{Orders: []*Order{b.order}}).Day().Add(1_000_000)}
	// the last one first, so that the turn of an operation is that of the boat as it is now
	b.turns = map[string]int{}
	for i := len(b.order.quotes) - 1; i >= 0; i-- {
		a, err := b.engine.Answer(b.order.quotes[i].Spec)
		if err != nil {
			return err
		}
		tasks := a.Work.Tasks()
		if b.boat == nil { // the last one is what is built
			b.boat = &Boat{Order: b.order, Answer: a, Tasks: tasks}
		}
		for turn, t := range tasks {
			if t.Operation == works.NoOperation {
				continue
			}
			id := b.engine.Work.Operations[t.Operation].ID
			if _, there := b.turns[id]; !there {
				b.turns[id], b.known = turn, append(b.known, id)
			}
		}
	}
	return nil
}

// turn is where the boat has an operation in the order of its work.
func (b *entering) turn(s *Step) int { return b.turns[s.Operation] }

// enter enters one step, or says why not and leaves the order as it was.
func (b *entering) enter(s Step) error {
	if !slices.Contains(b.known, s.Operation) {
		return fmt.Errorf("this boat has no operation %.60q; %s", s.Operation, suggest.Nearest(s.Operation, b.known,
			"see the card of its shop"))
	}
	if err := b.outside(&s); err != nil {
		return err
	}
	// into a copy, at the place where the operation stands already: a file whose lines move about cannot be compared
	changed := *b.order
	changed.Done = slices.Clone(b.order.Done)
	at := slices.IndexFunc(changed.Done, func(t Step) bool { return t.Operation == s.Operation })
	switch {
	case at < 0:
		changed.Done = append(changed.Done, s)
	case changed.Done[at] == s:
		return nil // entered twice, and done once
	default:
		if err := changed.Done[at].overtakes(s); err != nil && !b.correct && !b.again(changed.Done[at], s) {
			return err
		}
		changed.Done[at] = s
	}
	next, err := changed.anew()
	if err != nil {
		return err
	}
	// what was wrong before is told where the plan is made, and keeps nobody from entering what is right
	before := b.load.checkSteps(b.boat)
	b.boat.Order = next
	for _, fault := range b.load.checkSteps(b.boat) {
		if !slices.ContainsFunc(before, func(was error) bool { return was.Error() == fault.Error() }) {
			b.boat.Order = b.order
			_, text, _ := strings.Cut(fault.Error(), ": ") // without the place in a file that nobody has written
			return errors.New(text)
		}
	}
	b.order = next
	return nil
}

// outside refuses hours of what a supplier does: begun is the day on which it goes out, done that on which it is back.
func (b *entering) outside(s *Step) error {
	for i := range b.engine.Work.Operations {
		if op := &b.engine.Work.Operations[i]; op.ID == s.Operation && op.Shop == works.Outside && s.Hours > 0 {
			return fmt.Errorf("%q is subcontracted, and takes no hours of the yard; enter it with 0 h, begun when it "+
				"goes out and done when it is back", s.Operation)
		}
	}
	return nil
}

// again says that a step is one that was done and was worked again for a change: it has the same begin, and all hours
// of both times, and was done after the change was accepted.
func (b *entering) again(was, by Step) bool {
	return was.Begun == by.Begun && was.Hours <= by.Hours && slices.ContainsFunc(b.order.Changes, func(c Change) bool {
		return !c.Accepted.Before(was.Done) && !by.Done.Before(c.Accepted)
	})
}

// overtakes says why a step cannot follow what was entered of the same operation before.
func (s *Step) overtakes(by Step) error {
	// hours grow and days stay: whatever else comes is a slip of one of the two cards
	const remedy = "; say that it is a correction if it is"
	switch {
	case !s.Done.IsZero():
		return fmt.Errorf("%q was entered as done on %s with %s h"+remedy, s.Operation, s.Done, s.Hours)
	case s.Begun != by.Begun:
		return fmt.Errorf("%q was entered as begun on %s, and not on %s"+remedy, s.Operation, s.Begun, by.Begun)
	case by.Hours < s.Hours:
		return fmt.Errorf("%q had %s h before, and cannot have %s h now: give the hours of all hands until now"+remedy,
			s.Operation, s.Hours, by.Hours)
	}
	return nil
}

// BookHours are the hours that the book has for the operations of an order's boat as it is, by identifier.
func (o *Order) BookHours(e *engine.Engine) (map[string]measure.Hours, error) {
	a, err := e.Answer(o.Quote().Spec)
	if err != nil {
		return nil, fmt.Errorf("answering the order %s: %w", o.Number, err)
	}
	// of a task, that is with all options that add to it
	hours := map[string]measure.Hours{}
	for _, t := range a.Work.Tasks() {
		if t.Operation != works.NoOperation {
			hours[e.Work.Operations[t.Operation].ID] = t.Hours
		}
	}
	return hours, nil
}
