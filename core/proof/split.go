package proof

import (
	"fmt"
	"slices"

	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
)

// verdict is what is known of a formula. A search for a formula ends with the first that fails, and is unknown as soon
// as one part is.
type verdict int

const (
	unknown verdict = iota
	holds
	fails
)

// Bounds of the effort for one formula: how often the boats are divided, and in how many ways by a slot of multiple.
const (
	mostParts = 600
	mostWays  = 64
)

// splitting proves a formula for all boats of a hull and all uses. They are bounded together; where the bounds do not
// tell, they are divided by the values of the use that the formula reads, then by the contents of a slot that it reads,
// and each part is bounded by itself. A part without a valid boat does not count. Source: branch and bound, a textbook
// method.
type splitting struct {
	*prover
	formula *Formula
	number  formula.NumberFunc
	truth   formula.TruthFunc
	slots   []int // that the formula reads in the end, those that it names itself first
	fields  []int // of the use
	state   *formula.State
	having  *fit.Terms // by which a boat has the option whose formula it is; nil where it is not an option's
	free    []bool
	needed  figures.Needed
	box     formula.Box
	left    int
	asked   bool           // for a boat: bounds did not do
	rules   []int          // by which parts have no boat
	failing *formula.State // on which the formula fails
}

// newSplitting lists what a formula reads, as the book wrote it before what its figures follow from: dividing by the
// slots that it names itself makes bounds narrow soonest.
func (p *prover) newSplitting(f *Formula, hull int) *splitting {
	s := &splitting{prover: p, formula: f, state: p.bareBoat(hull),
		free: make([]bool, len(p.pack.Slots)), left: mostParts}
	if f.program.Kind() == formula.Truth {
		s.truth = f.program.Truth()
	} else {
		s.number = f.program.Number()
	}
	if f.Owner == OfOption {
		s.having = p.fit.Having(f.Index, true)
	}
	own := f.program.Reads()
	s.needed = p.figs.Needed(own)
	s.fields = p.figs.Resolve(own).Use
	for _, r := range []formula.Reads{own, p.figs.Resolve(own)} {
		for _, o := range r.Options {
			r.Slots = append(r.Slots, p.pack.Options[o].Slot)
		}
		for _, slot := range r.Slots {
			if !slices.Contains(s.slots, slot) {
				s.slots = append(s.slots, slot)
			}
		}
	}
	return s
}

// start is all boats that use the formula: those that have the option whose it is, where it is one's. In a slot of
// several others may stand beside it.
//
// Which boats are looked for is the affair of having; the choices only make the bounds of a slot of one narrower.
func (s *splitting) start() fit.Choices {
	if f := s.formula; f.Owner == OfOption && !s.pack.Slots[s.pack.Options[f.Index].Slot].Multiple {
		return s.with(f.Index)
	}
	return s.fit.NewChoices()
}

// steps are the values of the fields from one step to another.
type steps [][2]int

// everyUse is all values of the fields that the formula reads.
func (s *splitting) everyUse() (list steps) {
	for _, field := range s.fields {
		list = append(list, [2]int{0, s.pack.Use[field].Steps() - 1})
	}
	return list
}

// halves divides the field with the most values, the half with the standard value first, where one has it; ok is false
// where each field has one value. The half with the standard value holds the likely boats: a formula that fails mostly
// fails there, and the far half need not be looked at.
func (s *splitting) halves(u steps) (near, far steps, ok bool) {
	most, at := 0, 0
	for i, r := range u {
		if n := r[1] - r[0]; n > most {
			most, at = n, i
		}
	}
	if most == 0 {
		return nil, nil, false
	}
	near, far = slices.Clone(u), slices.Clone(u)
	middle := (u[at][0] + u[at][1]) / 2
	near[at][1], far[at][0] = middle, middle+1
	if field := &s.pack.Use[s.fields[at]]; field.StepOf(field.Standard) > middle {
		near, far = far, near
	}
	return near, far, true
}

// part proves the formula for the boats with some choices and some uses. ~Uses are divided before slots, since that
// needs no search; with each use a single value, a part that no valid boat is in counts as proved, and a boat in which
// the formula fails refutes it. Of a part that is divided, one failure is enough, and one open piece leaves it open.
func (s *splitting) part(c fit.Choices, use steps) verdict {
	if s.left--; s.left < 0 {
		return unknown
	}
	if s.bounded(c, use) {
		return holds
	}
	if near, far, ok := s.halves(use); ok {
		first := s.part(c, near)
		if first == fails {
			return fails
		}
		second := s.part(c, far)
		if second == holds {
			return first
		}
		return second
	}
	for i, field := range s.fields {
		s.state.Use[field] = s.pack.Use[field].Value(use[i][0])
	}
	q := s.anyBoat(s.having, s.state.HullID)
	q.Choices, s.asked = c, true
	a := s.overUses(q, s.state.Use, s.fields...)
	switch {
	case a.never():
		s.rules = append(s.rules, s.rulesOf(a.reasons)...)
		return holds // of no boat
	case a.state != nil && !s.good(a.state):
		s.failing = a.state
		return fails
	}
	slot := s.next(c)
	if slot < 0 {
		if a.state != nil && s.concrete(c) {
			return holds // it reads nothing else, and was good on one of them
		}
		return unknown
	}
	result := holds
	for _, content := range s.contents(c, slot) {
		switch s.part(content, use) {
		case fails:
			return fails
		case unknown:
			result = unknown
		}
	}
	return result
}

// bounded says that the formula holds on every boat with the choices and the uses, valid or not. Valid or not: the
// bounds know nothing of rules, so that what only a rule keeps from happening needs dividing.
func (s *splitting) bounded(c fit.Choices, use steps) bool {
	st := s.state
	copy(st.Counts, c.Counts)
	clear(st.Slots)
	for o, n := range st.Counts {
		st.Slots[s.pack.Options[o].Slot] += n
	}
	for i, settled := range c.Settled {
		s.free[i] = !settled
	}
	s.box.Use = s.box.Use[:0]
	for _, v := range st.Use {
		s.box.Use = append(s.box.Use, formula.Exactly(v))
	}
	for i, field := range s.fields {
		u := &s.pack.Use[field]
		s.box.Use[field] = formula.Interval{Lo: u.Value(use[i][0]), Hi: u.Value(use[i][1])}
	}
	s.figs.BoundsOfUses(st, s.free, s.needed, &s.box)
	if s.truth != nil {
		_, sound := s.formula.program.Judge(&s.box)
		return sound
	}
	b, sound := s.formula.program.Bounds(&s.box)
	return sound && b.Lo >= s.formula.atLeast
}

// good evaluates the formula on a boat; one without the option whose it is does not use it. A quantity has to be a
// finite number above its least, a truth only to divide by nothing that is zero.
func (s *splitting) good(st *formula.State) bool {
	if s.formula.Owner == OfOption && st.Counts[s.formula.Index] == 0 {
		return true
	}
	if s.truth != nil {
		return sound(s.formula.program, st)
	}
	v := s.number(st)
	return formula.Finite(v) && v >= s.formula.atLeast
}

// sound says that a truth formula divides by nothing that is zero on a boat. Bounds of a single boat are points, so
// that the test of the bounds serves here too.
func sound(f formula.Program, st *formula.State) bool {
	box := formula.Box{HullID: st.HullID, Hull: st.Hull}
	for _, v := range st.Use {
		box.Use = append(box.Use, formula.Exactly(v))
	}
	for _, n := range st.Counts {
		box.Counts = append(box.Counts, formula.Exactly(float64(n)))
	}
	for _, n := range st.Slots {
		box.Slots = append(box.Slots, formula.Exactly(float64(n)))
	}
	for _, v := range st.Figures {
		box.Figures = append(box.Figures, formula.Exactly(v))
	}
	_, ok := f.Judge(&box)
	return ok
}

// gives is what the formula gives on a boat on which it fails.
func (s *splitting) gives(st *formula.State) string {
	if s.number != nil {
		if v := s.number(st); formula.Finite(v) {
			return fmt.Sprintf("is %g", v)
		}
	}
	return "cannot be computed"
}

// next is the slot to divide by; -1 where none is left that can be. Slots of multiple with many ways are left out:
// their parts would use up the effort, and the bounds over their counts are mostly narrow anyway.
func (s *splitting) next(c fit.Choices) int {
	for _, slot := range s.slots {
		if !c.Settled[slot] && s.ways(slot) <= mostWays {
			return slot
		}
	}
	return -1
}

// ways is in how many ways a slot can be filled. It counts no further than anybody asks.
func (s *splitting) ways(slot int) int {
	def, n := &s.pack.Slots[slot], 1
	if !def.Multiple {
		return def.End - def.First + 1
	}
	for o := def.First; o < def.End && n <= mostWays; o++ {
		n *= s.pack.Options[o].Most + 1
	}
	return n
}

// contents settles a slot in every way; what its rules do not allow has no boat. Nothing comes first, then one option,
// then more: of a slot of one, each option alone.
func (s *splitting) contents(c fit.Choices, slot int) (list []fit.Choices) {
	def := &s.pack.Slots[slot]
	empty := c.Clone()
	empty.Settled[slot] = true
	list = append(list, empty)
	for o := def.First; o < def.End; o++ {
		if !s.pack.Offered(o, s.state.HullID) {
			continue
		}
		before := list
		if !def.Multiple {
			before = list[:1]
		}
		for _, b := range before {
			for n := 1; n <= s.pack.Options[o].Most && (def.Multiple || n == 1); n++ {
				more := b.Clone()
				more.Counts[o] = n
				list = append(list, more)
			}
		}
	}
	return list
}

// concrete says that every slot that the formula reads is settled. Then every boat of the part gives the same value,
// and one of them tells for all.
func (s *splitting) concrete(c fit.Choices) bool {
	return !slices.ContainsFunc(s.slots, func(slot int) bool { return !c.Settled[slot] })
}
