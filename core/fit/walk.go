package fit

import (
	"slices"

	"ribband/core/formula"
)

// Variant is a boat told by how it differs from another. There are as many as options, so that each holds what differs
// and not the whole.
type Variant struct {
	Held    []Held          // what it holds otherwise, in the order of the options
	Figures []float64       // all of its own
	Faults  []formula.Fault // why some of them could not be computed
	Clashes []Clash
	Outcome Outcome
	fit     *Fit
	of      *Build
	option  int
	count   int
}

// Held is an option with how many of it.
type Held struct{ Option, Count int }

// Build is the whole boat, completed anew.
func (v *Variant) Build() *Build {
	return v.fit.Change(v.of, v.fit.With(v.of, v.option, v.count), DefaultTries)
}

// walk is a boat that goes from option to option and back: to each the way is as long as what the option changes,
// however large the book.
type walk struct {
	fit     *Fit
	from    *Build
	boat    *boat
	why     *explanations
	changed []int // slots whose choices are others than in the boat from which it goes
}

func (f *Fit) newWalk(from *Build) *walk {
	w := &walk{fit: f, from: from, boat: from.root.clone(), why: f.newExplanations()}
	w.boat.choices, w.boat.followed = from.Choices.Clone(), true
	for o, n := range w.boat.live.State.Counts {
		if n != from.State.Counts[o] {
			w.boat.touched = append(w.boat.touched, o)
		}
	}
	return w
}

func (w *walk) option(o int) Verdict {
	st := w.from.State
	if st.Counts[o] > 0 {
		if w.fit.pack.Slots[w.fit.pack.Options[o].Slot].Several && w.judged(o, 0).Status == Blocked {
			return Verdict{Status: Forced}
		}
		return Verdict{Status: Chosen}
	}
	if !w.fit.made[o][st.HullID] {
		return Verdict{Status: Absent}
	}
	return w.judged(o, 1)
}

func (w *walk) emptied(slot int) Verdict {
	if w.from.State.Slots[slot] == 0 {
		return Verdict{Status: Chosen}
	}
	v := w.judged(w.fit.pack.Slots[slot].First, 0)
	return v
}

// judged completes the boat with so many of an option, as [Fit.Change] does, and compares: what clashes anew blocks.
func (w *walk) judged(option, count int) Verdict {
	f, c := w.fit, w.boat.choices
	w.choose(option, count)
	clashes, outcome := w.complete()
	v := Verdict{Status: Open, Build: w.variant(option, count, clashes, outcome)}
	for i := range clashes {
		if !f.among(w.from.Clashes, clashes[i]) {
			own := option
			if count == 0 {
				own = -1
			}
			v.Status, v.Why, v.Blockers = Blocked, &clashes[i], f.blockers(clashes[i], c, own)
			break
		}
	}
	w.back()
	return v
}

// choose settles the slot of an option as [Fit.With] does.
func (w *walk) choose(option, count int) {
	c, slot := w.boat.choices, w.fit.pack.Options[option].Slot
	def := &w.fit.pack.Slots[slot]
	clear(c.Counts[def.First:def.End])
	if def.Several {
		copy(c.Counts[def.First:def.End], w.from.State.Counts[def.First:def.End])
	}
	c.Counts[option], c.Settled[slot] = count, true
	w.note(slot)
	w.boat.refill()
}

func (w *walk) note(slot int) {
	w.changed = append(w.changed, slot)
	w.boat.unfilled.add(slot)
}

// complete searches, and sets aside what the choice closes.
func (w *walk) complete() ([]Clash, Outcome) {
	f, c := w.fit, w.boat.choices
	for {
		s := search{fit: f, tries: DefaultTries, why: w.why}
		_, outcome := s.nearest(w.boat)
		clashes := w.boat.clashes()
		closing := f.closing(w.from, c, clashes)
		if len(closing) == 0 {
			return clashes, outcome
		}
		for _, slot := range closing {
			def := &f.pack.Slots[slot]
			clear(c.Counts[def.First:def.End])
			c.Settled[slot] = false
			w.note(slot)
		}
		w.boat.move(nil)
	}
}

// variant tells the boat as it is now.
func (w *walk) variant(option, count int, clashes []Clash, outcome Outcome) *Variant {
	now, from := w.boat.live.State, w.from.State
	slices.Sort(w.boat.touched)
	w.boat.touched = slices.DeleteFunc(slices.Compact(w.boat.touched),
		func(o int) bool { return now.Counts[o] == from.Counts[o] })
	v := &Variant{Figures: slices.Clone(now.Figures), Faults: now.Faults, Clashes: clashes, Outcome: outcome,
		fit: w.fit, of: w.from, option: option, count: count}
	for _, o := range w.boat.touched {
		v.Held = append(v.Held, Held{o, now.Counts[o]})
	}
	return v
}

// back takes the choices back, and leaves the filling to the next step.
func (w *walk) back() {
	c, from := w.boat.choices, w.from.Choices
	for _, slot := range w.changed {
		def := &w.fit.pack.Slots[slot]
		copy(c.Counts[def.First:def.End], from.Counts[def.First:def.End])
		c.Settled[slot] = from.Settled[slot]
		w.boat.unfilled.add(slot)
	}
	for _, d := range w.boat.deviations {
		w.boat.unfilled.add(d.slot)
	}
	w.changed, w.boat.deviations = w.changed[:0], nil
}
