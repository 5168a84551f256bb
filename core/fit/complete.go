package fit

import (
	"container/heap"
	"slices"

	"ribband/core/figures"
	"ribband/core/formula"
)

// DefaultTries is how many boats Complete looks at before it gives up.
const DefaultTries = 600

// Complete fills the soft slots: with the standard build of the hull where that goes with what is settled, otherwise with
// what goes. Where nothing is found within the tries, the best boat seen comes back with its clashes.
func (f *Fit) Complete(hull int, use []float64, c Choices, tries int) *Build {
	st := figures.NewState(f.pack, hull, use)
	copy(st.Counts, c.Counts)
	for _, n := range f.pack.Hulls[hull].Standard {
		s := f.pack.Options[n.Option].Slot
		if !c.Settled[s] && f.made[n.Option][hull] {
			st.Counts[n.Option] = n.Count
		}
	}
	s := search{fit: f, choices: c, tries: tries, seen: map[string]bool{}}
	s.add(st, 0)
	return &Build{Choices: c, State: s.best().state, Clashes: s.found.clashes}
}

// search is a best-first search over fillings of the soft slots: fewest clashes first, then fewest changes, then the
// order in which they were found.
type search struct {
	fit     *Fit
	choices Choices
	tries   int
	seen    map[string]bool
	open    frontier
	found   *filling
}

// filling is one boat on the way.
type filling struct {
	state   *formula.State
	clashes []Clash
	changes int
	order   int
}

func (a *filling) before(b *filling) bool {
	if len(a.clashes) != len(b.clashes) {
		return len(a.clashes) < len(b.clashes)
	}
	if a.changes != b.changes {
		return a.changes < b.changes
	}
	return a.order < b.order
}

// frontier is a heap of fillings yet to be changed.
type frontier []*filling

func (f frontier) Len() int           { return len(f) }
func (f frontier) Less(i, j int) bool { return f[i].before(f[j]) }
func (f frontier) Swap(i, j int)      { f[i], f[j] = f[j], f[i] }
func (f *frontier) Push(x any)        { *f = append(*f, x.(*filling)) }
func (f *frontier) Pop() any {
	old := *f
	last := old[len(old)-1]
	*f = old[:len(old)-1]
	return last
}

// best runs the search and gives the best filling.
func (s *search) best() *filling {
	for len(s.open) > 0 && s.tries > 0 && len(s.found.clashes) > 0 {
		s.expand(heap.Pop(&s.open).(*filling))
	}
	return s.found
}

// add settles what follows by itself, judges the boat and puts it on the frontier.
func (s *search) add(st *formula.State, changes int) {
	s.tries--
	s.fit.normalise(st, s.choices.Settled)
	key := key(st.Counts)
	if s.seen[key] {
		return
	}
	s.seen[key] = true
	f := &filling{st, s.fit.judge(st), changes, len(s.seen)}
	heap.Push(&s.open, f)
	if s.found == nil || f.before(s.found) {
		s.found = f
	}
}

func key(counts []int) string {
	b := make([]byte, len(counts))
	for i, n := range counts {
		b[i] = byte(min(n, 255))
	}
	return string(b)
}

// expand tries every other content of every soft slot that the first resolvable clash reads.
func (s *search) expand(f *filling) {
	for _, c := range f.clashes {
		slots := s.softSlots(c)
		for _, slot := range slots {
			s.alternatives(f, c, slot)
			if s.tries <= 0 || len(s.found.clashes) == 0 {
				return
			}
		}
		if len(slots) > 0 {
			return
		}
	}
}

func (s *search) softSlots(c Clash) []int {
	return slices.DeleteFunc(slices.Clone(s.fit.touchedBy(c).slots), func(slot int) bool { return s.choices.Settled[slot] })
}

// touchedBy is what could be changed to resolve a clash.
func (f *Fit) touchedBy(c Clash) touches {
	switch c.Kind {
	case Broken:
		return f.rules[c.Index].touches
	case Closed:
		return f.slots[c.Index].touches
	case TooFew:
		return touches{slots: []int{c.Index}}
	}
	return touches{}
}

// alternatives tries the other contents of one soft slot: each other option and nothing, or in a slot of several one more
// or one less of each option that the clash names.
func (s *search) alternatives(f *filling, c Clash, slot int) {
	def := &s.fit.pack.Slots[slot]
	if def.Several {
		for _, o := range s.fit.touchedBy(c).options {
			if n := f.state.Counts[o]; s.fit.pack.Options[o].Slot == slot {
				if n < s.fit.pack.Options[o].Most {
					s.try(f, slot, o, n+1, false)
				}
				if n > 0 {
					s.try(f, slot, o, n-1, false)
				}
			}
		}
		return
	}
	if def.Least == 0 && f.state.Slots[slot] > 0 {
		s.try(f, slot, def.First, 0, true)
	}
	for o := def.First; o < def.End; o++ {
		if f.state.Counts[o] == 0 {
			s.try(f, slot, o, 1, true)
		}
	}
}

func (s *search) try(f *filling, slot, option, count int, alone bool) {
	if s.tries <= 0 || count > 0 && !s.fit.made[option][f.state.HullID] {
		return
	}
	st := clone(f.state)
	if alone {
		s.fit.clear(st, slot)
	}
	s.fit.set(st, option, count)
	s.add(st, f.changes+1)
}

func clone(st *formula.State) *formula.State {
	c := *st
	c.Counts, c.Slots, c.Figures = slices.Clone(st.Counts), slices.Clone(st.Slots), slices.Clone(st.Figures)
	return &c
}

func (f *Fit) set(st *formula.State, option, count int) {
	slot := f.pack.Options[option].Slot
	st.Slots[slot] += count - st.Counts[option]
	st.Counts[option] = count
}

func (f *Fit) clear(st *formula.State, slot int) {
	def := &f.pack.Slots[slot]
	for o := def.First; o < def.End; o++ {
		st.Counts[o] = 0
	}
	st.Slots[slot] = 0
}

// normalise empties soft slots that do not exist on this boat and fills those that must hold something, until nothing
// changes; conditions of slots may read other slots, so it goes round, but not for ever.
func (f *Fit) normalise(st *formula.State, settled []bool) {
	for i := range st.Slots {
		st.Slots[i] = 0
	}
	for o, n := range st.Counts {
		st.Slots[f.pack.Options[o].Slot] += n
	}
	const rounds = 8
	for range rounds {
		f.figures.Fill(st)
		changed := false
		for i := range f.slots {
			if !settled[i] {
				changed = f.normaliseSlot(st, i) || changed
			}
		}
		if !changed {
			return
		}
	}
}

func (f *Fit) normaliseSlot(st *formula.State, i int) (changed bool) {
	open := f.slots[i].hulls[st.HullID] && (f.slots[i].when == nil || f.slots[i].when(st))
	if !open {
		if st.Slots[i] == 0 {
			return false
		}
		f.clear(st, i)
		return true
	}
	if st.Slots[i] >= f.pack.Slots[i].Least {
		return false
	}
	for _, n := range f.pack.Hulls[st.HullID].Standard {
		if f.pack.Options[n.Option].Slot == i && f.made[n.Option][st.HullID] {
			f.set(st, n.Option, n.Count)
		}
	}
	def := &f.pack.Slots[i]
	for o := def.First; o < def.End && st.Slots[i] < def.Least; o++ {
		if f.made[o][st.HullID] {
			f.set(st, o, max(st.Counts[o], min(f.pack.Options[o].Most, st.Counts[o]+def.Least-st.Slots[i])))
		}
	}
	return st.Slots[i] > 0
}
