package bank

import (
	"math"
	"strconv"

	"gonum.org/v1/gonum/interp"
)

// Point is one speed held in a trial, and the power that it took.
type Point struct{ SpeedKn, PowerW float64 }

// Trial is a hull's trial table: power over speed in calm air and flat, deep water. Hotel loads are not in it.
type Trial struct {
	Points         []Point
	DisplacementKg float64 // of the boat as tried, with crew, kg
	AtShaft        bool    // power at the motor's shaft; else electrical, into the controller
}

// fewest is how many points a table needs for its curve to mean something. Common practice, no source.
const fewest = 4

// Validate lists what is wrong.
func (t Trial) Validate() []Fault {
	var fs faults
	fs.within("trial", "the displacement", t.DisplacementKg, 50, 50000, "kg")
	if n := len(t.Points); n < fewest {
		fs.add("trial", "the table has "+strconv.Itoa(n)+" points",
			"give "+strconv.Itoa(fewest)+" or more, from slow to hull speed")
	}
	for i, p := range t.Points {
		at, before := "trial point "+strconv.Itoa(i+1), len(fs)
		fs.within(at, "the speed", p.SpeedKn, 0.1, 60, "kn")
		fs.within(at, "the power", p.PowerW, 1, 1e6, "W")
		if i > 0 {
			p.follow(at, t.Points[i-1], &fs)
		}
		for j := range fs[before:] {
			fs[before+j].Point = i + 1
		}
	}
	return fs
}

// follow wants a point to lie above and beyond the one before it.
func (p Point) follow(at string, last Point, fs *faults) {
	if p.SpeedKn < last.SpeedKn+0.01 {
		fs.add(at, amount(p.SpeedKn, "kn")+" comes after "+amount(last.SpeedKn, "kn"),
			"sort the points by speed, 0.01 kn apart or more")
		return
	}
	if p.PowerW <= last.PowerW {
		problem := "the power does not rise with speed: " + amount(p.PowerW, "W") + " at " + amount(p.SpeedKn, "kn") +
			" after " + amount(last.PowerW, "W") + " at " + amount(last.SpeedKn, "kn")
		fs.add(at, problem, "check both readings, or leave the worse one out")
	}
}

// Curve is power over speed through the points of a trial.
type Curve struct {
	trial    Trial
	cubic    interp.FritschButland
	from, to float64 // kn
}

// Curve runs a curve through the table.
//
//	a cubic between each two points, by Fritsch and Butland: through every point, smooth,
//	and rising where the points rise
//
// Valid: a table without faults.
// Source: Fritsch and Butland, A method for constructing local monotone piecewise cubic interpolants, SIAM J. Sci.
// Stat. Comput. 5 (1984), pp. 300-304, as in gonum.
func (t Trial) Curve() (*Curve, error) {
	if fs := faults(t.Validate()); len(fs) > 0 {
		return nil, fs.err()
	}
	xs, ys := make([]float64, len(t.Points)), make([]float64, len(t.Points))
	for i, p := range t.Points {
		xs[i], ys[i] = p.SpeedKn, p.PowerW
	}
	c := &Curve{trial: t, from: xs[0], to: xs[len(xs)-1]}
	if err := c.cubic.Fit(xs, ys); err != nil {
		return nil, err
	}
	return c, nil
}

// Range is the lowest and highest speed of the table, kn.
func (c *Curve) Range() (fromKn, toKn float64) { return c.from, c.to }

// PowerW is the power at a speed, W, at the trial's displacement and where the trial measured it.
//
// Valid: within the table. Beyond it there is an [OutsideError]: near hull speed power climbs in a way that no curve
// foresees.
// Source: the trial; [Trial.Curve].
func (c *Curve) PowerW(speedKn float64) (float64, error) {
	if !(speedKn >= c.from && speedKn <= c.to) {
		return 0, &OutsideError{speedKn, c.from, c.to}
	}
	return c.cubic.Predict(speedKn), nil
}

// OutsideError says that a speed is not in the trial table.
type OutsideError struct{ SpeedKn, FromKn, ToKn float64 }

func (e *OutsideError) Error() string {
	return "power at " + amount(e.SpeedKn, "kn") + ": the trial table goes from " + number(e.FromKn) + " to " +
		amount(e.ToKn, "kn") +
		" and says nothing beyond; choose a speed in it, or try the hull at that speed and add the point"
}

// AdmiraltyScale is by how much power changes with displacement and speed.
//
//	P2/P1 = (D2/D1)^(2/3)·(v2/v1)³
//
//	P  power       D  displacement       v  speed; 1 before, 2 after, in any unit
//
// Valid: like boats at nearly the same Froude number, constant propulsive efficiency. Here it corrects for displacement
// alone, at equal speed, between half and twice that of the trial; the bounds are common practice, no source.
// Source: Stokoe; Schneekluth and Bertram.
func AdmiraltyScale(displacementRatio, speedRatio float64) float64 {
	d := math.Cbrt(displacementRatio)
	return d * d * speedRatio * speedRatio * speedRatio
}
