package plan

import (
	"fmt"
	"slices"
)

// arc is a link as seen from one of its two activities.
type arc struct {
	other    int
	min, max Time
}

// held is the other end of a holding.
type held struct{ holder, other int }

// network is a load made ready for scheduling, forwards or, mirrored, backwards.
type network struct {
	load    *Load
	clocks  []*Clock // by calendar; of the mirror, of calendars that run backwards
	clock   []*Clock // by activity
	oneDay  []bool
	length  []Time // worked time that the schedule has to find
	floor   []Time // earliest start
	before  [][]arc
	after   [][]arc
	order   []int // each after its predecessors
	fixed   []bool
	start   []Time // of what is fixed; the rest is not read
	finish  []Time
	during  [][]int  // holders that must be free while an activity is done
	whole   [][]int  // of these, those that are held just as long
	closes  [][]held // holdings that end with an activity and began with another
	node    []int    // block of an activity
	members [][]int  // activities of a block: those that must be placed together
	early   []int    // blocks that hold something already, and so are placed before all others
	shops   []profile
	holders []profile
}

// compile checks a load and makes it ready.
func compile(l *Load) (*network, error) {
	net, err := build(l)
	if err != nil {
		return nil, err
	}
	return net, net.checkHeld()
}

// build is compile for a load in which two boats may still have one place.
func build(l *Load) (*network, error) {
	if err := l.Check(); err != nil {
		return nil, err
	}
	n := len(l.Activities)
	net := &network{load: l, clock: make([]*Clock, n), oneDay: make([]bool, n), length: make([]Time, n),
		floor: make([]Time, n), before: make([][]arc, n), after: make([][]arc, n), fixed: make([]bool, n),
		start:  make([]Time, n),
		finish: make([]Time, n), during: make([][]int, n), whole: make([][]int, n), closes: make([][]held, n)}
	for i := range l.Calendars {
		c, err := l.Calendars[i].Clock()
		if err != nil {
			return nil, err
		}
		net.clocks = append(net.clocks, c)
	}
	for i := range l.Activities {
		a := &l.Activities[i]
		net.clock[i], net.length[i], net.floor[i] = net.clocks[a.Calendar], a.Duration, max(0, a.Earliest)
		if net.oneDay[i] = a.OneDay; a.OneDay && a.State == Open && a.Duration > net.clock[i].longestDay() {
			return nil, fmt.Errorf("reading %s: it is done on one day and takes %d quarter-hours, of which the "+
				"longest day has %d; take a larger crew, or divide it", l.place(i), a.Duration,
				net.clock[i].longestDay())
		}
		for _, link := range a.After {
			net.before[i] = append(net.before[i], arc{link.Activity, link.Min, link.Max})
			net.after[link.Activity] = append(net.after[link.Activity], arc{i, link.Min, link.Max})
		}
		if net.fixed[i] = a.State != Open; net.fixed[i] {
			net.start[i], net.finish[i] = a.Start, a.Finish
		}
		if a.State == Begun {
			net.finish[i] = net.begunUntil(i, a.Duration)
		}
	}
	// a place must be free while its holding begins; what ends the holding has it from then on
	for _, h := range l.Holdings {
		net.during[h.From] = append(net.during[h.From], h.Holder)
		if h.From == h.To {
			net.whole[h.From] = append(net.whole[h.From], h.Holder)
		} else {
			net.closes[h.To] = append(net.closes[h.To], held{h.Holder, h.From})
		}
	}
	// blocks and windows are looked for in a network without circles
	if err := net.sort(); err != nil {
		return nil, err
	}
	net.block()
	if err := net.checkHoldings(); err != nil {
		return nil, err
	}
	if err := net.checkWindows(); err != nil {
		return nil, err
	}
	net.reserve()
	return net, nil
}

// from is the first quarter-hour of work from one on with which an activity of some length can begin.
func (net *network) from(i int, worked, length Time) Time {
	if net.oneDay[i] {
		return net.clock[i].sameDay(worked, length)
	}
	return worked
}

// upTo is the last one up to one with which it can begin.
func (net *network) upTo(i int, worked, length Time) Time {
	if net.oneDay[i] {
		return net.clock[i].sameDayBefore(worked, length)
	}
	return worked
}

// finishOf is when an activity that starts before that many quarter-hours of its calendar is done; at a moment if it
// takes no time.
func (net *network) finishOf(i int, worked, at Time) Time {
	if net.length[i] == 0 {
		return at
	}
	return net.clock[i].End(worked + net.length[i])
}

// sort puts activities after their predecessors, those of the load first where the order is free.
//
// Source: topological order, A. B. Kahn, Communications of the ACM 5 (1962), 558-562.
func (net *network) sort() error {
	order, ok := sorted(net.before, net.after)
	if !ok {
		left := make([]bool, len(net.before))
		for i := range left {
			left[i] = !slices.Contains(order, i)
		}
		return net.load.circle(left)
	}
	net.order = order
	return nil
}

// sorted is an order of activities in which each comes after its predecessors; not all of them where they wait for each
// other in a circle.
func sorted(before, after [][]arc) ([]int, bool) {
	waits := make([]int, len(before)) // for how many predecessors that have no place yet
	var order []int
	for i := range before {
		if waits[i] = len(before[i]); waits[i] == 0 {
			order = append(order, i)
		}
	}
	for k := 0; k < len(order); k++ {
		for _, a := range after[order[k]] {
			if waits[a.other]--; waits[a.other] == 0 {
				order = append(order, a.other)
			}
		}
	}
	return order, len(order) == len(before)
}

// reserve takes what is fixed out of what is free. People who worked more than there are of them did so all the same:
// nothing is added to that. So may the bookings of a place overlap in the past; but two boats that both have it still
// are an error.
func (net *network) reserve() {
	for _, r := range net.load.Resources {
		net.shops = append(net.shops, newProfile(r.Capacity))
	}
	for _, h := range net.load.Holders {
		net.holders = append(net.holders, newProfile(h.Units))
	}
	for i, a := range net.load.Activities {
		if !net.fixed[i] {
			continue
		}
		c := net.clock[i]
		for _, d := range a.Demands {
			net.shops[d.Resource].add(c.Worked(net.start[i]), c.Worked(net.finish[i]), -d.Units)
		}
	}
	for _, h := range net.load.Holdings {
		if !net.fixed[h.From] {
			continue
		}
		p := &net.holders[h.Holder]
		if net.fixed[h.To] {
			p.add(min(net.start[h.From], net.start[h.To]), max(net.finish[h.From], net.finish[h.To]), -1)
			continue
		}
		net.early = append(net.early, net.node[h.From])
		p.add(net.start[h.From], Never, -1) // until it is known when it is given free
	}
	slices.Sort(net.early)
	net.early = slices.Compact(net.early)
}

// checkHeld refuses a load in which a boat still has a place that others have, too.
func (net *network) checkHeld() error {
	for _, i := range net.contended() {
		h := net.load.Holdings[i]
		return fmt.Errorf("reading %s: it has %.60q, which others have at that time; give it free first, or add one",
			net.load.place(h.From), net.load.Holders[h.Holder].Title)
	}
	return nil
}

// contended are holdings that are not over, of places that others have, too; by index.
func (net *network) contended() (list []int) {
	for i, h := range net.load.Holdings {
		if !net.fixed[h.From] || net.fixed[h.To] {
			continue
		}
		if _, twice := net.holders[h.Holder].blocked(max(0, net.start[h.From]), Never, 0); twice {
			list = append(list, i)
		}
	}
	return list
}

// Contended are the holdings of a load, by index, in which a boat has a place that others have at that time, and has
// not given it free: somebody has entered work that cannot be. No plan can be made of such a load.
func (l *Load) Contended() ([]int, error) {
	net, err := build(l)
	if err != nil {
		return nil, err
	}
	return net.contended(), nil
}

// mirrored is the network with time running backwards from a moment: the last activity first. What could not begin
// before its material came is free there to be late, since a schedule made backwards only gives an order.
func (net *network) mirrored(from Time) *network {
	l := net.load
	n := len(l.Activities)
	m := &network{load: l, clock: make([]*Clock, n), oneDay: net.oneDay, length: net.length, floor: make([]Time, n),
		before: net.after,
		after:  net.before, fixed: net.fixed, start: make([]Time, n), finish: make([]Time, n), during: make([][]int, n),
		whole: net.whole, closes: make([][]held, n), node: net.node, members: net.members}
	for i := range l.Calendars {
		c, err := l.Calendars[i].mirrored(int(from / Day)).Clock()
		if err != nil {
			return nil // not reached: it is as right as the calendar that it mirrors
		}
		m.clocks = append(m.clocks, c)
	}
	for i := range m.start {
		m.clock[i] = m.clocks[l.Activities[i].Calendar]
		m.start[i], m.finish[i] = from-net.finish[i], from-net.start[i]
	}
	for _, h := range l.Holdings {
		m.during[h.To] = append(m.during[h.To], h.Holder)
		if h.From != h.To {
			m.closes[h.From] = append(m.closes[h.From], held{h.Holder, h.To})
		}
	}
	// nobody waits there for what is held from before the load's begin, which is the mirror's end
	m.order = slices.Clone(net.order)
	slices.Reverse(m.order)
	m.reserve()
	m.early = nil
	return m
}
