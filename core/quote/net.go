package quote

import (
	"math"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
)

// Net is what the whole boat becomes with another choice, as the difference to the present boat: with all that the choice brings, replaces and removes.
type Net struct {
	Price   money.Amount    // of the boat as the customer sees it, without free lines and discounts
	Hours   []measure.Hours // by shop; nil on all desks but the yard's
	Figures []float64       // in the order of [Engine.Compared]; NaN where the figure is not known
}

// Nets are the net effects of every option and of leaving each slot empty; nil where the option cannot be had or is in the boat, or a price is not known.
type Nets struct {
	Options []*Net
	Empty   []*Net
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

// Nets works out what the boat of every open option is against that of the answer. It gives exactly the difference between the answers to the two specs.
func (e *Engine) Nets(a *Answer, options []fit.Verdict, empty []*fit.Verdict) Nets {
	c := e.newNetting(a)
	n := Nets{make([]*Net, len(options)), make([]*Net, len(empty))}
	for o := range options {
		if options[o].Status == fit.Open {
			n.Options[o] = c.net(options[o].Build)
		}
	}
	for s := range empty {
		if empty[s] != nil && empty[s].Status == fit.Open {
			n.Empty[s] = c.net(empty[s].Build)
		}
	}
	return n
}

// Net is the net effect of one other boat of the same hull and use; nil where a price is not known.
func (e *Engine) Net(a *Answer, b *fit.Build) *Net { return e.newNetting(a).net(b) }

// netting holds what the present boat is.
type netting struct {
	engine         *Engine
	answer         *Answer
	region         *pack.Region
	minor          int32 // exponent of the minor unit
	figures        []int
	standard, nets []int64         // by slot, the base boat behind them: prices.Tally
	shown          map[int64]int64 // net difference to shown one, in minor units
	hours          []measure.Hours
	then           []int64
	known          bool
}

func (e *Engine) newNetting(a *Answer) *netting {
	places := len(e.Pack.Slots) + 1
	c := &netting{engine: e, answer: a, region: e.region(a.Build), minor: -int32(e.Pricing.Currency().Digits), figures: e.Compared(),
		standard: make([]int64, places), nets: make([]int64, places), then: make([]int64, places), shown: map[int64]int64{}}
	if e.tally != nil {
		c.known = e.tally.Nets(a.Standard.State, e.Fit.Made, c.standard) == nil && e.tally.Nets(a.Build.State, e.Fit.Made, c.nets) == nil
	}
	if e.Pack.Desk == pack.Yard {
		c.hours = make([]measure.Hours, len(e.Pack.Trade.Shops))
		if e.Costing.Hours(a.Build.State, c.hours) != nil {
			c.hours = nil
		}
	}
	return c
}

func (c *netting) net(b *fit.Build) *Net {
	if b == nil {
		return nil
	}
	n := &Net{Figures: make([]float64, len(c.figures))}
	var ok bool
	if n.Price, ok = c.price(b.State); !ok {
		return nil
	}
	now := c.answer.Build.State
	for j, i := range c.figures {
		n.Figures[j] = b.State.Figures[i] - now.Figures[i]
		if c.engine.Pack.Figures[i].Computed != "" && len(b.State.Faults)+len(now.Faults) > 0 {
			n.Figures[j] = math.NaN()
		}
	}
	if c.hours != nil {
		n.Hours = make([]measure.Hours, len(c.hours))
		if c.engine.Costing.Hours(b.State, n.Hours) != nil {
			n.Hours = nil
		}
		for i := range n.Hours {
			n.Hours[i] -= c.hours[i]
		}
	}
	return n
}

// price is the difference between the goods of two sheets: only slots whose price differs count, each line rounded as it is shown.
func (c *netting) price(st *formula.State) (money.Amount, bool) {
	e := c.engine
	if e.tally == nil {
		return c.slowly(st)
	}
	if !c.known || e.tally.Nets(st, e.Fit.Made, c.then) != nil {
		return money.Amount{}, false
	}
	var sum int64
	for s, net := range c.then {
		if net != c.nets[s] {
			sum += c.show(net-c.standard[s]) - c.show(c.nets[s]-c.standard[s])
		}
	}
	return money.Exact(sum, c.minor), true
}

// show is a net difference as it is shown, in minor units.
func (c *netting) show(net int64) int64 {
	v, known := c.shown[net]
	if !known {
		v, _ = c.engine.tally.Show(net, c.region).Whole(c.minor) // rounded to the minor unit
		c.shown[net] = v
	}
	return v
}

// slowly is price for a pack without tables.
func (c *netting) slowly(st *formula.State) (money.Amount, bool) {
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
