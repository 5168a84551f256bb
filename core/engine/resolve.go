package engine

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/spec"
	"ribband/core/suggest"
	"ribband/core/works"
)

// Unresolved is something in a spec that this edition cannot use, with the place and the remedy. It is no error: the
// rest of the spec is answered.
type Unresolved struct {
	Place   string // in the file: "choices.top"
	Problem msg.Message
	Remedy  msg.Message
}

// Message says it with its place.
func (n Unresolved) Message() msg.Message {
	return msg.New("engine.unresolved", msg.Text("place", n.Place), msg.Words("problem", n.Problem),
		msg.Words("remedy", n.Remedy))
}

// Fault is it as an error, for whoever has just typed what cannot be used: without the place.
func (n Unresolved) Fault() error {
	return msg.Fault("engine.unusable", msg.Words("problem", n.Problem), msg.Words("remedy", n.Remedy))
}

// request is a spec in the indices of the pack. It has all that the spec has in a form that can be computed with; what
// cannot be used is in the notes and nowhere else.
type request struct {
	hull    int
	use     []float64
	choices fit.Choices
	extras  []works.Extra
	bought  []money.Amount // for each of the extra items
	notes   []Unresolved
}

func (w *request) note(place string, problem, remedy msg.Message) {
	w.notes = append(w.notes, Unresolved{place, problem, remedy})
}

// nearest is the remedy for an unknown name: the known one that was meant, or else another.
func nearest(name string, known []string, otherwise msg.Message) msg.Message {
	if meant, ok := suggest.Meant(name, known); ok {
		return msg.New("engine.did-you-mean", msg.Text("name", meant))
	}
	return otherwise
}

// resolve finds everything that a spec names. What is unknown is noted and left out. Only an unknown hull ends it, as
// nothing can be said of choices without a hull.
func (e *Engine) resolve(s spec.Spec) (*request, error) {
	hull, err := e.FindHull("hull", s.Hull)
	if err != nil {
		return nil, err
	}
	w := &request{hull: hull, choices: e.Fit.NewChoices(), use: e.StandardUse()}
	for _, slot := range keys(s.Choices) {
		e.resolveSlot(w, slot, s.Choices[slot])
	}
	for _, field := range keys(s.Use) {
		e.resolveUse(w, field, s.Use[field])
	}
	for i, l := range s.Extras {
		e.resolveLine(w, i, l)
	}
	return w, nil
}

// keys are the keys of a map in order: whatever is noted or answered must not depend on the order of a map.
func keys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// StandardUse is the use that the book assumes. A spec states what differs from it.
func (e *Engine) StandardUse() []float64 {
	use := make([]float64, len(e.Pack.Use))
	for i, u := range e.Pack.Use {
		use[i] = u.Standard
	}
	return use
}

// resolveSlot settles a slot with what is known of its options. Where all are unknown the slot is left to the standard
// build: an empty slot was not what anybody asked for.
func (e *Engine) resolveSlot(w *request, id string, chosen map[string]int) {
	place := "choices." + id
	slot, ok := e.slots[id]
	if !ok {
		w.note(place, msg.New("engine.unknown-slot"), nearest(id, keys(e.slots), msg.New("engine.other-edition")))
		return
	}
	known := 0
	for _, name := range keys(chosen) {
		o, ok := e.options[name]
		if !ok || e.Pack.Options[o].Slot != slot {
			w.note(place+"."+name, msg.New("engine.unknown-option"),
				nearest(name, e.optionsOf(slot), msg.New("engine.other-edition")))
			continue
		}
		if known > 0 && !e.Pack.Slots[slot].Multiple {
			w.note(place+"."+name, msg.New("engine.second-option"), msg.New("engine.leave-one-out"))
			continue
		}
		// How many there may be is the rules' to say, with their reason.
		w.choices.Counts[o] = chosen[name]
		known++
	}
	w.choices.Settled[slot] = known > 0 || len(chosen) == 0
}

// optionsOf are the identifiers of a slot's options, among which a wrong one is looked for.
func (e *Engine) optionsOf(slot int) []string {
	var ids []string
	for _, o := range e.Pack.Options[e.Pack.Slots[slot].First:e.Pack.Slots[slot].End] {
		ids = append(ids, o.ID)
	}
	return ids
}

// resolveUse takes a number to the nearest step of its field, and a choice to its index. What the book does not allow
// is left as the book assumes: a boat for forty persons has no figures that mean anything.
func (e *Engine) resolveUse(w *request, id string, v spec.Value) {
	place := "use." + id
	i, ok := e.uses[id]
	if !ok {
		w.note(place, msg.New("engine.unknown-field"), nearest(id, keys(e.uses), msg.New("engine.leave-out")))
		return
	}
	u := &e.Pack.Use[i]
	if len(u.Choices) > 0 {
		e.resolveChoice(w, place, i, v)
		return
	}
	if v.Choice != "" || v.Number < u.Min || v.Number > u.Max || math.IsNaN(v.Number) {
		w.note(place, msg.New("engine.number-beyond", msg.Words("value", stated(v))), msg.New("engine.number-between",
			// with their unit: who reads other units must not write these numbers in them
			msg.Quantity("min", u.Min, u.Unit, msg.Exact), msg.Quantity("max", u.Max, u.Unit, msg.Exact)))
		return
	}
	// prices are listed by steps, so that a value between two would have none
	w.use[i] = u.Value(u.StepOf(v.Number))
	if math.Abs(w.use[i]-v.Number) > 1e-9 {
		w.note(place,
			msg.New("engine.between-steps", msg.Words("value", stated(v)), msg.Number("taken", w.use[i], msg.Exact)),
			msg.New("engine.multiple", msg.Number("step", u.Step, msg.Exact)))
	}
}

// resolveChoice takes an identifier to its index, by which formulas compare.
func (e *Engine) resolveChoice(w *request, place string, field int, v spec.Value) {
	var known []string
	for j, c := range e.Pack.Use[field].Choices {
		if v.Choice == c.ID {
			w.use[field] = float64(j)
			return
		}
		known = append(known, c.ID)
	}
	w.note(place, msg.New("engine.unknown-choice", msg.Words("value", stated(v))),
		nearest(v.Choice, known, msg.New("engine.choices", msg.Texts("known", msg.Commas, known))))
}

// stated is a value of the use as somebody wrote it.
func stated(v spec.Value) msg.Message {
	if v.Choice != "" {
		return msg.New("engine.quoted", msg.Text("text", suggest.Clip(v.Choice, 60)))
	}
	return number(v.Number)
}

// resolveLine takes hours and cost of an extra item. The buyer's desk knows no shops, and says nothing of them.
func (e *Engine) resolveLine(w *request, i int, l spec.Extra) {
	x := works.Extra{Title: l.Title, Hours: map[int]measure.Hours{}}
	for _, shop := range keys(l.Hours) {
		// A shop that the yard has closed since keeps its hours in the spec, and is said.
		if s, ok := e.shops[shop]; ok {
			x.Hours[s] = l.Hours[shop]
		} else if e.shops != nil {
			w.note(fmt.Sprintf("extras[%d].hours.%s", i, shop), msg.New("engine.unknown-shop"),
				nearest(shop, keys(e.shops), msg.New("engine.shops", msg.Texts("known", msg.Commas, keys(e.shops)))))
		}
	}
	w.extras, w.bought = append(w.extras, x), append(w.bought, l.Cost)
}
