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
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/takeoff"
)

// Engine answers specs against one pack. It is not changed by answering, so that many may ask at once.
type Engine struct {
	Pack     *pack.Pack
	Fit      *fit.Fit
	Figures  *figures.Figures
	Costing  *cost.Costing // nil on the buyer's desk
	Pricing  *price.Pricing
	prices   *price.Index // nil without tables of prices
	Takeoffs *takeoff.Takeoffs
	programs []formula.Program  // by place in the book; on the show's and the yard's desk
	Measured map[int]*pack.Need // what is measured and not stated, by place
	hulls    map[string]int
	slots    map[string]int
	options  map[string]int
	uses     map[string]int
	columns  []Column
	shops    map[string]int
	Order    []int // of operations, as they are done; on the show's and the yard's desk
}

// Compile prepares a pack.
func Compile(p *pack.Pack) (*Engine, error) {
	figs, err := figures.Compile(p)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	costing, err := cost.Compile(p)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	pricing, err := price.Compile(p, costing)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	e := &Engine{Pack: p, Fit: fit.Compile(p, figs), Figures: figs, Costing: costing, Pricing: pricing,
		prices: pricing.Index(), Takeoffs: takeoff.New(p)}
	e.programs, e.Measured = programs(p)
	e.hulls = indexed(p.Hulls, func(h pack.Hull) string { return h.ID })
	e.slots = indexed(p.Slots, func(s pack.Slot) string { return s.ID })
	e.options = indexed(p.Options, func(o pack.Option) string { return o.ID })
	e.uses = indexed(p.Use, func(u pack.UseField) string { return u.ID })
	if p.Trade != nil {
		e.shops = indexed(p.Trade.Shops, func(s pack.Shop) string { return s.ID })
		e.Order = p.Trade.BuildOrder()
	}
	e.columns = e.columnsOf()
	return e, nil
}

func indexed[T any](list []T, id func(T) string) map[string]int {
	m := make(map[string]int, len(list))
	for i, x := range list {
		m[id(x)] = i
	}
	return m
}
