package plan

import (
	"cmp"
	"slices"
)

// ShopWeek is what a resource has and does in one week, in quarter-hours of one person.
type ShopWeek struct {
	Open   Time // people times the hours of the week
	Worked Time // by them; more than is open only where fixed work was booked so
}

// ByWeek is the load of each resource by week, from the Monday with which the load begins until its last activity. All
// resources have as many weeks. Where Worked is near Open for weeks on end, the shop is a bottleneck.
func ByWeek(load *Load, s *Schedule) ([][]ShopWeek, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	if err := net.checkSchedule(s); err != nil {
		return nil, err
	}
	last := Time(0)
	for _, f := range s.Finish {
		last = max(last, f)
	}
	weeks := int((last + Week - 1) / Week)
	list := make([][]ShopWeek, len(load.Resources))
	for r, resource := range load.Resources {
		list[r] = make([]ShopWeek, weeks)
		clock := net.clocks[resource.Calendar]
		for w := range list[r] {
			at := Time(w) * Week
			list[r][w].Open = Time(resource.Capacity) * (clock.Worked(at+Week) - clock.Worked(at))
		}
	}
	for i := range load.Activities {
		net.addWeeks(i, s, list)
	}
	return list, nil
}

// addWeeks adds the people of one activity to the weeks in which it is worked on.
func (net *network) addWeeks(i int, s *Schedule, list [][]ShopWeek) {
	from, until, clock := max(0, s.Start[i]), s.Finish[i], net.clock[i]
	// from one Monday to the next, since calendars count within a week quickly
	for at := from; at < until; {
		week := at / Week
		next := min(until, (week+1)*Week)
		for _, d := range net.load.Activities[i].Demands {
			list[d.Resource][week].Worked += Time(d.Units) * (clock.Worked(next) - clock.Worked(at))
		}
		at = next
	}
}

// Stay is a boat in a place.
type Stay struct {
	Holding     int // of the load
	Unit        int // which of several that are alike, from 0 on; [None] where bookings by hand overlap
	From, Until Time
}

// Stays are the holdings of a schedule, by holder and then in time, each in one unit of the place from begin to end: a
// boat does not change moulds.
//
//	Formula: the first unit that is free; as many as are held at once are enough
//	Source:  partitioning of intervals, as in textbooks on algorithms
func Stays(load *Load, s *Schedule) ([]Stay, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	if err := net.checkSchedule(s); err != nil {
		return nil, err
	}
	list := make([]Stay, len(load.Holdings))
	for k, h := range load.Holdings {
		list[k] = Stay{k, None, s.Start[h.From], s.Finish[h.To]}
	}
	slices.SortStableFunc(list, func(x, y Stay) int {
		return cmp.Or(cmp.Compare(load.Holdings[x.Holding].Holder, load.Holdings[y.Holding].Holder),
			cmp.Compare(x.From, y.From), cmp.Compare(x.Until, y.Until))
	})
	// in the order of begins a unit that is not free now was taken before, so that the first free one is right
	free := make([][]Time, len(load.Holders)) // when each unit that was used is free again
	for k := range list {
		holder := load.Holdings[list[k].Holding].Holder
		units := free[holder]
		unit := slices.IndexFunc(units, func(until Time) bool { return until <= list[k].From })
		switch {
		case unit != None:
			units[unit] = list[k].Until
		case len(units) < load.Holders[holder].Units:
			unit = len(units)
			free[holder] = append(units, list[k].Until)
		}
		list[k].Unit = unit
	}
	return list, nil
}
