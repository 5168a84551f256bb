package plan_test

import (
	"fmt"

	"ribband/core/plan"
)

// Two boats of one hull come out of one mould, where each stays over night while it cures, and go on to one fitter. The
// second gelcoat is not begun in the evening on which the mould is free: its window would run out over night.
func Example() {
	load := small()
	s, err := plan.Solve(load, plan.Objective{}, plan.Quick)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, a := range load.Activities {
		fmt.Printf("%-15s %-11s to %s\n", a.Title, moment(s.Start[i]), moment(s.Finish[i]))
	}
	fmt.Println("checked:", plan.Verify(load, s) == nil)
	// Output:
	// Coot: gelcoat   Mon 1 07:00 to Mon 1 08:00
	// Coot: laminate  Mon 1 08:30 to Mon 1 14:00
	// Coot: release   Tue 1 14:00 to Tue 1 15:00
	// Coot: fit out   Tue 1 15:00 to Fri 1 14:30
	// Teal: gelcoat   Wed 1 07:00 to Wed 1 08:00
	// Teal: laminate  Wed 1 08:30 to Wed 1 14:00
	// Teal: release   Thu 1 14:00 to Thu 1 15:00
	// Teal: fit out   Fri 1 14:30 to Wed 2 14:00
	// checked: true
}

func moment(t plan.Time) string {
	day := []string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}[t/plan.Day%7]
	return fmt.Sprintf("%s %d %02d:%02d", day, t/plan.Week+1, t%plan.Day/plan.Hour, t%plan.Hour*15)
}

func ExampleCriticalChain() {
	load := small()
	s, err := plan.Solve(load, plan.Objective{}, plan.Quick)
	if err != nil {
		fmt.Println(err)
		return
	}
	chain, err := plan.CriticalChain(load, s, 1)
	if err != nil {
		fmt.Println(err)
		return
	}
	causes := map[plan.Cause]string{plan.WaitsForNothing: "begins", plan.WaitsForPredecessor: "after the one before",
		plan.WaitsForResource: "waits for people", plan.WaitsForHolder: "waits for the place",
		plan.WaitsForWindow: "begins late enough for the next"}
	for _, step := range chain {
		fmt.Printf("%-15s %s\n", load.Activities[step.Activity].Title, causes[step.Wait.Cause])
	}
	floats, err := plan.Floats(load, s, 1)
	fmt.Println("float of the first boat's laminate:", floats[1], err)
	// Output:
	// Coot: gelcoat   begins
	// Coot: laminate  after the one before
	// Coot: release   after the one before
	// Coot: fit out   after the one before
	// Teal: fit out   waits for people
	// float of the first boat's laminate: 0 <nil>
}

func ExampleReplay() {
	load := small()
	s, err := plan.Solve(load, plan.Objective{}, plan.Quick)
	if err != nil {
		fmt.Println(err)
		return
	}
	durations := make([]plan.Time, len(load.Activities))
	for i := range durations {
		durations[i] = load.Activities[i].Duration
	}
	durations[3] += 6 * plan.Hour // an option of the first boat
	longer, err := plan.Replay(load, s, durations)
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, b := range load.Boats {
		fmt.Println(b.Title, moment(s.Launches(load)[i]), "then", moment(longer.Launches(load)[i]))
	}
	// Output:
	// Coot Fri 1 14:30 then Mon 2 11:30
	// Teal Wed 2 14:00 then Thu 2 11:00
}

func ExampleSimulate() {
	load := small()
	s, err := plan.Solve(load, plan.Objective{}, plan.Quick)
	if err != nil {
		fmt.Println(err)
		return
	}
	spreads := make([]plan.Spread, len(load.Activities))
	for i, a := range load.Activities {
		spreads[i] = plan.Spread{Low: a.Duration * 3 / 4, Likely: a.Duration, High: a.Duration * 2}
	}
	outcomes, err := plan.Simulate(load, s, spreads, plan.Simulation{Runs: 1000, Boat: 50})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, o := range outcomes {
		fmt.Println(load.Boats[i].Title, "P50", moment(o.P50), "P80", moment(o.P80))
	}
	// Output:
	// Coot P50 Mon 2 09:00 P80 Tue 2 07:15
	// Teal P50 Thu 2 12:00 P80 Fri 2 11:30
}

func ExampleCriticalPath() {
	load := small()
	n, err := plan.CriticalPath(load)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println("with people and moulds enough, the second boat ends", moment(n.Ends[1]))
	// Output:
	// with people and moulds enough, the second boat ends Fri 1 14:30
}

func ExampleLearning() {
	unit := plan.Learning{First: 250, Rate: 0.85}
	average := plan.Learning{First: 250, Rate: 0.85, Reading: plan.Wright}
	fmt.Printf("15 boats: %.0f h by unit, %.0f h by average\n", unit.Total(15), average.Total(15))
	// Output:
	// 15 boats: 2465 h by unit, 1987 h by average
}
