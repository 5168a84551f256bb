package engine

import (
	"fmt"
	"slices"

	"ribband/core/fit"
	"ribband/core/spec"
)

// Choose puts so many of an option into the boat of an answer: in its slot's stead, or beside the others in a slot of
// several; zero takes it out. What the change closes is set aside, and the remarks say so.
func (e *Engine) Choose(a *Answer, option string, count int) (s spec.Spec, remarks []string, err error) {
	o, ok := e.options[option]
	if !ok {
		return a.Spec, nil, fmt.Errorf("choosing: unknown option %.60q", option)
	}
	if count < 0 || count > e.Pack.Options[o].Most {
		return a.Spec, nil, fmt.Errorf("choosing %s: %d is not between 0 and %d", e.Pack.Options[o].Title, count,
			e.Pack.Options[o].Most)
	}
	s, remarks = e.changed(a, e.Fit.With(a.Build, o, count))
	return s, remarks, nil
}

// Empty leaves a slot with nothing in it.
func (e *Engine) Empty(a *Answer, slot string) (s spec.Spec, remarks []string, err error) {
	i, ok := e.slots[slot]
	if !ok {
		return a.Spec, nil, fmt.Errorf("emptying: unknown slot %.60q", slot)
	}
	s, remarks = e.changed(a, e.Fit.Without(a.Build, i))
	return s, remarks, nil
}

// Release leaves a slot to the standard build again.
func (e *Engine) Release(s spec.Spec, slot string) spec.Spec {
	s = s.Clone()
	delete(s.Choices, slot)
	keepChosen(&s)
	return s
}

// Keep marks what was chosen in a slot as not to be changed by repairs, or takes the mark away.
func (e *Engine) Keep(s spec.Spec, slot string, keep bool) (spec.Spec, error) {
	i, ok := e.slots[slot]
	if !ok {
		return s, fmt.Errorf("keeping a choice: unknown slot %.60q", slot)
	}
	if _, chosen := s.Choices[slot]; !chosen {
		return s, fmt.Errorf("keeping a choice: nobody chose in %s; choose first", e.Pack.Slots[i].Title)
	}
	s = s.Clone()
	s.Keep = slices.DeleteFunc(s.Keep, func(id string) bool { return id == slot })
	if keep {
		s.Keep = append(s.Keep, slot)
	}
	return s, nil
}

// keepChosen drops the mark of what is kept from slots that are left to the standard build.
func keepChosen(s *spec.Spec) {
	s.Keep = slices.DeleteFunc(s.Keep, func(slot string) bool { _, chosen := s.Choices[slot]; return !chosen })
}

func (e *Engine) changed(a *Answer, c fit.Choices) (spec.Spec, []string) {
	b := e.Fit.Change(a.Build, c, fit.DefaultTries)
	var remarks []string
	for i, settled := range c.Settled {
		if settled && !b.Choices.Settled[i] {
			remarks = append(remarks, fmt.Sprintf("%s is set aside: %s", e.Pack.Slots[i].Title,
				e.Pack.Slots[i].Because))
		}
	}
	return e.settled(a.Spec, b.Choices), remarks
}

// settled is a spec with other choices. What is no longer chosen is not kept either.
func (e *Engine) settled(s spec.Spec, c fit.Choices) spec.Spec {
	s = s.Clone()
	s.Choices = e.choicesOf(c)
	keepChosen(&s)
	return s
}

// choicesOf names what is settled.
func (e *Engine) choicesOf(c fit.Choices) map[string]map[string]int {
	out := map[string]map[string]int{}
	for i, settled := range c.Settled {
		if !settled {
			continue
		}
		def := &e.Pack.Slots[i]
		chosen := map[string]int{}
		for o := def.First; o < def.End; o++ {
			if c.Counts[o] > 0 {
				chosen[e.Pack.Options[o].ID] = c.Counts[o]
			}
		}
		out[def.ID] = chosen
	}
	return out
}

// MoveTo takes a spec to another hull. What is not made for it is left to the standard build, and the remarks say so.
func (e *Engine) MoveTo(s spec.Spec, hull string) (moved spec.Spec, remarks []string, err error) {
	h, ok := e.hulls[hull]
	if !ok {
		return s, nil, fmt.Errorf("choosing a hull: unknown hull %.60q", hull)
	}
	moved = s.Clone()
	moved.Hull = hull
	for _, slot := range keys(moved.Choices) {
		for _, name := range keys(moved.Choices[slot]) {
			if o, ok := e.options[name]; ok && !e.Pack.Made(o, h) {
				remarks = append(remarks, fmt.Sprintf("%s is not made for the %s; %s is as in its standard build.",
					e.Pack.Options[o].Title, e.Pack.Hulls[h].Title, e.Pack.Slots[e.Pack.Options[o].Slot].Title))
				delete(moved.Choices, slot)
				break
			}
		}
	}
	keepChosen(&moved)
	return moved, remarks, nil
}

// Usable drops from a spec what this edition does not know: what the notes of its answer are about. What a salesperson
// added stays.
func (e *Engine) Usable(a *Answer) spec.Spec {
	s := e.settled(a.Spec, a.Build.Choices)
	for field := range a.Spec.Use {
		i, ok := e.uses[field]
		if !ok {
			delete(s.Use, field)
			continue
		}
		v := spec.Value{Number: a.Build.State.Use[i]}
		if u := &e.Pack.Use[i]; len(u.Choices) > 0 {
			v.Choice = u.Choices[int(a.Build.State.Use[i])].ID
		}
		s.Use[field] = v
	}
	return s
}
