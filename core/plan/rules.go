package plan

import (
	"cmp"
	"slices"
)

// rule gives each activity a key: of those that could be placed next, the one with the least key is. Which rule does
// best differs from load to load, so that all are tried.
//
// Sources: latest finish and least slack, E. W. Davis, J. H. Patterson, A comparison of heuristic and optimum solutions
// in resource-constrained project scheduling, Management Science 21 (1975); latest start, positional weight and total
// successors, R. Alvarez-Valdés, J. M. Tamarit 1989, as compared by Kolisch 1996; shortest activity of the shortest
// project, I. Kurtulus, E. W. Davis, Multi-project scheduling, Management Science 28 (1982); earliest due date,
// J. R. Jackson 1955. From memory.
type rule struct {
	boats bool // it tells nothing of a load with one boat
	keys  func(f *facts) []Time
}

// facts are what rules read.
type facts struct {
	net                            *network
	early, earlyEnd, late, lateEnd []Time
	successors, weight, nextWeight []Time
	promised                       []Time // latest finish where other boats have all the time that there is
	boats                          []Time // latest end of each boat
	work                           []Time // of each boat
}

// rules are tried in this order.
var rules = []rule{
	{false, func(f *facts) []Time { return f.lateEnd }}, // latest finish
	{true, func(f *facts) []Time { return f.promised }}, // promised boats first, then latest finish
	{false, func(f *facts) []Time { return f.late }},    // latest start
	// least slack
	{false, func(f *facts) []Time { return f.each(func(i int) Time { return f.late[i] - f.early[i] }) }},
	// greatest rank positional weight: with those right after it
	{false, func(f *facts) []Time { return f.each(func(i int) Time { return -f.nextWeight[i] }) }},
	// most work after it
	{false, func(f *facts) []Time { return f.each(func(i int) Time { return -f.weight[i] }) }},
	// most successors
	{false, func(f *facts) []Time { return f.each(func(i int) Time { return -f.successors[i] }) }},
	{false, func(f *facts) []Time { return f.early }},      // earliest start
	{false, func(f *facts) []Time { return f.net.length }}, // shortest
	// longest
	{false, func(f *facts) []Time { return f.each(func(i int) Time { return -f.net.length[i] }) }},
	// the boat that is due first
	{true, func(f *facts) []Time { return f.each(func(i int) Time { return f.boats[f.boat(i)] }) }},
	// the boat with the least work left
	{true, func(f *facts) []Time { return f.each(func(i int) Time { return f.work[f.boat(i)] }) }},
}

// boat is that of an activity.
func (f *facts) boat(i int) int { return f.net.load.Activities[i].Boat }

// each makes keys of what a rule says of one activity.
func (f *facts) each(key func(i int) Time) []Time {
	list := make([]Time, len(f.net.order))
	for i := range list {
		list[i] = key(i)
	}
	return list
}

// newFacts works them out. The latest end of a promised boat is its promise, of another its end without scarcity; the
// sum over successors counts one that is reached by two ways twice, which costs a rule little and saves a square of the
// load.
func newFacts(net *network) *facts {
	n, l := len(net.order), net.load
	f := &facts{net: net, boats: make([]Time, len(l.Boats)), work: make([]Time, len(l.Boats)),
		successors: make([]Time, n), weight: make([]Time, n), nextWeight: make([]Time, n)}
	f.early, f.earlyEnd = net.forward()
	for i, end := range f.earlyEnd {
		f.boats[f.boat(i)] = max(f.boats[f.boat(i)], end)
		if !net.fixed[i] {
			f.work[f.boat(i)] += net.length[i]
		}
	}
	for k := range l.Boats {
		if b := &l.Boats[k]; b.Promised() {
			f.boats[k] = b.Due
		}
	}
	f.late, f.lateEnd = net.backward(f.boats)
	ends := slices.Clone(f.boats)
	for k := range l.Boats {
		if !l.Boats[k].Promised() {
			ends[k] = maxMoment
		}
	}
	_, f.promised = net.backward(ends)
	for k := n - 1; k >= 0; k-- {
		i := net.order[k]
		f.weight[i], f.nextWeight[i] = net.length[i], net.length[i]
		for _, a := range net.after[i] {
			f.successors[i] = min(f.successors[i]+f.successors[a.other]+1, maxLength)
			f.weight[i] = min(f.weight[i]+f.weight[a.other], Never/4)
			f.nextWeight[i] += net.length[a.other]
		}
	}
	return f
}

// ordered is a list of all activities: each after its predecessors, of those that could come next the one with the
// least key; of equals, the one that has to be finished first.
func (f *facts) ordered(keys []Time) []int {
	waits := make([]int, len(keys))
	var open heap
	less := func(i, j int) bool {
		if c := cmp.Or(cmp.Compare(keys[i], keys[j]), cmp.Compare(f.lateEnd[i], f.lateEnd[j])); c != 0 {
			return c < 0
		}
		return i < j
	}
	for i := range keys {
		if waits[i] = len(f.net.before[i]); waits[i] == 0 {
			open.push(i, less)
		}
	}
	list := make([]int, 0, len(keys))
	for len(open) > 0 {
		i := open.pop(less)
		list = append(list, i)
		for _, a := range f.net.after[i] {
			if waits[a.other]--; waits[a.other] == 0 {
				open.push(a.other, less)
			}
		}
	}
	return list
}

// heap is a binary heap of activities, the least on top. The order between two of them is given with each call, since
// it is another for each rule.
type heap []int

func (h *heap) push(i int, less func(i, j int) bool) {
	*h = append(*h, i)
	for k := len(*h) - 1; k > 0 && less((*h)[k], (*h)[(k-1)/2]); k = (k - 1) / 2 {
		(*h)[k], (*h)[(k-1)/2] = (*h)[(k-1)/2], (*h)[k]
	}
}

func (h *heap) pop(less func(i, j int) bool) int {
	top, last := (*h)[0], len(*h)-1
	(*h)[0] = (*h)[last]
	*h = (*h)[:last]
	for k := 0; 2*k+1 < last; {
		child := 2*k + 1
		if child+1 < last && less((*h)[child+1], (*h)[child]) {
			child++
		}
		if !less((*h)[child], (*h)[k]) {
			break
		}
		(*h)[k], (*h)[child] = (*h)[child], (*h)[k]
		k = child
	}
	return top
}

// byStart is the list of a schedule: activities as they begin, of equals in the order of another list.
func byStart(start []Time, rank []int) []int {
	list := make([]int, len(start))
	for i := range list {
		list[i] = i
	}
	slices.SortFunc(list, func(i, j int) int {
		return cmp.Or(cmp.Compare(start[i], start[j]), cmp.Compare(rank[i], rank[j]))
	})
	return list
}
