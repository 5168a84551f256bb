package plan

import "math"

// Quantiles of the beta distribution of an estimate, as a table: so many steps of probability, and as many of the range
// for the integral from which it comes.
const (
	betaSteps = 512
	betaGrid  = 2048
	betaUnit  = 1 << 30 // the range in fixed point
)

// betaTable is the inverse of the distribution function: the share of the range, in [betaUnit], below which the value
// lies with a probability of k / betaSteps.
type betaTable [betaSteps + 1]int64

// newBetaTable computes the table for a likely value at some share of the range.
//
// All arithmetic here is of kinds that give the same digits on every processor, so that a simulation does: sums,
// products and quotients, and roots, of which powers are made.
//
//	Formula: density x^(p-1) (1-x)^(q-1) with p = 1 + 4 share, q = 6 - p; its integral by the middles of betaGrid
//	         steps, inverted on straight lines
//	Valid:   0 <= share <= 1
//	Source:  the beta distribution as PERT takes it, D. Vose, Risk Analysis. From memory.
func newBetaTable(share float64) *betaTable {
	var sums [betaGrid + 1]float64
	up, down := float64(4*share), float64(4*(1-share))
	for k := range betaGrid {
		x := float64((float64(k) + 0.5) / betaGrid)
		sums[k+1] = sums[k] + float64(power(x, up)*power(1-x, down))
	}
	t, k := &betaTable{}, 0
	for step := range t {
		target := float64(float64(sums[betaGrid]*float64(step)) / betaSteps)
		for k < betaGrid-1 && sums[k+1] < target {
			k++
		}
		part := (target - sums[k]) / (sums[k+1] - sums[k])
		t[step] = int64(math.Round(float64((float64(k)+min(max(part, 0), 1))/betaGrid) * betaUnit))
	}
	return t
}

// power is x to an exponent from 0 to 4, for x from 0 to 1: the exponent is taken apart into binary digits, and each of
// them after the point is one root more. 40 digits are as exact as the sum that it goes into.
func power(x, exponent float64) float64 {
	result := 1.0
	for ; exponent >= 1; exponent-- {
		result = float64(result * x)
	}
	for range 40 {
		x = math.Sqrt(x)
		if exponent = float64(2 * exponent); exponent >= 1 {
			result = float64(result * x)
			exponent--
		}
	}
	return result
}

// at is the share of the range at a probability, which is given in 2^64ths: on a straight line between two steps.
func (t *betaTable) at(probability uint64) int64 {
	const bits = 64 - 9 // 2^9 = betaSteps
	step := probability >> bits
	part := int64(probability >> (bits - 20) & (1<<20 - 1))
	return t[step] + (t[step+1]-t[step])*part>>20
}

// Spread is the worked time that an activity may take: at least, mostly, at most. The zero value is none: it takes what
// the load says.
type Spread struct{ Low, Likely, High Time }

// draw is the duration of a spread at a probability.
func (s Spread) draw(t *betaTable, probability uint64) Time {
	return s.Low + Time((t.at(probability)*int64(s.High-s.Low)+betaUnit/2)/betaUnit)
}
