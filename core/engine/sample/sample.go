// Package sample finds random boats of a book that can be built, for tests of what has to hold of every boat.
//
// A boat is settled in every slot, so that its spec gives the same boat on every desk. Boats lie anywhere between the
// standard build and what can just be built: they are no fair draw from all that a book allows, whose number nobody
// could look through. Nothing here is for a page or a paper.
package sample

import (
	"iter"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/spec"
)

// Random draws numbers; a *rand.Rand of math/rand/v2 is one. The same numbers give the same boats.
type Random interface {
	IntN(n int) int // from 0 to n-1
}

// mostChanges is how many options are tried out on one boat, at most: about as many as the demo book has slots.
const mostChanges = 60

// Boats are the specs of n boats that can be built, hull after hull in turn. A use for which a hull has no boat is
// drawn anew; a book without boats gives none.
func Boats(e *engine.Engine, n int, r Random) iter.Seq[spec.Spec] {
	return func(yield func(spec.Spec) bool) {
		for found, tries := 0, 0; found < n && tries < 20*n; tries++ {
			s, ok := boat(e, found%len(e.Pack.Hulls), r)
			if !ok {
				continue
			}
			if found++; !yield(s) {
				return
			}
		}
	}
}

// boat goes from the standard build from option to option, as long as what was taken can still be built.
func boat(e *engine.Engine, hull int, r Random) (spec.Spec, bool) {
	use, choices := anyUse(e, r), e.Fit.NewChoices()
	b := e.Fit.Complete(hull, use, choices, fit.DefaultTries)
	if len(b.Clashes) > 0 {
		return spec.Spec{}, false
	}
	for range r.IntN(mostChanges) {
		next := e.Fit.Complete(hull, use, changed(e, hull, choices, r), fit.DefaultTries)
		if len(next.Clashes) == 0 {
			b, choices = next, next.Choices
		}
	}
	all := fit.Choices{Settled: make([]bool, len(e.Pack.Slots)), Counts: b.State.Counts}
	for i := range all.Settled {
		all.Settled[i] = true
	}
	return e.SpecOf(hull, use, all), true
}

// anyUse holds what the book assumes in about half of the fields.
func anyUse(e *engine.Engine, r Random) []float64 {
	use := e.StandardUse()
	for i := range use {
		if u := &e.Pack.Use[i]; r.IntN(2) == 0 {
			if use[i] = float64(r.IntN(u.Steps())); len(u.Choices) == 0 {
				use[i] = u.Value(int(use[i]))
			}
		}
	}
	return use
}

// changed settles one slot anew: to an option that is made for the hull, or one more of it where there may be several,
// or to nothing.
func changed(e *engine.Engine, hull int, c fit.Choices, r Random) fit.Choices {
	c = c.Clone()
	i := r.IntN(len(e.Pack.Slots))
	slot := &e.Pack.Slots[i]
	c.Settled[i] = true
	if !slot.Multiple {
		clear(c.Counts[slot.First:slot.End])
	}
	if slot.Least < 1 && r.IntN(4) == 0 {
		clear(c.Counts[slot.First:slot.End])
		return c
	}
	if o := slot.First + r.IntN(slot.End-slot.First); e.Pack.Offered(o, hull) && c.Counts[o] < e.Pack.Options[o].Most {
		c.Counts[o]++
	}
	return c
}
