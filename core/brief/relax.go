package brief

import (
	"maps"
	"math"
	"slices"

	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
)

// relax finds, for every wish by itself, how far it would have to give way. False means that the run was stopped. Which
// wish could give way is the person's to say; so all are tried, and none is weighed against another.
func (r *Run) relax(yield func(struct{}) bool) bool {
	for i := range r.resolved.wishes {
		x := &r.resolved.wishes[i]
		r.phase = msg.New("brief.search-without", msg.Text("wish", x.Title))
		going := true
		switch x.Kind {
		case pack.WishUse:
			going = r.relaxUse(i, yield)
		case pack.WishFigure:
			going = r.relaxFigure(i, yield)
		default:
			going = r.relaxWhole(i, yield)
		}
		if !going || r.err != nil {
			return false
		}
	}
	return true
}

// search looks for the cheapest boat; going is false where the run was stopped, and sure says that what came out is
// proved. For the same use the preparations of the first search are taken over; another use changes figures and rules,
// and starts anew.
func (r *Run) search(t fit.Task, yield func(struct{}) bool) (found *fit.Found, sure, going bool) {
	var h *fit.Optimizer
	if slices.Equal(t.Use, r.resolved.use) {
		h = r.first.Again(t)
	} else {
		h = r.resolved.engine.Fit.Optimize(t)
	}
	for !h.Step() {
		r.answer.Checked++
		if !yield(struct{}{}) {
			return nil, false, false
		}
	}
	if len(h.Found()) > 0 {
		found = &h.Found()[0]
	}
	return found, h.Proved(), true
}

// relaxWhole drops a wish that has no amount, or the limit of the price. What the cheapest boat then costs is the
// nearest price, so that no halving is needed: the search is for the least.
func (r *Run) relaxWhole(i int, yield func(struct{}) bool) bool {
	f, sure, going := r.search(r.task(r.resolved.use, i, nil), yield)
	if f == nil {
		return going
	}
	x := &r.resolved.wishes[i]
	boat, err := r.boat(r.resolved.use, *f)
	if err != nil {
		r.err = err
		return true
	}
	// the least price with tax; a wish without an amount goes altogether
	to := Value{}
	if x.Kind == pack.WishPrice {
		to.Text = boat.Price.String()
	}
	r.relaxed(i, to, x.Kind == pack.WishNeed, sure, boat)
	return true
}

// relaxFigure halves the way between what there is no boat for and what there is, down to the last digit shown. The
// cheapest boat without the wish is where it begins: it has some amount of the figure, however little. Each search that
// finds a boat moves to the amount of that boat, which may be far beyond the middle.
func (r *Run) relaxFigure(i int, yield func(struct{}) bool) bool {
	x := &r.resolved.wishes[i]
	best, sure, going := r.search(r.task(r.resolved.use, i, nil), yield)
	if best == nil {
		return going
	}
	step := digit(r.resolved.engine.Pack.Figures[x.Index].Digits)
	have, none := r.rounded(x, best.State.Figures[x.Index], step), x.number
	for math.Abs(none-have) > 1.5*step {
		amount := r.rounded(x, (have+none)/2, step)
		f, proved, going := r.search(r.task(r.resolved.use, i, &amount), yield)
		if !going {
			return false
		}
		if f == nil {
			sure = sure && proved
			none = amount
			continue
		}
		best, have = f, r.rounded(x, f.State.Figures[x.Index], step)
	}
	boat, err := r.boat(r.resolved.use, *best)
	if err != nil {
		r.err = err
		return true
	}
	r.relaxed(i, Value{Number: have}, false, sure, boat)
	return true
}

// rounded is an amount to the last digit shown that is no harder to have: what is offered must be met by the boat that
// was found. A billionth of a step covers what a division of floats loses.
func (r *Run) rounded(x *wish, amount, step float64) float64 {
	n := amount / step
	if x.Bound == pack.AtLeast {
		n = math.Floor(n + 1e-9)
	} else {
		n = math.Ceil(n - 1e-9)
	}
	return math.Round(n*step*1e6) / 1e6
}

// relaxUse relaxes a field of the use. A number becomes easier towards one side, as the bound of the wish says: halving
// finds the nearest value with a boat. Of a choice all are tried, in the order of the book. A choice has no nearer or
// farther: the first of the book with a boat is offered.
func (r *Run) relaxUse(i int, yield func(struct{}) bool) bool {
	x := &r.resolved.wishes[i]
	u := &r.resolved.engine.Pack.Use[x.Index]
	now := u.StepOf(x.number)
	switch x.Bound {
	case pack.AtLeast:
		return r.halve(i, 0, now, yield)
	// the larger the easier: the end of the field is tried first
	case pack.AtMost:
		return r.halve(i, u.Steps()-1, now, yield)
	}
	for k := range u.Steps() {
		// what was asked for has no boat
		if k == now {
			continue
		}
		f, sure, going := r.search(r.task(r.using(x, k), -1, nil), yield)
		if f == nil && going {
			continue
		}
		return going && r.usable(i, k, sure, f)
	}
	return true
}

// halve narrows the steps of a number down between the easiest and one for which there is no boat. It rests on the
// bound that the book gives: where there is a boat for some persons, there is one for fewer.
func (r *Run) halve(i, easiest, none int, yield func(struct{}) bool) bool {
	x := &r.resolved.wishes[i]
	// nothing is easier than what was asked for, and there is no boat for that
	if easiest == none {
		return true
	}
	have := easiest
	best, sure, going := r.search(r.task(r.using(x, have), -1, nil), yield)
	if best == nil {
		return going
	}
	for have-none > 1 || none-have > 1 {
		k := (have + none) / 2
		f, proved, going := r.search(r.task(r.using(x, k), -1, nil), yield)
		switch {
		case !going:
			return false
		case f == nil:
			none, sure = k, sure && proved
		default:
			have, best = k, f
		}
	}
	return r.usable(i, have, sure, best)
}

// using is the use with another step of a wish's field.
func (r *Run) using(x *wish, step int) []float64 {
	use := slices.Clone(r.resolved.use)
	use[x.Index] = r.resolved.engine.Pack.Use[x.Index].Value(step)
	return use
}

// usable notes that there is a boat for another step of a wish's field. What was a number of the use stays one, and a
// choice is named.
func (r *Run) usable(i, step int, sure bool, f *fit.Found) bool {
	x := &r.resolved.wishes[i]
	use := r.using(x, step)
	boat, err := r.boat(use, *f)
	if r.err = err; err == nil {
		v := r.resolved.engine.UseValue(x.Index, use[x.Index])
		r.relaxed(i, Value{Number: v.Number, Text: v.Choice}, false, sure, boat)
	}
	return err == nil
}

// relaxed notes a relaxation, with the whole brief as it would be then: choosing it is a new search, and the page and
// the file of the answer need not know how a wish gives way.
func (r *Run) relaxed(i int, to Value, left, sure bool, boat Boat) {
	x := &r.resolved.wishes[i]
	b := r.brief
	b.Wishes = maps.Clone(b.Wishes)
	if b.Wishes[x.ID] = to; left {
		delete(b.Wishes, x.ID)
	}
	def := slices.IndexFunc(r.resolved.engine.Pack.Brief.Wishes, func(w pack.Wish) bool { return w.ID == x.ID })
	r.answer.Relaxations = append(r.answer.Relaxations,
		Relaxation{Wish: def, To: to, Left: left, Sure: sure, Boat: boat, Brief: b})
}
