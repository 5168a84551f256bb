package engine

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/spec"
	"ribband/core/suggest"
	"ribband/core/works"
)

// Unresolved is something in a spec that this edition cannot use, with the place and the remedy.
type Unresolved struct {
	Place   string
	Message string
	Advice  string
}

func (n Unresolved) String() string { return n.Place + ": " + n.Message + "; " + n.Advice }

// request is a spec in the indices of the pack.
type request struct {
	hull    int
	use     []float64
	choices fit.Choices
	extras  []works.Extra
	bought  []money.Amount // for each of the extra items
	notes   []Unresolved
}

func (w *request) note(place, advice, format string, args ...any) {
	w.notes = append(w.notes, Unresolved{place, fmt.Sprintf(format, args...), advice})
}

// resolve finds everything that a spec names. What is unknown is noted and left out.
func (e *Engine) resolve(s spec.Spec) (*request, error) {
	hull, ok := e.hulls[s.Hull]
	if !ok {
		return nil, fmt.Errorf("reading a spec: hull: unknown hull %.60q; %s", s.Hull,
			suggest.Nearest(s.Hull, keys(e.hulls), fmt.Sprintf("the hulls are %q", keys(e.hulls))))
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

func keys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// StandardUse is the use that the book assumes.
func (e *Engine) StandardUse() []float64 {
	use := make([]float64, len(e.Pack.Use))
	for i, u := range e.Pack.Use {
		use[i] = u.Standard
	}
	return use
}

func (e *Engine) resolveSlot(w *request, id string, chosen map[string]int) {
	place := "choices." + id
	slot, ok := e.slots[id]
	if !ok {
		w.note(place, suggest.Nearest(id, keys(e.slots),
			"leave it out, or open the spec with the edition that it was made for"), "unknown slot")
		return
	}
	known := 0
	for _, name := range keys(chosen) {
		o, ok := e.options[name]
		if !ok || e.Pack.Options[o].Slot != slot {
			w.note(place+"."+name, suggest.Nearest(name, e.optionsOf(slot),
				"leave it out, or open the spec with the edition that it was made for"), "unknown option of this slot")
			continue
		}
		if known > 0 && !e.Pack.Slots[slot].Multiple {
			w.note(place+"."+name, "leave one of them out",
				"only one option fits this slot, and another is named before it")
			continue
		}
		w.choices.Counts[o] = chosen[name]
		known++
	}
	w.choices.Settled[slot] = known > 0 || len(chosen) == 0
}

func (e *Engine) optionsOf(slot int) []string {
	var ids []string
	for _, o := range e.Pack.Options[e.Pack.Slots[slot].First:e.Pack.Slots[slot].End] {
		ids = append(ids, o.ID)
	}
	return ids
}

func (e *Engine) resolveUse(w *request, id string, v spec.Value) {
	place := "use." + id
	i, ok := e.uses[id]
	if !ok {
		w.note(place, suggest.Nearest(id, keys(e.uses), "leave it out"), "unknown field")
		return
	}
	u := &e.Pack.Use[i]
	if len(u.Choices) > 0 {
		e.resolveChoice(w, place, i, v)
		return
	}
	if v.Choice != "" || v.Number < u.Min || v.Number > u.Max || math.IsNaN(v.Number) {
		w.note(place, fmt.Sprintf("write a number from %g to %g", u.Min, u.Max),
			"%s is not among the numbers that the book allows", v)
		return
	}
	w.use[i] = u.Value(u.StepOf(v.Number))
	if math.Abs(w.use[i]-v.Number) > 1e-9 {
		w.note(place, fmt.Sprintf("write a multiple of %g", u.Step), "%s lies between two steps; %g is taken", v,
			w.use[i])
	}
}

func (e *Engine) resolveChoice(w *request, place string, field int, v spec.Value) {
	var known []string
	for j, c := range e.Pack.Use[field].Choices {
		if v.Choice == c.ID {
			w.use[field] = float64(j)
			return
		}
		known = append(known, c.ID)
	}
	w.note(place, suggest.Nearest(v.Choice, known, fmt.Sprintf("the choices are %q", known)), "unknown choice %s", v)
}

func (e *Engine) resolveLine(w *request, i int, l spec.Extra) {
	x := works.Extra{Title: l.Title, Hours: map[int]measure.Hours{}}
	for _, shop := range keys(l.Hours) {
		if s, ok := e.shops[shop]; ok {
			x.Hours[s] = l.Hours[shop]
		} else if e.shops != nil {
			w.note(fmt.Sprintf("extras[%d].hours.%s", i, shop),
				suggest.Nearest(shop, keys(e.shops), "name a shop of the book"), "unknown shop")
		}
	}
	w.extras, w.bought = append(w.extras, x), append(w.bought, l.Cost)
}
