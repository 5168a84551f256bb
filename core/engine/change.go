package engine

import (
	"fmt"
	"slices"

	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/spec"
)

// Change is one thing that a person changes in a boat: [Choose], [Empty], [Release], [Keep], [Use], [Hull], or the
// [Whole] spec.
type Change interface {
	// to gives the spec after the change, and its boat where that is known already.
	to(e *Engine, a *Answer) (s spec.Spec, boat *fit.Build, remarks []msg.Message, err error)
}

// Apply changes the boat of an answer and answers what comes out. It gives what [Engine.Answer] gives of the changed
// spec, but keeps of the answer before what the change leaves alone: the boat, the standard build with its prices and
// costs, and what is known of the alternatives. The remarks say what the change brought about beyond what was asked.
// On an error nothing is changed.
func (e *Engine) Apply(a *Answer, c Change) (next *Answer, remarks []msg.Message, err error) {
	s, boat, remarks, err := c.to(e, a)
	if err != nil {
		return nil, nil, err
	}
	next, err = e.answer(s, a, boat)
	return next, remarks, err
}

// Choose puts so many of an option into the boat: in its slot's stead, or beside the others in a slot of several; zero
// takes it out. What the change closes is set aside, and the remarks say so. A count beyond what the book allows, or
// beyond what is left of the option, is refused.
type Choose struct {
	Option string
	Count  int
}

// to refuses what no page offers, since its request may come from a page of another edition.
func (c Choose) to(e *Engine, a *Answer) (spec.Spec, *fit.Build, []msg.Message, error) {
	o, ok := e.options[c.Option]
	if !ok {
		return spec.Spec{}, nil, nil, fmt.Errorf("choosing: unknown option %.60q", c.Option)
	}
	if c.Count < 0 || c.Count > e.Pack.Options[o].Most {
		return spec.Spec{}, nil, nil, msg.Fault("engine.count-beyond", msg.Text("option", e.Pack.Options[o].Title),
			msg.Count("n", c.Count), msg.Count("most", e.Pack.Options[o].Most))
	}
	// a boat that has more of them by now gives some back, and is asked for no more
	if left := e.Pack.LeftOf(o); left > 0 && c.Count > max(left, a.Build.State.Counts[o]) {
		return spec.Spec{}, nil, nil, msg.Fault("engine.count-left", msg.Text("option", e.Pack.Options[o].Title),
			msg.Count("n", c.Count), msg.Count("left", left))
	}
	return e.changed(a, e.Fit.With(a.Build, o, c.Count))
}

// Empty leaves a slot with nothing in it.
type Empty struct{ Slot string }

func (c Empty) to(e *Engine, a *Answer) (spec.Spec, *fit.Build, []msg.Message, error) {
	i, ok := e.slots[c.Slot]
	if !ok {
		return spec.Spec{}, nil, nil, fmt.Errorf("emptying: unknown slot %.60q", c.Slot)
	}
	return e.changed(a, e.Fit.Without(a.Build, i))
}

// Release leaves a slot to the standard build again. What is put in its place follows from the other choices, and may
// differ from what it was before the choice.
type Release struct{ Slot string }

func (c Release) to(_ *Engine, a *Answer) (spec.Spec, *fit.Build, []msg.Message, error) {
	s := a.Spec.Clone()
	delete(s.Choices, c.Slot)
	keepChosen(&s)
	return s, nil, nil, nil
}

// Keep marks what was chosen in a slot as not to be changed by repairs, or takes the mark away. The boat stays as it
// is.
type Keep struct {
	Slot string
	Kept bool
}

func (c Keep) to(e *Engine, a *Answer) (spec.Spec, *fit.Build, []msg.Message, error) {
	i, ok := e.slots[c.Slot]
	if !ok {
		return spec.Spec{}, nil, nil, fmt.Errorf("keeping a choice: unknown slot %.60q", c.Slot)
	}
	if _, chosen := a.Spec.Choices[c.Slot]; !chosen {
		return spec.Spec{}, nil, nil, msg.Fault("engine.nothing-to-keep", msg.Text("slot", e.Pack.Slots[i].Title))
	}
	s := a.Spec.Clone()
	s.Keep = slices.DeleteFunc(s.Keep, func(id string) bool { return id == c.Slot })
	if c.Kept {
		s.Keep = append(s.Keep, c.Slot)
	}
	return s, nil, nil, nil
}

// Use states a field of the use. What the book does not allow is refused.
type Use struct {
	Field string
	Value spec.Value
}

func (c Use) to(e *Engine, a *Answer) (spec.Spec, *fit.Build, []msg.Message, error) {
	if _, notes := e.ResolveUse(map[string]spec.Value{c.Field: c.Value}); len(notes) > 0 {
		return spec.Spec{}, nil, nil, notes[0].Fault()
	}
	s := a.Spec.Clone()
	if s.Use == nil {
		s.Use = map[string]spec.Value{}
	}
	s.Use[c.Field] = c.Value
	return s, nil, nil, nil
}

// Hull takes the choices to another hull. What is not made for it is left to the standard build, and the remarks say
// so.
type Hull struct{ ID string }

// to keeps use, extra items and discounts; a discount on a line that is no more gets a note.
func (c Hull) to(e *Engine, a *Answer) (spec.Spec, *fit.Build, []msg.Message, error) {
	s, remarks, err := e.MoveTo(a.Spec, c.ID)
	return s, nil, remarks, err
}

// Whole puts another spec in the place of the present one: one that was opened or found, or the same with other extra
// items, discounts or trade-in. It says nothing of what changes: the answer finds by itself what stays.
type Whole struct{ Spec spec.Spec }

func (c Whole) to(*Engine, *Answer) (spec.Spec, *fit.Build, []msg.Message, error) {
	return c.Spec, nil, nil, nil
}

// keepChosen drops the mark of what is kept from slots that are left to the standard build. There is nothing to keep:
// the standard build changes by itself.
func keepChosen(s *spec.Spec) {
	s.Keep = slices.DeleteFunc(s.Keep, func(slot string) bool { _, chosen := s.Choices[slot]; return !chosen })
}

// changed completes changed choices of a boat. A choice that the completed boat has no slot for is set aside, and
// whoever made it is told.
func (e *Engine) changed(a *Answer, c fit.Choices) (spec.Spec, *fit.Build, []msg.Message, error) {
	b := e.Fit.Deepen(e.Fit.Change(a.Build, c, fit.DefaultTries))
	var remarks []msg.Message
	for i, settled := range c.Settled {
		if settled && !b.Choices.Settled[i] {
			remarks = append(remarks, setAside(&e.Pack.Slots[i]))
		}
	}
	return e.settled(a.Spec, b.Choices), b, remarks, nil
}

// setAside says that what was chosen in a slot is left out, since the boat has no such slot.
func setAside(s *pack.Slot) msg.Message {
	return msg.New("engine.set-aside", msg.Text("slot", s.Title), msg.Text("because", s.Because))
}

// settled is a spec with other choices. What is no longer chosen is not kept either. Use, extra items, discounts and
// trade-in stay.
func (e *Engine) settled(s spec.Spec, c fit.Choices) spec.Spec {
	s = s.Clone()
	s.Choices = e.choicesOf(c)
	keepChosen(&s)
	return s
}

// choicesOf names what is settled. A settled slot without options is named too: that it is empty was chosen.
func (e *Engine) choicesOf(c fit.Choices) map[string]map[string]int {
	out := map[string]map[string]int{}
	for i, settled := range c.Settled {
		if !settled {
			continue
		}
		def := &e.Pack.Slots[i]
		chosen := map[string]int{}
		// a slot without any stays in the map with nothing in it: it was emptied
		for o := def.First; o < def.End; o++ {
			if c.Counts[o] > 0 {
				chosen[e.Pack.Options[o].ID] = c.Counts[o]
			}
		}
		out[def.ID] = chosen
	}
	return out
}

// MoveTo takes a spec to another hull. What is not made for it is left to the standard build, and the remarks say so. A
// slot of several is left as a whole where one of its options is not made for the hull: what is left of it was never
// chosen like that.
func (e *Engine) MoveTo(s spec.Spec, hull string) (moved spec.Spec, remarks []msg.Message, err error) {
	h, err := e.FindHull("hull", hull)
	if err != nil {
		return s, nil, err
	}
	moved = s.Clone()
	moved.Hull = hull
	for _, slot := range keys(moved.Choices) {
		for _, name := range keys(moved.Choices[slot]) {
			if o, ok := e.options[name]; ok && !e.Pack.Made(o, h) {
				def := &e.Pack.Options[o]
				remarks = append(remarks, msg.New("engine.not-on-this-hull", msg.Text("option", def.Title),
					msg.Text("hull", e.Pack.Hulls[h].Title), msg.Text("slot", e.Pack.Slots[def.Slot].Title)))
				delete(moved.Choices, slot)
				break
			}
		}
	}
	keepChosen(&moved)
	return moved, remarks, nil
}

// Usable drops from a spec what this edition does not know: what the notes of its answer are about. What a salesperson
// added stays. What is dropped was noted before, so that a person knows; after this the spec answers without notes
// but for its deal.
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
