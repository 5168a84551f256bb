package engine

import (
	"slices"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
)

// Effect is what the whole boat becomes with another choice, as the difference to the present boat: with all that the
// choice brings, replaces and removes. It has a difference for each of [Engine.Columns]; nil where a price is not
// known. They are exact: each difference is that between the answers to the two specs, which a test
// compares.
type Effect []Delta

// Delta is the difference in one column: by its kind an amount of money, a number in the unit of the column, hours by
// shop, or days. It may be that it is not known. The others are zero: only whoever knows the column can
// read it.
type Delta struct {
	Known  bool
	Money  money.Amount
	Number float64 // of days, too
	ByShop []measure.Hours
}

// Price is the difference in price of the boat as the customer sees it, without what a salesperson added.
func (x Effect) Price() money.Amount { return x[0].Money }

// Kind says what a column counts in. Whoever renders a column asks for its kind, and not for its identifier.
type Kind int

const (
	InMoney Kind = iota // as the customer sees prices
	InUnits             // in the unit of its figure
	InHours             // by shop
	InDays              // of the launch
)

// Column is one thing that is compared beside every option. A further one is one more line of [Engine.columnsOf].
type Column struct {
	ID     string // the identifier of the figure, "price" or "hours"
	Kind   Kind
	Figure int // that is compared; -1 for none
	of     func(c *comparison, changed formula.Reads) Delta
}

// Columns are what the effects on this desk are told in: first the price, then the figures that the book has compared,
// and the hours where the desk knows them.
func (e *Engine) Columns() []Column { return e.columns }

func (e *Engine) columnsOf() []Column {
	list := []Column{{"price", InMoney, -1, (*comparison).price}}
	for i, f := range e.Pack.Figures {
		if f.Compared {
			list = append(list, Column{f.ID, InUnits, i,
				func(c *comparison, _ formula.Reads) Delta { return c.figure(i) }})
		}
	}
	return append(list, e.ownColumns()...)
}

// Effect is that of one other boat of the same hull and use; nil where a price is not known. What a repair changes is
// told by it.
func (e *Engine) Effect(a *Answer, b *fit.Build) Effect { return e.newComparison(a).build(b) }

// Between is what a boat has become by a change, of whatever kind: the difference in what is to be paid for all of it,
// and in the figures that both know. Hours are left out: they are worked out where somebody looks at them.
func (e *Engine) Between(was, now *Answer) Effect {
	x := make(Effect, len(e.columns))
	for i, c := range e.columns {
		switch c.Kind {
		case InMoney:
			x[i] = Delta{Known: true, Money: now.Price.Total.Sub(was.Price.Total)}
		case InUnits:
			x[i] = e.figureBetween(c.Figure, was.Build.State, now.Build.State)
		}
	}
	return x
}

// comparison holds what the present boat is. Of another boat only what is affected by its changes is computed.
type comparison struct {
	engine         *Engine
	answer         *Answer
	region         *pack.Region
	minor          int32           // exponent of the minor unit
	standard, nets []int64         // by slot, the base boat behind them, in the unit of the prices
	items          []int64         // by item of the prices
	shown          map[int64]int64 // net difference to shown one, in minor units
	known          bool            // the prices
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
		shown: map[int64]int64{}, then: &st}
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
	return c
}

// slotOf is the slot of an item of the prices; the base boat stands behind the slots. So one list holds what every part
// of the price comes to.
func (c *comparison) slotOf(item int) int {
	if p := c.engine.Pack; item < len(p.Options) {
		return p.Options[item].Slot
	}
	return len(c.engine.Pack.Slots)
}

// build is the effect of a whole boat. It differs from the present one in what its options differ in: figures are its
// own.
func (c *comparison) build(b *fit.Build) Effect {
	var held []fit.Held
	for o, n := range b.State.Counts {
		if n != c.answer.Build.State.Counts[o] {
			held = append(held, fit.Held{Option: o, Count: n})
		}
	}
	return c.net(held, b.State.Figures, b.State.Faults)
}

// net is the effect of a boat that holds some options otherwise, and has these figures. The other state is put back at
// the end, so that the next boat begins at the present one; nothing is copied on the way.
func (c *comparison) net(held []fit.Held, figures []float64, faults []formula.Fault) Effect {
	c.hold(held, figures, faults)
	defer c.hold(nil, nil, nil)
	now := c.answer.Build.State
	changed := formula.Changed(&formula.State{Figures: now.Figures}, &formula.State{Figures: figures})
	for _, h := range held {
		changed.Options, changed.Slots = append(changed.Options, h.Option), append(changed.Slots, c.slotOf(h.Option))
	}
	columns := c.engine.columns
	x := make(Effect, 0, len(columns))
	for i := range columns {
		d := columns[i].of(c, changed)
		if columns[i].Kind == InMoney && !d.Known {
			return nil
		}
		x = append(x, d)
	}
	return x
}

// figure is the difference in a figure. One that a module computes is not known where it cannot be computed, or where
// it is only known to be at least so much. A difference of two lower bounds says nothing.
func (c *comparison) figure(i int) Delta {
	return c.engine.figureBetween(i, c.answer.Build.State, c.then)
}

func (e *Engine) figureBetween(i int, now, then *formula.State) Delta {
	// a total of the book is known of every boat, as it adds up what is aboard
	known := e.Pack.Figures[i].Computed == "" || len(then.Faults)+len(now.Faults) == 0 && !e.Figures.AtLeast(now, i) &&
		!e.Figures.AtLeast(then, i)
	return Delta{Known: known, Number: then.Figures[i] - now.Figures[i]}
}

// hold puts another boat into its state; nil puts the present one back. Counts of slots go along with those of
// options, as formulas read both.
func (c *comparison) hold(held []fit.Held, figures []float64, faults []formula.Fault) {
	now, then := c.answer.Build.State, c.then
	for _, h := range c.held {
		then.Counts[h.Option], then.Slots[c.slotOf(h.Option)] = now.Counts[h.Option], now.Slots[c.slotOf(h.Option)]
	}
	for _, h := range held {
		then.Slots[c.slotOf(h.Option)] += h.Count - then.Counts[h.Option]
		then.Counts[h.Option] = h.Count
	}
	if c.held, then.Figures, then.Faults = held, figures, faults; figures == nil {
		then.Figures, then.Faults = now.Figures, now.Faults
	}
}

// price is the difference between the goods of two sheets: only slots whose price differs count, each line rounded as
// it is shown. Rounding each line is what makes this more than
// a sum: two differences that are shown as 0.01 each may be 0.01 together.
func (c *comparison) price(changed formula.Reads) Delta {
	t := c.engine.prices
	if t == nil {
		return c.slowly(c.then)
	}
	if !c.known {
		return Delta{}
	}
	defer func() {
		for _, s := range c.slots {
			c.more[s] = 0
		}
		c.slots = c.slots[:0]
	}()
	// the base boat is among the items: its price may follow from what is chosen
	c.affected = t.Affected(changed, c.affected[:0])
	for _, i := range c.affected {
		net, err := t.Net(c.then, i, c.engine.Pack.Made)
		if err != nil {
			return Delta{}
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
	return Delta{Known: true, Money: money.Exact(sum, c.minor)}
}

// show is a net difference as it is shown, in minor units. The same few differences come up for many options, so that
// each is rounded once.
func (c *comparison) show(net int64) int64 {
	v, known := c.shown[net]
	if !known {
		v, _ = c.engine.prices.Show(net, c.region).Whole(c.minor) // rounded to the minor unit
		c.shown[net] = v
	}
	return v
}

// slowly is price for a pack without tables. It is for the yard's engine of a book that is being checked.
func (c *comparison) slowly(st *formula.State) Delta {
	e, a := c.engine, c.answer
	goods := func(st *formula.State) (money.Amount, error) {
		lines, err := e.lines(&Answer{Hull: a.Hull, Standard: a.Standard, standardPrices: a.standardPrices,
			Build: &fit.Build{State: st}})
		var sum money.Amount
		for _, l := range lines {
			sum = sum.Add(e.Pricing.Show(l.Net, c.region))
		}
		return sum, err
	}
	now, err1 := goods(a.Build.State)
	then, err2 := goods(st)
	return Delta{Known: err1 == nil && err2 == nil, Money: then.Sub(now)}
}
