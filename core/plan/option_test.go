package plan_test

import (
	"testing"

	"ribband/core/plan"
)

// An option adds an activity that took no time before: it waits for the people whom others have then, and what comes
// after it waits for it; while it takes none, it is in nobody's way.
func TestHoursOfWhatTookNone(t *testing.T) {
	fitter := []plan.Demand{{Resource: 0, Units: 1}}
	l := &plan.Load{Calendars: []plan.Calendar{plan.Always()},
		Resources: []plan.Resource{{Title: "fitter", Capacity: 1}},
		Boats: []plan.Boat{{Title: "Coot", Launch: 0, Due: 40, Weight: 1},
			{Title: "Teal", Launch: 3, Due: plan.Never}},
		Activities: []plan.Activity{{Title: "Coot: fit out", Duration: 40, Demands: fitter},
			{Title: "Teal: wait for paint", Boat: 1, Duration: 10},
			{Title: "Teal: fit a heater", Boat: 1, Demands: fitter, After: plan.After(1)},
			{Title: "Teal: fit out", Boat: 1, Duration: 20, Demands: fitter, After: plan.After(2)}}}
	s := solve(t, l)
	if s.Start[2] != 10 || s.Start[3] != 40 {
		t.Fatalf("without a heater Teal goes on at %d and %d", s.Start[2], s.Start[3])
	}
	r, err := plan.Replay(l, s, []plan.Time{40, 10, 8, 20})
	if err != nil {
		t.Fatal(err)
	}
	if r.Start[2] != 40 || r.Finish[3] != 68 {
		t.Errorf("the heater is fitted at %d, Teal is done at %d; want 40 and 68", r.Start[2], r.Finish[3])
	}
	if r, err = plan.Replay(l, s, []plan.Time{44, 10, 0, 20}); err != nil || r.Finish[3] != 64 {
		t.Errorf("without a heater, and Coot four later, Teal is done at %d (%v), want 64", r.Finish[3], err)
	}
}
