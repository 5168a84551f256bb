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
		list = append(list, fixed{c.trade.Operations[need.Index].Shop, h})
	}
	return list, true
}

// Hours adds the hours of a boat up by shop, without free lines: what [Costing.Boat] gives, and quicker.
func (c *Costing) Hours(st *formula.State, byShop []measure.Hours) error {
	clear(byShop)
	if err := c.addHours(&c.hulls[st.HullID], st, 1, byShop); err != nil {
		return err
	}
	for o, n := range st.Counts {
		if n > 0 {
			if err := c.addHours(&c.options[o], st, n, byShop); err != nil {
				return err
			}
		}
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
		h, err := amount[measure.Hours](c, &it.operations[i], st)
		if err != nil {
			return err
		}
		byShop[c.trade.Operations[it.operations[i].index].Shop] += h.Times(n)
	}
	return nil
}
