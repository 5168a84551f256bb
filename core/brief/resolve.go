package brief

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/spec"
	"ribband/core/suggest"
)

// resolved is a brief in the indices of a pack. Amounts are by wish of the book.
type resolved struct {
	engine  *engine.Engine
	prices  fit.Prices
	hulls   []int       // to search, each once and in the order of the book
	use     []float64   // as the brief and its wishes state it, the rest as the book assumes
	choices fit.Choices // that stay
	tried   []bool      // by slot: the search tries its options out
	wishes  []wish
}

// wish is one that was stated.
type wish struct {
	*pack.Wish
	number float64      // the amount of a figure, or the value of the use; a choice by its index
	limit  money.Amount // of the price, with tax where the region has one
}

// WishError is what is wrong with the amount of one wish. A form shows the problem beside the field; elsewhere the
// place is said with it.
type WishError struct {
	Wish    string      // its identifier
	Problem msg.Message // and what to write
}

func (e *WishError) Error() string { return e.Unwrap().Error() }

// Unwrap is the error with its place, which [msg.Of] finds.
func (e *WishError) Unwrap() error {
	return msg.Fault("brief.wish-at", msg.Text("wish", e.Wish), msg.Words("problem", e.Problem))
}

// resolve finds everything that a brief names. It refuses what this edition does not know or allow, and names the
// place. The hulls that are searched are all where none is named.
func resolve(e *engine.Engine, b Brief) (*resolved, error) {
	if e.Pack.Brief == nil {
		return nil, msg.Fault("brief.none-declared")
	}
	if err := b.check(); err != nil {
		return nil, err
	}
	w := &resolved{engine: e, tried: make([]bool, len(e.Pack.Slots))}
	var err error
	if w.prices, err = e.Listed(); err != nil {
		return nil, err
	}
	for _, s := range e.Pack.Brief.Slots {
		w.tried[s] = true
	}
	for i, id := range b.Hulls {
		h, err := e.FindHull(fmt.Sprintf("hulls[%d]", i), id)
		if err != nil {
			return nil, err
		}
		w.hulls = append(w.hulls, h)
	}
	if len(w.hulls) == 0 {
		for h := range e.Pack.Hulls {
			w.hulls = append(w.hulls, h)
		}
	}
	// the order of the file must not change what comes first among equal boats
	slices.Sort(w.hulls)
	w.hulls = slices.Compact(w.hulls)
	use, notes := e.ResolveUse(b.Use)
	if w.use = use; len(notes) > 0 {
		return nil, &msg.Error{Message: notes[0].Message()}
	}
	choices, notes := e.ResolveChoices(b.Choices)
	if w.choices = choices; len(notes) > 0 {
		return nil, &msg.Error{Message: notes[0].Message()}
	}
	return w, w.resolveWishes(b.Wishes)
}

// resolveWishes takes the wishes in the order of the book, whatever the order in the file: the search, and the
// relaxations that it offers, follow it.
func (w *resolved) resolveWishes(stated map[string]Value) error {
	var known []string
	for i := range w.engine.Pack.Brief.Wishes {
		def := &w.engine.Pack.Brief.Wishes[i]
		known = append(known, def.ID)
		v, ok := stated[def.ID]
		if !ok {
			continue
		}
		x, err := w.resolveWish(def, v)
		if err != nil {
			return &WishError{def.ID, msg.Of(err)}
		}
		w.wishes = append(w.wishes, x)
	}
	// in order, so that of two unknown wishes the same is told each time
	for _, id := range slices.Sorted(maps.Keys(stated)) {
		if !slices.Contains(known, id) {
			remedy := msg.New("brief.wishes", msg.Texts("known", msg.Commas, known))
			if meant, ok := suggest.Meant(id, known); ok {
				remedy = msg.New("brief.did-you-mean", msg.Text("name", meant))
			}
			return &WishError{suggest.Clip(id, 60), msg.New("brief.unknown-wish", msg.Words("remedy", remedy))}
		}
	}
	return nil
}

// resolveWish checks the amount of one wish against its kind. A wish for a value of the use changes the use itself: it
// is no condition on a boat, and boats are sought for that use alone.
func (w *resolved) resolveWish(def *pack.Wish, v Value) (x wish, err error) {
	x = wish{Wish: def, number: v.Number}
	switch def.Kind {
	case pack.WishUse:
		id := w.engine.Pack.Use[def.Index].ID
		if v.Yes {
			return x, msg.Fault("brief.write-a-choice")
		}
		use, notes := w.engine.ResolveUse(map[string]spec.Value{id: {Number: v.Number, Choice: v.Text}})
		if len(notes) > 0 {
			return x, notes[0].Fault()
		}
		x.number = use[def.Index]
		w.use[def.Index] = x.number
	// a billion is beyond any figure, and the condition is computed in floats
	case pack.WishFigure:
		if v.Yes || v.Text != "" || math.Abs(v.Number) > 1e9 {
			u := measure.Named(w.engine.Pack.Figures[def.Index].Unit)
			return x, msg.Fault("brief.write-a-number", msg.Text("unit", u.Symbol))
		}
	case pack.WishNeed:
		if !v.Yes {
			return x, msg.Fault("brief.write-true")
		}
	case pack.WishPrice:
		if x.limit, err = v.Money(); err != nil {
			return x, msg.Fault("brief.write-money", msg.Words("problem", msg.Of(err)))
		}
	}
	return x, nil
}

// program is the condition of a figure's wish. It is what a rule of the book over that figure would be, so that the
// search reads both alike.
func (x *wish) program(amount float64) formula.Program {
	figure, number := formula.Step{Op: formula.Figure, Index: x.Index}, formula.Step{Op: formula.Const, Value: amount}
	steps := []formula.Step{figure, number, {Op: formula.AtMost}}
	if x.Bound == pack.AtLeast {
		steps = []formula.Step{number, figure, {Op: formula.AtMost}}
	}
	p, err := formula.New(steps)
	if err != nil { // three steps that fit, with an amount that was checked
		// what [resolved.resolveWish] lets through is finite, and so are the figures' bounds of halving
		panic("making the condition of a wish: " + err.Error())
	}
	return p
}
