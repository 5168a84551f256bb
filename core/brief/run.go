package brief

import (
	"iter"
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
)

// Boat is one that was found: a spec, with what its answer says of it. All of it comes from the answer of the spec, but
// for the hours, which the price does not need.
type Boat struct {
	Spec    spec.Spec
	Hull    string // its title
	Price   money.Amount
	State   *formula.State
	Figures []engine.Value // those compared beside options, and those wished for, each once
	Chosen  []msg.Message  // what is chosen in it, slot by slot
	Hours   measure.Hours  // in all shops
	Timed   bool           // whether this desk knows the hours
}

// Relaxation is one wish that gives way, with which there is a boat. The others stay as they were wished: two that
// would each have to give way a little are not looked for, since the ways to share it out are without number.
type Relaxation struct {
	Wish  int   // of the book
	To    Value // the nearest amount with which there is one
	Left  bool  // no amount of it: the wish is left out
	Sure  bool  // proved to be the nearest, to the last digit shown
	Boat  Boat  // the cheapest then
	Brief Brief // with the wish so relaxed
}

// Answer is what a run has found. Boats are the cheapest first, each with more of the book's figure than the one
// before. Without boats, Relaxations are all the single wishes that, relaxed, would allow one, in the order of the
// book; none where several would have to give way. It is filled while the run goes on, so that a page can show what
// there is.
type Answer struct {
	Boats       []Boat
	Most        int  // of Boats: the last where a figure is set against the price; -1 for none
	Soonest     int  // of Boats: the fewest build hours, the cheaper of two; -1 where this desk does not know them
	Proved      bool // nothing was left untried
	Relaxations []Relaxation
	Checked     int // boats checked on the way
}

// Cheapest says whether there is a boat; the cheapest is the first.
func (a *Answer) Cheapest() (Boat, bool) {
	if len(a.Boats) == 0 {
		return Boat{}, false
	}
	return a.Boats[0], true
}

// Progress is how far a run has come. How far the end is nobody knows: the page shows a bar that moves without a
// measure.
type Progress struct {
	Phase   msg.Message // what is being done
	Checked int         // boats checked
	Found   int         // boats found
}

// Run is a search on its way. It works as a coroutine: [Run.work] is written as if it ran through, and yields after
// each boat; so a page can ask for a few boats at a time, and leave the search when it wants to. It is not safe for use
// by several goroutines.
type Run struct {
	resolved *resolved
	brief    Brief
	answer   Answer
	phase    msg.Message
	first    *fit.Optimizer // for all wishes
	err      error
	done     bool
	next     func() (struct{}, bool)
	stop     func()
}

// Start begins a run. It refuses a brief with something that this edition does not know, and names the place. The
// search itself begins with the first step.
func Start(e *engine.Engine, b Brief) (*Run, error) {
	w, err := resolve(e, b)
	if err != nil {
		return nil, err
	}
	r := &Run{resolved: w, brief: b}
	r.answer.Most, r.answer.Soonest = -1, -1
	r.next, r.stop = iter.Pull(iter.Seq[struct{}](r.work))
	return r, nil
}

// Step looks at so many boats at most; done says that the run has ended. An error means that there is no answer: a
// price of the book that fails on a boat.
func (r *Run) Step(boats int) (done bool, err error) {
	for range boats {
		if _, more := r.next(); !more {
			r.done = true
			return true, r.err
		}
	}
	return false, nil
}

// Stop ends a run before its end. What was found stands; nothing is proved of it. After the end it changes nothing, so
// that it may be deferred.
func (r *Run) Stop() {
	r.stop()
	if !r.done {
		r.answer.Proved = false
	}
	r.done = true
}

// Progress says how far the run has come.
func (r *Run) Progress() Progress { return Progress{r.phase, r.answer.Checked, len(r.answer.Boats)} }

// Answer is what was found so far: all of it when the run is done. It changes with each step.
func (r *Run) Answer() *Answer { return &r.answer }

// Find runs to the end. It is for the command line and for tests; the page steps.
func Find(e *engine.Engine, b Brief) (*Answer, error) {
	r, err := Start(e, b)
	if err != nil {
		return nil, err
	}
	defer r.Stop()
	for {
		if done, err := r.Step(1000); done || err != nil {
			return r.Answer(), err
		}
	}
}

// work is the whole search; it yields after every boat that it looks at. The boats come cheapest first from one search
// that goes on; only where there are none is a wish after the other let go.
func (r *Run) work(yield func(struct{}) bool) {
	r.phase = msg.New("brief.search-cheapest")
	b := r.resolved.engine.Pack.Brief
	t := r.task(r.resolved.use, -1, nil)
	// with an aim the search goes on beyond the cheapest boat
	if b.Most >= 0 {
		t.Aim = &fit.Aim{Figure: b.Most, Step: b.Step}
	}
	h := r.resolved.engine.Fit.Optimize(t)
	r.first = h
	for done := false; !done; {
		done = h.Step()
		if r.err = r.take(h.Found()[len(r.answer.Boats):]); r.err != nil {
			return
		}
		if !done {
			r.answer.Checked++
			if !yield(struct{}{}) {
				return
			}
		}
	}
	r.answer.Proved = h.Proved()
	// a search that gave up is relaxed as well: what it then finds is sound, if not proved the nearest
	if len(r.answer.Boats) == 0 {
		r.relax(yield)
	}
}

// take adds boats that a search has found. Each is answered anew by the engine before it is shown: price and figures
// are those of its spec, and not of the search.
func (r *Run) take(found []fit.Found) error {
	for _, f := range found {
		boat, err := r.boat(r.resolved.use, f)
		if err != nil {
			return err
		}
		r.answer.Boats = append(r.answer.Boats, boat)
		// as each comes in, since a page shows the boats while the search goes on
		r.rank()
		r.phase = msg.New("brief.search-more")
	}
	return nil
}

// rank finds the boats with the most of the figure and with the fewest hours. Each boat has more of the figure than the
// one before, so that the last has the most.
func (r *Run) rank() {
	a := &r.answer
	if last := len(a.Boats) - 1; r.resolved.engine.Pack.Brief.Most >= 0 {
		a.Most = last
	}
	for i := range a.Boats {
		if b := &a.Boats[i]; b.Timed && (a.Soonest < 0 || b.Hours < a.Boats[a.Soonest].Hours) {
			a.Soonest = i
		}
	}
}

// task is the search for the wishes but one (-1: all); amount, if given, is what that one is instead. Wishes for the
// use are in the use already, and need no condition.
func (r *Run) task(use []float64, but int, amount *float64) fit.Task {
	w := r.resolved
	t := fit.Task{Hulls: w.hulls, Use: use, Choices: w.choices, Tried: w.tried, Prices: w.prices}
	for i := range w.wishes {
		x := &w.wishes[i]
		switch {
		case x.Kind == pack.WishFigure && i != but:
			t.Wishes = append(t.Wishes, x.program(x.number))
		case x.Kind == pack.WishFigure && amount != nil:
			t.Wishes = append(t.Wishes, x.program(*amount))
		case x.Kind == pack.WishNeed && i != but:
			t.Wishes = append(t.Wishes, x.Need)
		case x.Kind == pack.WishPrice && i != but:
			r.limit(&t, x.limit)
		}
	}
	return t
}

// limit bounds the price of a search: nearly, by the net price before rounding, and exactly, by what the customer pays.
// The first cuts branches off; the second judges whole boats, since every line is rounded by itself.
func (r *Run) limit(t *fit.Task, limit money.Amount) {
	e := r.resolved.engine
	total := e.Totals(t.Use)
	// of a boat whose price cannot be worked out nothing can be promised
	t.Accepts = func(st *formula.State) bool {
		sum, err := total(st)
		return err == nil && sum.Cmp(limit) <= 0
	}
	t.Most = e.NetBelow(limit, t.Use)
}

// boat makes a boat of what a search found. An error is a price of the book that fails on it.
func (r *Run) boat(use []float64, f fit.Found) (Boat, error) {
	e := r.resolved.engine
	b := Boat{Hull: e.Pack.Hulls[f.State.HullID].Title, State: f.State}
	var a *engine.Answer
	// the shorter spec first: it reads as a person would choose, and holds when the book changes
	for _, tried := range []bool{true, false} { // what follows by itself need not be chosen
		var err error
		b.Spec = e.SpecOf(f.State.HullID, use, r.chosen(f, tried))
		if a, err = e.Answer(b.Spec); err != nil {
			return b, err
		}
		if slices.Equal(a.Build.State.Counts, f.State.Counts) {
			break
		}
	}
	b.Price = a.Price.Total
	for s, settled := range a.Build.Choices.Settled {
		if settled {
			b.Chosen = append(b.Chosen, e.InSlot(f.State.Counts, s))
		}
	}
	b.Hours, b.Timed = e.Hours(f.State)
	shown := map[int]bool{}
	show := func(figure int) {
		if !shown[figure] {
			shown[figure] = true
			b.Figures = append(b.Figures, e.FigureValue(f.State, figure, measure.Sea))
		}
	}
	// first what the page compares everywhere, so that boats and options can be set side by side
	for _, c := range e.Columns() {
		if c.Kind == engine.InUnits {
			show(c.Figure)
		}
	}
	// then what was asked for, so that a reader sees by how much it is met
	for i := range r.resolved.wishes {
		if x := &r.resolved.wishes[i]; x.Kind == pack.WishFigure {
			show(x.Index)
		}
	}
	return b, nil
}

// chosen are the choices of a boat, or only those in tried slots and what was chosen before. What only followed is left
// to follow again, so that the spec stays as short as a person would write it.
func (r *Run) chosen(f fit.Found, tried bool) fit.Choices {
	c := f.Choices.Clone()
	for s, settled := range c.Settled {
		if tried && settled && !r.resolved.tried[s] && !r.resolved.choices.Settled[s] {
			c = r.resolved.engine.Fit.Drop(c, s)
		}
	}
	return c
}

// digit is the last digit of a figure that is shown: no relaxation is told more finely than a reader can see.
func digit(digits int) float64 { return math.Pow(10, -float64(digits)) }
