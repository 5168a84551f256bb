package fit

import (
	"container/heap"
	"slices"
)

// DefaultTries is how many boats Complete looks at before it gives up.
const DefaultTries = 400

// Outcome says how far a completion is known to be the best.
type Outcome string

const (
	Nearest   Outcome = "nearest"    // no boat with the choices has fewer soft slots that differ from what they hold by themselves
	Near      Outcome = "near"       // it can be built; whether another is nearer was not tried out
	Hopeless  Outcome = "impossible" // no boat with the choices can be built: every way was tried
	NoneFound Outcome = "none found" // within the tries
)

// Complete fills the soft slots: each with what it holds by itself (the standard build of the hull), and where that clashes, with the fewest
// deviations that do not. Where there is no such boat, or none within the tries, the best one seen comes back with its clashes.
func (f *Fit) Complete(hull int, use []float64, c Choices, tries int) *Build {
	return f.completed(f.newBoat(hull, use, c), tries, f.newExplanations())
}

// completed searches from the boat whose soft slots are as they are by themselves.
func (f *Fit) completed(root *boat, tries int, why *explanations) *Build {
	s := search{fit: f, tries: tries, why: why, seen: map[string]bool{}}
	found, outcome := s.nearest(root)
	return &Build{Choices: root.choices, State: found.live.State, Clashes: found.clashes(), Outcome: outcome, root: root}
}

// search looks for the valid boat with the fewest deviations.
//
// It branches over what a clash reads. A valid boat has to differ, in some slot that the clash reads, from the boat that clashes, so that a branch for
// each content of each of these slots misses none; and fewest deviations first, the first valid boat is a nearest. A clash that reads no soft slot
// cannot be resolved by any, and is set aside; a branch without a soft slot left is dead. When the branches are at an end, there is no valid boat.
// Source: the bounded search tree of hitting-set problems, a textbook method.
type search struct {
	fit   *Fit
	why   *explanations
	tries int
	seen  map[string]bool
	open  frontier
	aside []fault // clashes that read no soft slot
	cut   bool    // something was left untried
	best  *node
}

// node is a boat on the way.
type node struct {
	boat   *boat
	faults []fault
	order  int
}

func (a *node) before(b *node) bool {
	if d := len(a.boat.deviations) - len(b.boat.deviations); d != 0 {
		return d < 0
	}
	if d := len(a.faults) - len(b.faults); d != 0 {
		return d < 0
	}
	return a.order < b.order
}

// frontier is a heap of boats yet to be changed.
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

func (s *search) nearest(root *boat) (*boat, Outcome) {
	root.judge(true)
	for _, x := range root.faults(true) {
		if !s.soft(root, x) {
			s.aside = append(s.aside, x)
		}
	}
	valid := s.look(root)
	for valid == nil && len(s.open) > 0 && s.tries > 0 {
		valid = s.expand(heap.Pop(&s.open).(*node))
	}
	switch {
	case valid == nil && len(s.open) > 0 || valid == nil && s.cut:
		return s.best.boat, NoneFound
	case valid == nil || len(s.aside) > 0:
		return s.best.boat, Hopeless
	case s.cut:
		return valid, Near
	}
	return valid, Nearest
}

// soft says whether a clash reads a slot that may be changed.
func (s *search) soft(b *boat, x fault) bool {
	return slices.ContainsFunc(s.why.of(b, x).slots, func(slot int) bool { return !b.choices.Settled[slot] })
}

// look judges a boat: first without the modules, which take longest. A boat that clashes is put on the frontier.
func (s *search) look(b *boat) (valid *boat) {
	s.tries--
	b.judge(false)
	faults := s.resolvable(b.faults(false))
	if len(faults) == 0 {
		b.judge(true)
		faults = s.resolvable(b.faults(true))
	}
	n := &node{b, faults, len(s.seen)}
	if s.best == nil || len(faults) < len(s.best.faults) {
		s.best = n
	}
	if len(faults) == 0 {
		return b
	}
	heap.Push(&s.open, n)
	return nil
}

func (s *search) resolvable(faults []fault) []fault {
	return slices.DeleteFunc(faults, func(x fault) bool { return slices.Contains(s.aside, x) })
}

// widest is over how many slots a clash is resolved that reads many, as those over the mass of the boat do: the ones that carry most come first.
const widest = 8

// expand tries every other content of every soft slot that the narrowest clash reads.
func (s *search) expand(n *node) (valid *boat) {
	narrow, reach := s.narrowest(n)
	left := widest
	for _, slot := range reach.slots {
		if n.boat.choices.Settled[slot] || !n.boat.open[slot] {
			continue
		}
		if left--; left < 0 {
			s.cut = true
			return nil
		}
		for _, d := range s.fit.alternatives(n.boat, narrow, reach, slot) {
			if s.tries <= 0 {
				s.cut = true
				return nil
			}
			if key := keyOf(n.boat.deviations, d); !s.seen[key] {
				s.seen[key] = true
				if valid = s.look(n.boat.deviate(d)); valid != nil {
					return valid
				}
			}
		}
	}
	return nil
}

// narrowest is the clash that reads the fewest slots that are still to deviate: its branches are the fewest.
func (s *search) narrowest(n *node) (narrow fault, reach touches) {
	least := -1
	for _, x := range n.faults {
		r := s.why.of(n.boat, x)
		left := 0
		for _, slot := range r.slots {
			if !n.boat.choices.Settled[slot] && n.boat.open[slot] && (s.fit.pack.Slots[slot].Several || n.boat.deviation(slot, -1) == nil) {
				left++
			}
		}
		if least < 0 || left < least {
			narrow, reach, least = x, r, left
		}
	}
	return narrow, reach
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
		key = append(key, byte(d.slot), byte(d.slot>>8), byte(d.option), byte(d.option>>8), byte(d.option>>16), byte(d.count))
	}
	return string(key)
}

// alternatives are the other contents of a soft slot that may resolve a clash. A slot, or one option of a slot of several, deviates once.
func (f *Fit) alternatives(b *boat, x fault, reach touches, slot int) (list []deviation) {
	def, st := &f.pack.Slots[slot], b.live.State
	if def.Several {
		for o := def.First; o < def.End; o++ {
			if !f.made[o][st.HullID] || b.deviation(slot, o) != nil || !(slices.Contains(reach.options, o) || x.kind == TooFew || x.kind == TooMany) {
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
	now := -1
	for o := def.First; o < def.End; o++ {
		if st.Counts[o] > 0 {
			now = o
		}
	}
	if def.Least == 0 && now >= 0 && !f.alike(x, now, -1) {
		list = append(list, deviation{slot, -1, 0})
	}
	for o := def.First; o < def.End; o++ {
		if o != now && f.made[o][st.HullID] && !f.alike(x, now, o) {
			list = append(list, deviation{slot, o, 1})
		}
	}
	return list
}
