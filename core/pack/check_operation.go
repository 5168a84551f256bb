package pack

import (
	"slices"
	"time"

	"ribband/core/formula"
	"ribband/core/money"
)

// working checks who works when, with what and in which order: a plan is made of these numbers, and one that is none
// would make it endless.
func (c *checker) working(w *Work) {
	if _, err := DeskOf(string(w.Launch)); err != nil {
		c.fail("the launch week: %w", err)
	}
	c.planning(&w.Planning)
	if len(w.Due) > len(c.pack.Stages) {
		c.fail("%d stages are due, and there are %d", len(w.Due), len(c.pack.Stages))
	}
	for _, due := range w.Due {
		c.index("operation that makes a stage due", due, len(w.Operations)+1)
	}
	if w.PaymentDays < 0 {
		c.fail("a payment is made within %d days", w.PaymentDays)
	}
	// a change order is priced by these, so that a share above one would pay for what was never bought
	for i, s := range w.Slots {
		id := c.pack.Slots[i].ID
		c.index("operation until which slot "+id+" is free", s.FreeUntil, len(w.Operations)+1)
		if s.Undo == nil {
			continue
		}
		if s.Undo.ShareLost.Sign() < 0 || s.Undo.ShareLost.Cmp(money.MustRate("1")) > 0 {
			c.fail("undoing slot %s loses a share of %s", id, s.Undo.ShareLost)
		}
		for _, h := range s.Undo.Hours {
			c.index("shop that undoes slot "+id, h.Shop, len(w.Shops))
			c.hours("undoing slot "+id, h.Hours)
		}
	}
}

// planning checks what launches are planned by.
func (c *checker) planning(t *Planning) {
	c.periods("the yard", t.Closed)
	c.spread("work without an operation", t.Spread)
	people := len(t.Shops) // and those of each skill
	for i := range t.Shops {
		c.shopWork(c.pack.Costs.Shops[i].ID, &t.Shops[i])
		people += len(t.Shops[i].Skills)
	}
	// equipment that nobody has would keep every boat waiting for it
	for _, e := range t.Equipment {
		c.hullList("equipment "+e.ID, e.Hulls)
		if e.Count < 1 {
			c.fail("there are %d of the equipment %s", e.Count, e.ID)
		}
	}
	for i := range t.Operations {
		c.operationWork(t, i)
	}
	if n := len(t.Learning); n > 0 && n != len(c.pack.Hulls) {
		c.fail("there is learning of %d hulls, want %d", n, len(c.pack.Hulls))
	}
	for _, l := range t.Learning {
		if !(l.Rate >= 0.5 && l.Rate <= 1) || l.Built < 0 || l.Steady < 1 {
			c.fail("hours fall to %v from boat %d to boat %d", l.Rate, l.Built, l.Steady)
		}
	}
	if l := t.Load; l != nil {
		if len(l.Built) != len(c.pack.Hulls) {
			c.fail("the load is of %d hulls, want %d", len(l.Built), len(c.pack.Hulls))
		}
		c.periods("the load", []Period{{l.Day, l.Day}})
		if err := l.Taken.Check(people, len(t.Equipment)); err != nil {
			c.fail("the load: %w", err)
		}
	}
}

// launchWeeks checks weeks that everybody reads.
func (c *checker) launchWeeks(l *LaunchWeeks) {
	if len(l.Hulls) != len(c.pack.Hulls) || len(l.Options) != len(c.pack.Options) {
		c.fail("the launch weeks are of %d hulls and %d options, want %d and %d", len(l.Hulls), len(l.Options),
			len(c.pack.Hulls), len(c.pack.Options))
	}
	c.periods("launch weeks", []Period{{l.Day, l.Day}})
	for _, weeks := range slices.Concat(l.Hulls, l.Options) {
		c.hours("a launch", float64(weeks)*7*24)
	}
}

// longest is beyond any time of a launch, h: a century.
const longest = 876600

// hours checks a time.
func (c *checker) hours(what string, h float64) {
	if !(h >= 0 && h <= longest) {
		c.fail("%s takes %v h", what, h)
	}
}

// periods checks days on which nobody works. They stay text, so that a pack reads like the calendar on the wall; a plan
// counts them from its first Monday.
func (c *checker) periods(who string, list []Period) {
	for _, p := range list {
		first, err1 := time.Parse(time.DateOnly, p.First)
		last, err2 := time.Parse(time.DateOnly, p.Last)
		if err1 != nil || err2 != nil || last.Before(first) {
			c.fail("%s is closed from %.20q to %.20q", who, p.First, p.Last)
		}
	}
}

// spread checks factors of hours. Both may be 1, for hours that are known; a low one of zero would be work that needs
// no time.
func (c *checker) spread(what string, s Spread) {
	if !(s.Low > 0 && s.Low <= 1) || !(s.High >= 1 && formula.Finite(s.High)) {
		c.fail("the hours of %s spread from %v to %v times the likely ones", what, s.Low, s.High)
	}
}

// shopWork checks a calendar: a shop that never works would never be done.
func (c *checker) shopWork(id string, s *ShopWork) {
	for _, h := range s.Week {
		if !(h >= 0 && h <= 24) {
			c.fail("a day of shop %s has %v h", id, h)
		}
	}
	if s.People < 1 || !(s.HoursWeek() > 0) {
		c.fail("shop %s works %v h a week with %d people", id, s.HoursWeek(), s.People)
	}
	c.periods("shop "+id, s.Closed)
	// nobody has a skill who does not work there
	for _, k := range s.Skills {
		if k.People < 1 || k.People > s.People {
			c.fail("%d of %d people of shop %s have the skill %s", k.People, s.People, id, k.ID)
		}
	}
}

// outside checks work that a supplier does: it takes days and nobody of the yard.
func (c *checker) outside(o *OperationWork, def *Operation) {
	if o.Days < 1 || o.Days > longest/24 {
		c.fail("the outside work %s takes %d days", def.ID, o.Days)
	}
	if o.Crew != 0 || o.Skill != 0 || o.Batch != NoBatch || o.SetUp != 0 || len(o.Checks) > 0 {
		c.fail("the outside work %s takes people of the yard", def.ID)
	}
}

// operationWork checks one operation; that none waits for itself is checked of all together.
func (c *checker) operationWork(w *Planning, i int) {
	o, def := &w.Operations[i], &c.pack.Costs.Operations[i]
	// a window has to be open when the wait is over
	for _, a := range o.After {
		c.index("operation before "+def.ID, a.Operation, len(w.Operations))
		c.hours("waiting before "+def.ID, a.Wait)
		if a.Within != nil && !(*a.Within >= a.Wait && *a.Within <= longest) {
			c.fail("operation %s waits %v h and begins within %v h", def.ID, a.Wait, *a.Within)
		}
	}
	switch {
	case def.Outside != nil:
		c.outside(o, def)
	case def.Shop < 0 || def.Shop >= len(w.Shops):
		return // reported with the costs
	default:
		shop := &w.Shops[def.Shop]
		if o.Crew < 1 || o.Crew > shop.People || o.Days != 0 {
			c.fail("the crew of operation %s is %d of %d people for %d days", def.ID, o.Crew, shop.People, o.Days)
		}
		c.index("skill of operation "+def.ID, o.Skill, len(shop.Skills)+1)
	}
	c.spread("operation "+def.ID, o.Spread)
	for _, e := range o.Uses {
		c.index("equipment of operation "+def.ID, e, len(w.Equipment))
	}
	// whether what gives free comes after is asked of the book; here an index has to lead somewhere
	for _, h := range o.Holds {
		c.index("equipment of operation "+def.ID, h.Equipment, len(w.Equipment))
		c.index("operation that gives free what "+def.ID+" holds", h.Until, len(w.Operations))
	}
	if o.Batch != NoBatch && o.Batch != SameHull && o.Batch != SameColour {
		c.fail("operation %s has a set-up for boats of the same %.20q", def.ID, o.Batch)
	}
	c.hours("setting up operation "+def.ID, o.SetUp)
	// bounds that nothing keeps would have every card of the operation sent back
	for _, k := range o.Checks {
		if k.Least != nil && k.Most != nil && !(*k.Least <= *k.Most) {
			c.fail("the check %s of operation %s is between %v and %v", k.ID, def.ID, *k.Least, *k.Most)
		}
		known := k.Figure == ""
		for f := range c.pack.Figures {
			known = known || c.pack.Figures[f].ID == k.Figure
		}
		if !known {
			c.fail("the check %s of operation %s follows the figure %.40q, which there is not", k.ID, def.ID, k.Figure)
		}
	}
}
