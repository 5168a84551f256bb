// Package launch plans boats with the means of a yard as its book has them: shops with their people and days, skills,
// equipment; and says when a boat that nobody has ordered yet would be launched beside the orders that there are.
//
// It puts the book's words into those of package plan, which schedules. How far orders are, package orders knows. A
// launch is an expectation: what is promised to a customer is promised by a person.
package launch

import (
	"slices"

	"ribband/core/calendar"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/plan"
	"ribband/core/works"
)

// Yard is the means of a yard as a load without work. Time begins on the Monday of the week in which it is planned;
// nothing begins before the day of that.
//
// A shop opens at seven and works its hours in one piece: the book says how long it works, and not when. What is done
// in a day does not depend on it.
type Yard struct {
	plan.Load
	From, Day calendar.Day

	learning  []pack.Learning // of the hulls; nil for none
	shops     []Shop
	outside   Shop // of no people: the calendar of work that suppliers do
	closed    []pack.Period
	always    int   // the calendar of waiting, and of what takes no hands
	equipment []int // of the book's: its holder
}

// Shop is a shop in a load.
type Shop struct {
	Calendar int
	Clock    *plan.Clock
	People   int   // resource
	Skills   []int // resources
}

// opens is when a shop begins its day, in quarter-hours from midnight.
const opens = 7 * plan.Hour

// NewYard makes the means of a yard ready to be planned on a day. Who has a skill counts among the people of the shop,
// too: there is nobody who can do nothing else. Resources are in the order of the book, each shop's people before those
// of its skills.
func NewYard(n *works.Network, p *pack.Planning, day calendar.Day) *Yard {
	y := &Yard{From: day.Week().Monday(), Day: day, learning: p.Learning, closed: p.Closed}
	y.Calendars = append(y.Calendars, plan.Always())
	for i := range n.Shops {
		def := &n.Shops[i]
		s := y.open(def.Title, &def.ShopWork)
		s.People = len(y.Resources)
		y.Resources = append(y.Resources, plan.Resource{Title: def.Title, Calendar: s.Calendar, Capacity: def.People})
		for _, k := range def.Skills {
			s.Skills = append(s.Skills, len(y.Resources))
			y.Resources = append(y.Resources, plan.Resource{Title: k.Title, Calendar: s.Calendar, Capacity: k.People})
		}
		y.shops = append(y.shops, s)
	}
	// a working day of a supplier is a whole one: what goes out at noon is back at noon
	y.outside = y.open("outside", &pack.ShopWork{Week: [7]float64{24, 24, 24, 24, 24}})
	y.outside.People = plan.None
	for _, e := range p.Equipment {
		y.equipment = append(y.equipment, len(y.Holders))
		y.Holders = append(y.Holders, plan.Holder{Title: e.Title, Units: e.Count})
	}
	return y
}

// open enters a calendar, and gives a shop that has it.
func (y *Yard) open(title string, s *pack.ShopWork) Shop {
	c := calendarOf(title, s, y.closed, y.From)
	clock, err := c.Clock()
	if err != nil { // the pack was checked; a shop that is never open does nothing
		clock, _ = (&y.Calendars[y.always]).Clock()
	}
	y.Calendars = append(y.Calendars, c)
	return Shop{Calendar: len(y.Calendars) - 1, Clock: clock}
}

// Shop is a shop of the book in the load; for [works.Outside] the calendar of outside work, which has no people.
func (y *Yard) Shop(i int) *Shop {
	if i == works.Outside {
		return &y.outside
	}
	return &y.shops[i]
}

// Out is how much of its days outside work has had, from one day to another, in the time of its calendar. The plan
// counts nothing before its Monday.
func (y *Yard) Out(from, until calendar.Day) (sum plan.Time) {
	for d := from; d.Before(until); d = d.Add(1) {
		if weekday := d.Since(d.Week().Monday()); weekday < 5 && !closedOn(y.closed, d) {
			sum += plan.Day
		}
	}
	return sum
}

// closedOn says whether a day lies in one of some periods.
func closedOn(closed []pack.Period, d calendar.Day) bool {
	return slices.ContainsFunc(closed, func(p pack.Period) bool {
		first, err1 := calendar.ParseDay(p.First)
		last, err2 := calendar.ParseDay(p.Last)
		return err1 == nil && err2 == nil && !d.Before(first) && !last.Before(d)
	})
}

// Always is the calendar of what needs nobody.
func (y *Yard) Always() int { return y.always }

// Holder is the place that some equipment of the book is.
func (y *Yard) Holder(equipment int) int { return y.equipment[equipment] }

// calendarOf is when a shop works, from a Monday on.
func calendarOf(title string, s *pack.ShopWork, closed []pack.Period, from calendar.Day) plan.Calendar {
	c := plan.Calendar{Title: title}
	for day, hours := range s.Week {
		// a shift longer than what is left of the day begins earlier
		if long := Quarters(hours); long > 0 {
			begin := min(opens, plan.Day-long)
			c.Week[day] = []plan.Hours{{From: begin, Until: begin + long}}
		}
	}
	// what was closed before the Monday closes nothing any more
	for _, p := range slices.Concat(closed, s.Closed) {
		first, err1 := calendar.ParseDay(p.First)
		last, err2 := calendar.ParseDay(p.Last)
		if err1 != nil || err2 != nil { // the pack was checked
			continue
		}
		for d := max(0, first.Since(from)); d <= last.Since(from); d++ {
			c.Closed = append(c.Closed, d)
		}
	}
	slices.Sort(c.Closed)
	c.Closed = slices.Compact(c.Closed)
	return c
}

// Quarters are hours as the plan counts them: begun quarter-hours count.
func Quarters(hours float64) plan.Time {
	h, err := measure.FromFloat[measure.Hours](hours)
	if err != nil {
		return 0
	}
	return UpTo(h)
}

// UpTo rounds hours up to quarters of an hour, so that a boat is never planned earlier than its hours allow; DownTo
// rounds what is a bound.
func UpTo(h measure.Hours) plan.Time   { return plan.Time((4*h + million - 1) / million) }
func DownTo(h measure.Hours) plan.Time { return plan.Time(4 * h / million) }

// million is how many parts an hour has in [measure.Hours].
const million = 1_000_000

// At is the moment of a day's midnight; days before the Monday are below zero, and nobody plans for them.
func (y *Yard) At(d calendar.Day) plan.Time { return plan.Time(d.Since(y.From)) * plan.Day }

// DayOf is the day in which a moment lies; the end of a day belongs to it.
func (y *Yard) DayOf(t plan.Time) calendar.Day {
	days := int(t / plan.Day)
	if t%plan.Day == 0 && t > 0 {
		days--
	}
	return y.From.Add(days)
}

// Hours is the factor of the hours of a hull's boat by its number in the orders, from 1 on: more than 1 for the first
// ones of a hull that the yard still learns to build.
//
//	Formula: (x / steady)^log2(rate), x = built + number; 1 from the steady boat on
//	Source:  Wright 1936 as J. R. Crawford 1944 reads it, by the unit; see [plan.Learning]
func (y *Yard) Hours(hull, number int) float64 {
	if len(y.learning) == 0 {
		return 1
	}
	of := y.learning[hull]
	x := of.Built + number
	if x >= of.Steady {
		return 1
	}
	l := plan.Learning{First: 1, Rate: of.Rate}
	return l.Unit(x) / l.Unit(of.Steady)
}

// Task is a task of a boat as an activity that is still to do, with a factor of its hours, after the activities of the
// tasks that it waits for: the first task of the boat is the activity first, and the others follow.
func (y *Yard) Task(t *works.Task, factor float64, boat, first int) plan.Activity {
	shop := y.Shop(t.Shop)
	a := plan.Activity{Title: y.Calendars[shop.Calendar].Title, Boat: boat, Calendar: shop.Calendar,
		Duration: Elapsed(t, factor), Earliest: max(0, y.At(y.Day))}
	// a skilled crew is of the shop's people, and takes both; what is done outside takes nobody
	if t.Shop != works.Outside {
		a.Demands = []plan.Demand{{Resource: shop.People, Units: t.Crew}}
	}
	if t.Skill > 0 {
		a.Demands = append(a.Demands, plan.Demand{Resource: shop.Skills[t.Skill-1], Units: t.Crew})
	}
	for _, link := range t.After {
		x := plan.Link{Activity: first + link.Task, Min: UpTo(link.Wait), Max: plan.Never}
		// a window that the rounding to quarter-hours would close stays open for a moment
		if link.Bounded {
			x.Max = max(x.Min, DownTo(link.Within))
		}
		a.After = append(a.After, x)
	}
	return a
}

// Elapsed is how long the crew of a task is at it, with a factor of its hours, or how long it is outside.
func Elapsed(t *works.Task, factor float64) plan.Time {
	if t.Shop == works.Outside { // a supplier has built others before
		return plan.Time(t.Days) * plan.Day
	}
	if factor == 1 {
		return UpTo(t.Elapsed) // of hours that are exact
	}
	return Quarters(float64(t.Elapsed.Float() * factor))
}

// SpreadOf is how far the hours of a task may go, as the book says for its operation.
func SpreadOf(t *works.Task, factor float64) plan.Spread {
	// rounded up, so that what takes no time at all by one of the three still takes a quarter of an hour
	likely, hours := Elapsed(t, factor), float64(t.Elapsed.Float()*factor)
	if t.Shop == works.Outside { // no quarter of an hour of its days is closed
		hours = float64(24 * t.Days)
	}
	low, high := Quarters(hours*t.Spread.Low), Quarters(hours*t.Spread.High)
	return plan.Spread{Low: min(low, likely), Likely: likely, High: max(high, likely)}
}

// Holdings enters the equipment that a task occupies: for as long as it is worked on, or until others are done; the
// moment when the last of several is done is an activity of its own, which moment enters. Of equal moulds or bays the
// plan chooses one.
func (y *Yard) Holdings(l *plan.Load, t *works.Task, self, first int, moment func(title string, after []int) int) {
	for _, e := range t.Uses {
		l.Holdings = append(l.Holdings, plan.Holding{Holder: y.equipment[e], From: self, To: self})
	}
	for _, h := range t.Holds {
		until := self
		switch len(h.Until) {
		case 0: // until it is done itself
		case 1:
			until = first + h.Until[0]
		default:
			var after []int
			for _, u := range h.Until {
				after = append(after, first+u)
			}
			until = moment(y.Holders[y.equipment[h.Equipment]].Title, after)
		}
		l.Holdings = append(l.Holdings, plan.Holding{Holder: y.equipment[h.Equipment], From: self, To: until})
	}
}
