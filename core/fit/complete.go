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

// widest is how many slots one clash is resolved over: a rule over computed figures reads nearly all, and the weighty ones stand first.
const widest = 8

// expand tries every other content of every soft slot that the first resolvable clash reads.
func (s *search) expand(f *filling) {
	for _, c := range f.clashes {
		t := s.fit.reach(c)
		t.slots = slices.DeleteFunc(t.slots, func(slot int) bool { return s.choices.Settled[slot] })
		t.slots = t.slots[:min(len(t.slots), widest)]
		for _, slot := range t.slots {
			s.alternatives(f, t, slot)
			if s.tries <= 0 || len(s.found.clashes) == 0 {
				return
			}
		}
		if len(t.slots) > 0 {
			return
		}
	}
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

// reach is what a clash touches, then what opens or closes the slots among it.
func (f *Fit) reach(c Clash) touches {
	t := f.touchedBy(c)
	t.slots, t.options = slices.Clone(t.slots), slices.Clone(t.options)
	for i := 0; i < len(t.slots); i++ {
		by := &f.slots[t.slots[i]].touches
		for _, s := range by.slots {
			if !slices.Contains(t.slots, s) {
				t.slots = append(t.slots, s)
			}
		}
		t.options = append(t.options, by.options...)
	}
	// A rule over computed figures reads nearly every slot by its mass. Those come first whose options carry most: a bank before a colour.
	slices.SortStableFunc(t.slots, func(a, b int) int { return f.slots[b].carries - f.slots[a].carries })
	return t
}

// alternatives tries the other contents of one soft slot: each other option and nothing, or in a slot of several one more
// or one less of each option that is named.
func (s *search) alternatives(f *filling, t touches, slot int) {
	def := &s.fit.pack.Slots[slot]
	if def.Several {
		for _, o := range t.options {
			if s.fit.pack.Options[o].Slot == slot {
				s.oneMore(f, o)
				s.oneLess(f, o)
			}
		}
		return
	}
	if def.Least == 0 && f.state.Slots[slot] > 0 {
		s.try(f, slot, true, add{def.First, 0})
	}
	for o := def.First; o < def.End; o++ {
		if f.state.Counts[o] == 0 {
			s.try(f, slot, true, add{o, 1})
		}
	}
}

// oneMore puts one more of an option into a slot of several; into a full one, in place of another.
func (s *search) oneMore(f *filling, o int) {
	slot := s.fit.pack.Options[o].Slot
	def := &s.fit.pack.Slots[slot]
	if def.Most == 0 || f.state.Slots[slot] < def.Most {
		s.try(f, slot, false, add{o, 1})
		return
	}
	for other := def.First; other < def.End; other++ {
		if other != o {
			s.try(f, slot, false, add{other, -1}, add{o, 1})
		}
	}
}

// oneLess takes one of an option out of a slot of several; where that must hold as many, another comes in its place.
func (s *search) oneLess(f *filling, o int) {
	slot := s.fit.pack.Options[o].Slot
	def := &s.fit.pack.Slots[slot]
	if f.state.Slots[slot] > def.Least {
		s.try(f, slot, false, add{o, -1})
		return
	}
	for other := def.First; other < def.End; other++ {
		if other != o {
			s.try(f, slot, false, add{o, -1}, add{other, 1})
		}
	}
}

// add is how many of an option come in.
type add struct{ option, count int }

// try makes a boat in which a slot holds more or less than in another, or, alone, nothing but what comes in.
func (s *search) try(f *filling, slot int, alone bool, adds ...add) {
	for _, a := range adds {
		n := a.count
		if !alone {
			n += f.state.Counts[a.option]
		}
		if s.tries <= 0 || n < 0 || n > s.fit.pack.Options[a.option].Most || a.count > 0 && !s.fit.made[a.option][f.state.HullID] {
			return
		}
	}
	st := clone(f.state)
	if alone {
		s.fit.clear(st, slot)
	}
	for _, a := range adds {
		s.fit.set(st, a.option, st.Counts[a.option]+a.count)
	}
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
		if f.plain {
			f.figures.FillPlain(st)
		} else {
			f.figures.Fill(st)
		}
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
