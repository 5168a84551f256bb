package fit

import (
	"cmp"
	"math"
	"slices"

	"ribband/core/formula"
)

// space are what a search knows of one hull. It is made once for a task and shared by all its searches
// ([Optimizer.Again]): hulls, prices and tried slots are the same for every wish.
type space struct {
	optimizer *Optimizer
	root      *boat   // with the cheapest contents
	slots     []int   // the tried ones
	contents  [][]int // by tried slot: options, -1 for nothing; the cheapest first
	follow    []bool  // by slot: may follow the tried ones
	opening   []int   // slots that follow, and whose condition decides whether they are there
	loose     []bool  // by slot: tried or following
	fixed     int64   // price of the base boat and the slots that neither are tried nor follow, at the least
}

// newSpace prepares a hull: the standard build for the use first, which all other slots hold, then the slots that may
// follow the tried ones, and at last the boat of the cheapest contents, from which every branch starts.
func (opt *Optimizer) newSpace(hull int) *space {
	f, t := opt.fit, &opt.task
	g := &space{optimizer: opt, follow: make([]bool, len(f.slots)), loose: make([]bool, len(f.slots))}
	root := f.newBoat(Question{Hull: hull, Use: t.Use, Choices: t.Choices})
	st := opt.standard(root).live.State
	for s := range f.slots {
		if def := &f.pack.Slots[s]; t.Tried[s] && !def.Multiple && !t.Choices.Settled[s] && f.slots[s].hulls[hull] {
			g.slots, g.loose[s] = append(g.slots, s), true
		}
	}
	g.closeOver(root.live.State, st)
	for _, s := range g.slots {
		g.contents = append(g.contents, g.contentsOf(s, st))
	}
	c := f.NewChoices()
	for s := range f.slots {
		def := &f.pack.Slots[s]
		if c.Settled[s] = !g.follow[s]; c.Settled[s] && !g.loose[s] {
			copy(c.Counts[def.First:def.End], st.Counts[def.First:def.End])
		}
		if g.follow[s] && f.slots[s].when != nil {
			g.opening = append(g.opening, s)
		}
	}
	for i, s := range g.slots {
		c.Settled[s] = true
		if o := g.contents[i][0]; o >= 0 {
			c.Counts[o] = 1
		}
	}
	g.root = f.newBoat(Question{Hull: hull, Use: t.Use, Choices: c})
	g.fixed = t.Prices.Least(-1, st, g.loose)
	for o, n := range st.Counts {
		if n > 0 && f.made[o][hull] && !g.loose[f.pack.Options[o].Slot] {
			g.fixed += int64(n) * t.Prices.Least(o, st, g.loose)
		}
	}
	return g
}

// standard is the standard build for the use, with what was chosen: as a boat is by itself, but for what clashes by a
// narrow rule.
func (opt *Optimizer) standard(root *boat) *boat {
	s := opt.following(root, DefaultTries)
	b, _ := s.nearest(root)
	return b
}

// following is a search from a boat, which it leaves as it is, that knows narrow rules only. What modules cannot
// compute is not for it to mend.
func (opt *Optimizer) following(root *boat, tries int) search {
	return search{fit: opt.fit, why: opt.why, tries: tries, rules: opt.narrow, lenient: true, stays: root}
}

// contentsOf are what may stand in a tried slot, the cheapest first. Nothing is among it where the slot may be closed.
func (g *space) contentsOf(slot int, st *formula.State) (list []int) {
	f := g.optimizer.fit
	def := &f.pack.Slots[slot]
	if def.Least == 0 || f.slots[slot].when != nil {
		list = append(list, -1)
	}
	for o := def.First; o < def.End; o++ {
		if f.made[o][st.HullID] {
			list = append(list, o)
		}
	}
	if len(list) == 0 {
		list = []int{-1} // and clashes
	}
	slices.SortStableFunc(list, func(a, b int) int {
		return cmp.Compare(g.price(a, st, g.loose),
			g.price(b, st, g.loose))
	})
	return list
}

// closeOver marks the slots that follow: those that share a violable narrow rule with a tried slot or with one that
// follows, transitively, and those that such slots open or close. Whatever the tried slots and those that follow may
// hold is looked at, the others with their default and with what they hold in the standard build for the use.
func (g *space) closeOver(states ...*formula.State) {
	f := g.optimizer.fit
	var reads formula.Reads
	g.optimizer.narrow.each(func(r int) { reads = reads.With(f.rules[r].reads) })
	for s := range f.slots {
		reads = reads.With(f.pack.Slots[s].When.Reads())
	}
	needed := f.figures.Needed(reads)
	for grown := true; grown; {
		grown = false
		for _, st := range states {
			g.optimizer.why.Bound(st, g.loose, needed)
			grown = g.grow(st) || grown
		}
	}
}

// grow adds the slots that follow, as far as the box tells. A rule that can never be broken, or never counts, within
// the bounds over what is loose so far ties nothing to anything.
func (g *space) grow(st *formula.State) (grown bool) {
	f, box := g.optimizer.fit, &g.optimizer.why.Box
	add := func(slots []int) {
		if !slices.ContainsFunc(slots, func(s int) bool { return g.loose[s] }) {
			return
		}
		for _, s := range slots {
			if !g.loose[s] && !g.optimizer.task.Choices.Settled[s] && f.slots[s].hulls[st.HullID] {
				g.loose[s], g.follow[s], grown = true, true, true
			}
		}
	}
	for s := range f.slots {
		if f.slots[s].when == nil {
			continue
		}
		tried := slices.Contains(g.slots, s) // which may be tried empty though open, and filled though closed
		if v, sound := f.pack.Slots[s].When.Judge(box); tried || !sound || v.MayHold && v.MayFail {
			add(f.slots[s].closure.slots)
		}
	}
	g.optimizer.narrow.each(func(i int) {
		r := &f.rules[i]
		when, sound := r.When.Judge(box)
		need, also := r.Need.Judge(box)
		if !sound || !also || when.MayHold && need.MayFail {
			add(r.closure().slots)
		}
	})
	return grown
}

// free says which slots the boats of a branch have open: the tried ones that are not decided, and those that follow.
func (g *space) free(b *branch) []bool {
	free := slices.Clone(g.follow)
	for i, s := range g.slots {
		free[s] = !b.decided[i]
	}
	return free
}

// boat is the boat of a branch before anything follows.
func (g *space) boat(b *branch) *boat {
	c := g.root.choices.Clone()
	f := g.optimizer.fit
	for i, s := range g.slots {
		def := &f.pack.Slots[s]
		clear(c.Counts[def.First:def.End])
		if o := g.contents[i][b.content[i]]; o >= 0 {
			c.Counts[o] = 1
		}
	}
	return g.root.with(c)
}

// price is the least price of a content of a tried slot: an option, or -1 for nothing.
func (g *space) price(o int, st *formula.State, free []bool) int64 {
	if o < 0 {
		return 0
	}
	return g.optimizer.task.Prices.Least(o, st, free)
}

// leastIn is the least price of what may stand in a tried slot.
func (g *space) leastIn(i int, st *formula.State, free []bool) int64 {
	least := int64(math.MaxInt64)
	for _, o := range g.contents[i] {
		least = min(least, g.price(o, st, free))
	}
	return least
}

// least is the bound of a branch, whose boat is in the state. It never lies above the price of a boat of the branch:
// each open slot costs at least its cheapest content, each that follows and must be filled its cheapest option; what
// can be closed costs nothing, or less by what a package saves. A higher bound would lose the cheapest boat, a lower
// one only time.
func (g *space) least(b *branch, st *formula.State) int64 {
	f, prices := g.optimizer.fit, g.optimizer.task.Prices
	free := g.free(b)
	sum := g.fixed
	for i := range g.slots {
		if b.decided[i] {
			sum += g.price(g.contents[i][b.content[i]], st, free)
		} else {
			sum += g.leastIn(i, st, free)
		}
	}
	box := &g.optimizer.why.Box
	g.optimizer.why.Bound(st, free, f.figures.Needed(formula.Reads{}))
	for s, follows := range g.follow {
		def := &f.pack.Slots[s]
		if !follows {
			continue
		}
		v, sound := def.When.Judge(box)
		empty := def.Least == 0 || f.slots[s].when != nil && (!sound || v.MayFail)
		least := int64(math.MaxInt64)
		for o := def.First; o < def.End; o++ {
			if f.made[o][st.HullID] {
				least = min(least, prices.Least(o, st, free))
			}
		}
		switch {
		case least == math.MaxInt64:
		case !empty:
			sum += least * int64(def.Least)
		case least < 0: // a package, of which there is one
			sum += least
		}
	}
	return sum
}

// found is a boat with the choices that give it. They are what the page puts into a link: completed there, they give
// this boat and no nearer one.
func (g *space) found(b *boat, net int64) *Found {
	f, t, st := g.optimizer.fit, &g.optimizer.task, b.live.State
	c := t.Choices.Clone()
	defaults := f.defaults[st.HullID]
	for s := range f.slots {
		def := &f.pack.Slots[s]
		if t.Choices.Settled[s] {
			continue
		}
		if now := st.Counts[def.First:def.End]; b.open[s] && !slices.Equal(now, defaults[def.First:def.End]) {
			c.Settled[s] = true
			copy(c.Counts[def.First:def.End], now)
		}
	}
	return &Found{Choices: c, State: st, Net: net}
}

// followTries bounds how many boats are looked at to find what goes with some contents of the tried slots.
const followTries = 300

// follow lets the slots that may follow. Where they cannot, part are the tried slots that took part in that; refuted is
// false where not all was tried. What took part is taken from every clash met on the way, so that a changed slot that
// could help is among it.
func (opt *Optimizer) follow(root *boat) (valid *boat, part []int, refuted bool) {
	f := opt.fit
	met := newBitset(len(f.slots))
	s := opt.following(root, followTries)
	s.boat = root
	s.hear = func(x fault) {
		for _, slot := range s.boat.closureOf(x).slots {
			met.add(slot)
		}
	}
	s.visit = func(b *boat) bool { valid = b; return true }
	s.explore(root.deviations)
	if valid != nil {
		valid.judge(true)
		return valid, nil, false
	}
	part = []int{}
	for i, slot := range opt.spaceOf(root).slots {
		if met.has(slot) {
			part = append(part, i)
		}
	}
	return nil, part, !s.cut
}

func (opt *Optimizer) spaceOf(b *boat) *space {
	i := slices.IndexFunc(opt.spaces, func(g *space) bool { return g.root.live.State.HullID == b.live.State.HullID })
	return opt.spaces[i]
}

// brokenAnyhow says that a wish is missed on every boat of a branch. Bounds over the branch say so without looking at
// any boat of it.
func (opt *Optimizer) brokenAnyhow(b *boat, r *rule, free []bool) bool {
	opt.why.Free(free)
	return opt.why.Broken(b.live.State, &r.Condition)
}

// explain finds open slots of a branch with whose contents a rule is broken whatever the others hold; known is false
// where that cannot be told from the open slots alone.
func (opt *Optimizer) explain(b *branch, boat *boat, r *rule, free []bool) (part []int, known bool) {
	g := b.space
	var open []int
	for i, s := range g.slots {
		if !b.decided[i] {
			open = append(open, s)
		}
	}
	few, known := opt.why.Few(free, open, func() bool { return opt.why.Broken(boat.live.State, &r.Condition) })
	if !known {
		return nil, false
	}
	part = []int{}
	for i, s := range g.slots {
		if slices.Contains(few, s) {
			part = append(part, i)
		}
	}
	return part, true
}
