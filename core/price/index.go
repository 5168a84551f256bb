package price

import (
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
)

// indexExponent is the unit in which an index counts: ten-thousandths.
const indexExponent = -4

// Index adds up listed prices of many boats quickly, in whole ten-thousandths. What it gives is exactly what
// [Pricing.Base] and [Pricing.Option] do: whole numbers add without the allocations of a
// decimal, and a price of more than four decimals is refused when the tables are prepared.
type Index struct {
	pricing *Pricing
	base    [][]int64      // by hull, row of the table
	options [][][]int64    // by option, hull, row
	readers *formula.Index // who of the items reads what: the options, and behind them the base boat
}

// Index prepares the tables; nil where the pack has none, or prices of more than four decimals.
func (p *Pricing) Index() *Index {
	if p.pack.Prices == nil {
		return nil
	}
	t := &Index{pricing: p}
	exact := true
	whole := func(table *pack.Table) []int64 {
		list := make([]int64, len(table.Prices))
		for i, a := range table.Prices {
			n, ok := a.Whole(indexExponent)
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
	t.readers = formula.NewIndex(p.itemReads(), p.pack.Space())
	return t
}

// itemReads is what the price of each item depends on, with how many there are of it, over all hulls: one index serves
// whatever hull the boat has, and an item asked for in vain gives the same price again.
func (p *Pricing) itemReads() []formula.Reads {
	list := make([]formula.Reads, len(p.pack.Options)+1)
	base := &list[len(p.pack.Options)]
	for h := range p.pack.Prices.Base {
		*base = base.With(tableReads(&p.pack.Prices.Base[h]))
	}
	for o := range p.pack.Options {
		list[o] = formula.Reads{Options: []int{o}}
		for h := range p.pack.Prices.Options[o] {
			list[o] = list[o].With(tableReads(&p.pack.Prices.Options[o][h]))
		}
	}
	return list
}

// tableReads is what a table depends on. An axis over some options of a slot also asks whether the slot holds another
// one, so that it reads the slot as a whole.
func tableReads(t *pack.Table) (r formula.Reads) {
	for i := range t.Axes {
		switch a := &t.Axes[i]; a.Kind {
		case pack.AxisOneOf:
			r.Slots, r.Options = append(r.Slots, a.Index), append(r.Options, a.Options...)
		case pack.AxisCount:
			r.Options = append(r.Options, a.Index)
		case pack.AxisUse:
			r.Use = append(r.Use, a.Index)
		}
	}
	return r
}

// Base is the base boat as an item: it stands behind the options.
func (t *Index) Base() int { return len(t.options) }

// Affected appends the items whose net price may be another where a boat changes.
func (t *Index) Affected(changed formula.Reads, to []int) []int {
	return t.readers.Affected(changed, to)
}

// Net is the net price of an item in a boat, all of an option together, in ten-thousandths; zero for what is not in the
// boat or not made for the hull.
func (t *Index) Net(st *formula.State, item int, made func(option, hull int) bool) (int64, error) {
	prices, n := t.pricing.pack.Prices, int64(1)
	table, listed := &prices.Base[st.HullID], t.base[st.HullID]
	if item < t.Base() {
		if n = int64(st.Counts[item]); n == 0 || !made(item, st.HullID) {
			return 0, nil
		}
		table, listed = &prices.Options[item][st.HullID], t.options[item][st.HullID]
	}
	row, err := t.pricing.row(table, st)
	if err == nil && row >= len(listed) {
		err = errNoPrice
	}
	if err != nil {
		return 0, err
	}
	return n * listed[row], nil
}

// Show is [Pricing.Show] of an amount in ten-thousandths.
func (t *Index) Show(net int64, r *pack.Region) money.Amount {
	return t.pricing.Show(money.Exact(net, indexExponent), r)
}
