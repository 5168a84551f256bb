package price

import (
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
)

// tallyExponent is the unit in which tallies count: ten-thousandths.
const tallyExponent = -4

// Tally adds up listed prices of many boats quickly, in whole ten-thousandths. What it gives is exactly what [Pricing.Base] and [Pricing.Option] do.
type Tally struct {
	pricing *Pricing
	base    [][]int64   // by hull, row of the table
	options [][][]int64 // by option, hull, row
}

// Tally prepares the tables; nil where the pack has none, or prices of more than four decimals.
func (p *Pricing) Tally() *Tally {
	if p.pack.Prices == nil {
		return nil
	}
	t := &Tally{pricing: p}
	exact := true
	whole := func(table *pack.Table) []int64 {
		list := make([]int64, len(table.Prices))
		for i, a := range table.Prices {
			n, ok := a.Whole(tallyExponent)
			list[i], exact = n, exact && ok
		}
		return list
	}
	for h := range p.pack.Prices.Base {
		t.base = append(t.base, whole(&p.pack.Prices.Base[h]))
	}
	for o := range p.pack.Prices.Options {
		var byHull [][]int64
		for h := range p.pack.Prices.Options[o] {
			byHull = append(byHull, whole(&p.pack.Prices.Options[o][h]))
		}
		t.options = append(t.options, byHull)
	}
	if !exact {
		return nil
	}
	return t
}

// Nets are the net prices of a boat by slot, with the base boat's behind them, in ten-thousandths. Made says which options count.
func (t *Tally) Nets(st *formula.State, made func(option, hull int) bool, into []int64) error {
	clear(into)
	p := t.pricing
	var err error
	look := func(table *pack.Table, prices []int64) int64 {
		row, e := p.row(table, st)
		if e == nil && row >= len(prices) {
			e = errNoPrice
		}
		if e != nil {
			err = e
			return 0
		}
		return prices[row]
	}
	into[len(p.pack.Slots)] = look(&p.pack.Prices.Base[st.HullID], t.base[st.HullID])
	for o, n := range st.Counts {
		if n > 0 && made(o, st.HullID) {
			into[p.pack.Options[o].Slot] += int64(n) * look(&p.pack.Prices.Options[o][st.HullID], t.options[o][st.HullID])
		}
	}
	return err
}

// Show is [Pricing.Show] of an amount in ten-thousandths.
func (t *Tally) Show(net int64, r *pack.Region) money.Amount {
	return t.pricing.Show(money.Exact(net, tallyExponent), r)
}
