package bank

import "math"

// ToleranceKn is how close a searched speed comes to the true one, kn.
const ToleranceKn = 0.001

// bisect narrows an interval in which ok holds at one end and not at the other, and gives the end where it holds,
// within [ToleranceKn]. gonum has no root finder of one variable, and halving never runs away.
func bisect(holds, fails float64, ok func(float64) bool) float64 {
	for math.Abs(fails-holds) > ToleranceKn {
		if middle := holds + float64((fails-holds)/2); ok(middle) {
			holds = middle
		} else {
			fails = middle
		}
	}
	return holds
}

// inTable is the demand at a speed that is known to be in the trial table.
func (b *Boat) inTable(speedKn float64) Demand {
	return b.demand(speedKn, b.setup.Curve.cubic.Predict(speedKn))
}

// TopSpeed is the greatest speed that motor, controller and bank allow, and what holds it there.
//
//	the greatest v with P_motor(v) <= P_greatest, by bisection to 0.001 kn from below
//
//	P_motor  [Boat.Demand] without hotel loads, W       P_greatest  [Motor.Greatest], W
//
// Valid: where the motor could do more than the trial table knows, its last speed and [EndOfTrial]; where it cannot
// hold even the first speed, a [TooFastError].
// Source: arithmetic.
func (b *Boat) TopSpeed() (float64, Limit, error) {
	from, to := b.setup.Curve.Range()
	ok := func(v float64) bool { return b.inTable(v).MotorW() <= b.greatest.ElectricalW }
	switch {
	case ok(to):
		return to, EndOfTrial, nil
	case !ok(from):
		return 0, "", &TooFastError{from, b.inTable(from).MotorW(), b.greatest}
	}
	return bisect(from, to, ok), b.greatest.Limit, nil
}

// scanKn is how far apart the speeds are between which a search looks for a change, kn.
const scanKn = 0.05

// RangeCurve gives the passage at evenly spread speeds, from the slowest of the table to the top speed, for plotting.
//
// Valid: 2 to 1000 points; fewer or more are taken as the nearest of these.
// Source: [Boat.At].
func (b *Boat) RangeCurve(points int) ([]Passage, error) {
	top, _, err := b.TopSpeed()
	if err != nil {
		return nil, err
	}
	points = min(max(points, 2), 1000)
	from, _ := b.setup.Curve.Range()
	curve := make([]Passage, points)
	for i := range curve {
		v := min(from+(top-from)*float64(i)/float64(points-1), top)
		curve[i] = b.passage(v, b.inTable(v))
	}
	return curve, nil
}

// SpeedForRange is the passage at the greatest speed that still has the range wanted, the reserve untouched.
//
//	the greatest v with R(v) >= R_wanted, in steps of 0.05 kn from the top speed down, then by bisection to 0.001 kn
//
//	R  range of [Boat.At], nm
//
// Range need not fall everywhere: with hotel loads it rises first. That is why the search comes from above.
//
// Valid: ranges above zero; where no speed has it, an [OutOfRangeError] that names the farthest one.
// Source: arithmetic.
func (b *Boat) SpeedForRange(wantedNm float64) (Passage, error) {
	var fs faults
	if !fs.within("wanted range", "it", wantedNm, 0.01, 1e5, "nm") {
		return Passage{}, fs.err()
	}
	top, _, err := b.TopSpeed()
	if err != nil {
		return Passage{}, err
	}
	from, _ := b.setup.Curve.Range()
	has := func(v float64) bool { return b.passage(v, b.inTable(v)).RangeNm >= wantedNm }
	farthest, last := Passage{}, top
	for v := top; ; v = max(v-scanKn, from) {
		p := b.passage(v, b.inTable(v))
		if p.RangeNm >= wantedNm {
			v = bisect(v, last, has)
			return b.passage(v, b.inTable(v)), nil
		}
		if p.RangeNm > farthest.RangeNm {
			farthest = p
		}
		if last = v; v == from {
			return Passage{}, &OutOfRangeError{wantedNm, farthest}
		}
	}
}

// OutOfRangeError says that no speed has a range.
type OutOfRangeError struct {
	WantedNm float64
	Farthest Passage
}

func (e *OutOfRangeError) Error() string {
	return "speed for a range of " + amount(e.WantedNm, "nm") + ": none has it; the farthest is " +
		tenths(e.Farthest.RangeNm, "nm") + " at " +
		tenths(e.Farthest.SpeedKn, "kn") + "; choose a larger bank, less reserve or a shorter trip"
}
