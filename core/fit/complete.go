package fit

import (
	"container/heap"
	"encoding/binary"
	"slices"
)

// DefaultTries is how many boats [Fit.Complete] judges before it gives up. More are not worth their time: of what is
// open then, clauses prove more than 3000 tries do, and these hardly anything that clauses leave open.
const DefaultTries = 150

// Status says what is proved of a completion, whichever search found it.
type Status string

const (
	Infeasible Status = "infeasible" // no boat with the choices can be built
	Optimal    Status = "optimal"    // it can be built, and no valid boat with the choices changes fewer default slots
	Feasible   Status = "feasible"   // it can be built; whether another changes fewer is not known
	Unknown    Status = "unknown"    // none was found within the effort, and nothing is proved
)

// Complete fills the soft slots: each with its default (the standard build of the hull), and where that clashes, with
// the fewest deviations that do not. Where there is no such boat, or none within the tries, the best one seen comes
// back with its clashes. It is the first of two strategies, which answers most questions in the shortest time; see
// [Fit.CompleteDeep].
func (f *Fit) Complete(hull int, use []float64, c Choices, tries int) *Build {
	return f.Search(Question{Hull: hull, Use: use, Choices: c}, tries)
}

// Search is [Fit.Complete] for a question that may be under other rules than those of the book. Its explanations are
// its own and forgotten with it; who completes many boats of one hull and use shares them.
func (f *Fit) Search(q Question, tries int) *Build {
	return f.completed(f.newBoat(q), tries, f.newExplanations())
}

// CompleteFrom is [Fit.Complete] of other choices for the hull and the use of a build, and gives the same boat. It
// costs what differs from the build, so that many boats with one other option each cost no more than they differ.
func (f *Fit) CompleteFrom(b *Build, c Choices, tries int) *Build {
	return f.completed(b.root.with(c), tries, f.newExplanations())
}

// completed searches from the boat whose soft slots are as they are by themselves, and leaves it as it is.
func (f *Fit) completed(root *boat, tries int, why *explanations) *Build {
	found, status := f.nearest(root, root, tries, why)
	return &Build{Choices: root.choices, State: found.live.State, Clashes: found.clashes(), Status: status,
		root: root}
}

// search looks for the valid boat with the fewest deviations.
//
// It branches over what a clash reads. A valid boat has to differ, in some slot that the clash reads, from the boat
// that clashes, so that a branch for each content of each of these slots misses none; and fewest deviations first, the
// first valid boat is a nearest. A clash that reads no soft slot cannot be resolved by any, and is set aside; a branch
// without a soft slot left is dead. When the branches are at an end, there is no valid boat.
// Source: the bounded search tree of hitting-set problems, a textbook method.
//
// One boat goes from node to node: a copy for each would cost as much as the whole book is large, and going costs what
// differs.
type search struct {
	fit    *Fit
	boat   *boat
	stays  *boat // not to be moved; a copy is moved in its stead
	why    *explanations
	tries  int
	wholes int // boats that modules may compute; 0 for as many as there are tries
	seen   map[string]bool
	open   frontier
	aside  []fault // clashes that read no slot that may change
	others []fault // clashes of the root that are left to others
	cut    bool    // something was left untried
	best   *node

	lenient bool                        // what modules cannot compute is left to others
	only    []fault                     // clashes of the root that count, and narrow ones beside them; nil for all
	takes   bitset                      // slots that took part, where wanted
	rules   bitset                      // those that count; nil for all
	met     bitset                      // rules that clashed on the way, where wanted
	hear    func(fault)                 // of what clashes, where wanted
	visit   func(b *boat) (enough bool) // the boat is moved on when it returns; who keeps it, clones it
}

// node is a boat on the way. It holds no boat, only the way to one: the boat of the search is moved there when the turn
// comes. A frontier of a thousand nodes is then some kilobytes.
type node struct {
	deviations []deviation
	faults     []fault
	cost       int
	order      int
}

// cost counts changes: one of what is settled weighs more than all of what is soft together.
func (b *boat) cost() int {
	cost := 0
	for _, d := range b.deviations {
		if b.choices.Settled[d.slot] {
			cost += settledCost
		} else {
			cost++
		}
	}
	return cost
}

// More than any number of soft deviations that a search of some thousand boats comes to, so that repairs change the
// fewest choices and only then the fewest other slots.
const settledCost = 1 << 16

// before orders the frontier: by cost, which makes the first valid boat a nearest one; then by how much still clashes,
// since fewer clashes mostly end sooner; then by age, so that nothing is left to chance.
func (a *node) before(b *node) bool {
	if d := a.cost - b.cost; d != 0 {
		return d < 0
	}
	if d := len(a.faults) - len(b.faults); d != 0 {
		return d < 0
	}
	return a.order < b.order
}

// frontier is a heap of boats yet to be changed. It is of container/heap, as its five methods ask.
type frontier []*node

func (f frontier) Len() int           { return len(f) }
func (f frontier) Less(i, j int) bool { return f[i].before(f[j]) }
func (f frontier) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)        { *f = append(*f, x.(*node)) }
func (f *frontier) Pop() any {
	old := *f
	last := old[len(old)-1]
	*f = old[:len(old)-1]
	return last
}

// nearest gives the boat of the search, moved to the nearest valid one, or else to the best that was seen. The status
// says what was proved. Infeasible: some clash reads no slot that may change, or the tree came to its end. Optimal: a
// valid boat was found before anything was left untried, and nothing cheaper waits. Everything else was cut short.
func (s *search) nearest(root *boat) (*boat, Status) {
	valid := false
	s.each(root, func(*boat) (enough bool) {
		valid = true
		return true
	})
	if !valid || len(s.aside) > 0 {
		s.move(s.best.deviations)
	}
	switch {
	case len(s.aside) > 0: // whatever was left untried
		return s.boat, Infeasible
	case !valid && s.cut:
		return s.boat, Unknown
	case !valid:
		return s.boat, Infeasible
	case s.cut:
		return s.boat, Feasible
	}
	return s.boat, Optimal
}

// move takes the boat to other deviations.
func (s *search) move(to []deviation) {
	if slices.Equal(s.boat.deviations, to) {
		return
	}
	if s.boat == s.stays {
		s.boat = s.boat.clone()
	}
	s.boat.move(to)
}

// each visits the valid boats, nearest first, until a visit has enough; what deviates further from a valid boat is not
// looked at. Clashes that nothing soft can mend are put aside and the search goes on without them: there is no valid
// boat then, but the best one is still worth showing.
func (s *search) each(root *boat, visit func(b *boat) (enough bool)) {
	s.boat = root
	root.judge(s.only == nil)
	if s.only != nil {
		s.others = slices.DeleteFunc(root.faults(false), func(x fault) bool { return slices.Contains(s.only, x) })
	}
	for _, x := range s.resolvable(root.faults(s.only == nil)) {
		if !s.soft(root, x) {
			s.aside = append(s.aside, x)
		}
	}
	s.visit = visit
	s.explore(root.deviations)
}

// explore looks at the boats that follow from one, the cheapest first, until a visit has enough. A valid boat waits in
// the frontier like any other until nothing cheaper is left: only then is it known to be a nearest.
func (s *search) explore(from []deviation) {
	done := s.look(from, 0)
	for !done && len(s.open) > 0 {
		switch n := heap.Pop(&s.open).(*node); {
		case len(n.faults) == 0:
			s.move(n.deviations)
			done = s.visit(s.boat)
		case s.tries > 0:
			done = s.expand(n)
		default:
			s.cut = true
		}
	}
}

// soft says whether a clash reads a slot that may be changed.
func (s *search) soft(b *boat, x fault) bool {
	return slices.ContainsFunc(s.why.of(b, x).slots, func(slot int) bool { return !b.fixed(slot) })
}

// look goes to a boat and judges it: first without the modules, which take longest. A boat goes to the frontier if it
// clashes, or if there may be a nearer one: floor is the least that those cost that are still to be looked at beside
// it.
func (s *search) look(at []deviation, floor int) (done bool) {
	s.tries--
	s.move(at)
	b := s.boat
	b.judge(false)
	faults := s.resolvable(b.faults(false))
	if len(faults) == 0 && s.only == nil {
		if s.wholes--; s.wholes == 0 {
			s.tries = 0
		}
		faults = s.whole(b)
	}
	n := &node{at, faults, b.cost(), len(s.seen)}
	if s.best == nil || len(faults) < len(s.best.faults) {
		s.best = n
	}
	// Nothing that waits, here or in the frontier, can be nearer: it need not wait itself.
	if len(faults) == 0 && n.cost <= floor && (len(s.open) == 0 || n.cost <= s.open[0].cost) {
		return s.visit(b)
	}
	heap.Push(&s.open, n)
	return false
}

// whole are the clashes of a boat whose narrow rules hold. The heavy modules take longer than all others together: they
// are left out where what clashes without them is enough to branch over, and too much for the best boat that was seen.
// Nothing passes as valid without them.
func (s *search) whole(b *boat) []fault {
	if s.best != nil {
		light, _ := b.lightFaults()
		if light = s.resolvable(light); len(light) > 0 && len(light) >= len(s.best.faults) {
			return light
		}
	}
	b.judge(true)
	return s.resolvable(b.faults(true))
}

// counted leaves out the rules that do not count, and notes those that do. They are noted before anything is put aside,
// because a reason has to know of all that clashed.
func (s *search) counted(faults []fault) []fault {
	if s.only != nil {
		faults = slices.DeleteFunc(faults,
			func(x fault) bool { return !s.boat.narrow(x) || slices.Contains(s.others, x) })
	}
	if s.rules != nil {
		faults = slices.DeleteFunc(faults, func(x fault) bool { return x.kind == Broken && !s.rules.has(x.index) })
	}
	if s.hear != nil {
		for _, x := range faults {
			s.hear(x)
		}
	}
	if s.met != nil {
		for _, x := range faults {
			if x.kind == Broken {
				s.met.add(x.index)
			}
		}
	}
	return faults
}

// resolvable leaves out what was put aside at the root: no branch mends it, and it would hide that all else is mended.
func (s *search) resolvable(faults []fault) []fault {
	return slices.DeleteFunc(s.counted(faults),
		func(x fault) bool { return s.lenient && x.kind == Unsound || slices.Contains(s.aside, x) })
}

// widest is over how many slots a clash is resolved that reads many, as those over the mass of the boat do: the ones
// that carry most come first.
const widest = 8

// expand tries every other content of every soft slot that the narrowest clash reads. One clash is enough: a valid boat
// must differ from this one in a slot that it reads, whatever else is wrong. The same set of deviations is reached by
// many ways and looked at once.
func (s *search) expand(n *node) (done bool) {
	s.move(n.deviations)
	branches, all := s.branches(n)
	for _, d := range branches {
		if s.tries <= 0 {
			s.cut = true
			return false
		}
		if key := keyOf(n.deviations, d); !s.seen[key] {
			if s.seen == nil {
				s.seen = map[string]bool{}
			}
			s.seen[key] = true
			if s.look(append(slices.Clip(n.deviations), d), n.cost+1) {
				return true
			}
		}
	}
	s.cut = s.cut || !all
	return false
}

// branches are the deviations that may resolve the narrowest clash of the node at which the boat is; all is false where
// it reads more slots than are tried. A slot that is not there has nothing to change; only where the clash is that
// something stands in it, emptying it is a way out.
func (s *search) branches(n *node) (list []deviation, all bool) {
	narrow, deps := s.narrowest(n)
	if s.takes != nil {
		for _, slot := range deps.slots {
			if !s.boat.fixed(slot) {
				s.takes.add(slot)
			}
		}
	}
	left := widest
	for _, slot := range deps.slots {
		if s.boat.fixed(slot) || !s.boat.open[slot] && narrow != (fault{Closed, slot}) {
			continue
		}
		if left--; left < 0 {
			return list, false
		}
		list = append(list, s.fit.alternatives(s.boat, narrow, deps, slot)...)
	}
	return list, true
}

// narrowest is the clash that reads the fewest slots that are still to deviate: its branches are the fewest. Which
// clash is taken changes only how long it takes, not what is found: every one of them has to be mended. Of the same
// number the first in the order of the boat is taken.
func (s *search) narrowest(n *node) (narrow fault, deps dependencies) {
	least := -1
	for _, x := range s.boat.narrowFirst(n.faults) {
		if least >= 0 && s.boat.wide(x) {
			break // it takes long to explain, and there is a narrow one
		}
		r := s.why.of(s.boat, x)
		left := 0
		for _, slot := range r.slots {
			if !s.boat.fixed(slot) && s.boat.open[slot] &&
				(s.fit.pack.Slots[slot].Multiple || s.boat.deviation(slot, -1) == nil) {
				left++
			}
		}
		if least < 0 || left < least {
			narrow, deps, least = x, r, left
		}
	}
	return narrow, deps
}

// narrowFirst puts the clashes that need no explanation before those that do.
func (b *boat) narrowFirst(faults []fault) []fault {
	list := slices.Clone(faults)
	slices.SortStableFunc(list, func(a, c fault) int {
		switch wa, wb := b.wide(a), b.wide(c); {
		case wa == wb:
			return 0
		case wb:
			return -1
		}
		return 1
	})
	return list
}

// keyOf tells sets of deviations apart, whatever their order.
func keyOf(list []deviation, d deviation) string {
	all := append(slices.Clone(list), d)
	slices.SortFunc(all, func(a, b deviation) int {
		if a.slot != b.slot {
			return a.slot - b.slot
		}
		return a.option - b.option
	})
	key := make([]byte, 0, 6*len(all))
	for _, d := range all {
		key = appendNumbers(key, d.slot, d.option+1, d.count)
	}
	return string(key)
}

// appendNumbers writes numbers of zero and more into a key, each as long as it has to be: two keys are the same only
// where all their numbers are, however large these get.
func appendNumbers(key []byte, numbers ...int) []byte {
	for _, n := range numbers {
		key = binary.AppendUvarint(key, uint64(n))
	}
	return key
}

// alternatives are the other contents of a soft slot that may resolve a clash. A slot, or one option of a slot of
// multiple, deviates once. That is no loss: the deviation holds the content itself, so that a second one of the same
// slot would be another first one. Contents that the clash cannot tell from the present one cannot mend it and are left
// out; so are, in a slot of multiple, options that it does not read.
func (f *Fit) alternatives(b *boat, x fault, deps dependencies, slot int) (list []deviation) {
	def, st := &f.pack.Slots[slot], b.live.State
	if x == (fault{Closed, slot}) { // it is settled, and may be set aside
		return f.emptying(b, slot)
	}
	if def.Multiple {
		for o := def.First; o < def.End; o++ {
			if !f.made[o][st.HullID] || b.deviation(slot, o) != nil ||
				!(slices.Contains(deps.options, o) || x.kind == TooFew || x.kind == TooMany) {
				continue
			}
			now, most := st.Counts[o], f.pack.Options[o].Most
			for by := 1; by <= max(now, most-now); by++ { // the nearest first
				for _, n := range []int{now + by, now - by} {
					if n >= 0 && n <= most {
						list = append(list, deviation{slot, o, n})
					}
				}
			}
		}
		return list
	}
	if b.deviation(slot, -1) != nil {
		return nil
	}
	now, mixed := -1, st.Slots[slot] > 1 // which a careless file may have in a slot of one
	for o := def.First; o < def.End && !mixed; o++ {
		if st.Counts[o] > 0 {
			now = o
		}
	}
	if def.Least == 0 && st.Slots[slot] > 0 && (mixed || !b.alike(x, now, -1)) {
		list = append(list, deviation{slot, -1, 0})
	}
	for o := def.First; o < def.End; o++ {
		if f.made[o][st.HullID] && (mixed || o != now && !b.alike(x, now, o)) {
			list = append(list, deviation{slot, o, 1})
		}
	}
	return list
}

// emptying are the deviations that take out what stands in a slot.
func (f *Fit) emptying(b *boat, slot int) (list []deviation) {
	def := &f.pack.Slots[slot]
	if !def.Multiple && b.deviation(slot, -1) == nil {
		return []deviation{{slot, -1, 0}}
	}
	for o := def.First; o < def.End; o++ {
		if def.Multiple && b.live.State.Counts[o] > 0 && b.deviation(slot, o) == nil {
			list = append(list, deviation{slot, o, 0})
		}
	}
	return list
}
