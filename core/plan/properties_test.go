package plan_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/plan"
)

// draw gives a random load with its schedule, or nil where it cannot be scheduled for a reason that is said.
func draw(t *rapid.T, k kinds) (*plan.Load, *plan.Schedule) {
	load := randomLoad(t, k)
	if err := load.Check(); err != nil {
		t.Fatal(err)
	}
	objective := plan.Objective{Total: plan.Total(rapid.IntRange(0, 1).Draw(t, "total"))}
	s, err := plan.Solve(load, objective, plan.Effort(rapid.IntRange(1, 60).Draw(t, "effort")))
	if err == nil {
		return load, s
	}
	can := k.windows && strings.Contains(err.Error(), "widen the window") ||
		k.begun && (strings.Contains(err.Error(), "which others have at that time") ||
			strings.Contains(err.Error(), "finds no place"))
	if !can {
		t.Fatal(err)
	}
	return nil, nil
}

// Every schedule passes the checker, also with everything that a load may have; and a second time it is the same.
func TestSchedulesHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load, s := draw(t, kinds{windows: true, begun: true})
		if s == nil {
			return
		}
		if err := plan.Verify(load, s); err != nil {
			t.Fatal(err)
		}
		n, err := plan.CriticalPath(load)
		if err != nil {
			t.Fatal(err)
		}
		for i, f := range s.Finish {
			if f < n.EarlyFinish[i] {
				t.Fatalf("activity %d ends at %d, without scarcity at %d", i, f, n.EarlyFinish[i])
			}
		}
	})
}

func TestPlanningAgainChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load := randomLoad(t, kinds{windows: true})
		effort := plan.Effort(rapid.IntRange(1, 200).Draw(t, "effort"))
		s, err := plan.Solve(load, plan.Objective{}, effort)
		again, errAgain := plan.Solve(load, plan.Objective{}, effort)
		if (err == nil) != (errAgain == nil) || !reflect.DeepEqual(s, again) {
			t.Fatalf("%v, %v; %v, %v", s, err, again, errAgain)
		}
		if s == nil {
			return
		}
		durations := make([]plan.Time, len(load.Activities))
		for i := range durations {
			durations[i] = load.Activities[i].Duration
		}
		same, err := plan.Replay(load, s, durations)
		if err != nil || !reflect.DeepEqual(s, same) {
			t.Fatalf("replayed with its own durations it is %v, %v, not %v", same, err, s)
		}
	})
}

// More effort never gives a worse schedule: each effort begins with what a smaller one does.
func TestMoreEffortIsNotWorse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load := randomLoad(t, kinds{})
		little, err := plan.Solve(load, plan.Objective{}, 1)
		if err != nil {
			t.Fatal(err)
		}
		much, err := plan.Solve(load, plan.Objective{}, 40)
		if err != nil {
			t.Fatal(err)
		}
		o := plan.Objective{}
		if o.Score(load, little).Less(o.Score(load, much)) {
			t.Fatalf("effort 1 gives %v, effort 40 gives %v", o.Score(load, little), o.Score(load, much))
		}
	})
}

// longer are the durations of a load, some of them increased.
func longer(t *rapid.T, load *plan.Load, from []plan.Time) []plan.Time {
	list := slices.Clone(from)
	if list == nil {
		for i := range load.Activities {
			list = append(list, load.Activities[i].Duration)
		}
	}
	for i := range list {
		if rapid.IntRange(0, 2).Draw(t, "longer") == 0 {
			list[i] += plan.Time(rapid.IntRange(1, 60).Draw(t, "by"))
		}
	}
	return list
}

// with is a load with other durations.
func with(load *plan.Load, durations []plan.Time) *plan.Load {
	l := *load
	l.Activities = slices.Clone(load.Activities)
	for i, d := range durations {
		l.Activities[i].Duration = d
	}
	return &l
}

// More hours never launch earlier while the order is kept, and nothing is booked twice then either.
func TestMoreHoursNeverLaunchEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load, s := draw(t, kinds{windows: true})
		if s == nil {
			return
		}
		more := longer(t, load, nil)
		replayed, err := plan.Replay(load, s, more)
		if err != nil {
			t.Fatal(err)
		}
		if err := plan.Verify(with(load, more), replayed); err != nil {
			t.Fatal(err)
		}
		for i := range s.Finish {
			if replayed.Finish[i] < s.Finish[i] || replayed.Start[i] < s.Start[i] {
				t.Fatalf("activity %d from %d to %d, before from %d to %d", i, replayed.Start[i], replayed.Finish[i],
					s.Start[i], s.Finish[i])
			}
		}
		if hasWindows(load) {
			return
		}
		most := longer(t, load, more)
		last, err := plan.Replay(load, s, most)
		if err != nil {
			t.Fatal(err)
		}
		for i := range last.Finish {
			if last.Finish[i] < replayed.Finish[i] {
				t.Fatalf("activity %d ends at %d, with fewer hours at %d", i, last.Finish[i], replayed.Finish[i])
			}
		}
	})
}

// A launch does not move while an activity begins no later than its float lets it, or takes no longer; and moves when
// it does. What is done on one day may take longer up to its evening only.
func TestFloatIsWhatALaunchHas(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load, s := draw(t, kinds{begun: true})
		if s == nil {
			return
		}
		boat := rapid.IntRange(0, len(load.Boats)-1).Draw(t, "boat")
		floats, err := plan.Floats(load, s, boat)
		if err != nil {
			t.Fatal(err)
		}
		launch := load.Boats[boat].Launch
		for i := range floats {
			a := &load.Activities[i]
			if a.State != plan.Open {
				continue
			}
			ways := map[string]func(by plan.Time) plan.Time{
				"begins later": func(by plan.Time) plan.Time { return launchAfterDelay(t, load, s, i, launch, by) }}
			if a.Duration > 0 && !a.OneDay {
				ways["takes longer"] = func(by plan.Time) plan.Time {
					durations := durationsOf(load)
					durations[i] += by
					return replayed(t, load, s, durations).Finish[launch]
				}
			}
			for way, at := range ways {
				if floats[i] == plan.Never {
					if at(500) != s.Finish[launch] {
						t.Fatalf("activity %d %s and moves a launch that does not depend on it", i, way)
					}
				} else if floats[i] < 0 || at(floats[i]) != s.Finish[launch] || at(floats[i]+1) <= s.Finish[launch] {
					t.Fatalf("the float of activity %d, which %s, is %d, the launch at %d, %d, %d", i, way, floats[i],
						s.Finish[launch], at(floats[i]), at(floats[i]+1))
				}
			}
		}
	})
}

// launchAfterDelay is a launch if an activity begins later by some worked time, or clock time where it takes none.
func launchAfterDelay(t *rapid.T, load *plan.Load, s *plan.Schedule, i, launch int, by plan.Time) plan.Time {
	a, late := &load.Activities[i], *s
	late.Start = slices.Clone(s.Start)
	if late.Start[i] += by; a.Duration > 0 {
		clock, err := load.Calendars[a.Calendar].Clock()
		if err != nil {
			t.Fatal(err)
		}
		late.Start[i] = clock.Begin(clock.Worked(s.Start[i]) + by)
	}
	return replayed(t, load, &late, durationsOf(load)).Finish[launch]
}

func replayed(t *rapid.T, load *plan.Load, s *plan.Schedule, durations []plan.Time) *plan.Schedule {
	r, err := plan.Replay(load, s, durations)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// durationsOf are the durations of a load.
func durationsOf(load *plan.Load) (list []plan.Time) {
	for i := range load.Activities {
		list = append(list, load.Activities[i].Duration)
	}
	return list
}

// Each activity of a plan waits for something that ends when it starts, or starts as soon as its shop opens.
func TestWaitsAreReasons(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load, s := draw(t, kinds{windows: true, begun: true})
		if s == nil {
			return
		}
		waits, err := plan.Waits(load, s)
		if err != nil {
			t.Fatal(err)
		}
		for i, w := range waits {
			a := &load.Activities[i]
			clock, err := load.Calendars[a.Calendar].Clock()
			if err != nil {
				t.Fatal(err)
			}
			opens := func(at plan.Time) plan.Time {
				if a.Duration == 0 {
					return at
				}
				for {
					worked := clock.Worked(at)
					at = clock.Begin(worked)
					if last := clock.End(worked+a.Duration) - 1; !a.OneDay || last/plan.Day == at/plan.Day {
						return at
					}
					at = (at/plan.Day + 1) * plan.Day
				}
			}
			from := plan.Time(0) // until when it waits
			switch w.Cause {
			case plan.WaitsAsFixed:
				if a.State == plan.Open {
					t.Fatalf("activity %d is open", i)
				}
				continue
			case plan.WaitsForPredecessor:
				k := slices.IndexFunc(a.After, func(link plan.Link) bool { return link.Activity == w.Activity })
				from = s.Finish[w.Activity] + a.After[k].Min
			case plan.WaitsForHolder, plan.WaitsForResource:
				from = s.Finish[w.Activity]
			case plan.WaitsForRelease:
				from = a.Earliest
			case plan.WaitsForWindow:
				if a.Duration > 0 && s.Start[i] >= s.Start[w.Activity] {
					t.Fatalf("activity %d waits for the window to %d, which is earlier", i, w.Activity)
				}
				continue
			case plan.WaitsForNothing:
			}
			if opens(max(from, 0)) != s.Start[i] {
				t.Fatalf("activity %d starts at %d and is said to wait until %d: %+v", i, s.Start[i], from, w)
			}
		}
		chain, err := plan.CriticalChain(load, s, 0)
		if err != nil || chain[len(chain)-1].Activity != load.Boats[0].Launch {
			t.Fatalf("%v, %v", chain, err)
		}
		for k := 1; k < len(chain); k++ {
			if chain[k].Wait.Activity != chain[k-1].Activity {
				t.Fatalf("step %d of %v does not wait for the one before it", k, chain)
			}
		}
	})
}

// Clock and worked time, by counting quarter-hours.
func TestClockCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load := randomLoad(t, kinds{})
		for c := range load.Calendars {
			calendar := &load.Calendars[c]
			clock, err := calendar.Clock()
			if err != nil {
				t.Fatal(err)
			}
			worked := plan.Time(0)
			for at := range 5 * plan.Week {
				if got := clock.Worked(at); got != worked {
					t.Fatalf("%d are worked before %d, want %d", got, at, worked)
				}
				if !open(calendar, at) {
					continue
				}
				if clock.Begin(worked) != at || clock.End(worked+1) != at+1 {
					t.Fatalf("after %d it goes on at %d and ends at %d, want %d", worked, clock.Begin(worked),
						clock.End(worked+1), at)
				}
				worked++
			}
		}
	})
}

func open(c *plan.Calendar, at plan.Time) bool {
	if slices.Contains(c.Closed, int(at/plan.Day)) {
		return false
	}
	return slices.ContainsFunc(c.Week[at/plan.Day%7], func(h plan.Hours) bool {
		return at%plan.Day >= h.From && at%plan.Day < h.Until
	})
}
