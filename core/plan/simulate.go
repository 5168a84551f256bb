package plan

import (
	"fmt"
	"math"
	"slices"
)

// Simulation says how often a schedule is played through, and what is assumed of correlation.
//
// Each activity draws its duration from the beta distribution of its spread. In each run a boat has one draw that is
// common to its activities, and so has a shop (a calendar); an activity takes that of its boat with a probability of
// Boat per cent, that of its shop with Shop per cent, and otherwise one of its own. So two activities of one boat
// have a rank correlation of (Boat/100)², and two of one shop (Shop/100)². Zero, the default, is what textbooks
// assume: all are independent. Hours that go wrong together, since a boat is a new one or a man is, make launches
// vary more than that: sums of independent hours hardly do.
type Simulation struct {
	Runs       int
	Number     uint64 // the same number draws the same durations
	Boat, Shop int    // per cent, together at most 100
}

// maxRuns bounds a simulation.
const maxRuns = 100_000

// Outcome is when a boat is launched in a simulation.
type Outcome struct {
	P50, P80 Time // as many per cent of the runs launch it no later
	Mean     float64
	Variance float64 // in quarter-hours, squared
	Kept     int     // runs that keep its promise; all where there is none
	Missed   int     // runs in which a window of the boat runs out
}

// Simulate plays a schedule through with durations that vary, and gives the outcome of each boat. The order is kept:
// everything begins as soon as what comes before it is done, earlier or later than the schedule says, but not before
// its release. Nobody knows in advance that a coat will be late: windows that run out are counted, and delay nothing.
//
// An activity's draw depends on the number, the run, and its index alone, so that two loads that differ in an estimate
// are compared under the same luck, and a higher estimate never gives an earlier launch.
func Simulate(load *Load, s *Schedule, spreads []Spread, how Simulation) ([]Outcome, error) {
	net, err := compile(load)
	if err != nil {
		return nil, err
	}
	d, err := newDraws(load, spreads, how)
	if err != nil {
		return nil, err
	}
	r, err := net.ordered(s)
	if err != nil {
		return nil, err
	}
	launches := make([][]Time, len(load.Boats))
	outcomes := make([]Outcome, len(load.Boats))
	durations, missed := slices.Clone(net.length), make([]int, len(load.Boats))
	for run := range how.Runs {
		d.durations(run, durations)
		r.run(durations, net.floor, false)
		for _, b := range r.breaches() {
			missed[load.Activities[b.Activity].Boat] = run + 1
		}
		for k, b := range load.Boats {
			launches[k] = append(launches[k], r.finish[b.Launch])
			if missed[k] == run+1 {
				outcomes[k].Missed++
			}
		}
	}
	for k := range outcomes {
		outcomes[k].count(launches[k], load.Boats[k].Due)
	}
	return outcomes, nil
}

// SimulateInsertion plays a boat through that is inserted into what others leave free, with durations that vary; what
// others take stays as it is. In each run every activity finds its place anew: see [Insert]. Windows that run out are
// counted as missed.
func SimulateInsertion(load *Load, taken *Taken, spreads []Spread, how Simulation) (*Outcome, error) {
	d, err := newDraws(load, spreads, how)
	if err != nil {
		return nil, err
	}
	if len(load.Boats) != 1 {
		return nil, fmt.Errorf("simulating an insertion: it is of %d boats; give one", len(load.Boats))
	}
	own := *load
	own.Activities = slices.Clone(load.Activities)
	durations := make([]Time, len(own.Activities))
	out, launches := &Outcome{}, make([]Time, 0, how.Runs)
	for run := range how.Runs {
		for i := range durations {
			durations[i] = load.Activities[i].Duration
		}
		d.durations(run, durations)
		for i := range durations {
			own.Activities[i].Duration = durations[i]
		}
		ins, err := Insert(&own, taken)
		if err != nil {
			return nil, err
		}
		launches = append(launches, ins.Finish[own.Boats[0].Launch])
		if len(ins.Breaches) > 0 {
			out.Missed++
		}
	}
	out.count(launches, own.Boats[0].Due)
	return out, nil
}

// count fills in an outcome from its launches.
func (o *Outcome) count(launches []Time, due Time) {
	slices.Sort(launches)
	n := len(launches)
	o.P50, o.P80 = launches[(n*50+99)/100-1], launches[(n*80+99)/100-1]
	sum := Time(0)
	for _, t := range launches {
		sum += t
		if t <= due {
			o.Kept++
		}
	}
	o.Mean = float64(sum) / float64(n)
	for _, t := range launches {
		off := float64(t) - o.Mean
		o.Variance += float64(off*off) / float64(n)
	}
}

// draws are the durations of a simulation.
type draws struct {
	load    *Load
	how     Simulation
	spreads []Spread
	tables  []*betaTable // by activity; nil where nothing varies
}

// newDraws checks spreads and makes their tables; those of one shape share one.
func newDraws(load *Load, spreads []Spread, how Simulation) (*draws, error) {
	switch {
	case how.Runs < 1 || how.Runs > maxRuns:
		return nil, fmt.Errorf("simulating a schedule: %d runs; give 1 to %d", how.Runs, maxRuns)
	case how.Boat < 0 || how.Shop < 0 || how.Boat+how.Shop > 100:
		return nil,
			fmt.Errorf("simulating a schedule: %d %% are common to a boat and %d %% to a shop; give 0 to 100 together",
				how.Boat, how.Shop)
	case len(spreads) != len(load.Activities):
		return nil, fmt.Errorf("simulating a schedule: there are %d spreads for %d activities", len(spreads),
			len(load.Activities))
	}
	d := &draws{load, how, spreads, make([]*betaTable, len(spreads))}
	// most estimates of a book have one of a few shapes, such as 3/4, 1, 3/2 of the hours
	byShare := map[float64]*betaTable{}
	for i, s := range spreads {
		if s.Low < 0 || s.Likely < s.Low || s.High < s.Likely || s.High > maxLength {
			return nil,
				fmt.Errorf("simulating %s: its hours are %d, %d, %d quarter-hours; give low, likely and high in "+
					"order, up to %d", load.place(i), s.Low, s.Likely, s.High, maxLength)
		}
		if s.High == s.Low {
			continue
		}
		share := float64(s.Likely-s.Low) / float64(s.High-s.Low)
		if byShare[share] == nil {
			byShare[share] = newBetaTable(share)
		}
		d.tables[i] = byShare[share]
	}
	return d, nil
}

// durations draws those of one run.
func (d *draws) durations(run int, to []Time) {
	const boats, shops, own = 1, 2, 3 // kinds of draws that must not meet
	throw := func(kind, index int) uint64 {
		return mixed(mixed(mixed(d.how.Number+golden)+uint64(run)*golden) + uint64(kind)<<32 + uint64(index))
	}
	for i, s := range d.spreads {
		if d.tables[i] == nil {
			if s.High > 0 {
				to[i] = s.High
			}
			continue
		}
		// the choice of the draw comes of the same luck, so that it stays where an estimate changes
		luck := throw(own, i)
		a := &d.load.Activities[i]
		switch pick := int(mixed(luck^math.MaxUint64) % 100); {
		case pick < d.how.Boat:
			luck = throw(boats, a.Boat)
		case pick < d.how.Boat+d.how.Shop:
			luck = throw(shops, a.Calendar)
		}
		to[i] = s.draw(d.tables[i], luck)
	}
}
