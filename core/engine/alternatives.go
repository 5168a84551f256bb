package engine

import "ribband/core/fit"

// Alternatives are what else a boat could hold: by slot each option, with whether it can be had and what it makes of
// the boat. A slot is worked out when it is first asked for, since a page shows few of them at a time. They are of one
// boat, whatever a salesperson adds to it. Nothing here goes stale: an answer never changes, and another boat has its
// own.
type Alternatives struct {
	verdicts   *fit.Alternatives
	comparison *comparison
	slots      []*SlotAlternatives
}

// SlotAlternatives are those of one slot: its options in their order, and leaving it empty, which is nil where it must
// hold something or takes several.
type SlotAlternatives struct {
	Options []Alternative
	Empty   *Alternative
}

// Alternative is a verdict with its effect: nil where the option cannot be had, is in the boat, or has no known price.
// A price is not known where the tables have no row for the boat, as with a count beyond what the book allows.
type Alternative struct {
	fit.Verdict
	Effect Effect
}

// Alternatives are those of the boat of an answer; asked again they are the same, with all that is known of them. It
// asks nothing yet: the first slot that is asked for does the work that all share.
func (e *Engine) Alternatives(a *Answer) *Alternatives {
	if a.alternatives == nil {
		a.alternatives = &Alternatives{e.Fit.Alternatives(a.Build), e.newComparison(a),
			make([]*SlotAlternatives, len(e.Pack.Slots))}
	}
	return a.alternatives
}

// Slot works out a slot, unless that was done.
func (x *Alternatives) Slot(slot int) *SlotAlternatives {
	if x.slots[slot] == nil {
		options, empty := x.verdicts.Slot(slot)
		s := &SlotAlternatives{Options: make([]Alternative, len(options))}
		for i := range options {
			s.Options[i] = x.with(&options[i])
		}
		if empty != nil {
			none := x.with(empty)
			s.Empty = &none
		}
		x.slots[slot] = s
	}
	return x.slots[slot]
}

// Known says whether a slot was worked out.
func (x *Alternatives) Known(slot int) bool { return x.slots[slot] != nil }

// with adds the effect to a verdict. Only what is open has one: what is blocked leads to no boat that can be compared,
// and what is in the boat already changes nothing.
func (x *Alternatives) with(v *fit.Verdict) Alternative {
	if v.Status != fit.Open {
		return Alternative{Verdict: *v}
	}
	return Alternative{*v, x.comparison.net(v.Build.Held, v.Build.Figures, v.Build.Faults)}
}

// Option is one option.
func (x *Alternatives) Option(e *Engine, option int) *Alternative {
	slot := e.Pack.Options[option].Slot
	return &x.Slot(slot).Options[option-e.Pack.Slots[slot].First]
}
