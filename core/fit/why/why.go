// Package why says which few slots decide a condition of the boat.
//
// A rule over the mass of the boat, or over what follows from it, reads nearly every slot. To say that it is broken
// because of all of them helps nobody, and no search gets ahead by it. An explanation is the few slots whose contents
// decide the condition whatever the others hold: the figures are bounded over all boats with these contents, and as
// long as the bounds tell, one slot after the other is freed. Both searches of package fit, its reasons and its
// optimiser branch and learn by what is found here.
//
// It does not find a smallest set, and it may find none where there is one: bounds are wider than what they bound.
// Source: deletion-based minimisation by halves, as QuickXplain does it (U. Junker, QuickXplain, AAAI 2004, from
// memory), over interval arithmetic in the place of a solver.
package why

import (
	"slices"

	"ribband/core/figures"
	"ribband/core/formula"
)

// Condition is a rule: what has to hold, and when. It holds where it is not asked.
type Condition struct {
	When, Need formula.Program // an empty When is always
	needed     figures.Needed  // steps to the figures that it reads
}

// NewCondition prepares a rule; an empty when is always.
func NewCondition(figs *figures.Figures, when, need formula.Program) Condition {
	return Condition{when, need, figs.Needed(when.Reads().With(need.Reads()))}
}

// Why explains conditions. It is not for several at once. Box holds the bounds of the last question.
type Why struct {
	figures *figures.Figures
	free    []bool // by slot
	Box     formula.Box
}

// New explains conditions of boats with so many slots.
func New(figs *figures.Figures, slots int) *Why {
	return &Why{figures: figs, free: make([]bool, slots)}
}

// Few finds some of the given slots with whose contents something is certain whatever the others of them, and the slots
// that are free at first, hold; ok is false where all of the given together do not make it so. None of the slots could
// be freed alone. Of a nil free, all are free at first.
func (w *Why) Few(free []bool, slots []int, certain func() bool) (few []int, ok bool) {
	for s := range w.free {
		w.free[s] = free == nil || free[s]
	}
	w.liberate(slots, false)
	if !certain() {
		return nil, false
	}
	return w.kept(slots, certain), true
}

// kept frees slots together where that goes, else by halves, and gives those that cannot be freed.
func (w *Why) kept(slots []int, certain func() bool) []int {
	w.liberate(slots, true)
	if certain() {
		return nil
	}
	w.liberate(slots, false)
	if len(slots) == 1 {
		return slots
	}
	half := len(slots) / 2
	return slices.Concat(w.kept(slots[:half], certain), w.kept(slots[half:], certain))
}

func (w *Why) liberate(slots []int, free bool) {
	for _, s := range slots {
		w.free[s] = free
	}
}

// Free sets which slots are free for the next question that is asked directly.
func (w *Why) Free(free []bool) { copy(w.free, free) }

// Broken says that a rule counts and is broken on every boat that holds what one does but in the free slots.
func (w *Why) Broken(st *formula.State, c *Condition) bool { return w.Always(st, c, false) }

// Always says that a rule counts, and that what it needs is met (or is not met), on every boat that holds what one does
// but in the free slots.
func (w *Why) Always(st *formula.State, c *Condition, met bool) bool {
	w.figures.Bounds(st, w.free, c.needed, &w.Box)
	need, sound := c.Need.Judge(&w.Box)
	if !sound || met && need.MayFail || !met && need.MayHold {
		return false
	}
	when, sound := c.When.Judge(&w.Box)
	return sound && !when.MayFail
}

// Doomed says that the modules can compute the figures of none of these boats; needed are the steps to what they read.
func (w *Why) Doomed(st *formula.State, needed figures.Needed) bool {
	w.figures.Bounds(st, w.free, needed, &w.Box)
	return w.figures.Doomed(&w.Box)
}

// Bound puts into Box the figures of all boats that hold what one does but in the given slots.
func (w *Why) Bound(st *formula.State, free []bool, needed figures.Needed) {
	w.figures.Bounds(st, free, needed, &w.Box)
}
