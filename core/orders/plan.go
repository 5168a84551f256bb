package orders

import (
	"cmp"
	"fmt"
	"slices"

	"ribband/core/measure"
	"ribband/core/plan"
)

// Plan is when the boats of a load are launched, and why then.
type Plan struct {
	Day   Day        `json:"day"` // on which it is made
	Boats []Planned  `json:"boats"`
	Shops []ShopLoad `json:"shops"`
	// what boats wait for most on the way to their launches: a shop or equipment; "" for nothing
	Bottleneck string `json:"bottleneck,omitempty"`
	// set-ups that boats share which come one after the other
	SetUps []SetUp `json:"set_ups,omitempty"`

	load     *Load
	schedule *plan.Schedule
	waits    []plan.Wait
}

// Planned is an order in a plan. The launch is that of the plan itself, in which every operation takes the hours of the
// book; it is early rather than late, since hours spread further upwards than downwards. P50 and P80 are the weeks by
// which it is launched in so many of a hundred simulated builds, in which hours spread as the book says, each by
// itself.
type Planned struct {
	Number   string `json:"number"`
	Customer string `json:"customer"`
	Hull     string `json:"hull"`
	Promised Week   `json:"promised"`
	Launch   Day    `json:"launch"` // if every hour is as the book says
	Week     Week   `json:"week"`
	Late     int    `json:"late,omitempty"` // weeks after the promise
	P50      Week   `json:"p50"`
	P80      Week   `json:"p80"`
	Kept     int    `json:"kept"` // per cent of simulated builds that keep the promise
	// why it is not launched earlier, from the first to the last
	Chain []Reason `json:"chain"`
	// material that comes last of all that the chain waits for
	Material *Arrival `json:"material,omitempty"`
	// coats that come later than their predecessor lets them
	Breaches []string `json:"breaches,omitempty"`
}

// Reason is, with the others of its chain, why a launch is when it is: an operation of the chain that decides a launch,
// and what it waits for.
type Reason struct {
	// of the order that it is of: another one where people or a place are waited for
	Number    string        `json:"number"`
	Operation string        `json:"operation"`
	Title     string        `json:"title"`
	Shop      string        `json:"shop"` // or the supplier of outside work
	Start     Day           `json:"start"`
	Finish    Day           `json:"finish"`
	Hours     measure.Hours `json:"hours"`
	Days      int           `json:"working_days,omitempty"` // of outside work, which has no hours
	Waits     string        `json:"waits"`                  // one of the causes below
	For       string        `json:"for,omitempty"`
}

// What an operation of a chain waits for.
const (
	ForNothing  = "nothing"
	ForWork     = "work"      // of the same boat
	ForPlace    = "equipment" // that another boat occupies
	ForPeople   = "people"    // who are at something else
	ForMaterial = "material"
	ForWindow   = "window" // of what comes after it: it must not be done too early
	AsBegun     = "begun"  // it is under way, or done
)

// Arrival is a material that decides when an operation begins: the last to come of all that it takes.
type Arrival struct {
	Material  string `json:"material"`
	Operation string `json:"operation"`
	Day       Day    `json:"day"`
}

// How a plan is simulated: runs of the simulation of a plan, and the number of its dice: more runs move no week.
const (
	runs = 400
	dice = 1
)

// Make plans a load: promises first, then every boat early. The same load gives the same plan.
//
// Spread is that of hours alone, each operation by itself: that a whole shop is ill, or that a boat is the first of its
// kind, is not in it. With common causes P80 would come later than it does here.
func (l *Load) Make(effort plan.Effort) (*Plan, error) {
	s, err := l.solve(effort)
	if err != nil {
		return nil, fmt.Errorf("planning the load: %w", err)
	}
	return l.told(s)
}

// told is a schedule in the words of the yard: boats with what decides their launches, shops with their load.
func (l *Load) told(s *plan.Schedule) (*Plan, error) {
	p := &Plan{Day: l.Day, SetUps: l.setUps, load: l, schedule: s}
	var err error
	if p.waits, err = plan.Waits(&l.Plan, s); err != nil {
		return nil, fmt.Errorf("planning the load: %w", err)
	}
	outcomes, err := plan.Simulate(&l.Plan, s, l.Spreads, plan.Simulation{Runs: runs, Number: dice})
	if err != nil {
		return nil, fmt.Errorf("simulating the load: %w", err)
	}
	// of all chains, since what holds up one boat holds up those behind it
	waited := map[string]int{}
	for i := range l.Boats {
		b, err := p.boat(i, &outcomes[i])
		if err != nil {
			return nil, err
		}
		for _, r := range b.Chain {
			if r.Waits == ForPlace || r.Waits == ForPeople {
				waited[r.For]++
			}
		}
		p.Boats = append(p.Boats, *b)
	}
	if err := p.shops(); err != nil {
		return nil, err
	}
	most := 0
	for _, name := range p.means() { // in the order of the book, so that of two the same one is always named
		if waited[name] > most {
			p.Bottleneck, most = name, waited[name]
		}
	}
	return p, nil
}

// means are the names of shops, skills and equipment, in the order of the book.
func (p *Plan) means() (list []string) {
	for _, r := range p.load.Plan.Resources {
		list = append(list, r.Title)
	}
	for _, h := range p.load.Plan.Holders {
		list = append(list, h.Title)
	}
	return list
}

// boat is one order of the plan, with what came of it in the simulation.
func (p *Plan) boat(i int, o *plan.Outcome) (*Planned, error) {
	l, of := p.load, &p.load.Boats[i]
	q := of.Order.Quote()
	launch := p.schedule.Finish[l.Plan.Boats[i].Launch]
	b := &Planned{Number: of.Order.Number, Customer: q.Customer.Name, Hull: q.Hull, Promised: of.Order.Promise(),
		Launch: l.dayOf(launch), P50: l.dayOf(o.P50).Week(), P80: l.dayOf(o.P80).Week(), Kept: o.Kept * 100 / runs}
	b.Week = b.Launch.Week()
	b.Late = max(0, b.Week.Since(b.Promised))
	chain, err := plan.CriticalChain(&l.Plan, p.schedule, i)
	if err != nil {
		return nil, fmt.Errorf("planning the load: %w", err)
	}
	for _, step := range chain {
		// a moment is when something is over, and nobody works on it
		if l.task[step.Activity].task == noTask {
			continue
		}
		r, comes := p.reason(step)
		b.Chain = append(b.Chain, r)
		if comes != nil && (b.Material == nil || b.Material.Day.Before(comes.Day)) {
			b.Material = comes
		}
	}
	// never silent: a coat that came too late has to be sanded
	for _, x := range p.schedule.Breaches {
		if l.task[x.Activity].boat == i {
			b.Breaches = append(b.Breaches, fmt.Sprintf("%s begins %v h later after %s than it may",
				p.reasonOf(x.Activity).Title, hoursOf(x.Over), p.reasonOf(x.Predecessor).Title))
		}
	}
	return b, nil
}

// reasonOf is an activity that is a task, without what it waits for.
func (p *Plan) reasonOf(activity int) Reason {
	l := p.load
	of := l.task[activity]
	b := &l.Boats[of.boat]
	t := &b.Tasks[of.task]
	r := Reason{Number: b.Order.Number, Title: l.title(b, t), Shop: l.engine.Work.Place(t), Hours: t.Hours,
		Days: t.Days, Start: l.dayOf(p.schedule.Start[activity] + 1), Finish: l.dayOf(p.schedule.Finish[activity])}
	if t.Operation >= 0 {
		r.Operation = l.engine.Work.Operations[t.Operation].ID
	}
	return r
}

// reason is a step of a chain, and the material that it waits for, if it does. What it waits for is one thing: whatever
// else it needs was free before.
func (p *Plan) reason(step plan.Step) (Reason, *Arrival) {
	l, r := p.load, p.reasonOf(step.Activity)
	switch w := step.Wait; w.Cause {
	case plan.WaitsAsFixed:
		r.Waits = AsBegun
	case plan.WaitsForPredecessor:
		r.Waits = ForWork
		if l.task[w.Activity].task != noTask {
			r.For = p.reasonOf(w.Activity).Title
		}
	case plan.WaitsForHolder:
		r.Waits, r.For = ForPlace, l.Plan.Holders[w.Holder].Title
	case plan.WaitsForResource:
		r.Waits, r.For = ForPeople, l.Plan.Resources[w.Resource].Title
	case plan.WaitsForWindow:
		r.Waits = ForWindow
	case plan.WaitsForRelease:
		of := l.task[step.Activity]
		b := &l.Boats[of.boat]
		// a task is released by its material, by the day of its order, or by that of the plan
		comes, ok := b.arrivals[b.Tasks[of.task].Operation]
		if !ok || !l.Day.Before(comes.day) { // it begins with the plan
			r.Waits = ForNothing
			break
		}
		title := l.engine.Pack.Costs.Materials[comes.material].Title
		r.Waits, r.For = ForMaterial, title
		return r, &Arrival{title, r.Title, comes.day}
	default:
		r.Waits = ForNothing
	}
	return r, nil
}

// ShopLoad is what a shop works in each week of a plan, of what it can. More than it can is only where work that was
// entered as begun takes more people than there are.
type ShopLoad struct {
	ID    string     `json:"id"`
	Title string     `json:"title"`
	Weeks []WeekLoad `json:"weeks"` // from the first week of the plan to its last
}

// WeekLoad are hours of all people of a shop in a week.
type WeekLoad struct {
	Week Week    `json:"week"`
	Work float64 `json:"work_h"` // that is planned
	Open float64 `json:"open_h"` // that there is
}

// shops are the loads of the shops by week. What was done in the week of the plan counts as worked.
func (p *Plan) shops() error {
	l := p.load
	weeks, err := plan.ByWeek(&l.Plan, p.schedule)
	if err != nil {
		return fmt.Errorf("adding up the load: %w", err)
	}
	for k := range l.engine.Work.Shops {
		def := &l.engine.Work.Shops[k]
		shop := ShopLoad{ID: def.ID, Title: def.Title}
		for w, load := range weeks[l.yard.Shop(k).People] {
			shop.Weeks = append(shop.Weeks, WeekLoad{l.From.Week().Add(w), hoursOf(load.Worked), hoursOf(load.Open)})
		}
		p.Shops = append(p.Shops, shop)
	}
	return nil
}

// hoursOf are quarter-hours as hours.
func hoursOf(t plan.Time) float64 { return float64(t) / float64(plan.Hour) }

// Gain is what one more of something would do to a plan. What it costs is not here: a person costs a wage, and a mould
// the hours of a plug.
type Gain struct {
	Of    string `json:"of"`    // a shop, a skill or equipment
	Weeks int    `json:"weeks"` // that all boats together are launched earlier
	Late  int    `json:"late"`  // boats fewer that are late
}

// Gains are what one more person in a shop, one more with a skill, or one more of some equipment would do, the most
// first; only of those that a launch waits for. Each is planned anew with the same effort.
func (p *Plan) Gains(effort plan.Effort) ([]Gain, error) {
	// of what no launch waits for, one more gains nothing
	waited := map[string]bool{}
	for _, b := range p.Boats {
		for _, r := range b.Chain {
			waited[r.For] = waited[r.For] || r.Waits == ForPlace || r.Waits == ForPeople
		}
	}
	var list []Gain
	for i := range p.load.Plan.Resources {
		r := &p.load.Plan.Resources[i]
		if !waited[r.Title] {
			continue
		}
		r.Capacity++
		g, err := p.gain(r.Title, effort)
		r.Capacity--
		if err != nil {
			return nil, err
		}
		list = append(list, g)
	}
	for i := range p.load.Plan.Holders {
		h := &p.load.Plan.Holders[i]
		if !waited[h.Title] {
			continue
		}
		h.Units++
		g, err := p.gain(h.Title, effort)
		h.Units--
		if err != nil {
			return nil, err
		}
		list = append(list, g)
	}
	slices.SortStableFunc(list, func(x, y Gain) int {
		return cmp.Or(cmp.Compare(y.Late, x.Late), cmp.Compare(y.Weeks, x.Weeks))
	})
	return list, nil
}

// gain plans once more, and compares by weeks, in which launches are promised.
func (p *Plan) gain(of string, effort plan.Effort) (Gain, error) {
	s, err := plan.Solve(&p.load.Plan, plan.Objective{}, effort)
	if err != nil {
		return Gain{}, fmt.Errorf("planning with one more of %s: %w", of, err)
	}
	g := Gain{Of: of}
	for i, b := range p.Boats {
		week := p.load.dayOf(s.Finish[p.load.Plan.Boats[i].Launch]).Week()
		g.Weeks += b.Week.Since(week)
		if b.Late > 0 && week.Since(b.Promised) <= 0 {
			g.Late++
		} else if b.Late == 0 && week.Since(b.Promised) > 0 {
			g.Late--
		}
	}
	return g, nil
}
