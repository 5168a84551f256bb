package plan_test

import (
	"fmt"
	"math"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/plan"
)

// chain is a load of activities one after the other, on the calendar that is always open, with their spreads.
func chain(points []plan.ThreePoint, unit float64) (*plan.Load, []plan.Spread) {
	l := &plan.Load{Calendars: []plan.Calendar{plan.Always()},
		Boats: []plan.Boat{{Title: "boat", Launch: len(points) - 1, Due: plan.Never}}}
	var spreads []plan.Spread
	for i, p := range points {
		a := plan.Activity{Title: fmt.Sprintf("activity %d", i), Duration: plan.Time(math.Round(p.Mean() * unit))}
		if i > 0 {
			a.After = plan.After(i - 1)
		}
		l.Activities = append(l.Activities, a)
		spreads = append(spreads, plan.Spread{Low: plan.Time(p.Low * unit), Likely: plan.Time(p.Likely * unit),
			High: plan.Time(p.High * unit)})
	}
	return l, spreads
}

func simulated(t testing.TB, l *plan.Load, spreads []plan.Spread, how plan.Simulation) []plan.Outcome {
	t.Helper()
	s, err := plan.Solve(l, plan.Objective{}, plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	list, err := plan.Simulate(l, s, spreads, how)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// A chain of independent activities: its mean is the sum of the means, its variance that of the variances of the beta
// distributions, and its quantiles are near those of the normal distribution. The estimates are those of the critical
// path of Hillier and Lieberman's "Reliable Construction". Four standard errors are allowed.
func TestChainAgainstItsSums(t *testing.T) {
	const unit, runs = 400.0, 20_000
	var points []plan.ThreePoint
	variance := 0.0
	for _, n := range hillier {
		if slices.Contains([]string{"A", "B", "C", "E", "F", "J", "L", "N"}, n.name) {
			points = append(points, plan.ThreePoint{Low: n.a, Likely: n.m, High: n.b})
			variance += points[len(points)-1].BetaVariance()
		}
	}
	l, spreads := chain(points, unit)
	o := simulated(t, l, spreads, plan.Simulation{Runs: runs, Number: 7})[0]
	sd := math.Sqrt(variance)
	near(t, "mean", o.Mean/unit, 44, 4*sd/math.Sqrt(runs))
	near(t, "variance", o.Variance/unit/unit, variance, 4*variance*math.Sqrt(2.0/runs))
	// the chain is somewhat skewed: its median lies below its mean by about a sixth of skewness times sd
	near(t, "P50", float64(o.P50)/unit, 44, 0.15*sd)
	near(t, "P80", float64(o.P80)/unit, 44+0.8416*sd, 0.1*sd)
	textbook, _ := plan.Chain(points)
	near(t, "the textbook's mean", textbook, 44, 1e-9)
}

// One activity alone: the mean is (a + 4m + b)/6 and the variance that of the beta distribution, wherever the likely
// value lies; uniform order statistics are the special cases (share 0, 1/4, 1/2: the least, second and third of five).
func TestBetaHasItsMoments(t *testing.T) {
	const unit, runs = 1000.0, 40_000
	for _, share := range []float64{0, 0.1, 0.25, 0.37, 0.5, 0.75, 0.9, 1} {
		p := plan.ThreePoint{Low: 10, Likely: 10 + 20*share, High: 30}
		l, spreads := chain([]plan.ThreePoint{p}, unit)
		o := simulated(t, l, spreads, plan.Simulation{Runs: runs, Number: 3})[0]
		near(t, fmt.Sprintf("mean at %v", share), o.Mean/unit, p.Mean(), 4*math.Sqrt(p.BetaVariance()/runs))
		near(t, fmt.Sprintf("variance at %v", share), o.Variance/unit/unit, p.BetaVariance(), 0.03*p.BetaVariance())
	}
	// Source: quantiles of beta(1, 5), 1 - (1 - u)^(1/5), and the median of the third of five, 1/2
	for likely, want := range map[float64][2]float64{0: {1 - math.Pow(0.5, 0.2), 1 - math.Pow(0.2, 0.2)}, 0.5: {0.5,
		0.6741}} {
		l, spreads := chain([]plan.ThreePoint{{Low: 0, Likely: likely, High: 1}}, 100_000)
		o := simulated(t, l, spreads, plan.Simulation{Runs: runs, Number: 5})[0]
		near(t, fmt.Sprintf("P50 at %v", likely), float64(o.P50)/100_000, want[0], 0.004)
		near(t, fmt.Sprintf("P80 at %v", likely), float64(o.P80)/100_000, want[1], 0.004)
	}
}

// With a common draw the variance of a chain of equal activities grows as the pair correlation says: of n with
// correlation r it is n (1 + (n - 1) r) times that of one. With the same draw of equal spreads the correlation of hours
// is the rank correlation.
func TestCommonDrawsWiden(t *testing.T) {
	const n, runs, unit = 10, 20_000, 400.0
	p := plan.ThreePoint{Low: 2, Likely: 4, High: 8}
	l, spreads := chain(slices.Repeat([]plan.ThreePoint{p}, n), unit)
	for _, how := range []plan.Simulation{{Boat: 0}, {Boat: 50}, {Boat: 100}, {Shop: 70}, {Boat: 50, Shop: 50}} {
		how.Runs, how.Number = runs, 11
		o := simulated(t, l, spreads, how)[0]
		boat, shop := float64(how.Boat)/100, float64(how.Shop)/100
		r := boat*boat + shop*shop
		want := n * (1 + (n-1)*r) * p.BetaVariance()
		near(t, fmt.Sprintf("variance with %+v", how), o.Variance/unit/unit, want, 0.06*want)
		near(t, "mean", o.Mean/unit, n*p.Mean(), 4*math.Sqrt(want/runs))
	}
}

// Without spread every run is the plan; the same number gives the same launches; higher estimates never earlier ones.
func TestSimulationsCompare(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load, s := draw(t, kinds{windows: true})
		if s == nil {
			return
		}
		n := len(load.Activities)
		how := plan.Simulation{Runs: 20, Number: rapid.Uint64().Draw(t, "number"), Boat: rapid.IntRange(0, 50).Draw(t,
			"boat"),
			Shop: rapid.IntRange(0, 50).Draw(t, "shop")}
		still, err := plan.Simulate(load, s, make([]plan.Spread, n), how)
		if err != nil {
			t.Fatal(err)
		}
		spreads := make([]plan.Spread, n)
		for i := range spreads {
			if d := load.Activities[i].Duration; d > 0 {
				spreads[i] = plan.Spread{Low: (d + 1) / 2, Likely: d, High: d + plan.Time(rapid.IntRange(0,
					40).Draw(t, "high"))}
			}
		}
		some, err := plan.Simulate(load, s, spreads, how)
		if err != nil {
			t.Fatal(err)
		}
		again, _ := plan.Simulate(load, s, spreads, how)
		if !reflect.DeepEqual(some, again) {
			t.Fatal("the same number gives other launches")
		}
		for i := range spreads {
			if spreads[i].High > 0 {
				by := plan.Time(rapid.IntRange(0, 10).Draw(t, "more"))
				spreads[i] = plan.Spread{Low: spreads[i].Low + by, Likely: spreads[i].Likely + by,
					High: spreads[i].High + by}
			}
		}
		more, err := plan.Simulate(load, s, spreads, how)
		if err != nil {
			t.Fatal(err)
		}
		for b, launch := range s.Launches(load) {
			if !hasWindows(load) && (still[b].P50 != launch || still[b].P80 != launch || still[b].Variance != 0) {
				t.Fatalf("boat %d is launched at %d, simulated without spread at %+v", b, launch, still[b])
			}
			if some[b].P50 > some[b].P80 || more[b].P50 < some[b].P50 || more[b].P80 < some[b].P80 {
				t.Fatalf("boat %d: %+v, and with more hours %+v", b, some[b], more[b])
			}
		}
	})
}

// A window that runs out in some runs is counted, and what promises are kept.
func TestSimulationCountsWindowsAndPromises(t *testing.T) {
	l, spreads := chain([]plan.ThreePoint{{Low: 10, Likely: 20, High: 30}, {Low: 10, Likely: 20, High: 30},
		{Low: 5, Likely: 5, High: 5}}, 4)
	// the third must follow the first within 20 h of its finish, and comes after the second as well
	l.Activities[2].After = append(l.Activities[2].After, plan.Link{Activity: 0, Max: 20 * plan.Hour})
	l.Boats[0].Due, l.Boats[0].Weight = 45*plan.Hour, 1
	o := simulated(t, l, spreads, plan.Simulation{Runs: 4000, Number: 1})[0]
	// the second is symmetric about 20 h, and so is the sum of the first two about 40 h
	near(t, "windows that run out", float64(o.Missed)/4000, 0.5, 0.05)
	near(t, "promises kept", float64(o.Kept)/4000, 0.5, 0.05)
}

func TestSimulationRefusesNonsense(t *testing.T) {
	l, spreads := chain([]plan.ThreePoint{{Low: 1, Likely: 2, High: 3}}, 4)
	s, err := plan.Solve(l, plan.Objective{}, 1)
	if err != nil {
		t.Fatal(err)
	}
	for want, c := range map[string]struct {
		spreads []plan.Spread
		how     plan.Simulation
	}{
		"simulating a schedule: 0 runs; give 1 to 100000":             {spreads, plan.Simulation{}},
		"simulating a schedule: there are 0 spreads for 1 activities": {nil, plan.Simulation{Runs: 1}},
		"simulating a schedule: 60 % are common to a boat and 41 % to a shop; give 0 to 100 together": {spreads,
			plan.Simulation{Runs: 1, Boat: 60, Shop: 41}},
		`simulating activity 0, "activity 0": its hours are 4, 2, 3 quarter-hours; give low, likely and high in ` +
			`order, up ` +
			"to 1048576": {[]plan.Spread{{Low: 4, Likely: 2, High: 3}}, plan.Simulation{Runs: 1}},
	} {
		if _, err := plan.Simulate(l, s, c.spreads, c.how); err == nil || err.Error() != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}
