package orders

import (
	"fmt"

	"ribband/core/engine"
	"ribband/core/plan"
)

// Contention is a place that two boats have at one time, as the work says that was entered of them: a mould takes one
// hull. One of the two days is wrong, or work was not entered that gives the place free.
type Contention struct {
	Equipment      string // its title
	Earlier, Later Holding

	boat int // the later one, among those of the load
}

// Holding is an order that has a place.
type Holding struct {
	Order     string // its number
	Operation string // that took the place, by identifier
	From      Day
	Until     Day // zero while it has it
}

// Contentions are the places that two of some orders have at one time, one for each boat that cannot be planned beside
// the others. Orders that cannot be planned for other reasons are left out: [NewLoad] tells them.
func Contentions(e *engine.Engine, list []*Order, day Day) []Contention {
	l, _ := NewLoad(e, list, day)
	return l.contentions
}

// Of says it of one of its two orders, with the remedy.
func (c *Contention) Of(number string) string {
	// symmetrical: whoever enters work sees the other boat named, whichever of the two was first
	own, other := c.Later, c.Earlier
	if number == other.Order {
		own, other = other, own
	}
	has := fmt.Sprintf("has had since %s and not given free; enter there what gives it free, or mend one of the days",
		other.From)
	if !other.Until.IsZero() {
		has = fmt.Sprintf("had from %s until %s; mend one of the days", other.From, other.Until)
	}
	return fmt.Sprintf("%q takes %q on %s, which the order %s %s", own.Operation, c.Equipment, own.From, other.Order,
		has)
}

// contention is the boat that took last what another one has, and which.
func (l *Load) contention() (c Contention, ok bool) {
	list, err := l.Plan.Contended()
	if err != nil || len(list) == 0 { // any other fault is told where the plan is made
		return Contention{}, false
	}
	begun := func(holding int) plan.Time { return l.Plan.Activities[l.Plan.Holdings[holding].From].Start }
	last := list[0]
	for _, i := range list {
		if begun(i) >= begun(last) { // of the same day the one of the higher number
			last = i
		}
	}
	// the one that it takes the place of is the first that was there; it may be gone by now
	held := l.Plan.Holdings[last].Holder
	first := last
	for i, h := range l.Plan.Holdings {
		from, to := &l.Plan.Activities[h.From], &l.Plan.Activities[h.To]
		over := to.State == plan.Done && to.Finish <= begun(last)
		if h.Holder == held && i != last && from.State != plan.Open && !over &&
			(first == last || begun(i) < begun(first)) {
			first = i
		}
	}
	at := l.Plan.Activities[l.Plan.Holdings[last].From].Boat
	return Contention{l.Plan.Holders[held].Title, l.holding(first), l.holding(last), at}, true
}

// holding is one of the plan in the words of the orders.
func (l *Load) holding(i int) (h Holding) {
	from, to := l.Plan.Holdings[i].From, &l.Plan.Activities[l.Plan.Holdings[i].To]
	b := &l.Boats[l.Plan.Activities[from].Boat]
	h.Order = b.Order.Number
	// a moment takes no place; an extra item has no operation of the book, and none that holds anything
	if task := l.task[from].task; task != noTask {
		h.Operation = l.engine.Work.Operations[b.Tasks[task].Operation].ID
	}
	// what was entered of a day is taken as done at its end
	day := func(t plan.Time) Day { return l.From.Add(int(t/plan.Day) - 1) }
	h.From = day(l.Plan.Activities[from].Start)
	if to.State == plan.Done {
		h.Until = day(to.Finish)
	}
	return h
}
