package plan_test

import (
	"fmt"
	"testing"
	"time"

	"ribband/core/plan"
)

// BenchmarkPlan prints, by effort, how far the twelve instances of 30 activities and the published ones are from their
// optima and how long one takes; and how long a yard of many boats takes. Where a bound is missed it fails.
func BenchmarkPlan(b *testing.B) {
	published := instances(b, "testdata/rcpsp.json")
	for _, effort := range []plan.Effort{plan.Quick, 300, plan.Thorough, 3000, plan.Long} {
		b.Run(fmt.Sprintf("published-%d", effort), func(b *testing.B) { benchInstances(b, published, effort) })
		b.Run(fmt.Sprintf("twelve-%d", effort), func(b *testing.B) { benchInstances(b, moreInstances(b), effort) })
	}
	for _, c := range []struct {
		boats  int
		effort plan.Effort
	}{{12, plan.Quick}, {12, plan.Thorough}, {200, plan.Quick}, {200, 60}} {
		b.Run(fmt.Sprintf("yard-%d-%d", c.boats, c.effort), func(b *testing.B) { benchYard(b, c.boats, c.effort) })
	}
}

func benchInstances(b *testing.B, list []instance, effort plan.Effort) {
	for b.Loop() {
		percent, mean, worst := deviation(b, list, effort)
		b.ReportMetric(percent, "%deviation")
		b.ReportMetric(mean.Seconds()*1000, "ms/instance")
		b.ReportMetric(worst.Seconds()*1000, "ms/worst")
		if effort == plan.Thorough && percent > 2 || effort == plan.Long && percent > 0.5 {
			b.Errorf("the mean deviation is %.2f %%", percent)
		}
	}
}

func benchYard(b *testing.B, boats int, effort plan.Effort) {
	load := yard(boats, 1)
	for b.Loop() {
		begin := time.Now()
		s, err := plan.Solve(load, plan.Objective{}, effort)
		if err != nil {
			b.Fatal(err)
		}
		took := time.Since(begin)
		if err := plan.Verify(load, s); err != nil {
			b.Fatal(err)
		}
		score := plan.Objective{}.Score(load, s)
		b.ReportMetric(took.Seconds()*1000, "ms/plan")
		b.ReportMetric(float64(score.Late)/96, "days-late")
		b.ReportMetric(float64(score.Total)/672/float64(boats), "week-mean")
		b.ReportMetric(float64(len(s.Breaches)), "breaches")
	}
}

// BenchmarkPlayer replays the plan of a yard of twelve boats as the effect of one option does.
func BenchmarkPlayer(b *testing.B) {
	load := yard(12, 1)
	s, err := plan.Solve(load, plan.Objective{}, plan.Quick)
	if err != nil {
		b.Fatal(err)
	}
	p, err := plan.NewPlayer(load, s)
	if err != nil {
		b.Fatal(err)
	}
	durations := durationsOf(load)
	durations[30] += 8
	for b.Loop() {
		if _, err := p.Replay(durations); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkSimulate plays the plan of a yard of twelve boats through a thousand times.
func BenchmarkSimulate(b *testing.B) {
	load := yard(12, 1)
	s, err := plan.Solve(load, plan.Objective{}, plan.Quick)
	if err != nil {
		b.Fatal(err)
	}
	spreads := make([]plan.Spread, len(load.Activities))
	for i := range spreads {
		d := load.Activities[i].Duration
		spreads[i] = plan.Spread{Low: d * 3 / 4, Likely: d, High: 2 * d}
	}
	for b.Loop() {
		if _, err := plan.Simulate(load, s, spreads, plan.Simulation{Runs: 1000}); err != nil {
			b.Fatal(err)
		}
	}
}
