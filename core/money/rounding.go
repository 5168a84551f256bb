package money

import (
	"fmt"

	"github.com/shopspring/decimal"
)

// Mode says where a tie goes.
type Mode string

const (
	HalfEven Mode = "half-even" // ISO 80000-1, Annex B, rule A: to the even multiple
	HalfUp   Mode = "half-up"   // rule B: away from zero
)

// Rounding rounds to the nearest multiple of a step.
type Rounding struct {
	mode Mode
	step decimal.Decimal
}

// NewRounding makes a rounding to multiples of step, which must be above zero.
func NewRounding(mode Mode, step Amount) (Rounding, error) {
	if mode != HalfEven && mode != HalfUp {
		return Rounding{}, fmt.Errorf("making a rounding: mode %q is unknown; want %q or %q", mode, HalfEven, HalfUp)
	}
	if step.Sign() <= 0 {
		return Rounding{}, fmt.Errorf("making a rounding: step %s is not above zero", step)
	}
	return Rounding{mode, step.d}, nil
}

// Mode says where the ties of this rounding go.
func (r Rounding) Mode() Mode { return r.mode }

// Step is the range of rounding: what every rounded amount is a multiple of.
func (r Rounding) Step() Amount { return Amount{r.step} }

// Round gives the multiple of the step nearest to a.
func (r Rounding) Round(a Amount) Amount { return r.ratio(a.d, one) }

// ratio rounds n/d once, from the exact quotient: there is no intermediate decimal that could round twice.
func (r Rounding) ratio(n, d decimal.Decimal) Amount {
	unit := d.Mul(r.step)
	steps, rest := n.QuoRem(unit, 0)
	double := rest.Abs().Mul(two)
	tie := double.Cmp(unit.Abs())
	odd := steps.Mod(two).Sign() != 0
	if tie > 0 || tie == 0 && (r.mode == HalfUp || odd) {
		away := decimal.NewFromInt(int64(n.Sign() * d.Sign()))
		steps = steps.Add(away)
	}
	return Amount{steps.Mul(r.step)}
}

var two = decimal.NewFromInt(2)

// FromMargin is the price whose share m is margin: cost/(1-m), rounded. m must be below 1.
//
// Source: costing texts; cost-accounting e-book, Job No. 21 (4290 at 20 % on price: 5362.50).
func FromMargin(cost Amount, m Rate, r Rounding) (Amount, error) {
	left := m.Complement()
	if left.Sign() <= 0 {
		return Amount{}, fmt.Errorf("pricing with a margin of %s: a margin is a share of the price and stays below 1",
			m)
	}
	return r.ratio(cost.d, left.d), nil
}

// FromMarkup is the price that adds the share m of the cost to the cost: cost×(1+m), rounded.
//
// Source: costing texts; cost-accounting e-book, Job No. 21 (4290 at 20 % on cost: 5148).
func FromMarkup(cost Amount, m Rate, r Rounding) Amount {
	return r.ratio(cost.d.Mul(one.Add(m.d)), one)
}

// MarginOf is the margin (price-cost)/price in steps of 0.0001, rounded half to even; ok is false for a price that is
// not above zero, of which the quotient would be a gain where there is a loss.
func MarginOf(price, cost Amount) (m Rate, ok bool) {
	if price.Sign() <= 0 {
		return Rate{}, false
	}
	return ShareOf(price.Sub(cost), price)
}

// ShareOf is part/whole in steps of 0.0001, rounded half to even; ok is false for a whole of zero.
func ShareOf(part, whole Amount) (r Rate, ok bool) {
	if whole.IsZero() {
		return Rate{}, false
	}
	tenThousandths := Rounding{HalfEven, decimal.New(1, -4)}
	return Rate{tenThousandths.ratio(part.d, whole.d).d}, true
}

// TaxInside is the tax contained in a gross amount: gross×r/(1+r), rounded.
//
// Source: tax notices (VAT fraction; 20 %: 1/6).
func TaxInside(gross Amount, rate Rate, r Rounding) Amount {
	return r.ratio(gross.d.Mul(rate.d), one.Add(rate.d))
}
