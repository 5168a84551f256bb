// Package engine computes: [Compile] a pack once, then [Engine.Answer] specs against it.
//
// An answer is everything that the desk of the pack may know about one spec: the complete boat, what clashes in it, its
// figures, the price line by line, and on the show's and the yard's desk cost, margin and hours. Package core/quote
// freezes it for a customer. Numbers and dates come in from outside, since nothing here reads a clock.
package engine

import (
	"fmt"

	"ribband/core/cost"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/launch"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/takeoff"
	"ribband/core/works"
)

// Engine answers specs against one pack. It is not changed by answering, so that many may ask at once. Identifiers are
// looked up once, when a spec is resolved; from there on everything is an index of the pack.
type Engine struct {
	Pack     *pack.Pack
	Fit      *fit.Fit
	Figures  *figures.Figures
	Work     *works.Network  // nil without the costs, like the following
	planner  *launch.Planner // nil also where the desk does not know the orders of the yard
	Costing  *cost.Costing
	Pricing  *price.Pricing
	prices   *price.Index // nil without tables of prices
	Takeoffs *takeoff.Takeoffs
	programs []formula.Program     // by place in the book; on the show's and the yard's desk
	Measured map[int]*pack.BOMLine // what is measured and not stated, by place
	hulls    map[string]int
	slots    map[string]int
	options  map[string]int
	uses     map[string]int
	columns  []Column
	shops    map[string]int
	language *msg.Language // nil for English
}

// Compile prepares a pack. It takes some milliseconds, most of them for formulas and the tables of prices. An error
// names the part of the pack that is unsound; [pack.Decode] has refused most of these before.
func Compile(p *pack.Pack) (*Engine, error) {
	figs, err := figures.Compile(p)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	if err := takeoff.Check(p); err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	network, takeoffs := works.Compile(p), takeoff.New(p)
	costing, err := cost.Compile(p, network, takeoffs)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	pricing, err := price.Compile(p, costing)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	e := &Engine{Pack: p, Fit: fit.Compile(p, figs), Figures: figs, Work: network, Costing: costing,
		Pricing: pricing, prices: pricing.Index(), Takeoffs: takeoffs}
	e.programs, e.Measured = programs(p)
	e.hulls = indexed(p.Hulls, func(h pack.Hull) string { return h.ID })
	e.slots = indexed(p.Slots, func(s pack.Slot) string { return s.ID })
	e.options = indexed(p.Options, func(o pack.Option) string { return o.ID })
	e.uses = indexed(p.Use, func(u pack.UseField) string { return u.ID })
	if p.Costs != nil {
		e.shops = indexed(p.Costs.Shops, func(s pack.Shop) string { return s.ID })
	}
	e.columns = e.columnsOf()
	return e, nil
}

// indexed is where each thing of a list stands, by its identifier. Those of a pack are distinct: its check says so.
func indexed[T any](list []T, id func(T) string) map[string]int {
	m := make(map[string]int, len(list))
	for i, x := range list {
		m[id(x)] = i
	}
	return m
}
