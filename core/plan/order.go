package plan

import (
	"cmp"
	"slices"
)

// use is some units of something that an activity had last: or several that began before the load did, and had to share
// them.
type use struct {
	by    []int
	units int
	until Time
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
	// starts and finishes put all in one order in which no handover can lead back
	f := &flow{net: net, start: start, finish: finish, order: list}
	for r := range net.load.Resources {
		f.resource(r)
	}
	for h := range net.load.Holders {
		f.holder(h)
	}
	return f.found
}

// flow follows people and places from one activity to the next.
type flow struct {
	net           *network
	start, finish []Time
	order         []int // of activities in time
	found         []Handover
}

// resource follows the people of a shop.
func (f *flow) resource(r int) {
	uses := []use{{nil, f.net.load.Resources[r].Capacity, -Never}}
	for _, i := range f.order {
		for _, d := range f.net.load.Activities[i].Demands {
			if d.Resource == r {
				uses = f.take(uses, i, i, d.Units, Handover{To: i, Resource: r, Holder: None})
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
	uses := []use{{nil, f.net.load.Holders[h].Units, -Never}}
	for _, g := range holdings {
		uses = f.take(uses, g.From, g.To, 1, Handover{To: g.From, Resource: None, Holder: h})
	}
}

// take hands units over to an activity, until the end of the same or another one, and gives all uses after that. What
// is fixed and finds too few shares those of others.
func (f *flow) take(uses []use, to, last, units int, h Handover) []use {
	if !f.net.fixed[to] && h.Holder == None && f.net.length[to] == 0 {
		return f.share(uses, f.idle(uses, to), to, units, &h)
	}
	got := 0
	for _, k := range f.idle(uses, to) {
		if got == units {
			break
		}
		n := min(units-got, uses[k].units)
		got += n
		uses[k].units -= n
		if !f.net.fixed[to] {
			f.hand(uses[k].by, h)
		}
	}
	taken := use{[]int{last}, got, f.finish[last]}
	if f.net.fixed[to] {
		uses = f.share(uses, nil, last, units-got, nil)
	}
	return slices.DeleteFunc(append(uses, taken), func(u use) bool { return u.units == 0 })
}

// share has an activity stand beside those that had some units last, first those of a list: who comes after has to
// wait for all of them. So it is with what takes no time yet: while it does not it stands in nobody's way, and when it
// does it waits for those before it, who hand over to it.
func (f *flow) share(uses []use, first []int, to, units int, h *Handover) []use {
	order := slices.Clone(first)
	for k := range uses {
		if !slices.Contains(first, k) {
			order = append(order, k)
		}
	}
	rest := order[len(first):]
	slices.SortStableFunc(rest, func(x, y int) int { return cmp.Compare(uses[x].until, uses[y].until) })
	for _, k := range order {
		n := min(units, uses[k].units)
		if n == 0 {
			continue
		}
		units -= n
		uses[k].units -= n
		if h != nil {
			f.hand(uses[k].by, *h)
		}
		uses = append(uses, use{append(slices.Clone(uses[k].by), to), n, max(uses[k].until, f.finish[to])})
	}
	return slices.DeleteFunc(uses, func(u use) bool { return u.units == 0 })
}

// hand notes who has something before the one that has it now.
func (f *flow) hand(by []int, h Handover) {
	for _, from := range by {
		h.From = from
		f.found = append(f.found, h)
	}
}

// idle are the uses that are over when an activity starts, by index: first those that it waits for anyway, then the
// last.
func (f *flow) idle(uses []use, to int) []int {
	// an arc beside a link costs nothing: the two are tied to each other anyway
	waits := func(u use) int {
		for _, a := range f.net.before[to] {
			if slices.Contains(u.by, a.other) {
				return 0
			}
		}
		return 1
	}
	list := make([]int, 0, len(uses))
	for k, u := range uses {
		if u.until <= f.start[to] {
			list = append(list, k)
		}
	}
	slices.SortStableFunc(list, func(x, y int) int {
		return cmp.Or(cmp.Compare(waits(uses[x]), waits(uses[y])), cmp.Compare(uses[y].until, uses[x].until))
	})
	return list
}
