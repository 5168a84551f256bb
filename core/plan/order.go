package plan

import (
	"cmp"
	"slices"
)

// use is some units of something that an activity had last.
type use struct {
	activity, units int
	until           Time
}

// handovers are the order of a schedule: for every person and place, who has it after whom. Units go first to who waits
// for their last user anyway, then from those that are free the shortest time, so that few activities depend on each
// other that did not before.
//
// Source: resource flow, C. Artigues, P. Michelon, S. Reusser, Insertion techniques for static and dynamic
// resource-constrained project scheduling, European Journal of Operational Research 149 (2003), 249-267. From memory.
func (net *network) handovers(start, finish []Time) []Handover {
	rank := ranks(net.order)
	list := make([]int, len(start))
	for i := range list {
		list[i] = i
	}
	slices.SortFunc(list, func(i, j int) int {
		return cmp.Or(cmp.Compare(start[i], start[j]), cmp.Compare(finish[i], finish[j]), cmp.Compare(rank[i], rank[j]))
	})
	f := &flow{net: net, start: start, finish: finish, order: list}
	for r := range net.load.Resources {
		f.resource(r)
	}
	for h := range net.load.Holders {
		f.holder(h)
	}
	return f.found
}

type flow struct {
	net           *network
	start, finish []Time
	order         []int // of activities in time
	found         []Handover
}

// resource follows the people of a shop.
func (f *flow) resource(r int) {
	idle := []use{{None, f.net.load.Resources[r].Capacity, -Never}}
	for _, i := range f.order {
		for _, d := range f.net.load.Activities[i].Demands {
			if d.Resource == r {
				idle = f.take(idle, i, d.Units, f.finish[i], Handover{To: i, Resource: r, Holder: None})
			}
		}
	}
}

// holder follows a place. Who has it from before the load begins comes first, since the sort is by start.
func (f *flow) holder(h int) {
	var holdings []Holding
	for _, g := range f.net.load.Holdings {
		if g.Holder == h {
			holdings = append(holdings, g)
		}
	}
	rank := ranks(f.order)
	slices.SortStableFunc(holdings, func(x, y Holding) int { return cmp.Compare(rank[x.From], rank[y.From]) })
	idle := []use{{None, f.net.load.Holders[h].Units, -Never}}
	for _, g := range holdings {
		idle = f.take(idle, g.From, 1, f.finish[g.To], Handover{To: g.From, Resource: None, Holder: h})
		idle[len(idle)-1].activity = g.To // it gives the place free
	}
}

// take hands units over to an activity, and gives what is idle then or later. What is fixed may find too few: it has them
// all the same.
func (f *flow) take(idle []use, to, units int, until Time, h Handover) []use {
	waits := func(u use) bool {
		return u.activity != None && slices.ContainsFunc(f.net.before[to], func(a arc) bool { return a.other == u.activity })
	}
	order := make([]int, 0, len(idle))
	for k, u := range idle {
		if u.until <= f.start[to] {
			order = append(order, k)
		}
	}
	slices.SortStableFunc(order, func(x, y int) int {
		if wx, wy := waits(idle[x]), waits(idle[y]); wx != wy {
			if wx {
				return -1
			}
			return 1
		}
		return cmp.Compare(idle[y].until, idle[x].until)
	})
	got := 0
	for _, k := range order {
		if got == units {
			break
		}
		n := min(units-got, idle[k].units)
		got += n
		idle[k].units -= n
		if idle[k].activity != None && !f.net.fixed[to] {
			h.From = idle[k].activity
			f.found = append(f.found, h)
		}
	}
	idle = slices.DeleteFunc(idle, func(u use) bool { return u.units == 0 })
	return append(idle, use{to, got, until})
}
