package plan

import "slices"

// Cause is what an activity waits for.
type Cause int

// The causes, in the order in which one is named where several end at the same moment.
const (
	WaitsForNothing     Cause = iota // it starts as the load begins, or later than anything asks for
	WaitsAsFixed                     // it is begun or done
	WaitsForPredecessor              // for work of its own boat, with the lag of the link
	WaitsForHolder                   // for a place that another has
	WaitsForResource                 // for people who are at something else
	WaitsForRelease                  // for its earliest start: material, the order
	WaitsForWindow                   // for a later activity, which it must not come too long before
)

// Wait is the one thing that decides when an activity starts. Without it the activity could start earlier, if only in
// an open hour.
type Wait struct {
	Cause    Cause
	Activity int // that it waits for; [None] where it is no activity
	Resource int // whose people it waits for; [None] for other causes
	Holder   int // that it waits for; [None] for other causes
}

// Waits are what each activity of a schedule waits for.
func Waits(load *Load, s *Schedule) ([]Wait, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	if err := net.checkSchedule(s); err != nil {
		return nil, err
	}
	return net.waits(s), nil
}

func (net *network) waits(s *Schedule) []Wait {
	handed := make([][]Handover, len(net.order))
	for _, h := range s.Order {
		handed[h.To] = append(handed[h.To], h)
	}
	list := make([]Wait, len(net.order))
	for i := range list {
		list[i] = net.wait(s, i, handed[i])
	}
	return list
}

// wait looks for the constraint that ends last, and that the start follows without a gap of open hours.
func (net *network) wait(s *Schedule, i int, handed []Handover) Wait {
	none := Wait{WaitsForNothing, None, None, None}
	if net.fixed[i] {
		none.Cause = WaitsAsFixed
		return none
	}
	best, until := none, Time(-1)
	// a lag that ends in the night and people who are free at noon may both end in the same opening hour: the later one
	// decides, of equals the first here
	consider := func(w Wait, at Time) {
		if start, _ := net.at(i, at, net.length[i]); start == s.Start[i] && at > until {
			best, until = w, at
		}
	}
	for _, a := range net.before[i] {
		consider(Wait{WaitsForPredecessor, a.other, None, None}, s.Finish[a.other]+a.min)
	}
	for _, h := range handed {
		if h.Holder != None {
			consider(Wait{WaitsForHolder, h.From, None, h.Holder}, s.Finish[h.From])
		}
	}
	for _, h := range handed {
		if h.Holder == None && net.length[i] > 0 {
			consider(Wait{WaitsForResource, h.From, h.Resource, None}, s.Finish[h.From])
		}
	}
	consider(none, 0)
	if net.floor[i] > 0 {
		consider(Wait{WaitsForRelease, None, None, None}, net.floor[i])
	}
	if until >= 0 {
		return best
	}
	for _, a := range net.after[i] {
		if a.max < Never && net.startFor(i, net.length[i], s.Start[a.other]-a.max) == s.Start[i] {
			return Wait{WaitsForWindow, a.other, None, None}
		}
	}
	return best
}

// Step is an activity of a chain with what it waits for.
type Step struct {
	Activity int
	Wait     Wait
}

// CriticalChain is why a boat is launched when it is: from its launch back over what each activity waits for, to one
// that waits for nothing, for material, or is begun already. The first step is the earliest. It passes through other
// boats where people or places are waited for.
//
// Source: critical chain of E. M. Goldratt, 1997: the longest chain of dependent work, people counted in.
func CriticalChain(load *Load, s *Schedule, boat int) ([]Step, error) {
	waits, err := Waits(load, s)
	if err != nil {
		return nil, err
	}
	if err := load.checkBoat(boat); err != nil {
		return nil, err
	}
	var chain []Step
	seen := make([]bool, len(waits))
	for i := load.Boats[boat].Launch; i != None && !seen[i]; i = waits[i].Activity {
		seen[i] = true // a window may lead back to what waits for this one
		chain = append(chain, Step{i, waits[i]})
	}
	slices.Reverse(chain)
	return chain, nil
}

// Floats are how much worked time each activity of a load can begin later, or take longer unless it is done on one
// day, without the launch of one boat moving, while the order is kept: zero on the critical chain, [Never] for what
// the launch does not depend on. Of what takes no time they are clock time.
//
//	Formula: that of [CriticalPath] over links and handovers
func Floats(load *Load, s *Schedule, boat int) ([]Time, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	if err := load.checkBoat(boat); err != nil {
		return nil, err
	}
	r, err := net.ordered(s)
	if err != nil {
		return nil, err
	}
	// backwards from one launch alone: what no way leads to it from stays without a limit
	latest := make([]Time, len(net.order)) // finish
	for i := range latest {
		latest[i] = Never
	}
	launch := load.Boats[boat].Launch
	latest[launch] = s.Finish[launch]
	floats := make([]Time, len(net.order))
	for k := len(r.order) - 1; k >= 0; k-- {
		i := r.order[k]
		if floats[i] = Never; latest[i] == Never {
			continue
		}
		floats[i] = net.between(i, s.Finish[i], latest[i])
		if net.fixed[i] {
			continue // it does not move, whatever comes before it
		}
		start := net.latestStart(i, latest[i])
		for _, a := range r.before[i] {
			latest[a.other] = min(latest[a.other], start-a.min)
		}
	}
	return floats, nil
}
