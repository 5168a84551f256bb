package fit

import "slices"

// Availability says how an option stands to the present boat.
type Availability string

const (
	Chosen  Availability = "chosen"  // in the boat
	Forced  Availability = "forced"  // in the boat, and nothing else can be
	Open    Availability = "open"    // can be had with all that is settled
	Blocked Availability = "blocked" // cannot be had with what is settled; the verdict says why
	Absent  Availability = "absent"  // not made for this hull
)

// Verdict is how one option, or nothing at all in a slot, stands to the present boat.
type Verdict struct {
	Status   Availability
	Why      *Clash   // why it is blocked
	Blockers []int    // the settled options that take part in the clash
	Build    *Variant // the boat with it instead: for open ones and blocked ones
}

// Alternatives are the verdicts on the options of one boat, slot by slot, each worked out when it is first asked for:
// the page needs those that a person looks at before the others. What a slot gets does not depend on which others were
// asked for before. So the page may ask for what is in view, and the rest behind whatever a person does next.
type Alternatives struct {
	evaluator *evaluator
	slots     []bool // judged
	options   []Verdict
	empty     []*Verdict
}

// Alternatives are those of a boat.
func (f *Fit) Alternatives(b *Build) *Alternatives {
	return &Alternatives{f.newEvaluator(b), make([]bool, len(f.pack.Slots)), make([]Verdict, len(f.pack.Options)),
		make([]*Verdict, len(f.pack.Slots))}
}

// Slot judges every option of a slot, in their order, and leaving it empty; nil for a slot that must hold something or
// takes several.
func (a *Alternatives) Slot(slot int) (options []Verdict, empty *Verdict) {
	def := &a.evaluator.fit.pack.Slots[slot]
	if !a.slots[slot] {
		a.slots[slot] = true
		a.judge(slot)
	}
	return a.options[def.First:def.End], a.empty[slot]
}

// Judged says whether a slot was asked for.
func (a *Alternatives) Judged(slot int) bool { return a.slots[slot] }

// judge works out a slot. Forced comes last, as it means that no other option, nor an empty slot, was found open: in a
// slot of one that can be said only of all of them together.
func (a *Alternatives) judge(slot int) {
	def, alternatives := &a.evaluator.fit.pack.Slots[slot], 0
	for o := def.First; o < def.End; o++ {
		a.options[o] = a.evaluator.option(o)
		if a.options[o].Status == Open {
			alternatives++
		}
	}
	if def.Multiple {
		return
	}
	if def.Least == 0 {
		v := a.evaluator.emptied(slot)
		a.empty[slot] = &v
		if v.Status == Open {
			alternatives++
		}
	}
	for o := def.First; o < def.End; o++ {
		if a.options[o].Status == Chosen && alternatives == 0 {
			a.options[o].Status = Forced
		}
	}
}

// Verdicts judges every option against a boat. The second list judges leaving each slot empty, as
// [Alternatives.Slot] does.
func (f *Fit) Verdicts(b *Build) (options []Verdict, empty []*Verdict) {
	a := f.Alternatives(b)
	for s := range a.slots {
		a.Slot(s)
	}
	return a.options, a.empty
}

// With is the choices of a boat with so many of an option: in its stead in a slot of one, beside the others in a slot
// of multiple. Everything else that is settled stays settled, even where it then clashes: what has to give way is for
// repairs to say, and for a person to choose.
func (f *Fit) With(b *Build, option, count int) Choices {
	c := b.Choices.Clone()
	slot := f.pack.Options[option].Slot
	def := &f.pack.Slots[slot]
	for o := def.First; o < def.End; o++ {
		c.Counts[o] = 0
		if def.Multiple {
			c.Counts[o] = b.State.Counts[o]
		}
	}
	c.Counts[option] = count
	c.Settled[slot] = true
	return c
}

// Without is the choices of a boat with a slot left empty.
func (f *Fit) Without(b *Build, slot int) Choices {
	return f.With(b, f.pack.Slots[slot].First, 0)
}

// Drop is the choices of a boat with a slot left to the standard build again.
func (f *Fit) Drop(c Choices, slot int) Choices {
	c = c.Clone()
	def := &f.pack.Slots[slot]
	for o := def.First; o < def.End; o++ {
		c.Counts[o] = 0
	}
	c.Settled[slot] = false
	return c
}

// Change completes changed choices of a boat. A settled slot that the change closes is set aside: it is soft again, and
// nothing stands in it; so, in turn, is one that closes with it. The slot that was changed itself is never set aside.
// It shares the explanations of its rounds, and starts each from the boat before: only the slots that were set aside
// are filled anew.
func (f *Fit) Change(b *Build, c Choices, tries int) *Build {
	why := f.newExplanations()
	for {
		changed := f.completed(b.root.with(c), tries, why)
		closing := f.closing(b, c, changed.Clashes)
		if len(closing) == 0 {
			return changed
		}
		for _, slot := range closing { // fewer slots are settled than before, so that this ends
			c = f.Drop(c, slot)
		}
	}
}

// closing are the settled slots to be set aside: those that a change of a boat closes and that hold by choice what they
// hold in it. A slot that clashed before the change is left: it is no consequence of it. One that was just given
// something else is left too: somebody wants that.
func (f *Fit) closing(b *Build, c Choices, clashes []Clash) (slots []int) {
	for _, clash := range clashes {
		if clash.Kind == Closed && c.Settled[clash.Index] && !f.among(b.Clashes, clash) && f.kept(b, c, clash.Index) {
			slots = append(slots, clash.Index)
		}
	}
	return slots
}

// kept says whether a slot holds by choice what it holds in the boat.
func (f *Fit) kept(b *Build, c Choices, slot int) bool {
	def := &f.pack.Slots[slot]
	return slices.Equal(c.Counts[def.First:def.End], b.State.Counts[def.First:def.End])
}

// among says whether a clash was there before.
func (f *Fit) among(clashes []Clash, c Clash) bool {
	for _, d := range clashes {
		if c.Same(d) {
			return true
		}
	}
	return false
}

// blockers are the options of a clash that stand there by choice: what a person could take back. The option itself is
// none.
func (f *Fit) blockers(clash Clash, c Choices, option int) []int {
	var out []int
	for _, o := range clash.Options {
		if o != option && c.Settled[f.pack.Options[o].Slot] {
			out = append(out, o)
		}
	}
	return out
}
