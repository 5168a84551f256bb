package plan_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/plan"
)

// A window is broken only where it must be: two coats in shops with nights and people who are away for a while, against
// all pairs of starts in nine days.
func TestWindowIsKeptWhereItCanBe(t *testing.T) {
	kept, broken := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		between := func(from, to int, label string) plan.Time {
			return plan.Time(rapid.IntRange(from, to).Draw(t, label))
		}
		load := &plan.Load{Boats: []plan.Boat{{Title: "boat", Launch: 1, Due: plan.Never}}}
		for c := range 2 {
			from := between(0, 70, "opens")
			load.Calendars = append(load.Calendars, plan.Weekdays("shop", nil,
				plan.Hours{From: from, Until: from + between(1, 26, "open")}))
			load.Resources = append(load.Resources, plan.Resource{Title: "people", Calendar: c, Capacity: 1})
			load.Activities = append(load.Activities, plan.Activity{Title: "coat", Calendar: c,
				Duration: between(1, 12, "duration"), Demands: []plan.Demand{{Resource: c, Units: 1}}})
		}
		least := between(0, 30, "least")
		load.Activities[1].After = []plan.Link{{Activity: 0, Min: least, Max: least + between(0, 40, "most")}}
		for c := range 2 { // somebody else's work, which stands
			from := between(0, 400, "away")
			load.Activities = append(load.Activities, plan.Activity{Title: "other work", Calendar: c, State: plan.Done,
				Start: from, Finish: from + between(0, 100, "long"), Demands: []plan.Demand{{Resource: c, Units: 1}}})
		}
		s, err := plan.Solve(load, plan.Objective{}, 1)
		if err != nil {
			t.Fatal(err)
		}
		if err := plan.Verify(load, s); err != nil {
			t.Fatal(err)
		}
		last := pairs(load, 9*plan.Day)
		switch broke := len(s.Breaches) > 0; {
		case last == plan.Never && !broke && s.Finish[1] < 8*plan.Day:
			t.Fatalf("the second coat ends at %d, which no pair of starts gives", s.Finish[1])
		case last != plan.Never && (broke || s.Finish[1] != last):
			t.Fatalf("the second coat ends at %d with breaches %v, by trying all pairs at %d", s.Finish[1], s.Breaches,
				last)
		case broke:
			broken++
		default:
			kept++
		}
	})
	if kept < 10 || broken < 10 {
		t.Errorf("%d windows are kept and %d are not: the test has lost its subject", kept, broken)
	}
}

// pairs is the earliest finish of the second of two activities over all pairs of starts before a moment.
func pairs(load *plan.Load, before plan.Time) plan.Time {
	var ends [2][]plan.Time // by start; never where it cannot start then
	for i := range ends {
		a := &load.Activities[i]
		for start := range before {
			ends[i] = append(ends[i], finishFrom(load, a, start))
		}
	}
	best, link := plan.Never, load.Activities[1].After[0]
	for _, first := range ends[0] {
		if first == plan.Never {
			continue
		}
		for start := first + link.Min; start <= first+link.Max && start < before; start++ {
			best = min(best, ends[1][start])
		}
	}
	return best
}

// finishFrom is the end of an activity that starts at a moment, by walking; [plan.Never] where the shop is closed or
// its people are at other work.
func finishFrom(load *plan.Load, a *plan.Activity, start plan.Time) plan.Time {
	calendar := &load.Calendars[a.Calendar]
	if !open(calendar, start) {
		return plan.Never
	}
	at := start
	for left := a.Duration; left > 0; at++ {
		if !open(calendar, at) {
			continue
		}
		if slices.ContainsFunc(load.Activities[2:], func(o plan.Activity) bool {
			return o.Calendar == a.Calendar && at >= o.Start && at < o.Finish
		}) {
			return plan.Never
		}
		left--
	}
	return at
}
