package cost

import (
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/pack"
)

// fixed is hours in a shop that follow from the hull alone.
type fixed struct {
	shop  int
	hours measure.Hours
}

// fixHours works out hours for a hull; false where one of the operations follows from more.
func (c *Costing) fixHours(operations []pack.Need, hull int) ([]fixed, bool) {
	list := make([]fixed, 0, len(operations))
	for i := range operations {
		need := &operations[i]
		value := c.pack.Value(need.Amount)
		v, ok := value.ByHull(hull)
		h, err := measure.FromFloat[measure.Hours](v)
		if !ok || err != nil || h < 0 {
			return nil, false
		}
		list = append(list, fixed{c.costs.Operations[need.Index].Shop, h})
	}
	return list, true
}

// hourReads is what the hours of each item depend on, with how many there are of it.
func (c *Costing) hourReads() []formula.Reads {
	list := make([]formula.Reads, len(c.options)+1)
	add := func(item int, operations []pack.Need) {
		for i := range operations {
			list[item] = list[item].With(operations[i].Amount.Reads())
		}
	}
	for o := range c.options {
		list[o] = formula.Reads{Options: []int{o}}
		add(o, c.costs.Options[o].Operations)
	}
	for h := range c.hulls {
		add(len(c.options), c.costs.Hulls[h].Operations)
	}
	return list
}

// HoursAffected appends the items whose hours may be others where a boat changes: options, and behind them the base
// boat.
func (c *Costing) HoursAffected(changed formula.Reads, to []int) []int {
	return c.hourReaders.Affected(changed, to)
}

// AddHours adds the hours that an item of [Costing.HoursAffected] takes in a boat, without extra items, to those by
// shop, so many times: -1 takes them away. It gives what [Costing.Boat] gives, and quicker.
func (c *Costing) AddHours(st *formula.State, item, times int, byShop []measure.Hours) error {
	if item == len(c.options) {
		return c.addHours(&c.hulls[st.HullID], st, times, byShop)
	}
	if n := st.Counts[item]; n > 0 {
		return c.addHours(&c.options[item], st, n*times, byShop)
	}
	return nil
}

func (c *Costing) addHours(it *item, st *formula.State, n int, byShop []measure.Hours) error {
	if list := it.fixed[st.HullID]; list != nil {
		for _, f := range list {
			byShop[f.shop] += f.hours.Times(n)
		}
		return nil
	}
	for i := range it.operations {
		op, h, err := amount[measure.Hours](c, &it.operations[i], st)
		if err != nil {
			return err
		}
		byShop[c.costs.Operations[op].Shop] += h.Times(n)
	}
	return nil
}
