package plan

import (
	"cmp"
	"fmt"
	"slices"
)

// block finds which activities must be placed together: whatever lies between the two ends of a window or of a holding.
// Were only a part of a mould's work in the schedule, nobody could say when the mould is free for the next boat; and
// what comes too late for a window moves all that leads to it.
//
// They are the strong components of the network in which windows and holdings also lead backwards. Each component is a
// block, and the blocks have no circle.
//
// Source: cycle structures, M. Bartusch, R. H. Möhring, F. J. Radermacher, Scheduling project networks with resource
// constraints and time windows, Annals of Operations Research 16 (1988), 201-240; components, R. Tarjan, SIAM Journal
// on Computing 1 (1972), 146-160. From memory.
func (net *network) block() {
	n := len(net.before)
	back := make([][]int, n)
	for i := range net.before {
		for _, a := range net.before[i] {
			if a.max < Never {
				back[i] = append(back[i], a.other)
			}
		}
	}
	for _, h := range net.load.Holdings {
		if h.From != h.To {
			back[h.To] = append(back[h.To], h.From)
		}
	}
	t := &components{net: net, back: back, index: make([]int, n), low: make([]int, n), open: make([]bool, n)}
	net.node = make([]int, n)
	// components come out with those that nothing comes after first; nobody reads that order
	for i := range n {
		if t.index[i] == 0 {
			t.visit(i)
		}
	}
}

// components is the state of the search for blocks.
type components struct {
	net        *network
	back       [][]int
	index, low []int // index from 1 on
	open       []bool
	stack      []int
	count      int
}

func (t *components) visit(i int) {
	t.count++
	t.index[i], t.low[i], t.open[i] = t.count, t.count, true
	t.stack = append(t.stack, i)
	next := func(j int) {
		if t.index[j] == 0 {
			t.visit(j)
			t.low[i] = min(t.low[i], t.low[j])
		} else if t.open[j] {
			t.low[i] = min(t.low[i], t.index[j])
		}
	}
	for _, a := range t.net.after[i] {
		next(a.other)
	}
	for _, j := range t.back[i] {
		next(j)
	}
	if t.low[i] != t.index[i] {
		return
	}
	var members []int
	for {
		j := t.stack[len(t.stack)-1]
		t.stack = t.stack[:len(t.stack)-1]
		t.open[j] = false
		t.net.node[j] = len(t.net.members)
		members = append(members, j)
		if j == i {
			break
		}
	}
	t.net.members = append(t.net.members, members)
}

// checkHoldings finds holdings that end with what does not come after their begin.
func (net *network) checkHoldings() error {
	for i, h := range net.load.Holdings {
		if h.From == h.To || net.node[h.From] == net.node[h.To] || net.fixed[h.To] {
			continue
		}
		return fmt.Errorf("reading holding %d of a load: %.60q is held from %s until %s, which does not come after "+
			"it; add the link", i, net.load.Holders[h.Holder].Title, net.load.place(h.From), net.load.place(h.To))
	}
	return nil
}

// checkWindows finds windows that no schedule can keep, since what lies between the two ends takes longer even where
// every shop is always open and nobody waits for anybody. All of that lies in the block of the two.
//
//	Formula: the longest way from the finish of one activity to the start of another, over durations and lags
//	Source:  longest paths in the order of a network without circles, as in [CriticalPath]
func (net *network) checkWindows() error {
	rank := ranks(net.order)
	way := make([]Time, len(net.order)) // from the finish of the first end; -1 where no way leads to it
	for _, members := range net.members {
		if len(members) == 1 {
			continue
		}
		slices.SortFunc(members, func(x, y int) int { return cmp.Compare(rank[x], rank[y]) })
		for _, to := range members {
			for _, w := range net.before[to] {
				if w.max == Never || net.fixed[w.other] {
					continue
				}
				if net.ways(members, w.other, way); way[to] > w.max {
					return fmt.Errorf("reading %s: it starts at most %d quarter-hours after %s, but what is done "+
						"between the two takes %d; widen the window or change the order", net.load.place(to),
						w.max, net.load.place(w.other), way[to])
				}
			}
		}
	}
	return nil
}

// ways computes the longest way from one activity of a block to each of the others. The block stands in the order of
// the network.
func (net *network) ways(members []int, from int, way []Time) {
	for _, i := range members {
		way[i] = -1
	}
	for _, i := range members {
		for _, a := range net.before[i] {
			switch {
			case a.other == from:
				way[i] = max(way[i], a.min)
			case net.node[a.other] == net.node[i] && way[a.other] >= 0:
				way[i] = max(way[i], way[a.other]+net.length[a.other]+a.min)
			}
		}
	}
}
