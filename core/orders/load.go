package orders

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ribband/core/engine"
	"ribband/core/launch"
	"ribband/core/measure"
	"ribband/core/plan"
	"ribband/core/quote"
	"ribband/core/suggest"
	"ribband/core/works"
)

// Load is the orders of a yard as work in its shops, and the way back from that work to them. Time begins on the Monday
// of the week in which the plan is made; nothing that is still to do begins before the day on which it is made.
type Load struct {
	Plan    plan.Load
	Spreads []plan.Spread // of the activities of Plan
	Boats   []Boat        // of the boats of Plan
	From    Day           // the Monday
	Day     Day           // on which it is made

	engine *engine.Engine
	yard   *launch.Yard // its means, without work
	task   []taskOf     // of the activities of Plan
	setUps []SetUp      // that the last plan lets share
	built  []int        // boats of each hull that are ordered
	// orders that are not in it, since another one has their place
	contentions []Contention
}

// Boat is an order in a load.
type Boat struct {
	Order  *Order
	Answer *engine.Answer
	Tasks  []works.Task
	First  int // activity of the first task; the others follow
	// factor of its hours: more than 1 for the first boats of a hull that the yard still learns to build
	Factor float64
	// by operation: what it has to wait for, and what is taken as done of it
	arrivals map[int]arrival
	implied  map[int]*Step
}

// An activity knows nothing of orders, so that what comes out of a plan has to be found again.

// taskOf is what an activity is: a task of a boat, or none. Two activities may be of one task, where it is worked again
// after a change.
type taskOf struct{ boat, task int }

// noTask is an activity that is a moment and no work.
const noTask = -1

// NewLoad makes orders ready to be planned on a day by the yard's book.
//
// What is assumed, since neither book nor orders say it: material is ordered on the day on which the boat is, or the
// change that asks for it; what was done on a day was done at its end; a boat is launched when all of its work is done.
// Work of extra items, for which the book has no place in the order, may be done at any time before that.
//
// An order that cannot be planned is a fault, and so is a step that cannot have been done; the others are planned.
// Whatever the book says of an order made by an older edition holds: hours, crews and waits are the yard's best
// knowledge, the price is the quotation's.
func NewLoad(e *engine.Engine, list []*Order, day Day) (*Load, []Fault) {
	l := &Load{engine: e, yard: launch.NewYard(e.Work, e.Pack.Planned(), day)}
	l.From, l.Day = l.yard.From, l.yard.Day
	var faults []Fault
	var boats []*Boat
	for _, o := range list {
		b, found := l.boat(o)
		for _, err := range found {
			faults = append(faults, Fault{o.Number + ending, fmt.Errorf("planning an order: %w", err)})
		}
		if b != nil {
			boats = append(boats, b)
		}
	}
	// before any work is entered: the first boats of a hull take longer
	l.learn(boats)
	for {
		l.begin()
		for _, b := range boats {
			l.add(b)
		}
		c, ok := l.contention()
		if !ok {
			return l, faults
		}
		l.contentions = append(l.contentions, c)
		// the other one was there first: it is planned, and so are all that wait for neither
		faults = append(faults, Fault{c.Later.Order + ending, fmt.Errorf("planning an order: %s", c.Of(c.Later.Order))})
		boats = slices.Delete(boats, c.boat, c.boat+1)
	}
}

// begin empties a load: the means are shared by whoever plans boats that are not ordered yet; the work is the orders'.
func (l *Load) begin() {
	l.Plan, l.Spreads, l.Boats, l.task = l.yard.Load, nil, nil, nil
}

// Days are for files and people; the planner counts quarter-hours from the Monday on.

// at is the moment of a day's midnight, and dayOf the day in which a moment lies.
func (l *Load) at(d Day) plan.Time    { return l.yard.At(d) }
func (l *Load) dayOf(t plan.Time) Day { return l.yard.DayOf(t) }

// learn counts the boats of each hull as they were ordered, and gives each the factor of its hours.
func (l *Load) learn(boats []*Boat) {
	l.built = make([]int, len(l.engine.Pack.Hulls))
	// by the day of the order, since files lie in the folder by their numbers
	order := slices.Clone(boats)
	slices.SortStableFunc(order, func(x, y *Boat) int {
		return cmp.Or(x.Order.Accepted.Since(y.Order.Accepted), cmp.Compare(x.Order.Number, y.Order.Number))
	})
	for _, b := range order {
		l.built[b.Answer.Hull]++
		b.Factor = l.yard.Hours(b.Answer.Hull, l.built[b.Answer.Hull])
	}
}

// boat answers what an order builds, and looks at what was done of it.
func (l *Load) boat(o *Order) (*Boat, []error) {
	a, err := l.engine.Answer(o.spec())
	if err != nil {
		return nil, []error{fmt.Errorf("quotation: %w", err)}
	}
	if len(a.Notes) > 0 {
		return nil, []error{
			fmt.Errorf("quotation: it is of the edition %q, and the book is not what it was: %s; plan it "+
				"by the book of its edition, or make a change order to what the book has", o.Quote().Edition.Name,
				a.Notes[0].Message()),
		}
	}
	b := &Boat{Order: o, Answer: a, Tasks: a.Work.Tasks()}
	return b, l.checkSteps(b)
}

// step is what was done of a task; nil for nothing. An extra item has no operation, so that nobody can say how far it
// is: its hours stand in the plan until the boat is launched.
func (l *Load) step(b *Boat, t *works.Task) *Step {
	if s := b.implied[t.Operation]; s != nil {
		return s
	}
	return l.entered(b, t)
}

// imply takes as done what nobody has entered and comes before what was done, from the last task to the first, so that
// it goes back as far as it must. That it is missing was told; a plan that had it still to do would be a worse guess.
// What a change order brought is still to do: it is late, and not forgotten.
func (l *Load) imply(b *Boat) {
	b.implied = map[int]*Step{}
	if handed := l.handedOver(b); !handed.IsZero() {
		b.overBy(handed, l)
	}
	for i := len(b.Tasks) - 1; i >= 0; i-- {
		s := l.step(b, &b.Tasks[i])
		if s == nil {
			continue
		}
		for _, link := range b.Tasks[i].After {
			t := &b.Tasks[link.Task]
			before := l.step(b, t)
			if before != nil && (!before.Done.IsZero() || s.Done.IsZero()) || before == nil && l.brought(b, t) {
				continue
			}
			// on the day on which the later one was begun: it was over by then, and nobody knows since when
			done := Step{Operation: l.engine.Work.Operations[t.Operation].ID, Begun: s.Begun, Done: s.Begun,
				Hours: t.Hours}
			if before != nil {
				done.Begun = before.Begun
			}
			b.implied[t.Operation] = &done
		}
	}
}

// handedOver is the day on which a boat was handed over, where that is behind the plan; none otherwise. All of its work
// is over then, whatever was entered of it: that of extra items, too, which nobody can enter.
func (l *Load) handedOver(b *Boat) Day {
	if k := b.Order.Built; k != nil && k.HandedOver.Before(l.Day) {
		return k.HandedOver
	}
	return Day{}
}

// overBy takes as done by a day what nobody has entered as done.
func (b *Boat) overBy(day Day, l *Load) {
	for i := range b.Tasks {
		t := &b.Tasks[i]
		s := l.entered(b, t)
		if s != nil && !s.Done.IsZero() {
			continue
		}
		done := Step{Begun: day, Done: day}
		if s != nil {
			done = *s
			done.Done = day
			if day.Before(done.Begun) { // a slip in one of the two days
				done.Begun = day
			}
		}
		b.implied[t.Operation] = &done
	}
}

// brought says that all of a task was ordered by a change. Of a task that a change only made larger the work that was
// done before counts as done, and the rest is done again.
func (l *Load) brought(b *Boat, t *works.Task) bool {
	for _, i := range t.Lines {
		if l.ordered(b, b.Answer.Work.Lines[i].For) == b.Order.Accepted {
			return false
		}
	}
	return true
}

// entered is the step of a task that the file has.
func (l *Load) entered(b *Boat, t *works.Task) *Step {
	if t.Operation == works.NoOperation {
		return nil
	}
	id := l.engine.Work.Operations[t.Operation].ID
	i := slices.IndexFunc(b.Order.Done, func(s Step) bool { return s.Operation == id })
	if i < 0 {
		return nil
	}
	return &b.Order.Done[i]
}

// checkSteps says which steps cannot have been done: of operations that the book does not have, on days that are still
// to come, or before what they come after. They are told and not left out: somebody did something.
func (l *Load) checkSteps(b *Boat) (faults []error) {
	fault := func(i int, format string, args ...any) {
		faults = append(faults, fmt.Errorf("done[%d].operation: %s", i, fmt.Sprintf(format, args...)))
	}
	// by identifier, as files have them
	var known []string
	for _, op := range l.engine.Work.Operations {
		known = append(known, op.ID)
	}
	for i, s := range b.Order.Done {
		at := slices.Index(known, s.Operation)
		if at < 0 {
			fault(i, "the book has no operation %.60q; %s", s.Operation, suggest.Nearest(s.Operation, known,
				"see its operations"))
			continue
		}
		if last := cmp.Or(s.Done, s.Begun); l.Day.Before(last) {
			fault(i, "%q was worked on on %s, after the day of the plan, %s; plan from that day on, or mend the day",
				s.Operation, last, l.Day)
		}
		// predecessors are those of this boat: what it does not have stands in nobody's way
		task := slices.IndexFunc(b.Tasks, func(t works.Task) bool { return t.Operation == at })
		if task < 0 { // it was of a boat before a change order
			continue
		}
		for _, link := range b.Tasks[task].After {
			before := l.entered(b, &b.Tasks[link.Task])
			name := known[b.Tasks[link.Task].Operation]
			switch {
			case before == nil && l.brought(b, &b.Tasks[link.Task]): // it came with a change, later
			case before == nil || before.Done.IsZero():
				fault(i, "%q is begun, and %q is not done, which comes before it; enter that, too", s.Operation, name)
			case s.Begun.Before(before.Done) && !l.askedLater(b, &b.Tasks[link.Task], s.Begun):
				fault(i, "%q was begun on %s, and %q, which comes before it, was done on %s; mend one of the days",
					s.Operation, s.Begun, name, before.Done)
			}
		}
	}
	return faults
}

// askedLater says that a change has asked for some of a task after a day: what came after it may have been begun
// before.
func (l *Load) askedLater(b *Boat, t *works.Task, day Day) bool {
	return slices.ContainsFunc(t.Lines, func(i int) bool {
		ordered := l.ordered(b, b.Answer.Work.Lines[i].For)
		return ordered != b.Order.Accepted && day.Before(ordered)
	})
}

// add enters the work of a boat: its tasks, then what has to be worked again, then the moments when equipment is given
// free, and at the end its launch. A boat of which all is done is in the water since then, and takes no hour more.
func (l *Load) add(b *Boat) {
	boat := len(l.Boats)
	b.First = len(l.Plan.Activities)
	b.arrivals = l.arrivals(b)
	l.imply(b)
	// all tasks first, so that links and holdings find their activities by counting
	for i := range b.Tasks {
		l.activity(l.work(b, &b.Tasks[i], boat), launch.SpreadOf(&b.Tasks[i], b.Factor), taskOf{boat, i})
	}
	for i := range b.Tasks {
		l.holdings(b, boat, i)
	}
	var ends []int
	for i := range b.Tasks {
		ends = append(ends, b.First+i)
		if more, again := l.again(b, i); again {
			ends = append(ends, len(l.Plan.Activities))
			a := l.work(b, &b.Tasks[i], boat)
			a.State, a.Start, a.Finish, a.After = plan.Open, 0, 0, plan.After(b.First+i)
			// a piece that goes out again is away for all of its days
			if a.Duration = launch.Elapsed(&b.Tasks[i], b.Factor); b.Tasks[i].Shop != works.Outside {
				a.Duration = launch.Quarters(float64(more.Float() * b.Factor / float64(b.Tasks[i].Crew)))
			}
			a.Title += " (again)"
			l.activity(a, plan.Spread{}, taskOf{boat, i})
		}
	}
	launch := len(l.Plan.Activities)
	l.moment(b, boat, "launch", ends)
	l.Boats = append(l.Boats, *b)
	l.Plan.Boats = append(l.Plan.Boats, plan.Boat{Title: b.Order.Number, Launch: launch,
		Due: l.at(b.Order.Promise().Monday().Add(7)), Weight: 1})
}

// again says whether a task has to be worked after it was done, for what was ordered later, and how many hours of it;
// outside work goes out again. It comes before the launch; what had followed the task is not done again, unless undoing
// a choice says so.
func (l *Load) again(b *Boat, task int) (sum measure.Hours, again bool) {
	t := &b.Tasks[task]
	s := l.step(b, t)
	if s == nil || s.Done.IsZero() || !l.handedOver(b).IsZero() {
		return 0, false
	}
	for _, i := range t.Lines {
		// a hull may have been laid up before anybody ordered it
		line := &b.Answer.Work.Lines[i]
		if day := l.ordered(b, line.For); s.Done.Before(day) && day != b.Order.Accepted {
			sum, again = sum+line.Hours, true
		}
	}
	return sum, again
}

// activity enters an activity with its spread, and what it is of.
func (l *Load) activity(a plan.Activity, s plan.Spread, of taskOf) {
	l.Plan.Activities = append(l.Plan.Activities, a)
	l.Spreads = append(l.Spreads, s)
	l.task = append(l.task, of)
}

// moment enters a moment that comes when all of some activities are done.
func (l *Load) moment(b *Boat, boat int, title string, after []int) {
	a := plan.Activity{Title: b.Order.Number + " " + title, Boat: boat, Calendar: l.yard.Always(),
		After: plan.After(after...)}
	// when all of them are done it is over: the mould is free, the boat is in the water
	if !slices.ContainsFunc(after, func(i int) bool { return l.Plan.Activities[i].State != plan.Done }) {
		a.State = plan.Done
		for _, i := range after {
			a.Finish = max(a.Finish, l.Plan.Activities[i].Finish)
		}
		a.Start = a.Finish
	}
	l.activity(a, plan.Spread{}, taskOf{boat, noTask})
}

// work is a task as an activity.
func (l *Load) work(b *Boat, t *works.Task, boat int) plan.Activity {
	// as of any boat, and then what the order knows of it
	a := l.yard.Task(t, b.Factor, boat, b.First)
	a.Title = strings.TrimSpace(b.Order.Number + " " + l.title(b, t))
	a.Earliest = max(l.at(l.Day), l.at(b.Order.Accepted))
	// the other way round, what is still to do waits for all that comes before it
	step := l.step(b, t)
	if step != nil {
		// what a change brings may have to be done after what it should have come before
		a.After = slices.DeleteFunc(a.After, func(x plan.Link) bool {
			return l.step(b, &b.Tasks[x.Activity-b.First]) == nil
		})
	}
	if comes, ok := b.arrivals[t.Operation]; ok {
		a.Earliest = max(a.Earliest, l.at(comes.day))
	}
	l.worked(&a, step, t, b.Factor)
	return a
}

// worked enters what was done of an activity. What is under way has the rest of its hours to go, or of its days
// outside, and at least a quarter of an hour: it is not done.
//
// A file has days and no hours: what was done on a day is taken as done at its end, so that no coat goes on too early,
// and what was begun on it as begun then, too, since it may have had to wait for what others gave free on that day.
func (l *Load) worked(a *plan.Activity, s *Step, t *works.Task, factor float64) {
	switch {
	case s == nil:
	case !s.Done.IsZero():
		a.State, a.Start, a.Finish = plan.Done, l.at(s.Begun.Add(1)), l.at(s.Done.Add(1))
	default:
		rest := max(0, float64(t.Hours.Float()*factor)-s.Hours.Float())
		a.State, a.Start = plan.Begun, min(l.at(s.Begun.Add(1)), l.at(l.Day))
		// the plan counts what remains from its Monday on; the hours from there to its day are gone
		shop := l.yard.Shop(t.Shop)
		gone := shop.Clock.Worked(l.at(l.Day)) - shop.Clock.Worked(max(0, a.Start))
		left := launch.Elapsed(t, factor) - l.yard.Out(s.Begun.Add(1), l.Day) // of what is outside
		if t.Shop != works.Outside {
			left = launch.Quarters(rest / float64(t.Crew))
		}
		a.Duration = max(1, left) + max(0, gone)
	}
}

// title is what a task is called: as the book has it, or as a salesperson called the extra item.
func (l *Load) title(b *Boat, t *works.Task) string {
	if t.Operation == works.NoOperation {
		return b.Answer.Work.Extras[b.Answer.Work.Lines[t.Lines[0]].For.Index].Title
	}
	return l.engine.Work.Operations[t.Operation].Title
}

// holdings enter the equipment that a task occupies. Which of equal ones it is, is told where it matters (package plan,
// Stays).
func (l *Load) holdings(b *Boat, boat, task int) {
	l.yard.Holdings(&l.Plan, &b.Tasks[task], b.First+task, b.First, func(title string, after []int) int {
		l.moment(b, boat, title, after)
		return len(l.Plan.Activities) - 1
	})
}

// arrival is a material that has to come before an operation can be done.
type arrival struct {
	material int
	day      Day
}

// arrivals are the last materials to come of each operation, by operation: ordered on the day on which the option was
// that takes them, they take the days of their supplier.
func (l *Load) arrivals(b *Boat) map[int]arrival {
	found := map[int]arrival{}
	for _, m := range b.Answer.Cost.Materials {
		supply := &l.engine.Pack.Work.Supplies[m.Material]
		if m.Operation < 0 || supply.LeadDays == 0 {
			continue
		}
		day := l.ordered(b, m.For).Add(supply.LeadDays)
		if was, ok := found[m.Operation]; !ok || was.day.Before(day) {
			found[m.Operation] = arrival{m.Material, day}
		}
	}
	return found
}

// ordered is the day since which what causes work or material is in the order, without a break.
func (l *Load) ordered(b *Boat, c works.Cause) Day {
	if c.Kind != works.Option {
		return b.Order.Accepted
	}
	return b.Order.since(l.engine.Pack.Options[c.Index].ID)
}

// since is the day since which an option is in the order, without a break.
func (o *Order) since(option string) Day {
	day := o.Accepted
	for i, change := range o.Changes {
		if !contains(o.quotes[i], option) {
			day = change.Accepted
		}
	}
	if o.pending != nil && !contains(o.Quote(), option) {
		day = o.asked
	}
	return day
}

// contains says whether a quotation has an option.
func contains(q *quote.Quote, option string) bool { return countOf(q, option) > 0 }

// countOf is how many of an option a quotation has.
func countOf(q *quote.Quote, option string) int {
	for _, section := range q.Contents {
		for _, slot := range section.Slots {
			for _, o := range slot.Options {
				if o.ID == option {
					return o.Count
				}
			}
		}
	}
	return 0
}

// Orders are those that are planned.
func (l *Load) Orders() (list []*Order) {
	for i := range l.Boats {
		list = append(list, l.Boats[i].Order)
	}
	return list
}
