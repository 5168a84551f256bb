package launch

import (
	"ribband/core/calendar"
	"ribband/core/plan"
	"ribband/core/works"
)

// Week is a week of the yard with a boat in it.
type Week struct {
	Week  calendar.Week
	Shops []ShopWeek // of the book
}

// ShopWeek is the hours of a shop in a week, of all its people.
type ShopWeek struct {
	Open   float64 // that there are
	Others float64 // of the orders that there are
	Boat   float64 // of the boat
}

// Weeks are those from the plan's until the launch of a boat.
func (p *Planner) Weeks(b *Boat) []Week {
	// until the last work: a launch is a moment
	last := plan.Time(0)
	for _, s := range b.Steps {
		last = max(last, s.End)
	}
	list := make([]Week, (last+plan.Week-1)/plan.Week)
	for w := range list {
		from := plan.Time(w) * plan.Week
		list[w] = Week{p.yard.From.Week().Add(w), make([]ShopWeek, len(p.yard.shops))}
		for k := range list[w].Shops {
			s := &p.yard.shops[k]
			begin, end := s.Clock.Worked(from), s.Clock.Worked(from+plan.Week)
			list[w].Shops[k] = ShopWeek{
				Open:   hours(plan.Time(p.yard.Resources[s.People].Capacity) * (end - begin)),
				Others: hours(within(&p.taken.Resources[s.People], begin, end)),
			}
		}
		for i := range b.Tasks {
			if b.Tasks[i].Shop == works.Outside {
				continue
			}
			clock := p.yard.shops[b.Tasks[i].Shop].Clock
			// a task that goes over a Sunday is in both weeks
			begin, end := max(from, b.Steps[i].Begin), min(from+plan.Week, b.Steps[i].End)
			if begin < end {
				worked := plan.Time(b.Tasks[i].Crew) * (clock.Worked(end) - clock.Worked(begin))
				list[w].Shops[b.Tasks[i].Shop].Boat += float64(hours(worked))
			}
		}
	}
	return list
}

// within is how much is taken between two moments.
func within(l *plan.Level, from, until plan.Time) (sum plan.Time) {
	for k, at := range l.At {
		end := until
		if k+1 < len(l.At) {
			end = min(end, l.At[k+1])
		}
		if begin := max(at, from); begin < end {
			sum += plan.Time(l.Units[k]) * (end - begin)
		}
	}
	return sum
}

// hours are quarter-hours as hours.
func hours(t plan.Time) float64 { return float64(float64(t) / float64(plan.Hour)) }
