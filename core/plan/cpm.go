package plan

// Network is a load as if there were people and places enough: when each activity can be done, and must be.
type Network struct {
	EarlyStart, EarlyFinish []Time
	LateStart, LateFinish   []Time // with which the boat ends no later than it has to
	// Float is how much worked time an activity can begin later without delay of the end of its boat, Free how much
	// without delay of any other activity. Of what takes no time they are clock time.
	Float, Free []Time
	Ends        []Time // by boat: the last finish of its activities
}

// Critical says whether an activity has no float.
func (n *Network) Critical(activity int) bool { return n.Float[activity] <= 0 }

// CriticalPath is the critical path method: forwards each activity as early as its predecessors, its calendar and its
// release let it, backwards from the end of each boat as late as its successors let it. It knows neither people nor
// places, and keeps no window's latest.
//
//	Formula: ES = max(EF of predecessors + lag), EF = ES + d; LF = min(LS of successors - lag), LS = LF - d;
//	         float = LS - ES; free = min(ES of successors - lag) - EF
//	Valid:   a network without circles
//	Source:  J. E. Kelley, M. R. Walker, Critical-path planning and scheduling, Eastern Joint Computer Conference
//	         1959; B. W. Taylor, Introduction to Management Science, chapter 8
func CriticalPath(load *Load) (*Network, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	r := &Network{Ends: make([]Time, len(load.Boats))}
	r.EarlyStart, r.EarlyFinish = net.forward()
	for i, f := range r.EarlyFinish {
		boat := load.Activities[i].Boat
		r.Ends[boat] = max(r.Ends[boat], f)
	}
	r.LateStart, r.LateFinish = net.backward(r.Ends)
	// what has no successor is free until its boat ends
	r.Float, r.Free = make([]Time, len(net.order)), make([]Time, len(net.order))
	for i, f := range r.EarlyFinish {
		r.Float[i] = net.between(i, f, r.LateFinish[i])
		next := r.Ends[load.Activities[i].Boat]
		for _, a := range net.after[i] {
			next = min(next, r.EarlyStart[a.other]-a.min)
		}
		r.Free[i] = net.between(i, f, next)
	}
	return r, nil
}

// between is how much worked time an activity that is finished at a moment can begin later without being finished after
// another.
func (net *network) between(i int, finish, until Time) Time {
	if net.length[i] == 0 {
		return until - finish
	}
	c, length := net.clock[i], net.length[i]
	return net.upTo(i, c.Worked(until)-length, length) - (c.Worked(finish) - length)
}

// latestStart is the latest moment before which an activity can wait for others and still be finished at a moment.
func (net *network) latestStart(i int, until Time) Time {
	if net.length[i] == 0 {
		return until
	}
	c := net.clock[i]
	return c.Begin(net.upTo(i, c.Worked(until)-net.length[i], net.length[i]))
}

// forward gives the earliest times.
func (net *network) forward() (start, finish []Time) {
	start, finish = make([]Time, len(net.order)), make([]Time, len(net.order))
	for _, i := range net.order {
		if net.fixed[i] {
			start[i], finish[i] = net.start[i], net.finish[i]
			continue
		}
		at := net.floor[i]
		for _, a := range net.before[i] {
			at = max(at, finish[a.other]+a.min)
		}
		start[i], finish[i] = net.at(i, at, net.length[i])
	}
	return start, finish
}

// at is when an activity of some length is done that does not begin before a moment.
func (net *network) at(i int, at, length Time) (start, finish Time) {
	if length == 0 {
		return at, at
	}
	c := net.clock[i]
	worked := net.from(i, c.Worked(at), length)
	return c.Begin(worked), c.End(worked + length)
}

// backward gives the latest times with which no boat ends after its moment of the list.
func (net *network) backward(ends []Time) (start, finish []Time) {
	start, finish = make([]Time, len(net.order)), make([]Time, len(net.order))
	for k := len(net.order) - 1; k >= 0; k-- {
		i := net.order[k]
		at := ends[net.load.Activities[i].Boat]
		for _, a := range net.after[i] {
			at = min(at, start[a.other]-a.min)
		}
		start[i], finish[i] = net.latestStart(i, at), at
	}
	return start, finish
}
