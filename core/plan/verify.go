package plan

import "fmt"

// Verify says what is wrong with a schedule of a load: the first thing that breaks a link, a window that is not named
// as a breach, a capacity, a holding, a calendar, a release or a fixed time. It shares no code with what makes
// schedules: it walks through the quarter-hours one by one. It takes the load as [Load.Check] lets it pass.
//
// What is begun or done is as it was booked: it is not judged by calendar and capacity, but what it takes is gone.
func Verify(load *Load, s *Schedule) error {
	if len(s.Start) != len(load.Activities) || len(s.Finish) != len(load.Activities) {
		return fmt.Errorf("verifying a schedule: it has %d starts and %d finishes for %d activities", len(s.Start),
			len(s.Finish), len(load.Activities))
	}
	v := &verifier{load: load, s: s, people: map[quarter]int{}, full: map[quarter]bool{}}
	for i := range load.Activities {
		if err := v.activity(i); err != nil {
			return fmt.Errorf("verifying activity %d, %.60q: %w", i, load.Activities[i].Title, err)
		}
	}
	if err := v.capacities(); err != nil {
		return err
	}
	return v.holdings()
}

// quarter is a quarter-hour of a resource.
type quarter struct {
	resource int
	at       Time
}

// verifier counts what a schedule books.
type verifier struct {
	load   *Load
	s      *Schedule
	people map[quarter]int
	full   map[quarter]bool // something that the schedule decided works there
}

// open says whether a calendar has a quarter-hour, from the text of the calendar alone.
func (v *verifier) open(calendar int, at Time) bool {
	c := &v.load.Calendars[calendar]
	day := at / 96
	for _, d := range c.Closed {
		if Time(d) == day {
			return false
		}
	}
	for _, h := range c.Week[day%7] {
		if at%96 >= h.From && at%96 < h.Until {
			return true
		}
	}
	return false
}

// activity looks at one alone and at its links, and counts its people.
func (v *verifier) activity(i int) error {
	a := &v.load.Activities[i]
	start, finish := v.s.Start[i], v.s.Finish[i]
	if err := v.links(i); err != nil {
		return err
	}
	// what was booked must stand in the schedule as it was booked
	switch {
	case a.State == Done && (start != a.Start || finish != a.Finish):
		return fmt.Errorf("it was done from %d to %d, and the schedule has %d to %d", a.Start, a.Finish, start, finish)
	case a.State == Begun && start != a.Start:
		return fmt.Errorf("it was begun at %d, and the schedule has %d", a.Start, start)
	case a.State == Open && (start < 0 || start < a.Earliest):
		return fmt.Errorf("it starts at %d, before its earliest %d", start, a.Earliest)
	case a.Duration == 0 && a.State == Open && start != finish:
		return fmt.Errorf("it takes no time and is done from %d to %d", start, finish)
	}
	// work done before the load's begin took nobody who is planned now
	worked := Time(0)
	for at := max(start, 0); at < finish; at++ {
		if !v.open(a.Calendar, at) {
			continue
		}
		worked++
		for _, d := range a.Demands {
			v.people[quarter{d.Resource, at}] += d.Units
			v.full[quarter{d.Resource, at}] = v.full[quarter{d.Resource, at}] || a.State == Open
		}
	}
	if a.State != Done && worked != a.Duration {
		return fmt.Errorf("from %d to %d there are %d quarter-hours of work; it takes %d", start, finish, worked,
			a.Duration)
	}
	if a.OneDay && a.State == Open && a.Duration > 0 && start/96 != (finish-1)/96 &&
		a.Duration <= v.longestDay(a.Calendar) {
		return fmt.Errorf("it is done on one day, and the schedule has it from %d to %d", start, finish)
	}
	if a.State == Open && a.Duration > 0 && (!v.open(a.Calendar, start) || !v.open(a.Calendar, finish-1)) {
		return fmt.Errorf("it is done from %d to %d, and begins or ends while the shop is closed", start, finish)
	}
	return nil
}

// longestDay counts the quarter-hours of the longest weekday.
func (v *verifier) longestDay(calendar int) (longest Time) {
	for _, hours := range v.load.Calendars[calendar].Week {
		sum := Time(0)
		for _, h := range hours {
			sum += h.Until - h.From
		}
		longest = max(longest, sum)
	}
	return longest
}

// links looks at what an activity comes after. Two that are fixed were booked by hand.
func (v *verifier) links(i int) error {
	a := &v.load.Activities[i]
	for _, link := range a.After {
		p := &v.load.Activities[link.Activity]
		lag := v.s.Start[i] - v.s.Finish[link.Activity]
		if p.State != Open && a.State != Open {
			continue
		}
		if lag < link.Min {
			return fmt.Errorf("it starts %d after activity %d, %.60q; at least %d are needed", lag, link.Activity,
				p.Title,
				link.Min)
		}
		if lag > link.Max && !v.named(i, link.Activity, lag-link.Max) {
			return fmt.Errorf("it starts %d after activity %d, %.60q, more than %d, and no breach says so", lag,
				link.Activity, p.Title, link.Max)
		}
	}
	return nil
}

// named says whether a schedule owns to a breach.
func (v *verifier) named(activity, predecessor int, over Time) bool {
	for _, b := range v.s.Breaches {
		if b.Activity == activity && b.Predecessor == predecessor && b.Over == over {
			return true
		}
	}
	return false
}

// capacities looks at the people of each quarter-hour.
func (v *verifier) capacities() error {
	over := func(q quarter) bool { return v.people[q] > v.load.Resources[q.resource].Capacity && v.full[q] }
	if q, found := first(v.people, over); found {
		r := &v.load.Resources[q.resource]
		return fmt.Errorf("verifying resource %d, %.60q: %d of %d are at work at %d", q.resource, r.Title, v.people[q],
			r.Capacity, q.at)
	}
	return nil
}

// first is the earliest quarter-hour with something wrong, of the first resource: the same in every run.
func first(all map[quarter]int, wrong func(q quarter) bool) (least quarter, found bool) {
	for q := range all {
		if wrong(q) && (!found || q.at < least.at || q.at == least.at && q.resource < least.resource) {
			least, found = q, true
		}
	}
	return least, found
}

// holdings looks at the boats of each place in each quarter-hour of the clock.
func (v *verifier) holdings() error {
	// a mould is held at night and on Sundays, too: every quarter-hour of the clock counts
	boats, decided := map[quarter]int{}, map[quarter]bool{}
	for _, h := range v.load.Holdings {
		for at := max(v.s.Start[h.From], 0); at < v.s.Finish[h.To]; at++ {
			q := quarter{h.Holder, at}
			boats[q]++
			decided[q] = decided[q] || v.load.Activities[h.To].State == Open
		}
	}
	over := func(q quarter) bool { return boats[q] > v.load.Holders[q.resource].Units && decided[q] }
	if q, found := first(boats, over); found {
		h := &v.load.Holders[q.resource]
		return fmt.Errorf("verifying holder %d, %.60q: it has %d of %d at %d", q.resource, h.Title, boats[q], h.Units,
			q.at)
	}
	return nil
}
