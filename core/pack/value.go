package pack

import (
	"fmt"

	"ribband/core/formula"
	"ribband/core/measure"
)

// Value is a formula ready to run. What follows from the hull alone is worked out once for each hull; the zero Value is
// none.
type Value struct {
	byHull []float64
	number formula.NumberFunc
}

// Value prepares a formula that gives a number.
func (p *Pack) Value(f formula.Program) Value {
	v := Value{number: f.Number()}
	if r := f.Reads(); len(r.Options)+len(r.Slots)+len(r.Use)+len(r.Figures) > 0 {
		return v
	}
	for h := range p.Hulls {
		v.byHull = append(v.byHull, v.number(&formula.State{HullID: h, Hull: p.Hulls[h].Fields}))
	}
	return v
}

// Given says whether there is a formula.
func (v *Value) Given() bool { return v.number != nil }

// Of is the value for a boat.
func (v *Value) Of(st *formula.State) float64 {
	if v.byHull != nil {
		return v.byHull[st.HullID]
	}
	return v.number(st)
}

// ByHull is the value for a hull; false where it follows from more than that.
func (v *Value) ByHull(hull int) (float64, bool) {
	if v.byHull == nil {
		return 0, false
	}
	return v.byHull[hull], true
}

// Fixed is an amount in fixed point. It fails on what is no amount or less than nothing.
func Fixed[T measure.Quantity | measure.Hours](p *Pack, amount float64, at int) (T, error) {
	q, err := measure.FromFloat[T](amount)
	if err == nil && q < 0 {
		err = fmt.Errorf("%v is negative", amount)
	}
	if err != nil {
		return 0, Failed(p, at, fmt.Errorf("%w; guard the formula so that it gives zero or more", err))
	}
	return q, nil
}

// Failed is the error of an amount, with its place in the book.
func Failed(p *Pack, at int, err error) error {
	return fmt.Errorf("computing the quantity at %s: %w", p.Where(at), err)
}
