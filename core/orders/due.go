package orders

import (
	"cmp"
	"fmt"
	"slices"

	"ribband/core/engine"
	"ribband/core/money"
	"ribband/core/suggest"
	"ribband/core/works"
)

// Which operation makes a stage due is the book's of today, since it says how the yard works; title, share and amount
// of a stage are the quotation's, since they were agreed. The two are brought together by the title in the language of
// the quotation. A stage whose title the book has no more is due when all of the boat's work is done, and is told.

// Dues are the accounts of some orders on a day, with what is due of each, by the yard's book: what is late comes
// first, then what is due, then the rest, each by number. An order of which something cannot be told is a fault, and
// stays in the list with what can.
func Dues(e *engine.Engine, list []*Order, day Day) ([]Account, []Fault) {
	// titles of a language are asked for once: a folder has hundreds of orders in three of them
	d := &dues{engine: e, day: day, titles: map[string][]string{}}
	var out []Account
	for _, o := range list {
		a, err := d.of(o)
		if a != nil {
			out = append(out, *a)
		}
		for _, err := range err {
			d.faults = append(d.faults, Fault{o.Number + ending, fmt.Errorf("finding what is due: %w", err)})
		}
	}
	slices.SortStableFunc(out, func(x, y Account) int {
		return cmp.Or(cmp.Compare(y.Late(), x.Late()), y.Asked.Cmp(x.Asked), cmp.Compare(x.Order, y.Order))
	})
	return out, d.faults
}

// dues finds what is due of orders.
type dues struct {
	engine *engine.Engine
	day    Day
	titles map[string][]string // of the book's stages, by language
	faults []Fault
}

// of is the account of one order with its days.
func (d *dues) of(o *Order) (*Account, []error) {
	a, err := o.Account()
	if err != nil {
		return nil, []error{err}
	}
	answer, err := d.engine.Answer(o.Quote().Spec)
	if err != nil {
		return a, []error{fmt.Errorf("quotation: %w", err)}
	}
	// of the boat as it is now: a change may have taken an operation out
	tasks, paid := answer.Work.Tasks(), o.covered(a)
	var faults []error
	for i := range a.Stages {
		s := &a.Stages[i]
		operation, err := d.operation(o, s.Title)
		if err != nil {
			faults = append(faults, fmt.Errorf("quotation: %w", err))
		}
		s.Due = d.since(o, operation, tasks)
		if operation >= 0 {
			s.Operation = d.engine.Work.Operations[operation].Title
		}
		if s.Due.IsZero() || d.day.Before(s.Due) {
			s.Due = Day{} // not on this day
			continue
		}
		// what only a change has added to a stage that was paid is due since the change
		if s.Open.Sign() > 0 && s.Due.Before(paid[i]) {
			s.Due = paid[i]
		}
		s.PayBy = s.Due.Add(d.engine.Pack.Work.PaymentDays)
		if s.Open.Sign() > 0 {
			s.Late = max(0, d.day.Since(s.PayBy))
			a.Asked = a.Asked.Add(s.Open)
		}
	}
	return a, faults
}

// covered are by stage the days since which what was paid does not cover it: that of the change that made it dearer,
// and none where it was never covered.
func (o *Order) covered(a *Account) []Day {
	days := make([]Day, len(a.Stages))
	for i := range a.Stages {
		s := &a.Stages[i]
		has := s.Paid.Add(s.SetOff)
		// from the last quotation back to the first under which it would have been enough
		for k := len(o.quotes) - 2; k >= 0; k-- {
			was := o.quotes[k].Price.Stages
			if i >= len(was) || was[i].Title != s.Title || has.Cmp(was[i].Amount) < 0 {
				continue
			}
			days[i] = o.Changes[k].Accepted
			break
		}
	}
	return days
}

// Operations of a stage that are none.
const (
	withOrder = works.NoOperation     // it is due with the order
	unknown   = works.NoOperation - 1 // the book does not know the stage
)

// operation is what makes a stage due by the book of today.
func (d *dues) operation(o *Order, title string) (int, error) {
	tag := o.Quote().Language
	titles, ok := d.titles[tag]
	if !ok {
		// one that the book does not have leaves its titles in the first one
		for _, s := range d.engine.Pack.In(tag).Stages {
			titles = append(titles, s.Title)
		}
		d.titles[tag] = titles
	}
	i := slices.Index(titles, title)
	if i < 0 {
		return unknown, fmt.Errorf("the book has no stage %.60q any more, so that it is due when all work is done; %s",
			title, suggest.Nearest(title, titles, "see the stages of the book"))
	}
	if i >= len(d.engine.Pack.Work.Due) {
		return withOrder, nil
	}
	return d.engine.Pack.Work.Due[i] - 1, nil
}

// since is the day since which a stage is due; none where it is not yet. Only what was entered counts: nobody is asked
// for money by what follows from something else.
func (d *dues) since(o *Order, operation int, tasks []works.Task) Day {
	if operation == withOrder {
		return o.Accepted
	}
	// the last of them where several are meant; one that is not done is enough for none
	var last Day
	for _, t := range tasks {
		if t.Operation == works.NoOperation || operation >= 0 && t.Operation != operation {
			continue
		}
		id := d.engine.Work.Operations[t.Operation].ID
		i := slices.IndexFunc(o.Done, func(s Step) bool { return s.Operation == id })
		// what nobody has entered was done by the hand-over at the latest
		if i < 0 || o.Done[i].Done.IsZero() {
			return o.Known().HandedOver
		}
		if last.Before(o.Done[i].Done) {
			last = o.Done[i].Done
		}
	}
	// a boat that does not have the operation is handed over when all is done
	if last.IsZero() && operation >= 0 {
		return d.since(o, unknown, tasks)
	}
	return last
}

// Late are the most days by which something of an account is late.
func (a *Account) Late() (most int) {
	for i := range a.Stages {
		most = max(most, a.Stages[i].Late)
	}
	return most
}

// Overdue is what of an account is late.
func (a *Account) Overdue() (sum money.Amount) {
	for i := range a.Stages {
		if s := &a.Stages[i]; s.Late > 0 {
			sum = sum.Add(s.Open)
		}
	}
	return sum
}
