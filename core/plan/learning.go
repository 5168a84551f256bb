package plan

import (
	"fmt"
	"math"
)

// Learning is how hours fall as a shop builds more of a boat: each time the number doubles, to Rate of what they were.
// The same formula is read in two ways, which differ by a fifth after a dozen boats; whoever gives a rate says which.
//
//	Formula: y(x) = first x^b, b = log2(rate)
//	Valid:   a rate from 0.5 to 1, steady work that repeats
//	Source:  T. P. Wright, Factors affecting the cost of airplanes, Journal of the Aeronautical Sciences 3 (1936),
//	         122-128
type Learning struct {
	First   float64 // hours of the first boat
	Rate    float64 // 0.85: the second takes 85 % of the first
	Reading Reading
}

// Reading is what the formula of learning gives.
type Reading int

// The readings.
const (
	Crawford Reading = iota // y is what boat x takes: the unit model, of J. R. Crawford 1944
	Wright                  // y is the average of the first x boats: the cumulative average model
)

// maxBoats bounds the number of boats that are added up.
const maxBoats = 100_000

// Check says what is wrong with learning.
func (l Learning) Check() error {
	if !(l.First >= 0 && l.First <= 1e9) {
		return fmt.Errorf("learning from hours: the first takes %v h; give 0 or more", l.First)
	}
	if !(l.Rate >= 0.5 && l.Rate <= 1) {
		return fmt.Errorf("learning from hours: the rate is %v; give 0.5 to 1, such as 0.85", l.Rate)
	}
	return nil
}

// curve is y(x).
func (l Learning) curve(x int) float64 {
	return float64(l.First * math.Pow(float64(x), math.Log2(l.Rate)))
}

// Unit is the hours of one boat, which are counted from 1.
//
//	Formula: Crawford y(x); Wright x y(x) - (x - 1) y(x - 1)
func (l Learning) Unit(x int) float64 {
	if l.Reading == Crawford {
		return l.curve(x)
	}
	return l.Total(x) - l.Total(x-1)
}

// Total is the hours of the first x boats.
//
//	Formula: Crawford the sum of y(1) to y(x); Wright x y(x)
func (l Learning) Total(x int) float64 {
	x = min(x, maxBoats)
	if x <= 0 {
		return 0
	}
	if l.Reading == Wright {
		return float64(float64(x) * l.curve(x))
	}
	sum := 0.0
	for k := 1; k <= x; k++ {
		sum += l.curve(k)
	}
	return sum
}

// AverageRate is the rate at which a first boat and the total of the first x have the average of the cumulative average
// model; x is at least 2.
//
//	Formula: rate = (total / x / first)^(1 / log2 x)
//	Source:  the formula of [Learning], solved for the rate
func AverageRate(first, total float64, x int) float64 {
	return math.Pow(total/float64(x)/first, 1/math.Log2(float64(x)))
}

// FirstOf is the hours of the first boat of a unit model by which boat x takes so many.
//
//	Formula: first = hours / x^b
//	Source:  the formula of [Learning], solved for the first
func FirstOf(hours, rate float64, x int) float64 {
	return hours / math.Pow(float64(x), math.Log2(rate))
}

// Batch is work that is set up once for several boats: of one hull, or one colour.
type Batch struct {
	SetUp float64 // hours, once
	Each  float64 // hours of one boat
}

// Total is the hours of so many boats with one set-up; none for none.
func (b Batch) Total(boats int) float64 {
	if boats <= 0 {
		return 0
	}
	return b.SetUp + float64(float64(boats)*b.Each)
}

// Share is the hours of one boat, its part of the set-up counted in.
//
//	Formula: each + set-up / boats
//	Source:  batch costing of cost accounting
func (b Batch) Share(boats int) float64 { return b.Each + b.SetUp/float64(max(boats, 1)) }
