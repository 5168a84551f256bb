package money

import (
	"fmt"
	"sort"

	"github.com/shopspring/decimal"
)

// Allocate divides total into parts in proportion to weights, each a multiple of step, that add up to total exactly.
// It is the method of the largest remainder: every part gets its quota rounded down, and the steps left over go one
// each to the parts with the largest fractions; equal fractions are served in the order of the list.
//
// Weights are not negative and not all zero; total is a multiple of step. A negative total is divided like its
// opposite.
//
// Source: apportionment texts; the 1790 census case is in testdata/money.json.
func Allocate(total Amount, weights []Amount, step Amount) ([]Amount, error) {
	sum := decimal.Zero
	for i, w := range weights {
		if w.Sign() < 0 {
			return nil, fmt.Errorf("dividing %s: weight %d is %s; weights cannot be negative", total, i+1, w)
		}
		sum = sum.Add(w.d)
	}
	if sum.Sign() == 0 {
		return nil, fmt.Errorf("dividing %s: the %d weights add up to zero", total, len(weights))
	}
	if step.Sign() <= 0 {
		return nil, fmt.Errorf("dividing %s: step %s is not above zero", total, step)
	}
	steps, rest := total.d.Abs().QuoRem(step.d, 0)
	if rest.Sign() != 0 {
		return nil, fmt.Errorf("dividing %s: not a multiple of %s", total, step)
	}
	quotas, fractions, left := floors(steps, weights, sum)
	for _, i := range byFraction(fractions)[:left] {
		quotas[i] = quotas[i].Add(one)
	}
	parts := make([]Amount, len(weights))
	sign := decimal.NewFromInt(int64(total.Sign()))
	for i, q := range quotas {
		parts[i] = Amount{q.Mul(step.d).Mul(sign)}
	}
	return parts, nil
}

// floors gives each quota rounded down, its remainder (over the common divisor sum), and how many steps are left over.
func floors(steps decimal.Decimal, weights []Amount, sum decimal.Decimal) (quotas, fractions []decimal.Decimal,
	left int64) {
	quotas = make([]decimal.Decimal, len(weights))
	fractions = make([]decimal.Decimal, len(weights))
	given := decimal.Zero
	for i, w := range weights {
		quotas[i], fractions[i] = steps.Mul(w.d).QuoRem(sum, 0)
		given = given.Add(quotas[i])
	}
	return quotas, fractions, steps.Sub(given).IntPart()
}

func byFraction(fractions []decimal.Decimal) []int {
	order := make([]int, len(fractions))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool { return fractions[order[a]].Cmp(fractions[order[b]]) > 0 })
	return order
}
