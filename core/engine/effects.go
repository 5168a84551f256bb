package engine

import (
	"math"
	"slices"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
)

// Effect is what the whole boat becomes with another choice, as the difference to the present boat: with all that the
// choice brings, replaces and removes.
type Effect struct {
	Price   money.Amount    // of the boat as the customer sees it, without what a salesperson added
	Hours   []measure.Hours // by shop; nil on all desks but the yard's
	Figures []float64       // in the order of [Engine.Compared]; NaN where the figure is not known
}

// Effects are the effects of every option and of leaving each slot empty; nil where the option cannot be had or is in
// the boat, or a price is not known.
type Effects struct {
	Options []*Effect
	Empty   []*Effect
}

// Compared are the figures that the book has compared beside every option.
func (e *Engine) Compared() []int {
	var list []int
	for i, f := range e.Pack.Figures {
		if f.Compared {
			list = append(list, i)
		}
	}
	return list
}

// Effects works out what the boat of every open option is against that of the answer. It gives exactly the difference
// between the answers to the two specs.
func (e *Engine) Effects(a *Answer, options []fit.Verdict, empty []*fit.Verdict) Effects {
	c := e.newComparison(a)
	n := Effects{make([]*Effect, len(options)), make([]*Effect, len(empty))}
	of := func(v *fit.Verdict) *Effect {
		if v == nil || v.Status != fit.Open {
			return nil
		}
		return c.net(v.Build.Held, v.Build.Figures, v.Build.Faults)
	}
	for o := range options {
		n.Options[o] = of(&options[o])
	}
	for s := range empty {
		n.Empty[s] = of(empty[s])
	}
	return n
}

// Effect is that of one other boat of the same hull and use; nil where a price is not known.
func (e *Engine) Effect(a *Answer, b *fit.Build) *Effect { return e.newComparison(a).build(b) }

// comparison holds what the present boat is. Of another boat only what is affected by its changes is computed.
type comparison struct {
	engine         *Engine
	answer         *Answer
	region         *pack.Region
	minor          int32 // exponent of the minor unit
	figures        []int
	standard, nets []int64         // by slot, the base boat behind them, in the unit of the prices
	items          []int64         // by item of the prices
	shown          map[int64]int64 // net difference to shown one, in minor units
	known          bool            // the prices
	hours          bool            // are known, on a desk that has them
	then           *formula.State  // the other boat; between two of them the present one
	held           []fit.Held      // in which it differs
	more           []int64         // by slot, what it costs more; zero between two boats
	slots          []int           // of which that is so
	affected       []int
}

func (e *Engine) newComparison(a *Answer) *comparison {
	st := *a.Build.State
	st.Counts, st.Slots = slices.Clone(st.Counts), slices.Clone(st.Slots)
	c := &comparison{engine: e, answer: a, region: e.Region(a.Build), minor: -int32(e.Pricing.Currency().Digits),
		figures: e.Compared(), shown: map[int64]int64{}, then: &st}
	if t := e.prices; t != nil {
		places := len(e.Pack.Slots) + 1
		c.standard, c.nets, c.more, c.items = make([]int64, places), make([]int64, places), make([]int64, places),
			make([]int64, t.Base()+1)
		c.known = true
		for i := range c.items {
			was, err1 := t.Net(a.Standard.State, i, e.Pack.Made)
			now, err2 := t.Net(a.Build.State, i, e.Pack.Made)
			c.known = c.known && err1 == nil && err2 == nil
			c.items[i] = now
			c.standard[c.slotOf(i)] += was
			c.nets[c.slotOf(i)] += now
		}
	}
	if e.Pack.Can(pack.Hours) {
		scrap := make([]measure.Hours, len(e.Pack.Costs.Shops))
		c.hours = true
		for i := range len(e.Pack.Options) + 1 {
			c.hours = c.hours && e.Costing.AddHours(a.Build.State, i, 1, scrap) == nil
		}
	}
	return c
}

// slotOf is the slot of an item of the prices; the base boat stands behind the slots.
func (c *comparison) slotOf(item int) int {
	if p := c.engine.Pack; item < len(p.Options) {
		return p.Options[item].Slot
	}
	return len(c.engine.Pack.Slots)
}

// build is the effect of a whole boat.
func (c *comparison) build(b *fit.Build) *Effect {
	var held []fit.Held
	for o, n := range b.State.Counts {
		if n != c.answer.Build.State.Counts[o] {
			held = append(held, fit.Held{Option: o, Count: n})
		}
	}
	return c.net(held, b.State.Figures, b.State.Faults)
}

// net is the effect of a boat that holds some options otherwise, and has these figures.
func (c *comparison) net(held []fit.Held, figures []float64, faults []formula.Fault) *Effect {
	c.hold(held, figures)
	defer c.hold(nil, nil)
	n := &Effect{Figures: make([]float64, len(c.figures))}
	now := c.answer.Build.State
	changed := formula.Changed(&formula.State{Figures: now.Figures}, &formula.State{Figures: figures})
	for _, h := range held {
		changed.Options, changed.Slots = append(changed.Options, h.Option), append(changed.Slots, c.slotOf(h.Option))
	}
	var ok bool
	if n.Price, ok = c.price(changed); !ok {
		return nil
	}
	for j, i := range c.figures {
		n.Figures[j] = figures[i] - now.Figures[i]
		known := len(faults)+len(now.Faults) == 0 && !c.engine.Figures.AtLeast(now, i) &&
			!c.engine.Figures.AtLeast(c.then, i)
		if c.engine.Pack.Figures[i].Computed != "" && !known {
			n.Figures[j] = math.NaN()
		}
	}
	if c.hours {
		n.Hours = c.moreHours(changed)
	}
	return n
}

// hold puts another boat into its state; nil puts the present one back.
func (c *comparison) hold(held []fit.Held, figures []float64) {
	now, then := c.answer.Build.State, c.then
	for _, h := range c.held {
		then.Counts[h.Option], then.Slots[c.slotOf(h.Option)] = now.Counts[h.Option], now.Slots[c.slotOf(h.Option)]
	}
	for _, h := range held {
		then.Slots[c.slotOf(h.Option)] += h.Count - then.Counts[h.Option]
		then.Counts[h.Option] = h.Count
	}
	if c.held, then.Figures = held, figures; figures == nil {
		then.Figures = now.Figures
	}
}

// price is the difference between the goods of two sheets: only slots whose price differs count, each line rounded as
// it is shown.
func (c *comparison) price(changed formula.Reads) (money.Amount, bool) {
	t := c.engine.prices
	if t == nil {
		return c.slowly(c.then)
	}
	if !c.known {
		return money.Amount{}, false
	}
	defer func() {
		for _, s := range c.slots {
			c.more[s] = 0
		}
		c.slots = c.slots[:0]
	}()
	c.affected = t.Affected(changed, c.affected[:0])
	for _, i := range c.affected {
		net, err := t.Net(c.then, i, c.engine.Pack.Made)
		if err != nil {
			return money.Amount{}, false
		}
		if net != c.items[i] {
			c.slots = append(c.slots, c.slotOf(i))
			c.more[c.slotOf(i)] += net - c.items[i]
		}
	}
	var sum int64
	slices.Sort(c.slots)
	c.slots = slices.Compact(c.slots)
	for _, s := range c.slots {
		sum += c.show(c.nets[s]+c.more[s]-c.standard[s]) - c.show(c.nets[s]-c.standard[s])
	}
	return money.Exact(sum, c.minor), true
}

// moreHours are the hours by shop beyond those of the present boat; nil where they are not known.
func (c *comparison) moreHours(changed formula.Reads) []measure.Hours {
	costing, hours := c.engine.Costing, make([]measure.Hours, len(c.engine.Pack.Costs.Shops))
	c.affected = costing.HoursAffected(changed, c.affected[:0])
	for _, i := range c.affected {
		if costing.AddHours(c.then, i, 1, hours) != nil || costing.AddHours(c.answer.Build.State, i, -1, hours) != nil {
			return nil
		}
	}
	return hours
}

// show is a net difference as it is shown, in minor units.
func (c *comparison) show(net int64) int64 {
	v, known := c.shown[net]
	if !known {
		v, _ = c.engine.prices.Show(net, c.region).Whole(c.minor) // rounded to the minor unit
		c.shown[net] = v
	}
	return v
}

// slowly is price for a pack without tables.
func (c *comparison) slowly(st *formula.State) (money.Amount, bool) {
	e, a := c.engine, c.answer
	goods := func(st *formula.State) (money.Amount, error) {
		lines, err := e.lines(&Answer{Hull: a.Hull, Standard: a.Standard, Build: &fit.Build{State: st}})
		var sum money.Amount
		for _, l := range lines {
			sum = sum.Add(e.Pricing.Show(l.Net, c.region))
		}
		return sum, err
	}
	now, err := goods(a.Build.State)
	if err != nil {
		return now, false
	}
	then, err := goods(st)
	return then.Sub(now), err == nil
}
