//go:build !buyer

package engine

import (
	"ribband/core/calendar"
	"ribband/core/formula"
	"ribband/core/launch"
	"ribband/core/pack"
	"ribband/core/spec"
)

// What only the yard's own desks are told of a boat: hours, and when it would be launched. The engine of the public
// page is built without it.

// ownColumns are the columns of the yard's own desks.
func (e *Engine) ownColumns() (list []Column) {
	if e.Pack.Can(pack.Hours) {
		list = append(list, Column{"hours", InHours, -1, (*comparison).moreHours})
	}
	if e.planner = launch.NewPlanner(e.Work, e.Pack); e.planner != nil {
		list = append(list, Column{"launch", InDays, -1, (*comparison).laterLaunch})
	}
	return list
}

// moreHours are the hours by shop beyond those of the present boat. They are not known where a formula of the book
// fails on one of the two boats.
func (c *comparison) moreHours(changed formula.Reads) Delta {
	hours, err := c.engine.Work.More(c.then, c.answer.Build.State, changed)
	return Delta{Known: err == nil, ByShop: hours}
}

// laterLaunch is how many days later the other boat would be launched than the present one, each put by itself into
// what the yard's orders leave free.
func (c *comparison) laterLaunch(formula.Reads) Delta {
	now, err := c.engine.LaunchOf(c.answer)
	if err != nil {
		return Delta{}
	}
	w, err := c.engine.Work.Boat(c.then, c.answer.Work.Extras)
	if err != nil { // a formula of the book fails on it
		return Delta{}
	}
	day, err := c.engine.planner.Launch(w, c.then)
	if err != nil {
		return Delta{}
	}
	return Delta{Known: true, Number: float64(day.Since(now.Launch))}
}

// laterThan is the difference of two launches.
func (e *Engine) laterThan(a, then *Answer) Delta {
	was, err := e.LaunchOf(a)
	if err != nil {
		return Delta{}
	}
	now, err := e.LaunchOf(then)
	if err != nil {
		return Delta{}
	}
	return Delta{Known: true, Number: float64(now.Launch.Since(was.Launch))}
}

// Plans says whether this desk knows when a boat would be launched.
func (e *Engine) Plans() bool { return e.planner != nil }

// PlanDay is the day on which a boat of this desk is planned as ordered, for desks that plan; PlanOrders are how many
// the yard had in hand then.
func (e *Engine) PlanDay() calendar.Day { return e.planner.Day() }
func (e *Engine) PlanOrders() int       { return e.Pack.Planned().Load.Orders }

// MaterialTitle names a material that a boat waits for.
func (e *Engine) MaterialTitle(material int) string { return e.Pack.Costs.Materials[material].Title }

// StandardLaunch is when the standard build of the boat's hull would be launched in its place.
func (e *Engine) StandardLaunch(a *Answer) (calendar.Day, error) {
	return e.planner.Launch(a.StandardWork, a.Standard.State)
}

// LaunchWeeks are the shops by week until the launch of the boat.
func (e *Engine) LaunchWeeks(a *Answer) ([]launch.Week, error) {
	b, err := e.LaunchOf(a)
	if err != nil {
		return nil, err
	}
	return e.planner.Weeks(b), nil
}

// PublicLaunches are launches in whole weeks, for a desk that learns no more: of the standard build of each hull, and
// of each option on it. An option that cannot be had on it alone counts nothing.
func (e *Engine) PublicLaunches() (*pack.LaunchWeeks, error) {
	first := e.planner.Day().Week()
	l := &pack.LaunchWeeks{Day: e.planner.Day().String(), Options: make([]int, len(e.Pack.Options))}
	for _, hull := range e.Pack.Hulls {
		s := spec.Spec{Format: spec.Format, Hull: hull.ID}
		standard, err := e.Answer(s)
		if err != nil {
			return nil, err
		}
		base, err := e.LaunchOf(standard)
		if err != nil {
			return nil, err
		}
		l.Hulls = append(l.Hulls, base.Launch.Week().Since(first))
		for o, def := range e.Pack.Options {
			s.Choices = map[string]map[string]int{e.Pack.Slots[def.Slot].ID: {def.ID: 1}}
			a, err := e.Answer(s)
			if err != nil || len(a.Notes)+len(a.Build.Clashes) > 0 {
				continue
			}
			day, err := e.planner.Launch(a.Work, a.Build.State)
			if err != nil {
				return nil, err
			}
			l.Options[o] = max(l.Options[o], day.Week().Since(base.Launch.Week()))
		}
	}
	return l, nil
}

// LaunchOf is the boat of an answer among the orders of the yard; it is worked out once. An error says that it finds no
// place.
func (e *Engine) LaunchOf(a *Answer) (*launch.Boat, error) {
	if a.launch == nil {
		b, err := e.planner.Boat(a.Work, a.Build.State)
		if err != nil {
			return nil, err
		}
		a.launch = b
	}
	return a.launch, nil
}
