package price

import (
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
)

// Sum is the net price of a whole boat, in ten-thousandths. Made says which options count.
func (t *Index) Sum(st *formula.State, made func(option, hull int) bool) (sum int64, err error) {
	for i := range t.Base() + 1 {
		n, err := t.Net(st, i, made)
		if err != nil {
			return 0, err
		}
		sum += n
	}
	return sum, nil
}

// Least is the least that one of an option costs, or the base boat (option -1), on all boats that hold what a boat does
// but in the free slots, in ten-thousandths: the least of the rows of its table in which they may stand.
func (t *Index) Least(option int, st *formula.State, free []bool) int64 {
	p := t.pricing.pack
	table, prices := &p.Prices.Base[st.HullID], t.base[st.HullID]
	if option >= 0 {
		table, prices = &p.Prices.Options[option][st.HullID], t.options[option][st.HullID]
	}
	if len(prices) == 0 {
		return 0 // it has no price, and [Index.Sum] fails
	}
	return t.leastOf(table.Axes, prices, st, free)
}

// leastOf is the least of the prices below the axes that are left. Where an axis reads nothing that is free its place
// is known, and one block of the table is left; else all its places are tried. A place beyond the axis is of a boat
// that the book does not allow, for which every price is possible.
func (t *Index) leastOf(axes []pack.Axis, prices []int64, st *formula.State, free []bool) int64 {
	if len(axes) == 0 {
		return prices[0]
	}
	a, inner := &axes[0], len(prices)/axes[0].Size
	if place, err := t.pricing.place(a, st); err == nil && !t.varies(a, free) {
		return t.leastOf(axes[1:], prices[place*inner:(place+1)*inner], st, free)
	}
	least := t.leastOf(axes[1:], prices[:inner], st, free)
	for place := 1; place < a.Size; place++ {
		least = min(least, t.leastOf(axes[1:], prices[place*inner:(place+1)*inner], st, free))
	}
	return least
}

// NetBelow is a net price that no sheet of at most so many lines exceeds whose total is at most so much: the total
// without its tax, and a minor unit more for the rounding of each line; in ten-thousandths, at least 1, and 0 where it
// is too large to count.
func (t *Index) NetBelow(total money.Amount, r *pack.Region, lines int) int64 {
	p := t.pricing
	gross := p.minor.Round(total).Add(p.currency.Minor().Times(int64(lines)))
	if gross.Sign() <= 0 {
		return 1
	}
	if r != nil && r.TaxMode != pack.Zero {
		gross = gross.Sub(money.TaxInside(gross, r.TaxRate, p.minor))
	}
	n, ok := gross.Add(p.currency.Minor()).Whole(indexExponent)
	if !ok {
		return 0
	}
	return n
}

// varies says whether an axis reads a free slot. The use is never free: a search is for one use.
func (t *Index) varies(a *pack.Axis, free []bool) bool {
	switch a.Kind {
	case pack.AxisOneOf:
		return free[a.Index]
	case pack.AxisCount:
		return free[t.pricing.pack.Options[a.Index].Slot]
	}
	return false
}
