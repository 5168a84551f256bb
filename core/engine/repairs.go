package engine

import (
	"fmt"
	"slices"

	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/spec"
)

// Reason is why something cannot be had, in words: a smallest set of choices and rules that clash. Rules are told by
// clashes, since some clash that no rule names, such as a slot that takes one.
type Reason struct {
	Choices  []msg.Message // "Battery bank: AGM, 24 V, 5 kWh"
	Rules    []fit.Clash
	Smallest bool // proved: without any one of them there would be a boat

	fields []int // of the use that take part
}

// Want is what somebody asks for and cannot have: an option, a slot left empty, or, with neither, the boat as it
// stands.
type Want struct{ Option, Empty string }

// Repair is a way to have it all the same. Applying it is a [Whole] change: the spec says all of it.
type Repair struct {
	Changes []msg.Message // of the choices: "Battery bank: LiFePO4, 48 V, 10 kWh in place of AGM, 24 V, 5 kWh"
	Effect  Effect        // against the present boat
	Spec    spec.Spec
}

// MostRepairs is how many repairs are offered. More would not be read, and each is a whole boat that was completed and
// priced.
const MostRepairs = 5

// Wanted are the choices of an answer with what is wanted, and its slot, or -1. With it its slot is settled, so that
// the search may not mend the boat by taking it out again.
func (e *Engine) Wanted(a *Answer, w Want) (c fit.Choices, slot int, err error) {
	switch {
	case w.Option != "":
		o, ok := e.options[w.Option]
		if !ok {
			return c, -1, fmt.Errorf("asking for the reason: unknown option %.60q", w.Option)
		}
		return e.Fit.With(a.Build, o, 1), e.Pack.Options[o].Slot, nil
	case w.Empty != "":
		s, ok := e.slots[w.Empty]
		if !ok {
			return c, -1, fmt.Errorf("asking for the reason: unknown slot %.60q", w.Empty)
		}
		return e.Fit.Without(a.Build, s), s, nil
	}
	return a.Build.Choices, -1, nil
}

// Reason says why something cannot be had; nil where nothing is proved, since the search gave up. The page then says
// what the nearest boat that was found breaks.
func (e *Engine) Reason(a *Answer, w Want) (*Reason, error) {
	c, slot, err := e.Wanted(a, w)
	if err != nil {
		return nil, err
	}
	st := a.Build.State
	why := e.Fit.Reason(fit.Question{Hull: st.HullID, Use: st.Use, Choices: c}, slot)
	if why == nil {
		return nil, nil
	}
	out := &Reason{Smallest: why.Smallest, fields: why.Fields}
	for _, s := range why.Slots {
		out.Choices = append(out.Choices, e.InSlot(c.Counts, s))
	}
	// In the book's own words, with its advice: who wrote the rule knows what it protects.
	for _, r := range why.Rules {
		def := &e.Pack.Rules[r]
		out.Rules = append(out.Rules, fit.Clash{Kind: fit.Broken, Index: r, Reason: msg.Plain(def.Because),
			Advice: msg.Plain(def.Advice)})
	}
	out.Rules = append(out.Rules, why.Clashes...)
	return out, nil
}

// Repairs are the ways to have it by other choices: the fewest first, then the least change of price, five at most.
// What the spec keeps, and what is asked for, stay. All says that there are no other ways with as few changes. A boat
// whose price is not known is left out.
func (e *Engine) Repairs(a *Answer, w Want) (list []Repair, all bool, err error) {
	c, slot, err := e.Wanted(a, w)
	if err != nil {
		return nil, false, err
	}
	st := a.Build.State
	kept := func(s int) bool { return s == slot || slices.Contains(a.Spec.Keep, e.Pack.Slots[s].ID) }
	found, all := e.Fit.Repairs(st.HullID, st.Use, c, kept, MostRepairs)
	// the effects are against the boat that is shown, not against the one without a clash
	n := e.newComparison(a)
	type priced struct {
		fit.Repair
		net Effect
	}
	var known []priced
	// Every one is priced before any is left out: the fewest changes may be the dearest.
	for _, r := range found {
		if net := n.build(r.Build); net != nil {
			known = append(known, priced{r, net})
		}
	}
	// stable, so that equal repairs stay in the order in which they were found
	slices.SortStableFunc(known, func(x, y priced) int {
		if d := x.Changes - y.Changes; d != 0 {
			return d
		}
		return x.net.Price().Abs().Cmp(y.net.Price().Abs())
	})
	for _, r := range known[:min(len(known), MostRepairs)] {
		list = append(list, Repair{e.changes(c, r.Repair), r.net, e.settled(a.Spec, r.Choices)})
	}
	return list, all && len(known) <= MostRepairs, nil
}

// changes words what a repair changes of the choices. One line for each slot, in the order of the book.
func (e *Engine) changes(before fit.Choices, r fit.Repair) (list []msg.Message) {
	for _, s := range r.Changed {
		def := &e.Pack.Slots[s]
		now, was := e.contents(r.Build.State.Counts, s), e.contents(before.Counts, s)
		change := msg.Code("engine.changed")
		if def.Multiple {
			change = "engine.changed-several"
		}
		if !r.Choices.Settled[s] && now.Is("engine.nothing") {
			list = append(list, setAside(def))
			continue
		}
		list = append(list, msg.New(change, msg.Text("slot", def.Title), msg.Words("now", now),
			msg.Words("before", was)))
	}
	return list
}

// InSlot names a slot and what some counts have in it: "Top: Folding top".
func (e *Engine) InSlot(counts []int, slot int) msg.Message {
	return inSlot(&e.Pack.Slots[slot], e.contents(counts, slot))
}

func inSlot(s *pack.Slot, contents msg.Message) msg.Message {
	return msg.New("engine.in-slot", msg.Text("slot", s.Title), msg.Words("contents", contents))
}

// contents are what some counts have in a slot, or that there is nothing.
func (e *Engine) contents(counts []int, slot int) msg.Message {
	if held := e.Pack.Contents(counts, slot); held != "" {
		return msg.Plain(held)
	}
	return msg.New("engine.nothing")
}
