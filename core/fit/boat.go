package fit

import (
	"cmp"
	"slices"

	"ribband/core/figures"
)

// boat is a hull with options whose figures, open slots and rules are kept up to date: after a change only what reads
// it is judged anew. It is one of very many on the way of a search, so that a step has to cost what it changes and not
// what the book is large. A change runs through it in one direction: choices and deviations say which slots to fill
// (unfilled), filling sets options, options and figures mark conditions (dirty), conditions open slots, which are to be
// filled again; when that has come to rest, the rules that are dirty are judged, if somebody asks.
//
// Sets of conditions number those of the slots first, then the rules of the book, then the one that a question adds.
type boat struct {
	fit            *Fit
	live           *figures.Incremental
	choices        Choices
	terms          *Terms      // nil: the rules of the book
	open           []bool      // by slot
	broken         bitset      // by rule
	dirty          bitset      // conditions to judge: of the slots, then the rules
	awake          bitset      // rules worth checking: dormant while no option of the guard is aboard
	unfilled       bitset      // slots whose content is to be looked at
	faulty         bitset      // slots with a fault of their own
	deviations     []deviation // of the slots that are not fixed
	loose          []bool      // settled slots that may deviate all the same; nil for none
	changedOptions []int       // options that were set, for who follows them
	followed       bool
}

// deviation is a slot whose content differs from its default, or from what is chosen: another option (-1: nothing), or
// in a slot of multiple another count of one option. A deviation names the content and not the step to it, so that a
// list of them is the same boat in whatever order it came about.
type deviation struct{ slot, option, count int }

// newBoat fills the slots of a hull as the choices have it, the soft ones with their default.
func (f *Fit) newBoat(q Question) *boat {
	b := f.blank(q)
	b.settle()
	return b
}

// blank is a boat with everything still to fill and judge. Rules with a guard start dormant: nothing is aboard yet, and
// setting an option wakes them.
func (f *Fit) blank(q Question) *boat {
	all := len(f.slots) + len(f.rules) + 1 // the last for what the terms add
	b := &boat{fit: f, live: f.figures.NewIncremental(figures.NewState(f.pack, q.Hull, q.Use)), choices: q.Choices,
		terms: q.Terms, open: make([]bool, len(f.slots)), broken: newBitset(len(f.rules) + 1),
		dirty: newBitset(all), awake: newBitset(all),
		unfilled: newBitset(len(f.slots)), faulty: newBitset(len(f.slots))}
	for i := range f.slots {
		b.open[i] = f.slots[i].hulls[q.Hull]
		b.awake.add(i)
		b.unfilled.add(i)
		if b.open[i] && f.slots[i].when != nil {
			b.dirty.add(i)
		}
	}
	for i := range f.rules {
		b.dirty.add(len(f.slots) + i)
		if f.rules[i].guard == nil {
			b.awake.add(len(f.slots) + i)
		}
	}
	b.markTerms()
	return b
}

// clone copies what a boat changes in place. Choices and deviations are shared: they are replaced as a whole and never
// changed, but by an evaluator, which has its own.
func (b *boat) clone() *boat {
	c := *b
	c.live = b.live.Clone()
	c.open, c.broken, c.dirty = slices.Clone(b.open), slices.Clone(b.broken), slices.Clone(b.dirty)
	c.awake, c.unfilled, c.faulty = slices.Clone(b.awake), slices.Clone(b.unfilled), slices.Clone(b.faulty)
	c.changedOptions = slices.Clone(b.changedOptions)
	return &c
}

// with is the boat of other choices, the soft slots at their default again. It costs what differs, since only these
// slots are filled anew; [Fit.Complete] of the same choices gives the same boat from nothing.
func (b *boat) with(c Choices) *boat {
	n := b.clone()
	for i := range b.fit.slots {
		def := &b.fit.pack.Slots[i]
		if c.Settled[i] != b.choices.Settled[i] ||
			!slices.Equal(c.Counts[def.First:def.End], b.choices.Counts[def.First:def.End]) {
			n.unfilled.add(i)
		}
	}
	n.choices = c
	n.move(nil)
	return n
}

// move gives the boat other deviations, in place. What it is follows from choices and deviations alone, whatever it was
// before. That is what lets a search go from any node to any other. Slots of both lists are filled anew: of the old one
// to take the deviation back, of the new one to have it; a slot that is in both and the same comes out as it was and
// sets nothing.
func (b *boat) move(to []deviation) {
	for _, d := range b.deviations {
		b.unfilled.add(d.slot)
	}
	for _, d := range to {
		b.unfilled.add(d.slot)
	}
	b.deviations = to
	b.refill()
}

// refill settles the boat after a change of choices or deviations. Conditions that read each other in a circle may
// settle otherwise from another boat, so that they start from nothing. Who follows the boat then hears of every option,
// and compares.
func (b *boat) refill() {
	if !b.fit.circular {
		b.settle()
		return
	}
	n := b.fit.blank(Question{Hull: b.live.State.HullID, Use: b.live.State.Use, Choices: b.choices, Terms: b.terms})
	n.deviations, n.loose, n.followed = b.deviations, b.loose, b.followed
	n.settle()
	for o := range n.live.State.Counts {
		if n.followed {
			n.changedOptions = append(n.changedOptions, o)
		}
	}
	*b = *n
}

// set changes an option, and marks what reads it or its slot. The figures that follow are computed later and mark what
// reads them in turn: several options of one step are one computation.
func (b *boat) set(option, count int) {
	b.live.Set(option, count)
	if b.followed {
		b.changedOptions = append(b.changedOptions, option)
	}
	b.mark(b.fit.reads.Option(option))
	b.mark(b.fit.reads.Slot(b.fit.pack.Options[option].Slot))
	b.wake(b.fit.guards.Option(option))
	b.wake(b.fit.guards.Slot(b.fit.pack.Options[option].Slot))
}

// mark has conditions judged anew.
func (b *boat) mark(conditions []int) {
	for _, i := range conditions {
		b.dirty.add(i)
	}
	b.markTerms()
}

// markTerms has the condition that the terms add judged anew: whatever has changed, since it is one.
func (b *boat) markTerms() {
	if b.terms != nil {
		b.dirty.add(len(b.fit.slots) + len(b.fit.rules))
	}
}

// changed hears of figures. Dormant rules are left out, whatever they read: what wakes one marks it, and it is judged
// then with the figures as they are.
func (b *boat) changed(figure int) {
	b.dirty.addBoth(b.fit.readers[figure], b.awake)
	b.markTerms()
}

// wake brings up to date which rules are dormant. What a rule reads itself marks it as dirty, so that this need not.
func (b *boat) wake(rules []int) {
	for _, r := range rules {
		if b.fit.rules[r].guard.Asleep(b.live.State) {
			b.awake.drop(len(b.fit.slots) + r)
		} else {
			b.awake.add(len(b.fit.slots) + r)
		}
	}
}

// settle fills the slots until nothing changes. Conditions of slots read other slots, so that it goes round: no oftener
// than there are slots, unless they read each other in a circle.
func (b *boat) settle() {
	// Each round settles at least one slot that depends on settled ones only, so that this is more than enough.
	rounds := len(b.fit.slots) + 1
	if b.fit.circular {
		// A circle may never come to rest. A boat is then what it is after so many rounds, the same every time.
		rounds = 8
	}
	for range rounds {
		b.unfilled.each(b.fill)
		// Modules take longest by far. Where no slot depends on them they wait until the boat is judged, which most
		// boats of a search are not: they break something simpler.
		if b.fit.plain {
			b.live.Run(b.changed)
		} else {
			b.live.RunAll(b.changed)
		}
		b.openSlots()
		if b.unfilled.empty() {
			return
		}
	}
}

// openSlots judges which slots there are. It goes by what the condition says now. A slot that opens or closes is filled
// in the next round, and marks whatever reads it then.
func (b *boat) openSlots() {
	b.dirty.each(func(i int) {
		if i >= len(b.fit.slots) {
			return
		}
		b.dirty.drop(i)
		if s := &b.fit.slots[i]; s.hulls[b.live.State.HullID] && s.when(b.live.State) != b.open[i] {
			b.open[i] = !b.open[i]
			b.unfilled.add(i)
			b.check(i)
		}
	})
}

// fill puts into a slot what stands there: what is chosen, or by itself, with the deviations. A slot that is not there
// holds nothing, unless it is settled. A settled one keeps what was chosen, which is a clash: the choice of a person is
// never dropped silently. A deviation wins over the default, not over what is fixed.
func (b *boat) fill(i int) {
	b.unfilled.drop(i)
	def, st := &b.fit.pack.Slots[i], b.live.State
	base := b.fit.defaults[st.HullID]
	if b.choices.Settled[i] {
		base = b.choices.Counts
	}
	fixed := b.fixed(i)
	var alone *deviation
	if !fixed && !def.Multiple {
		alone = b.deviation(i, -1)
	}
	for o := def.First; o < def.End; o++ {
		n := base[o]
		switch {
		case fixed:
		case !b.open[i] && !b.choices.Settled[i], alone != nil && alone.option != o:
			n = 0
		case alone != nil:
			n = alone.count
		case def.Multiple:
			if d := b.deviation(i, o); d != nil {
				n = d.count
			}
		}
		if st.Counts[o] != n {
			b.set(o, n)
		}
	}
	b.check(i)
}

// check notes whether a slot has a fault of its own. The faults themselves are listed anew when somebody asks: to know
// which slots to look at is what saves time.
func (b *boat) check(i int) {
	b.faulty.drop(i)
	if len(b.slotFaults(nil, i)) > 0 {
		b.faulty.add(i)
	}
}

// fixed says that a slot must hold what is chosen for it. For repairs choices are loose: they may be changed, at a
// price (see node.cost).
func (b *boat) fixed(slot int) bool {
	return b.choices.Settled[slot] && (b.loose == nil || !b.loose[slot])
}

// deviation finds that of a slot, in a slot of multiple that of an option; -1 for whichever.
func (b *boat) deviation(slot, option int) *deviation {
	for i := range b.deviations {
		if d := &b.deviations[i]; d.slot == slot && (option < 0 || d.option == option) {
			return d
		}
	}
	return nil
}

// judge brings the rules up to date; those over figures of modules only if whole. A rule that is not judged stays
// dirty, for the time when somebody needs the whole. So a search can turn a boat down by what is quick, and the modules
// compute only what passes that.
func (b *boat) judge(whole bool) {
	if whole {
		b.live.RunAll(b.changed)
	}
	b.judgeRules(func(r *rule) bool { return whole || !r.computed })
}

// lightFaults judges a boat but for the heavy modules and their rules, and lists what clashes then. Sound is false, and
// nothing listed, where some of the modules cannot compute.
func (b *boat) lightFaults() (list []fault, sound bool) {
	if !b.live.RunLight(b.changed) {
		return nil, false
	}
	light := func(r *rule) bool { return !r.heavy }
	b.judgeRules(light)
	return b.faultsOf(false, light), true
}

// judgeRules brings those of the rules up to date that can be judged.
func (b *boat) judgeRules(can func(*rule) bool) {
	f := b.fit
	b.dirty.each(func(i int) {
		r := i - len(f.slots)
		if r < 0 || !can(b.rule(r)) {
			return
		}
		b.dirty.drop(i)
		if b.breaks(r) {
			b.broken.add(r)
		} else {
			b.broken.drop(r)
		}
	})
}

// fault is a clash without words.
type fault struct {
	kind  Kind
	index int
}

// compare orders clashes, so that a group of them is the same however it came together.
func (x fault) compare(y fault) int {
	return cmp.Or(cmp.Compare(x.kind, y.kind), x.index-y.index)
}

// faults lists what clashes, in the order of slots, modules and rules; without whole, only what needs no module. The
// order is part of the result: which clash is told first, and which of two equal ones a search branches over, follows
// from it on every machine alike.
func (b *boat) faults(whole bool) []fault {
	return b.faultsOf(whole, func(r *rule) bool { return whole || !r.computed })
}

func (b *boat) faultsOf(whole bool, judged func(*rule) bool) []fault {
	var list []fault
	b.faulty.each(func(i int) { list = b.slotFaults(list, i) })
	troubled := whole && len(b.live.State.Faults) > 0
	if troubled {
		for i := range b.live.State.Faults {
			list = append(list, fault{Unsound, i})
		}
	}
	b.broken.each(func(r int) {
		// where modules cannot compute, that says more than the rules over them
		if x := b.rule(r); judged(x) && !(x.computed && troubled) {
			list = append(list, fault{Broken, r})
		}
	})
	return list
}

// slotFaults adds what is wrong with a slot by itself. Options of a slot that is as its default are not looked at one
// by one, unless a book has too many there (see noteOverfull); at most one clash tells of the number, the first that
// holds.
func (b *boat) slotFaults(list []fault, i int) []fault {
	f, st := b.fit, b.live.State
	def, n := &f.pack.Slots[i], st.Slots[i]
	if n > 0 && (b.choices.Settled[i] || f.slots[i].overfull) {
		for o := def.First; o < def.End; o++ {
			if st.Counts[o] > 0 && !f.made[o][st.HullID] {
				kind := WrongHull
				if f.pack.Made(o, st.HullID) {
					kind = NotSold
				}
				list = append(list, fault{kind, o})
			}
			if st.Counts[o] > f.pack.Options[o].Most {
				list = append(list, fault{TooMany, len(f.slots) + o})
			}
		}
	}
	switch {
	case !b.open[i] && n > 0 && f.slots[i].hulls[st.HullID]:
		return append(list, fault{Closed, i})
	case b.open[i] && n < def.Least:
		return append(list, fault{TooFew, i})
	case def.Most > 0 && n > def.Most:
		return append(list, fault{TooMany, i})
	}
	return list
}

// clashes words what clashes in the whole boat.
func (b *boat) clashes() []Clash {
	b.judge(true)
	var list []Clash
	for _, x := range b.faults(true) {
		list = append(list, b.word(x))
	}
	return list
}
