package plan

import (
	"cmp"
	"slices"
)

// How often a block is taken out and placed anew: while its windows must be kept, and until it is given up.
const (
	triesInWindows = 300
	triesInAll     = 2000
)

// builder makes schedules from lists: serial generation. Each activity in turn gets the earliest place that is left, in
// gaps too. It keeps its memory from one schedule to the next.
type builder struct {
	net           *network
	start, finish []Time
	worked        []Time // of the calendar before the start
	floor         []Time
	placed        []bool
	shops         []profile
	holders       []profile
	rank          []int    // of an activity in the list
	inBlock       []int    // activities of the block that is being placed, in the order of their placing
	seen          []bool   // in inBlock
	late          []Breach // windows that were not kept
	stuck         int      // an activity that found no place; [None]
	inTurn        bool     // the people of a resource begin their activities in the order of their placing
}

// newBuilder is a builder for a network, which it does not change.
func newBuilder(net *network) *builder {
	n := len(net.order)
	b := &builder{net: net, start: make([]Time, n), finish: make([]Time, n), worked: make([]Time, n),
		floor: make([]Time, n), placed: make([]bool, n), rank: make([]int, n), seen: make([]bool, n)}
	b.shops, b.holders = make([]profile, len(net.shops)), make([]profile, len(net.holders))
	return b
}

// reset leaves what is fixed alone in the schedule.
func (b *builder) reset(list []int, floor []Time) {
	for k := range b.shops {
		b.shops[k].copyFrom(&b.net.shops[k])
	}
	for k := range b.holders {
		b.holders[k].copyFrom(&b.net.holders[k])
	}
	copy(b.placed, b.net.fixed)
	copy(b.start, b.net.start)
	copy(b.finish, b.net.finish)
	copy(b.floor, floor)
	for k, i := range list {
		b.rank[i] = k
	}
	b.late, b.stuck = b.late[:0], None
}

// build makes the schedule of a list of all activities, in any order: what an activity waits for is placed before it.
// Nothing starts before its floor. It says whether everything found a place; stuck tells what did not.
func (b *builder) build(list []int, floor []Time) bool {
	b.reset(list, floor)
	if !b.buildEarly() {
		return false
	}
	for _, i := range list {
		if !b.place(i) {
			return false
		}
	}
	return true
}

// buildEarly places the blocks that hold something from before the load begins, which others wait for. One of them may
// wait for what another holds: they are tried until none gets further.
func (b *builder) buildEarly() bool {
	open := slices.Clone(b.net.early)
	slices.SortStableFunc(open, func(x, y int) int { return cmp.Compare(b.first(x), b.first(y)) })
	for len(open) > 0 {
		left := open[:0:0]
		for _, node := range open {
			if !b.place(b.net.members[node][0]) {
				left = append(left, node)
			}
		}
		if len(left) == len(open) {
			return false
		}
		open = left
	}
	b.stuck = None
	return true
}

// first is the rank of the first activity of a block.
func (b *builder) first(node int) int {
	least := len(b.rank)
	for _, i := range b.net.members[node] {
		least = min(least, b.rank[i])
	}
	return least
}

// place puts an activity into the schedule with its block, after all that these wait for.
func (b *builder) place(i int) bool {
	node := b.net.node[i]
	members := b.net.members[node]
	if b.complete(members) {
		return true
	}
	for _, m := range members {
		for _, a := range b.net.before[m] {
			if !b.placed[a.other] && b.net.node[a.other] != node && !b.place(a.other) {
				return false
			}
		}
	}
	if len(members) == 1 && len(b.net.closes[i]) == 0 {
		if !b.put(i) {
			b.stuck = i
			return false
		}
		b.checkWindows(i)
		return true
	}
	return b.placeBlock(node)
}

// complete says whether a block is in the schedule. What is fixed in it has always been.
func (b *builder) complete(members []int) bool {
	for _, m := range members {
		if !b.placed[m] {
			return false
		}
	}
	return true
}

// put places one activity whose predecessors are placed, at the earliest moment at which all that it needs is free.
func (b *builder) put(i int) bool {
	net := b.net
	at := b.floor[i]
	for _, a := range net.before[i] {
		at = max(at, b.finish[a.other]+a.min)
	}
	clock, length := net.clock[i], net.length[i]
	if b.inTurn && length > 0 {
		turn, _ := b.turn(i, len(b.placed))
		at = max(at, turn)
	}
	demands := net.load.Activities[i].Demands
	worked := clock.Worked(at)
	// what was free for one need may not be for the next: round and round until all agree. Each round goes forward in
	// time, and behind the last reservation everything is free
	for again := true; again; {
		again = false
		for k := 0; k < len(demands) && length > 0; k++ {
			free := b.shops[demands[k].Resource].fit(worked, length, demands[k].Units)
			if free == Never {
				return false
			}
			if free > worked && k > 0 {
				k = -1 // the others have to be free then too
			}
			worked = free
		}
		if day := net.from(i, worked, length); day > worked && length > 0 {
			worked, again = day, true
			continue
		}
		if length > 0 {
			at = clock.Begin(worked)
		}
		// the place of a holding that goes on beyond this activity is looked at here as far as it is known
		for _, h := range net.during[i] {
			end, blocked := b.holders[h].blocked(at, max(at+1, net.finishOf(i, worked, at)), 1)
			if end == Never {
				return false
			}
			if blocked {
				at, worked, again = end, clock.Worked(end), true
			}
		}
	}
	b.start[i], b.finish[i], b.worked[i], b.placed[i] = at, net.finishOf(i, worked, at), worked, true
	b.occupy(i, -1)
	return true
}

// occupy takes what an activity needs, with -1, or gives it back, with 1.
func (b *builder) occupy(i, sign int) {
	for _, d := range b.net.load.Activities[i].Demands {
		b.shops[d.Resource].add(b.worked[i], b.worked[i]+b.net.length[i], sign*d.Units)
	}
	for _, h := range b.net.whole[i] {
		b.holders[h].add(b.start[i], b.finish[i], sign)
	}
}

// list puts the activities of a block in the order of their placing: after their predecessors, otherwise as in the
// list.
func (b *builder) list(node int) {
	// the list may have them in an order against the links: a visit places what comes before first
	members := slices.Clone(b.net.members[node])
	slices.SortFunc(members, func(x, y int) int { return cmp.Compare(b.rank[x], b.rank[y]) })
	b.inBlock = b.inBlock[:0]
	var visit func(i int)
	visit = func(i int) {
		if b.placed[i] || b.seen[i] {
			return
		}
		b.seen[i] = true
		for _, a := range b.net.before[i] {
			if b.net.node[a.other] == node {
				visit(a.other)
			}
		}
		b.inBlock = append(b.inBlock, i)
	}
	for _, i := range members {
		visit(i)
	}
	for _, i := range b.inBlock {
		b.seen[i] = false
	}
}

// placeBlock places activities that are tied to each other. Where one comes too late for its window, or a place is
// taken before the boat leaves it, the earlier end has to begin later: all are taken out, and placed anew from there.
//
// Source: unscheduling, Franck, Neumann, Schwindt 2001.
func (b *builder) placeBlock(node int) bool {
	b.list(node)
	// what is raised here holds for this block in this schedule, not for the next one
	floors := make([]Time, len(b.inBlock))
	for k, i := range b.inBlock {
		floors[k] = b.floor[i]
	}
	defer func() {
		for k, i := range b.inBlock {
			b.floor[i] = floors[k]
		}
	}()
	for try := range triesInAll {
		// after many tries windows are given up, so that the boat is planned and the breach can be read
		bad, again := b.tryBlock(try < triesInWindows)
		switch {
		case bad == None:
			b.close()
			return true
		case !again:
			b.stuck = bad
			b.takeOut()
			return false
		}
		b.takeOut()
	}
	b.stuck = b.inBlock[0]
	return false
}

// takeOut takes a block out of the schedule.
func (b *builder) takeOut() {
	for _, i := range b.inBlock {
		if b.placed[i] {
			b.occupy(i, 1)
			b.placed[i] = false
		}
	}
}

// tryBlock places the activities of a block. Where that does not go well it names the activity that does not fit; again
// says that a floor was raised, so that it may go better.
func (b *builder) tryBlock(windows bool) (bad int, again bool) {
	for _, i := range b.inBlock {
		if !b.put(i) {
			return i, false
		}
		for _, a := range b.net.before[i] {
			if windows && b.start[i]-a.max > b.finish[a.other] && b.delay(a.other, b.start[i]-a.max) {
				return i, true
			}
		}
		for _, h := range b.net.closes[i] {
			// what is fixed has its place already, as long as it needs it
			until := b.finish[i]
			if b.net.fixed[h.other] {
				continue
			}
			if end, blocked := b.holders[h.holder].blocked(b.start[h.other], until, 1); blocked && end < Never {
				b.floor[h.other] = end
				return i, true
			} else if blocked {
				return i, false
			}
		}
	}
	return None, false
}

// delay raises the floor of an activity so far that it is not finished before a moment. What is fixed cannot be
// delayed.
func (b *builder) delay(i int, until Time) bool {
	if b.net.fixed[i] {
		return false
	}
	b.floor[i] = b.net.startFor(i, b.net.length[i], until)
	return true
}

// close takes the holdings of a block that is in the schedule, and notes the windows that are not kept.
func (b *builder) close() {
	for _, i := range b.inBlock {
		for _, h := range b.net.closes[i] {
			if b.net.fixed[h.other] {
				b.holders[h.holder].add(b.finish[i], Never, 1)
			} else {
				b.holders[h.holder].add(b.start[h.other], b.finish[i], -1)
			}
		}
		b.checkWindows(i)
	}
}

// checkWindows notes those of an activity that are not kept.
func (b *builder) checkWindows(i int) {
	for _, a := range b.net.before[i] {
		if over := b.start[i] - a.max - b.finish[a.other]; over > 0 {
			b.late = append(b.late, Breach{i, a.other, over})
		}
	}
}
