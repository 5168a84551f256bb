package orders

import (
	"fmt"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// Card is the job card of one shop for the boat of one order.
type Card struct {
	Order string // number
	Shop  string // identifier
	Quote *quote.Quote
	*sheet.Card
}

// Cards are the job cards of an order by its number, or of all orders for "": of one shop by its identifier, or of all
// those that have work left on the boat. Their words are those of the engine, which is of the book of the plan, in
// whatever language; days are those of the plan, so that the cards of two shops never disagree.
func (p *Plan) Cards(e *engine.Engine, order, shop string) (list []Card, err error) {
	if order != "" {
		if _, err := Find(p.load.Orders(), order); err != nil {
			return nil, fmt.Errorf("making job cards: %w", err)
		}
	}
	// names are looked at before anything is worked out: a mistyped one is told at once
	only := -1
	if shop != "" {
		if only, err = e.FindShop(shop); err != nil {
			return nil, fmt.Errorf("making job cards: %w", err)
		}
	}
	for i := range p.load.Boats {
		o := p.load.Boats[i].Order
		if order != "" && o.Number != order {
			continue
		}
		// the answer has words, too, so that it is made by whoever speaks; hours and order of the work are the same
		a, err := e.Answer(o.spec())
		if err != nil {
			return nil, fmt.Errorf("making the job cards of %s: %w", o.Number, err)
		}
		job := p.job(e, i)
		for k := range e.Work.Shops {
			// a shop that has done its part needs no card, unless somebody asks for it
			if only >= 0 && k != only || only < 0 && !p.left(i, k, job) {
				continue
			}
			c, err := sheet.ForShop(e, a, k, job)
			if err != nil {
				return nil, fmt.Errorf("making the job card of %s for %s: %w", o.Number, e.Work.Shops[k].ID, err)
			}
			// with the quotation, which has what was talked over with the yard
			list = append(list, Card{o.Number, e.Work.Shops[k].ID, o.Quote(), c})
		}
	}
	return list, nil
}

// left says whether a shop has work left on a boat.
func (p *Plan) left(boat, shop int, job *sheet.Job) bool {
	for i, t := range p.load.Boats[boat].Tasks {
		if t.Shop == shop && !job.Tasks[i].Done {
			return true
		}
	}
	return false
}

// job is what the cards of a boat say of its order and of the plan.
func (p *Plan) job(e *engine.Engine, boat int) *sheet.Job {
	b := &p.load.Boats[boat]
	// the promise of the last change holds, and the hull number of the quotation as it stands after it
	week := b.Order.Promise()
	j := &sheet.Job{Number: b.Order.Number, HIN: b.Order.HullNumber(e).Number, Year: week.Year,
		Week: week.Week, Day: p.Day.String()}
	for i := range b.Tasks {
		j.Tasks = append(j.Tasks, p.jobTask(e, boat, i))
	}
	return j
}

// jobTask is how far a task is, and when it is worked.
func (p *Plan) jobTask(e *engine.Engine, boat, task int) sheet.JobTask {
	l, b := p.load, &p.load.Boats[boat]
	t := &b.Tasks[task]
	// a start is the end of the quarter-hour before, which may lie in the evening of another day
	days := func(activity int) (begin, end Day) {
		return l.dayOf(p.schedule.Start[activity] + 1), l.dayOf(p.schedule.Finish[activity])
	}
	// tasks are the first activities of their boat, in their order
	begin, end := days(b.First + task)
	out := sheet.JobTask{Left: t.Hours}
	s := l.step(b, t)
	// what a change asks for of a task that was done is an activity of its own
	more, again := l.again(b, task)
	switch {
	case s == nil:
		// material that is there by the day of the plan is a matter of the store
		if comes, ok := b.arrivals[t.Operation]; ok && l.Day.Before(comes.day) {
			out.Material, out.Comes = e.Pack.Costs.Materials[comes.material].Title, comes.day.String()
		}
	case s.Done.IsZero():
		out.Begun, begin, out.Booked, out.Left = true, s.Begun, s.Hours, max(0, t.Hours-s.Hours)
	case again:
		out.Again, out.Booked, out.Left = true, booked(b, s), more
		for k := b.First + len(b.Tasks); k < len(l.task) && l.task[k].boat == boat; k++ {
			if l.task[k].task == task {
				begin, end = days(k)
			}
		}
	default:
		out.Done, begin, end, out.Booked, out.Left = true, s.Begun, s.Done, booked(b, s), 0
	}
	// as text: a card is a paper, and papers have days of ISO 8601
	out.Begin, out.End = begin.String(), end.String()
	return out
}

// booked are the hours that somebody entered; what is taken as done, since what comes after it is, has none.
func booked(b *Boat, s *Step) measure.Hours {
	for _, implied := range b.implied {
		if implied == s {
			return 0
		}
	}
	return s.Hours
}
