// Package price turns costs and list prices into what the customer pays: sell prices, discounts, tax, stages.
//
// Sell prices are net of tax. They come from a list price, from the cost by a margin (a share of the price) or by a
// markup (a share of the cost), or from tables that were made of these when the book was published: the buyer's pack
// has nothing else, and the other desks use them because a look-up is fast. Rounding happens in two named places: a
// derived sell price goes to the book's price step ([Pricing.Base], [Pricing.Option]); every amount of a sheet goes to
// the minor unit ([Pricing.Sheet]).
package price

import (
	"errors"
	"fmt"

	"ribband/core/cost"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/works"
)

// Pricing is a pack's prices, ready to compute.
type Pricing struct {
	pack     *pack.Pack
	costing  *cost.Costing // nil on the buyer's desk
	currency money.Currency
	minor    money.Rounding
	step     money.Rounding // of derived prices; none on the buyer's desk, which derives nothing
	hulls    []unit
	options  []unit
}

// unit is how one item is priced.
type unit struct {
	list   []term
	margin *pack.Method
	markup *pack.Method
	at     int
	lowers bool // its price is below zero
}

// term is one part of a list price: an amount, once or for each of a quantity that a formula gives.
type term struct {
	amount money.Amount
	per    formula.NumberFunc // nil: once
	when   formula.TruthFunc  // nil: always
	at     int
}

// Compile prepares the prices of a pack. Costing is nil where the pack has none.
func Compile(p *pack.Pack, costing *cost.Costing) (*Pricing, error) {
	c := &Pricing{pack: p, costing: costing}
	var err error
	if c.currency, err = money.CurrencyOf(p.Currency); err != nil {
		return nil, err
	}
	if c.minor, err = money.NewRounding(p.Rounding, c.currency.Minor()); err != nil {
		return nil, err
	}
	if p.Costs == nil {
		return c, nil
	}
	if c.step, err = money.NewRounding(p.Rounding, p.Costs.PriceStep); err != nil {
		return nil, err
	}
	for i := range p.Costs.Hulls {
		c.hulls = append(c.hulls, compileUnit(&p.Costs.Hulls[i]))
	}
	for i := range p.Costs.Options {
		c.options = append(c.options, compileUnit(&p.Costs.Options[i]))
	}
	return c, nil
}

// compileUnit prepares the price of the base boat of a hull or of an option. The check of the pack has seen to it that
// an item has exactly one of list, margin and markup.
func compileUnit(def *pack.BillOfMaterials) unit {
	u := unit{margin: def.Margin, markup: def.Markup, at: def.At, lowers: def.Lowers}
	for _, t := range def.List {
		c := term{amount: t.Amount, at: t.At}
		if !t.Per.Empty() {
			c.per = t.Per.Number()
		}
		// a price by number, or the part of a package that has such a price
		if !t.When.Empty() {
			c.when = t.When.Truth()
		}
		u.list = append(u.list, c)
	}
	return u
}

// Currency is what all amounts are in.
func (p *Pricing) Currency() money.Currency { return p.currency }

// Base is the sell price of the base boat of the state's hull, net of tax.
func (p *Pricing) Base(st *formula.State) (money.Amount, error) {
	if p.pack.Prices != nil {
		return p.lookup(&p.pack.Prices.Base[st.HullID], st)
	}
	return p.price(st, &p.hulls[st.HullID], func() (cost.Summary, error) { return p.costing.Item(st, works.Base()) })
}

// Option is the sell price of one of an option in the state's boat, net of tax.
func (p *Pricing) Option(st *formula.State, option int) (money.Amount, error) {
	if p.pack.Prices != nil {
		return p.lookup(&p.pack.Prices.Options[option][st.HullID], st)
	}
	return p.price(st, &p.options[option], func() (cost.Summary, error) {
		return p.costing.Item(st, works.Of(option, 1))
	})
}

// price works a sell price out where no table holds it: on the yard's desk before tables are made, and when the book is
// checked. What the item costs is asked for only where the price follows from it.
func (p *Pricing) price(st *formula.State, u *unit, costs func() (cost.Summary, error)) (money.Amount, error) {
	if len(u.list) > 0 {
		return p.listPrice(st, u)
	}
	c, err := costs()
	if err != nil {
		return money.Amount{}, err
	}
	if u.margin != nil {
		return money.FromMargin(c.Total, u.margin.Rate, p.step)
	}
	return money.FromMarkup(c.Total, u.markup.Rate, p.step), nil
}

// listPrice adds the terms. A plain amount stays as the book has it; a price that follows a quantity goes to the step.
func (p *Pricing) listPrice(st *formula.State, u *unit) (money.Amount, error) {
	var sum money.Amount
	derived := false
	for _, t := range u.list {
		if t.when != nil && !t.when(st) {
			continue
		}
		if t.per == nil {
			sum = sum.Add(t.amount)
			continue
		}
		derived = true
		v := t.per(st)
		q, err := measure.FromFloat[measure.Quantity](v)
		if err != nil {
			return sum, fmt.Errorf("computing the price at %s: %w; guard the formula", p.pack.Where(t.at), err)
		}
		sum = sum.Add(t.amount.Scaled(int64(q), measure.Exponent))
	}
	if derived {
		sum = p.step.Round(sum)
	}
	if sum.Sign() < 0 && !u.lowers {
		return sum, fmt.Errorf("computing the price at %s: %s is negative; guard the formula",
			p.pack.Where(u.at), sum)
	}
	return sum, nil
}

// lookup finds a price in its table. Every desk that has tables uses them, so that all show the same price; a test
// holds them to what the yard computes.
func (p *Pricing) lookup(t *pack.Table, st *formula.State) (money.Amount, error) {
	row, err := p.row(t, st)
	if err != nil {
		return money.Amount{}, err
	}
	if row >= len(t.Prices) {
		return money.Amount{}, errNoPrice
	}
	return t.Prices[row], nil
}

// errNoPrice is of an option that is not made for a hull: its table is empty.
var errNoPrice = errors.New("looking up a price: this option has none for this hull")

// row is where a state stands in a table: the number whose digits are its places on the axes, in mixed radix, the last
// axis fastest. [Index] asks by it too, so that what a search compares is what a quotation says.
func (p *Pricing) row(t *pack.Table, st *formula.State) (row int, err error) {
	for i := range t.Axes {
		place, err := p.place(&t.Axes[i], st)
		if err != nil {
			return 0, err
		}
		row = row*t.Axes[i].Size + place
	}
	return row, nil
}

// place is where a state stands on an axis. A boat that clashes has a price like any other as long as it has a place:
// the page shows what a choice costs before what it clashes with is changed.
func (p *Pricing) place(a *pack.Axis, st *formula.State) (int, error) {
	place := 0
	switch a.Kind {
	case pack.AxisOneOf:
		if st.Slots[a.Index] > 0 {
			place = len(a.Options) + 1
		}
		for i, o := range a.Options {
			if st.Counts[o] > 0 {
				place = i + 1
			}
		}
	case pack.AxisCount:
		place = min(st.Counts[a.Index], a.Size-1) // more than the book allows clashes, and is priced as the most
	case pack.AxisUse:
		place = p.pack.Use[a.Index].StepOf(st.Use[a.Index])
	}
	if place < 0 || place >= a.Size {
		return 0, fmt.Errorf("looking up a price: place %d of %d in its table; the spec is outside of what the book "+
			"allows", place, a.Size)
	}
	return place, nil
}
