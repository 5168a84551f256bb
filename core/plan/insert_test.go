package plan_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/plan"
)

// apart divides a load: all boats but the last, and the last by itself with the same means.
func apart(l *plan.Load) (others, boat *plan.Load) {
	last := len(l.Boats) - 1
	first := slices.IndexFunc(l.Activities, func(a plan.Activity) bool { return a.Boat == last })
	whole := *l
	others, boat = &whole, &plan.Load{Calendars: l.Calendars, Resources: l.Resources, Holders: l.Holders}
	others.Boats, others.Activities, others.Holdings = l.Boats[:last], l.Activities[:first], nil
	for _, h := range l.Holdings {
		if h.From < first {
			others.Holdings = append(others.Holdings, h)
			continue
		}
		boat.Holdings = append(boat.Holdings, plan.Holding{Holder: h.Holder, From: h.From - first, To: h.To - first})
	}
	of := l.Boats[last]
	of.Launch -= first
	boat.Boats = []plan.Boat{of}
	for _, a := range l.Activities[first:] {
		a.Boat = 0
		a.After = slices.Clone(a.After)
		for k := range a.After {
			a.After[k].Activity -= first
		}
		boat.Activities = append(boat.Activities, a)
	}
	return others, boat
}

// taken is what the other boats of a load take by a plan of their own, and the plan.
func taken(t *rapid.T, others *plan.Load) (*plan.Taken, *plan.Schedule) {
	s, err := plan.Solve(others, plan.Objective{}, 3)
	if err != nil {
		t.Skip(err)
	}
	used, err := plan.TakenBy(others, s)
	if err != nil {
		t.Fatal(err)
	}
	return used, s
}

// A boat that is inserted books nothing that others have: the checker, which shares no code with what places it, sees
// both plans as one.
func TestInsertedBoatFitsAmongTheOthers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := randomLoad(t, kinds{windows: true})
		if len(l.Boats) < 2 {
			t.Skip("a boat alone")
		}
		others, boat := apart(l)
		used, s := taken(t, others)
		ins, err := plan.Insert(boat, used)
		if err != nil {
			t.Skip(err)
		}
		whole := plan.Schedule{Start: append(slices.Clone(s.Start), ins.Start...),
			Finish: append(slices.Clone(s.Finish), ins.Finish...), Breaches: slices.Clone(s.Breaches)}
		for _, b := range ins.Breaches {
			whole.Breaches = append(whole.Breaches, plan.Breach{Activity: b.Activity + len(s.Start),
				Predecessor: b.Predecessor + len(s.Start), Over: b.Over})
		}
		if err := plan.Verify(l, &whole); err != nil {
			t.Fatal(err)
		}
	})
}

// More hours, on this boat or on those before it, never launch a boat earlier.
func TestMoreHoursNeverLaunchAnInsertedBoatEarlier(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := randomLoad(t, kinds{})
		others, boat := &plan.Load{}, l
		used := &plan.Taken{Resources: make([]plan.Level, len(l.Resources)), Holders: make([]plan.Level,
			len(l.Holders))}
		if len(l.Boats) > 1 {
			others, boat = apart(l)
			used, _ = taken(t, others)
		}
		before, err := plan.Insert(boat, used)
		if err != nil {
			t.Skip(err)
		}
		more := *boat
		more.Activities = slices.Clone(boat.Activities)
		for i := range more.Activities {
			a := &more.Activities[i]
			if rapid.IntRange(0, 2).Draw(t, "more") > 0 || a.Duration == 0 {
				continue
			}
			a.Duration += plan.Time(rapid.IntRange(1, 20).Draw(t, "by"))
			if clock, err := more.Calendars[a.Calendar].Clock(); err == nil && a.OneDay {
				a.Duration = min(a.Duration, max(boat.Activities[i].Duration, clock.Worked(plan.Week)/7))
			}
		}
		after, err := plan.Insert(&more, used)
		if err != nil {
			t.Skip(err)
		}
		for i := range before.Start {
			if after.Start[i] < before.Start[i] || after.Finish[i] < before.Finish[i] {
				t.Fatalf("%s begins at %d and ends at %d, before at %d and %d", boat.Activities[i].Title,
					after.Start[i], after.Finish[i], before.Start[i], before.Finish[i])
			}
		}
	})
}

// What an activity waits for ends when it begins, or lies in what others have.
func TestWaitsOfAnInsertedBoat(t *testing.T) {
	l := &plan.Load{
		Calendars: []plan.Calendar{plan.Always()}, Boats: []plan.Boat{{Title: "boat", Launch: 3, Due: plan.Never}},
		Resources: []plan.Resource{{Title: "shop", Capacity: 1}, {Title: "other shop", Capacity: 1}},
		Holders:   []plan.Holder{{Title: "mould", Units: 1}},
		Holdings:  []plan.Holding{{Holder: 0, From: 0, To: 0}},
		Activities: []plan.Activity{
			{Title: "laminate", Duration: 4, Demands: []plan.Demand{{Resource: 0, Units: 1}}},
			{Title: "sand", Duration: 4, Demands: []plan.Demand{{Resource: 0, Units: 1}}},
			{Title: "wire", Duration: 2, Demands: []plan.Demand{{Resource: 1, Units: 1}}, Earliest: 3},
			{Title: "launch", After: plan.After(0, 1, 2)},
		},
	}
	ins, err := plan.Insert(l, &plan.Taken{Resources: []plan.Level{{}, {At: []plan.Time{0, 10}, Units: []int{1, 0}}},
		Holders: []plan.Level{{At: []plan.Time{0, 6}, Units: []int{1, 0}}}})
	if err != nil {
		t.Fatal(err)
	}
	if want := []plan.Time{6, 10, 10, 14}; !slices.Equal(ins.Start, want) {
		t.Errorf("starts are %v, want %v", ins.Start, want)
	}
	want := []plan.Wait{
		{Cause: plan.WaitsForHolder, Activity: plan.None, Resource: plan.None, Holder: 0},
		{Cause: plan.WaitsForResource, Activity: 0, Resource: 0, Holder: plan.None},
		{Cause: plan.WaitsForResource, Activity: plan.None, Resource: 1, Holder: plan.None},
		{Cause: plan.WaitsForPredecessor, Activity: 1, Resource: plan.None, Holder: plan.None},
	}
	if !slices.Equal(ins.Waits, want) {
		t.Errorf("they wait for\n%v, want\n%v", ins.Waits, want)
	}
}
