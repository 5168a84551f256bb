package plan

import "fmt"

// Replay is a schedule with other durations: its order is kept, and nothing begins before the schedule says, since
// people and materials are called for then. What takes longer pushes what comes after it; a window that would run out
// moves its earlier end, too. Where that cannot be, the window is a breach. Durations are worked time by activity: of
// what is begun that remains, and those of what is done are not read. What takes no time in the load may get hours,
// and then waits for its people as well.
//
// No launch is earlier than in the schedule where every duration is at least that of the load; and where there are no
// latest lags, longer durations never give an earlier launch than shorter ones. With [Solve] that does not hold: a
// longer activity makes its search take another way, and a heuristic may happen upon a better one; even with the same
// list of priorities an activity that takes longer can let another one first by, to the good of the whole (R. L.
// Graham, Bounds on multiprocessing timing anomalies, SIAM Journal on Applied Mathematics 17 (1969), 416-429). So
// what a choice does to a launch is asked of Replay, and Solve makes the plan.
func Replay(load *Load, s *Schedule, durations []Time) (*Schedule, error) {
	p, err := NewPlayer(load, s)
	if err != nil {
		return nil, err
	}
	return p.Replay(durations)
}

// Player replays one schedule many times, as the effects of options ask for. It must not be used by two at once.
type Player struct {
	schedule *Schedule
	r        *replayer
}

// NewPlayer makes a schedule of a load ready. It fails where the two do not belong together.
func NewPlayer(load *Load, s *Schedule) (*Player, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	r, err := net.ordered(s)
	if err != nil {
		return nil, err
	}
	return &Player{s, r}, nil
}

// Replay is the schedule with other durations: see [Replay].
func (p *Player) Replay(durations []Time) (*Schedule, error) {
	load := p.r.net.load
	if len(durations) != len(load.Activities) {
		return nil, fmt.Errorf("replaying a schedule: there are %d durations for %d activities", len(durations),
			len(load.Activities))
	}
	for i, d := range durations {
		if d < 0 || d > maxLength {
			return nil, fmt.Errorf("replaying a schedule: the duration of %s is %d quarter-hours; give 0 to %d",
				load.place(i), d, maxLength)
		}
	}
	p.r.run(durations, p.schedule.Start, true)
	return p.r.schedule(p.schedule.Order), nil
}

// ordered is the replayer of a schedule that comes from outside.
func (net *network) ordered(s *Schedule) (*replayer, error) {
	// a schedule is kept in a file for weeks, and the load beside it changes
	if err := net.checkSchedule(s); err != nil {
		return nil, err
	}
	return net.replayer(s.Order, s.Breaches)
}

// settle makes of what a search found the schedule of its order: everything as early as that lets it.
func settle(net *network, found *solution) (*Schedule, error) {
	order := net.handovers(found.start, found.finish)
	r, err := net.replayer(order, found.late)
	if err != nil {
		return nil, err
	}
	r.run(net.length, net.floor, true)
	return r.schedule(order), nil
}

// checkSchedule says whether a schedule can be one of the load.
func (net *network) checkSchedule(s *Schedule) error {
	n := len(net.order)
	if len(s.Start) != n || len(s.Finish) != n {
		return fmt.Errorf("reading a schedule: it has %d activities and the load %d; plan the load again",
			len(s.Start), n)
	}
	for _, h := range s.Order {
		if h.From < 0 || h.From >= n || h.To < 0 || h.To >= n {
			return fmt.Errorf("reading a schedule: activity %d hands over to %d of %d; plan the load again", h.From,
				h.To, n)
		}
	}
	return nil
}

// window is a link with a latest lag.
type window struct {
	from, to int
	max      Time
	open     bool // it is known that it cannot be kept
}

// replayer computes schedules of one order: longest paths through links and handovers.
type replayer struct {
	net           *network
	order         []int
	before        [][]arc // links and handovers
	working       [][]int // who hands over to what takes no time in the load: it waits for them if it takes some
	windows       []window
	start, finish []Time
	raised        []Time // starts that a window asks for
}

// replayer makes the network of an order. Links and handovers that form a circle are an error: the order is not one of
// this load.
func (net *network) replayer(order []Handover, breaches []Breach) (*replayer, error) {
	n := len(net.order)
	r := &replayer{net: net, before: make([][]arc, n), working: make([][]int, n), start: make([]Time, n),
		finish: make([]Time, n), raised: make([]Time, n)}
	after := make([][]arc, n)
	add := func(from, to int, least Time) {
		r.before[to] = append(r.before[to], arc{from, least, Never})
		after[from] = append(after[from], arc{to, least, Never})
	}
	// a window that the plan could not keep is not kept by moving its earlier end again and again
	broken := map[[2]int]bool{}
	for _, b := range breaches {
		broken[[2]int{b.Predecessor, b.Activity}] = true
	}
	// what was booked by hand is not judged: no window between two that are fixed
	for i, list := range net.before {
		for _, a := range list {
			add(a.other, i, a.min)
			if a.max < Never && !(net.fixed[i] && net.fixed[a.other]) {
				r.windows = append(r.windows, window{a.other, i, a.max, broken[[2]int{a.other, i}]})
			}
		}
	}
	all := make([][]arc, n) // what decides the order of computing
	for _, h := range order {
		switch {
		case net.fixed[h.To]:
		case net.length[h.To] == 0 && h.Holder == None:
			r.working[h.To] = append(r.working[h.To], h.From)
			all[h.To] = append(all[h.To], arc{other: h.From})
			after[h.From] = append(after[h.From], arc{other: h.To})
		default:
			add(h.From, h.To, 0)
		}
	}
	for i := range all {
		all[i] = append(all[i], r.before[i]...)
	}
	var ok bool
	if r.order, ok = sorted(all, after); !ok {
		return nil,
			fmt.Errorf("reading a schedule: its order goes in a circle with the links of the load; plan the load " +
				"again")
	}
	return r, nil
}

// pulls is how often a window moves its earlier end before it is taken for one that cannot be kept: each time the later
// end moves as well, since the two are tied to each other by more than the window.
const pulls = 100

// run computes the schedule for some durations, as early as floors, order and, where they are asked for, windows let
// it. It is the least solution: every step only raises times, and raises them no farther than it must.
func (r *replayer) run(durations, floor []Time, windows bool) {
	left := make([]bool, len(r.windows))
	for w := range r.windows {
		left[w] = r.windows[w].open
	}
	clear(r.raised)
	for round := 0; ; round++ {
		r.forward(durations, floor)
		worst, again := None, false
		for k, w := range r.windows {
			if !windows || left[k] || r.start[w.to]-w.max <= r.finish[w.from] {
				continue
			}
			if r.net.fixed[w.from] {
				left[k] = true
				continue
			}
			r.raised[w.from] = max(r.raised[w.from], r.net.startFor(w.from, durations[w.from], r.start[w.to]-w.max))
			worst, again = k, true
		}
		if !again {
			return
		}
		// the two ends drive each other on: what is between them has grown longer than the window
		if round == pulls {
			left[worst] = true
			clear(r.raised)
			round = 0
		}
	}
}

// startFor is the earliest start with which an activity of some length is not finished before a moment.
func (net *network) startFor(i int, length, until Time) Time {
	if length == 0 {
		return until
	}
	c := net.clock[i]
	return c.Begin(net.from(i, max(0, c.Worked(until-1)+1-length), length))
}

// forward computes the times of all activities once.
func (r *replayer) forward(durations, floor []Time) {
	net := r.net
	for _, i := range r.order {
		if net.fixed[i] {
			r.start[i], r.finish[i] = net.start[i], net.finish[i]
			if net.load.Activities[i].State == Begun {
				r.finish[i] = net.begunUntil(i, durations[i])
			}
			continue
		}
		at := max(floor[i], r.raised[i])
		for _, a := range r.before[i] {
			at = max(at, r.finish[a.other]+a.min)
		}
		for _, j := range r.working[i] {
			if durations[i] > 0 {
				at = max(at, r.finish[j])
			}
		}
		r.start[i], r.finish[i] = net.at(i, at, durations[i])
	}
}

// begunUntil is when an activity under way is finished, if so much remains of it.
func (net *network) begunUntil(i int, remaining Time) Time {
	start := max(0, net.load.Activities[i].Start)
	if remaining == 0 {
		return start
	}
	return net.clock[i].End(net.clock[i].Worked(start) + remaining)
}

// schedule is what was computed last.
func (r *replayer) schedule(order []Handover) *Schedule {
	return &Schedule{Start: append([]Time(nil), r.start...), Finish: append([]Time(nil), r.finish...), Order: order,
		Breaches: r.breaches()}
}

// breaches are the windows that were not kept.
func (r *replayer) breaches() (list []Breach) {
	for _, w := range r.windows {
		if over := r.start[w.to] - w.max - r.finish[w.from]; over > 0 {
			list = append(list, Breach{w.to, w.from, over})
		}
	}
	return list
}
