package brief

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/spec"
	"ribband/core/suggest"
)

// wanted is a brief in the indices of a pack. Amounts are by wish of the book.
type wanted struct {
	engine  *engine.Engine
	prices  fit.Prices
	hulls   []int
	use     []float64
	choices fit.Choices
	tried   []bool
	wishes  []wish
}

// wish is one that was stated.
type wish struct {
	*pack.Wish
	number float64
	limit  money.Amount
}

// WishError is what is wrong with the amount of one wish.
type WishError struct {
	Wish string // its identifier
	Err  error  // what is wrong, and what to write
}

func (e *WishError) Error() string { return "wishes." + e.Wish + ": " + e.Err.Error() }

func (e *WishError) Unwrap() error { return e.Err }

// resolve finds everything that a brief names. It refuses what this edition does not know or allow, and names the
// place.
func resolve(e *engine.Engine, b Brief) (*wanted, error) {
	if e.Pack.Brief == nil {
		return nil, errors.New("this book declares no wishes; add brief: to it, see its README")
	}
	if err := b.check(); err != nil {
		return nil, err
	}
	w := &wanted{engine: e, tried: make([]bool, len(e.Pack.Slots))}
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

func (w *wanted) resolveWishes(stated map[string]Value) error {
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
			return &WishError{def.ID, err}
		}
		w.wishes = append(w.wishes, x)
	}
	for _, id := range slices.Sorted(maps.Keys(stated)) {
		if !slices.Contains(known, id) {
			return fmt.Errorf("wishes.%.60s: the book knows no such wish; %s", id,
				suggest.Nearest(id, known, fmt.Sprintf("its wishes are %q", known)))
		}
	}
	return nil
}

func (w *wanted) resolveWish(def *pack.Wish, v Value) (x wish, err error) {
	x = wish{Wish: def, number: v.Number}
	switch def.Kind {
	case pack.WishUse:
		id := w.engine.Pack.Use[def.Index].ID
		if v.Yes {
			return x, errors.New("write a number or a choice")
		}
		use, notes := w.engine.ResolveUse(map[string]spec.Value{id: {Number: v.Number, Choice: v.Text}})
		if len(notes) > 0 {
			return x, notes[0].Fault()
		}
		x.number = use[def.Index]
		w.use[def.Index] = x.number
	case pack.WishFigure:
		if v.Yes || v.Text != "" || math.Abs(v.Number) > 1e9 {
			return x, fmt.Errorf("write a number, of %s", w.engine.Pack.Figures[def.Index].Unit)
		}
	case pack.WishNeed:
		if !v.Yes {
			return x, errors.New("write true, or leave it out")
		}
	case pack.WishPrice:
		if x.limit, err = v.Money(); err != nil {
			return x, fmt.Errorf(`write an amount such as "45000": %w`, err)
		}
	}
	return x, nil
}

// program is the condition of a figure's wish.
func (x *wish) program(amount float64) formula.Program {
	figure, number := formula.Step{Op: formula.Figure, Index: x.Index}, formula.Step{Op: formula.Const, Value: amount}
	steps := []formula.Step{figure, number, {Op: formula.AtMost}}
	if x.Bound == pack.AtLeast {
		steps = []formula.Step{number, figure, {Op: formula.AtMost}}
	}
	p, err := formula.New(steps)
	if err != nil { // three steps that fit, with an amount that was checked
		panic("making the condition of a wish: " + err.Error())
	}
	return p
}
