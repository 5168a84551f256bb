package plan

import "fmt"

// Level is how much of something is taken over time: from At[k] on Units[k], until At[k+1], the last for ever; none
// before the first.
type Level struct {
	At    []Time `json:"at,omitempty"`
	Units []int  `json:"units,omitempty"`
}

// Taken is what a plan takes of the means of a yard, without saying for whom. Of people it goes by the worked time of
// their calendar, of places by the clock.
type Taken struct {
	Resources []Level `json:"resources"`
	Holders   []Level `json:"holders"`
}

// TakenBy is what a schedule takes from its load's begin on.
func TakenBy(load *Load, s *Schedule) (*Taken, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	if err := net.checkSchedule(s); err != nil {
		return nil, err
	}
	shops, holders := make([]profile, len(load.Resources)), make([]profile, len(load.Holders))
	for k := range shops {
		shops[k] = newProfile(0)
	}
	for k := range holders {
		holders[k] = newProfile(0)
	}
	for i, a := range load.Activities {
		for _, d := range a.Demands {
			shops[d.Resource].add(net.clock[i].Worked(s.Start[i]), net.clock[i].Worked(s.Finish[i]), d.Units)
		}
	}
	for _, h := range load.Holdings {
		holders[h.Holder].add(s.Start[h.From], s.Finish[h.To], 1)
	}
	t := &Taken{Resources: make([]Level, len(shops)), Holders: make([]Level, len(holders))}
	for k := range shops {
		t.Resources[k] = Level{shops[k].at, shops[k].free}
	}
	for k := range holders {
		t.Holders[k] = Level{holders[k].at, holders[k].free}
	}
	return t, nil
}

// Check says what is wrong with what is taken of the means of a load.
func (t *Taken) Check(resources, holders int) error {
	if len(t.Resources) != resources || len(t.Holders) != holders {
		return fmt.Errorf("reading what is taken: of %d resources and %d places, not of %d and %d", resources, holders,
			len(t.Resources), len(t.Holders))
	}
	check := func(what string, k int, l *Level) error {
		if len(l.At) != len(l.Units) {
			return fmt.Errorf("reading what is taken of %s %d: %d moments and %d levels", what, k, len(l.At),
				len(l.Units))
		}
		for i, at := range l.At {
			if at < 0 || at > Never/2 || i > 0 && at <= l.At[i-1] || l.Units[i] < 0 || l.Units[i] > maxUnits {
				return fmt.Errorf("reading what is taken of %s %d: level %d, %d from %d on: want moments in their "+
					"order and 0 to %d", what, k, i, l.Units[i], at, maxUnits)
			}
		}
		return nil
	}
	for k := range t.Resources {
		if err := check("resource", k, &t.Resources[k]); err != nil {
			return err
		}
	}
	for k := range t.Holders {
		if err := check("place", k, &t.Holders[k]); err != nil {
			return err
		}
	}
	return nil
}

// Insertion is a boat put into what a plan leaves free.
type Insertion struct {
	Schedule
	Waits []Wait // of each activity; of people and places that others have, without an activity
}

// Insert puts the activities of one further boat into what others leave free, in the order of the load's list: the
// people of a resource begin what is theirs in that order, each as early as it can be, and nobody overtakes. That is
// how a shop works its card from the top to the bottom; it takes longer than the best plan, and tells the truth about
// a change: where there are no latest lags, longer durations, further activities in between and more that is taken
// never give an earlier launch. (Graham's anomalies need that something overtakes.) What is begun or done has no place
// in it.
//
// Why it holds: each start is the least moment that satisfies constraints which only become tighter where another start
// or a duration grows; a place that would run out raises the start of its earlier end, and it begins anew from there,
// so that what comes out is the least fixed point of a monotone map (Tarski 1955). A latest lag ties the finish of its
// earlier end: the longer that takes, the earlier it begins, and others may begin with it.
func Insert(load *Load, taken *Taken) (*Insertion, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	if err := taken.Check(len(load.Resources), len(load.Holders)); err != nil {
		return nil, err
	}
	for i, fixed := range net.fixed {
		if fixed {
			return nil, fmt.Errorf("inserting %s: it is begun already; plan the whole load", load.place(i))
		}
	}
	net.take(taken)
	b := newBuilder(net)
	b.inTurn = true
	list := make([]int, len(load.Activities))
	for i := range list {
		list[i] = i
	}
	if !b.build(list, net.floor) {
		return nil, fmt.Errorf("inserting %s: it finds no place, however late", load.place(b.stuck))
	}
	ins := &Insertion{Schedule: Schedule{Start: b.start, Finish: b.finish, Breaches: b.late},
		Waits: make([]Wait, len(list))}
	for i := range ins.Waits {
		ins.Waits[i] = b.waits(i)
	}
	return ins, nil
}

// take takes what others have out of what is free. They may have more than there is, where bookings overlap: nothing is
// free then.
func (net *network) take(t *Taken) {
	enter := func(p *profile, l *Level) {
		for k, at := range l.At {
			until := Never
			if k+1 < len(l.At) {
				until = l.At[k+1]
			}
			p.add(at, until, -l.Units[k])
		}
	}
	for k := range t.Resources {
		enter(&net.shops[k], &t.Resources[k])
	}
	for k := range t.Holders {
		enter(&net.holders[k], &t.Holders[k])
	}
}

// turn is when the people of an activity may begin it, those of what stands before it having begun: the last start of
// what is placed of the first so many activities and needs them, too.
func (b *builder) turn(i, first int) (at Time, last int) {
	last = None
	for k, placed := range b.placed[:first] {
		if k == i || !placed || b.start[k] <= at || b.net.length[k] == 0 {
			continue
		}
		for _, d := range b.net.load.Activities[k].Demands {
			if b.needs(i, d.Resource) {
				at, last = b.start[k], k
			}
		}
	}
	return at, last
}

// needs says whether an activity takes some of a resource.
func (b *builder) needs(i, resource int) bool {
	for _, d := range b.net.load.Activities[i].Demands {
		if d.Resource == resource {
			return true
		}
	}
	return false
}

// waits is what an activity of the whole schedule waits for: of all that could let it begin when it does, what comes
// last.
func (b *builder) waits(i int) Wait {
	net := b.net
	best, at := Wait{WaitsForNothing, None, None, None}, Time(0)
	if net.floor[i] > 0 {
		best.Cause, at = WaitsForRelease, net.floor[i]
	}
	for _, a := range net.before[i] {
		if ready := b.finish[a.other] + a.min; ready > at || ready == at && at > 0 {
			best, at = Wait{WaitsForPredecessor, a.other, None, None}, ready
		}
	}
	clock, length := net.clock[i], net.length[i]
	if length == 0 || clock.Begin(net.from(i, clock.Worked(at), length)) >= b.start[i] {
		if at >= b.start[i] || length > 0 {
			return best
		}
	}
	// it could begin earlier but for people, a place or what comes later
	turn, last := b.turn(i, i)
	from := max(at, turn)
	b.occupy(i, 1)
	defer b.occupy(i, -1)
	if at, resource := b.free(i, clock.Worked(from)); resource != None && at >= b.worked[i] && turn < b.start[i] {
		return Wait{WaitsForResource, b.ended(i, resource), resource, None}
	}
	for _, h := range net.during[i] {
		if end, blocked := b.holders[h].blocked(from, b.start[i], 1); blocked && end >= at {
			return Wait{WaitsForHolder, b.gave(h, end), None, h}
		}
	}
	if last != None && turn >= b.start[i] {
		return Wait{WaitsForResource, last, net.load.Activities[i].Demands[0].Resource, None}
	}
	// what is left is that it must not come too long before something, or not hold a place that others need before
	// that is done
	for _, a := range net.after[i] {
		if a.max < Never {
			return Wait{WaitsForWindow, a.other, None, None}
		}
	}
	if len(net.after[i]) > 0 {
		return Wait{WaitsForWindow, net.after[i][0].other, None, None}
	}
	return best
}

// free is the first moment from one on, in worked time, at which all the people of an activity are free for as long as
// it takes, and who of them is free last; [None] where all are at once.
func (b *builder) free(i int, worked Time) (at Time, last int) {
	last = None
	demands := b.net.load.Activities[i].Demands
	for k := 0; k < len(demands); k++ {
		when := b.shops[demands[k].Resource].fit(worked, b.net.length[i], demands[k].Units)
		if when > worked {
			// the others have to be free then, too
			worked, last, k = when, demands[k].Resource, -1
		}
	}
	return worked, last
}

// ended is the activity of the boat itself whose end gives people free for another; [None] where others had them.
func (b *builder) ended(i, resource int) int {
	for k, finish := range b.finish {
		if k != i && b.needs(k, resource) && b.net.length[k] > 0 && b.net.clock[k].Worked(finish) == b.worked[i] {
			return k
		}
	}
	return None
}

// gave is the activity of the boat itself with whose end it gives a place free at a moment; [None] where others had it.
func (b *builder) gave(holder int, at Time) int {
	for _, h := range b.net.load.Holdings {
		if h.Holder == holder && b.finish[h.To] == at {
			return h.To
		}
	}
	return None
}
