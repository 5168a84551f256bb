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
	Status  Status
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

// evaluator is a boat that goes from option to option and back: to each the way is as long as what the option changes,
// however large the book. A page asks for hundreds of verdicts after every click. Completing each from nothing takes
// the time of the whole book for each; here the boat is set to the option, searched from there, and set back, and what
// an explanation said once holds for all of them. What comes out is to the bit what [Fit.Change] gives, and a test
// compares.
type evaluator struct {
	fit     *Fit
	from    *Build
	boat    *boat
	why     *explanations
	changed []int // slots whose choices are others than in the boat from which it goes
}

// newEvaluator starts from the boat with every soft slot at its default, not from the completed one: a verdict
// completes anew, as if the choice had been made first.
func (f *Fit) newEvaluator(from *Build) *evaluator {
	e := &evaluator{fit: f, from: from, boat: from.root.clone(), why: f.newExplanations()}
	e.boat.choices, e.boat.followed = from.Choices.Clone(), true
	for o, n := range e.boat.live.State.Counts {
		if n != from.State.Counts[o] {
			e.boat.changedOptions = append(e.boat.changedOptions, o)
		}
	}
	return e
}

// option judges one option. In a slot of multiple one that is there is forced where it cannot be taken out; in a slot
// of one that shows only when all alternatives are known (see Alternatives.judge).
func (e *evaluator) option(o int) Verdict {
	st := e.from.State
	if st.Counts[o] > 0 {
		if e.fit.pack.Slots[e.fit.pack.Options[o].Slot].Multiple && e.judged(o, 0).Status == Blocked {
			return Verdict{Status: Forced}
		}
		return Verdict{Status: Chosen}
	}
	if !e.fit.made[o][st.HullID] {
		return Verdict{Status: Absent}
	}
	return e.judged(o, 1)
}

// emptied judges a slot without anything in it.
func (e *evaluator) emptied(slot int) Verdict {
	if e.from.State.Slots[slot] == 0 {
		return Verdict{Status: Chosen}
	}
	v := e.judged(e.fit.pack.Slots[slot].First, 0)
	return v
}

// judged completes the boat with so many of an option, as [Fit.Change] does, and compares: what clashes anew blocks.
// Clashes that the boat has anyway are no reason against an option: on a boat that clashes already everything would be
// blocked.
func (e *evaluator) judged(option, count int) Verdict {
	f, c := e.fit, e.boat.choices
	e.choose(option, count)
	clashes, status := e.complete()
	v := Verdict{Status: Open, Build: e.variant(option, count, clashes, status)}
	for i := range clashes {
		if !f.among(e.from.Clashes, clashes[i]) {
			own := option
			if count == 0 {
				own = -1
			}
			v.Status, v.Why, v.Blockers = Blocked, &clashes[i], f.blockers(clashes[i], c, own)
			break
		}
	}
	e.back()
	return v
}

// choose settles the slot of an option as [Fit.With] does.
func (e *evaluator) choose(option, count int) {
	c, slot := e.boat.choices, e.fit.pack.Options[option].Slot
	def := &e.fit.pack.Slots[slot]
	clear(c.Counts[def.First:def.End])
	if def.Multiple {
		copy(c.Counts[def.First:def.End], e.from.State.Counts[def.First:def.End])
	}
	c.Counts[option], c.Settled[slot] = count, true
	e.note(slot)
	e.boat.refill()
}

func (e *evaluator) note(slot int) {
	e.changed = append(e.changed, slot)
	e.boat.unfilled.add(slot)
}

// complete searches, and sets aside what the choice closes. Each round sets aside at least one settled slot, so that it
// ends.
func (e *evaluator) complete() ([]Clash, Status) {
	f, c := e.fit, e.boat.choices
	for {
		_, status := f.nearest(e.boat, nil, DefaultTries, e.why)
		clashes := e.boat.clashes()
		closing := f.closing(e.from, c, clashes)
		if len(closing) == 0 {
			return clashes, status
		}
		for _, slot := range closing {
			def := &f.pack.Slots[slot]
			clear(c.Counts[def.First:def.End])
			c.Settled[slot] = false
			e.note(slot)
		}
		e.boat.move(nil)
	}
}

// variant tells the boat as it is now.
func (e *evaluator) variant(option, count int, clashes []Clash, status Status) *Variant {
	now, from := e.boat.live.State, e.from.State
	slices.Sort(e.boat.changedOptions)
	e.boat.changedOptions = slices.DeleteFunc(slices.Compact(e.boat.changedOptions),
		func(o int) bool { return now.Counts[o] == from.Counts[o] })
	v := &Variant{Figures: slices.Clone(now.Figures), Faults: now.Faults, Clashes: clashes, Status: status,
		fit: e.fit, of: e.from, option: option, count: count}
	for _, o := range e.boat.changedOptions {
		v.Held = append(v.Held, Held{o, now.Counts[o]})
	}
	return v
}

// back takes the choices back, and leaves the filling to the next step. It is done with the first slots of the next
// option, in one computation. Marking a slot that did not change does no harm, forgetting one would.
func (e *evaluator) back() {
	c, from := e.boat.choices, e.from.Choices
	for _, slot := range e.changed {
		def := &e.fit.pack.Slots[slot]
		copy(c.Counts[def.First:def.End], from.Counts[def.First:def.End])
		c.Settled[slot] = from.Settled[slot]
		e.boat.unfilled.add(slot)
	}
	for _, d := range e.boat.deviations {
		e.boat.unfilled.add(d.slot)
	}
	e.changed, e.boat.deviations = e.changed[:0], nil
}
