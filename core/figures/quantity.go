package figures

import (
	"ribband/core/formula"
	"ribband/core/pack"
)

// quantity is an amount that hull or options carry, or where they are. What follows from the hull alone is worked out once; the zero quantity is none.
type quantity struct {
	byHull []float64
	amount formula.NumberFunc
}

func quantityOf(p *pack.Pack, f formula.Program) quantity {
	q := quantity{amount: f.Number()}
	if r := f.Reads(); len(r.Options)+len(r.Slots)+len(r.Use)+len(r.Figures) > 0 {
		return q
	}
	for h := range p.Hulls {
		q.byHull = append(q.byHull, q.amount(&formula.State{HullID: h, Hull: p.Hulls[h].Fields}))
	}
	return q
}

func (q *quantity) given() bool { return q.amount != nil }

func (q *quantity) at(st *formula.State) float64 {
	if q.byHull != nil {
		return q.byHull[st.HullID]
	}
	return q.amount(st)
}
