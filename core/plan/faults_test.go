package plan_test

import (
	"fmt"
	"hash/fnv"
	"slices"
	"strings"
	"testing"

	"ribband/core/plan"
)

// small is a load of two boats: gelcoat, laminate and release in one mould, then fitting out, with a window between the
// first two and a cure before the third.
func small() *plan.Load {
	l := &plan.Load{
		Calendars: []plan.Calendar{plan.Weekdays("day", nil, plan.Hours{From: 28, Until: 48}, plan.Hours{From: 50,
			Until: 64})},
		Resources: []plan.Resource{{Title: "laminators", Capacity: 2}, {Title: "fitters", Capacity: 1}},
		Holders:   []plan.Holder{{Title: "mould", Units: 1}},
	}
	for b, title := range []string{"Coot", "Teal"} {
		first := len(l.Activities)
		l.Activities = append(l.Activities,
			plan.Activity{Title: title + ": gelcoat", Boat: b, Duration: 4, OneDay: true,
				Demands: []plan.Demand{{Resource: 0, Units: 1}}},
			plan.Activity{Title: title + ": laminate", Boat: b, Duration: 20, OneDay: true,
				Demands: []plan.Demand{{Resource: 0, Units: 2}},
				After:   []plan.Link{{Activity: first, Min: 2, Max: 16}}},
			plan.Activity{Title: title + ": release", Boat: b, Duration: 4, Demands: []plan.Demand{{Resource: 0,
				Units: 2}},
				After: []plan.Link{{Activity: first + 1, Min: plan.Day, Max: plan.Never}}},
			plan.Activity{Title: title + ": fit out", Boat: b, Duration: 100, Demands: []plan.Demand{{Resource: 1,
				Units: 1}},
				After: plan.After(first + 2)})
		l.Holdings = append(l.Holdings, plan.Holding{Holder: 0, From: first, To: first + 2})
		l.Boats = append(l.Boats, plan.Boat{Title: title, Launch: first + 3, Due: plan.Never})
	}
	return l
}

func solve(t *testing.T, l *plan.Load) *plan.Schedule {
	t.Helper()
	s, err := plan.Solve(l, plan.Objective{}, plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	if err := plan.Verify(l, s); err != nil {
		t.Fatal(err)
	}
	return s
}

// Each fault is named by the title and the index of its activity, with the remedy.
func TestFaultsAreNamed(t *testing.T) {
	for want, spoil := range map[string]func(l *plan.Load){
		`ordering a load: activities wait for each other in a circle: activity 2, "Coot: release" after activity ` +
			`3, "Coot: ` +
			`fit out"; take one of the links out`: func(l *plan.Load) {
			l.Activities[2].After = plan.After(3)
		},
		`ordering a load: activities wait for each other in a circle: activity 1, "Coot: laminate"; take one of ` +
			`the links ` +
			`out`: func(l *plan.Load) { l.Activities[1].After = plan.After(1) },
		`reading activity 2, "Coot: release": it comes after activity 9, which is missing; the load has ` +
			`8`: func(l *plan.Load) {
			l.Activities[2].After = plan.After(9)
		},
		`reading activity 4, "Teal: gelcoat": it needs 3 of "laminators", which has 2; take a smaller crew or add ` +
			`to the ` +
			`shop`: func(l *plan.Load) { l.Activities[4].Demands[0].Units = 3 },
		`reading activity 3, "Coot: fit out": its duration is -1 quarter-hours; give 0 to 1048576`: func(l *plan.Load) {
			l.Activities[3].Duration = -1
		},
		`reading activity 5, "Teal: laminate": it starts from 20 to 16 quarter-hours after "Teal: gelcoat", which ` +
			`is an ` +
			`empty window; give a latest that is no less than the earliest`: func(l *plan.Load) {
			l.Activities[5].After[0].Min = 20
		},
		`reading activity 2, "Coot: release": it starts at most 100 quarter-hours after activity 0, "Coot: ` +
			`gelcoat", but what ` +
			`is done between the two takes 118; widen the window or change the order`: func(l *plan.Load) {
			l.Activities[2].After = append(l.Activities[2].After, plan.Link{Activity: 0, Max: 100})
		},
		`reading activity 1, "Coot: laminate": it is begun or done, and activity 0, "Coot: gelcoat", which comes ` +
			`before it, is ` +
			`not; book that first`: func(l *plan.Load) { l.Activities[1].State = plan.Done },
		`reading activity 1, "Coot: laminate": it is done on one day and takes 40 quarter-hours, of which the ` +
			`longest day has ` +
			`34; take a larger crew, or divide it`: func(l *plan.Load) { l.Activities[1].Duration = 40 },
		`reading activity 0, "Coot: gelcoat": it needs "laminators" twice; add the two up`: func(l *plan.Load) {
			l.Activities[0].Demands = append(l.Activities[0].Demands, l.Activities[0].Demands[0])
		},
		`reading activity 0, "Coot: gelcoat": it needs 0 of "laminators"; give 1 or more, or leave it ` +
			`out`: func(l *plan.Load) {
			l.Activities[0].Demands[0].Units = 0
		},
		`reading activity 7, "Teal: fit out": there is no calendar 1; the load has 1`: func(l *plan.Load) {
			l.Activities[7].Calendar = 1
		},
		`reading activity 7, "Teal: fit out": it may not begin before 4194305; give a moment up to ` +
			`4194304`: func(l *plan.Load) {
			l.Activities[7].Earliest = 1<<22 + 1
		},
		`reading activity 0, "Coot: gelcoat": it was begun at 9 and done at 8; give a finish after the start`: func(
			l *plan.Load) {
			l.Activities[0].State, l.Activities[0].Start, l.Activities[0].Finish = plan.Done, 9, 8
		},
		`reading activity 0, "Coot: gelcoat": it began at -4194305; give a moment from -4194304 to 4194304`: func(
			l *plan.Load) {
			l.Activities[0].State, l.Activities[0].Start = plan.Begun, -1<<22-1
		},
		`reading activity 1, "Coot: laminate": it waits -1 quarter-hours after "Coot: gelcoat"; give 0 to ` +
			`1048576`: func(
			l *plan.Load) {
			l.Activities[1].After[0].Min = -1
		},
		`reading activity 1, "Coot: laminate": it starts up to 1048577 quarter-hours after "Coot: gelcoat"; give ` +
			`up to 1048576, ` +
			`or Never`: func(l *plan.Load) { l.Activities[1].After[0].Max = 1<<20 + 1 },
		`reading activity 1, "Coot: laminate": its state 3 is ` +
			`unknown`: func(l *plan.Load) { l.Activities[1].State = 3 },
		`reading resource 1 of a load, "fitters": there is no calendar ` +
			`1`: func(l *plan.Load) { l.Resources[1].Calendar = 1 },
		`reading resource 1 of a load, "fitters": its capacity is -1; give 0 to 1048576`: func(l *plan.Load) {
			l.Resources[1].Capacity = -1
		},
		`reading holder 0 of a load, "mould": there are 0 of it; give 1 to 1048576`: func(l *plan.Load) {
			l.Holders[0].Units = 0
		},
		`reading holding 0 of a load: there is no activity 8; the load has ` +
			`8`: func(l *plan.Load) { l.Holdings[0].To = 8 },
		`reading boat 0 of a load, "Coot": its launch is activity -1 of 8; name one of them`: func(l *plan.Load) {
			l.Boats[0].Launch = -1
		},
		`reading calendar "day": day -1 is closed; give days from 0 to 20000`: func(l *plan.Load) {
			l.Calendars[0].Closed = []int{-1}
		},
		`reading activity 0, "Coot: gelcoat": it needs resource 2, which is missing; the load has ` +
			`2`: func(l *plan.Load) {
			l.Activities[0].Demands[0].Resource = 2
		},
		`reading activity 0, "Coot: gelcoat": it needs "laminators", which keeps another calendar`: func(l *plan.Load) {
			l.Calendars = append(l.Calendars, plan.Always())
			l.Activities[0].Calendar = 1
		},
		`reading activity 6, "Teal: release": there is no boat 2; the load has 2`: func(l *plan.Load) {
			l.Activities[6].Boat = 2
		},
		`reading holding 1 of a load: activity 4, "Teal: gelcoat" needs holder 1, which is missing; the load has ` +
			`1`: func(
			l *plan.Load) {
			l.Holdings[1].Holder = 1
		},
		`reading holding 0 of a load: "mould" is held from activity 2, "Coot: release" until activity 0, "Coot: ` +
			`gelcoat", ` +
			`which does not come after it; add the link`: func(l *plan.Load) {
			l.Holdings[0] = plan.Holding{From: 2, To: 0}
		},
		`reading calendar "day": it is never open; give hours for a weekday`: func(l *plan.Load) {
			l.Calendars[0].Week = [7][]plan.Hours{}
		},
		`reading calendar "day": hours 2 of weekday 1 are from 10 until 20 quarter-hours; give them in order, from ` +
			`0 until ` +
			`96`: func(l *plan.Load) {
			l.Calendars[0].Week[0] = []plan.Hours{{From: 28, Until: 48}, {From: 10, Until: 20}}
		},
		`reading boat 1 of a load, "Teal": it is promised for 500 with weight 0; give a moment up to 4194304 and a ` +
			`weight of 1 ` +
			`to 1000, or Never`: func(l *plan.Load) { l.Boats[1].Due = 500 },
		`reading activity 4, "Teal: gelcoat": it has "mould", which others have at that time; give it free first, ` +
			`or add one`: func(
			l *plan.Load) {
			l.Activities[0].State, l.Activities[4].State = plan.Done, plan.Begun
			l.Activities[0].Start, l.Activities[0].Finish = -20, -10
		},
	} {
		l := small()
		spoil(l)
		_, err := plan.Solve(l, plan.Objective{}, plan.Quick)
		if err == nil || err.Error() != want && !(strings.Contains(want, "which others have") &&
			strings.Contains(err.Error(), "which others have")) {
			t.Errorf("%v\nwant %s", err, want)
		}
		if _, err := plan.CriticalPath(l); err == nil {
			t.Errorf("the critical path of it is computed: %s", want)
		}
	}
}

// The mould of the first boat is held in the nights too, while the resin cures, and free when the hull is released.
func TestMouldIsHeldUntilRelease(t *testing.T) {
	l := small()
	for _, i := range []int{1, 5} {
		l.Activities[i].After[0].Max = plan.Never // only the mould decides
	}
	s := solve(t, l)
	first, second := 0, 4
	if s.Start[4] < s.Start[0] {
		first, second = second, first
	}
	if s.Start[second] < s.Finish[first+2] {
		t.Errorf("the second gelcoat is at %d, the first release ends at %d", s.Start[second], s.Finish[first+2])
	}
	waits, err := plan.Waits(l, s)
	if err != nil {
		t.Fatal(err)
	}
	if w := waits[second]; w.Cause != plan.WaitsForHolder || w.Activity != first+2 || w.Holder != 0 {
		t.Errorf("the second gelcoat waits for %+v", w)
	}
	l.Holders[0].Units = 2
	if with := solve(t, l); with.Start[second] >= s.Start[second] {
		t.Errorf("with two moulds the second gelcoat is at %d, with one at %d", with.Start[second], s.Start[second])
	}
}

// A gelcoat that could be done in the evening waits for the morning, since its window would run out over night; and the
// plan says so.
func TestWindowMovesTheCoatBefore(t *testing.T) {
	l := small()
	s := solve(t, l)
	waits, err := plan.Waits(l, s)
	if err != nil {
		t.Fatal(err)
	}
	if s.Start[4] != 2*plan.Day+28 || s.Finish[2] != plan.Day+60 {
		t.Errorf("the first hull is released at %d, the second gelcoat begun at %d", s.Finish[2], s.Start[4])
	}
	if w := waits[4]; w.Cause != plan.WaitsForWindow || w.Activity != 5 {
		t.Errorf("the second gelcoat waits for %+v", w)
	}
}

// What was done too long ago cannot be mended: the breach is named, and the checker wants it named.
func TestBreachIsNamed(t *testing.T) {
	l := small()
	l.Activities[0].State, l.Activities[0].Start, l.Activities[0].Finish = plan.Done, -30, -26
	s := solve(t, l)
	if len(s.Breaches) != 1 || s.Breaches[0].Activity != 1 || s.Breaches[0].Over != s.Start[1]+26-16 {
		t.Fatalf("breaches are %+v", s.Breaches)
	}
	s.Breaches = nil
	if err := plan.Verify(l, s); err == nil || !strings.Contains(err.Error(), "no breach says so") {
		t.Errorf("a breach that is not named passes: %v", err)
	}
}

// Boats that hold a mould each and want the other's cannot be planned, and that is said.
func TestDeadlockIsNamed(t *testing.T) {
	l := small()
	l.Holders = append(l.Holders, plan.Holder{Title: "jig", Units: 1})
	l.Holdings = []plan.Holding{{Holder: 0, From: 0, To: 2}, {Holder: 1, From: 4, To: 6}, {Holder: 1, From: 1, To: 1},
		{Holder: 0, From: 5, To: 5}}
	if _, err := plan.Solve(l, plan.Objective{}, plan.Quick); err != nil {
		t.Fatal(err) // before they are begun, one goes after the other
	}
	for _, i := range []int{0, 4} {
		l.Activities[i].State, l.Activities[i].Start, l.Activities[i].Finish = plan.Done, -4, 0
	}
	_, err := plan.Solve(l, plan.Objective{}, plan.Quick)
	if err == nil || !strings.Contains(err.Error(), "it finds no place, since what it needs is held") {
		t.Errorf("%v", err)
	}
}

// The checker finds what is wrong, whatever it is.
func TestVerifyFindsFaults(t *testing.T) {
	type faulty struct {
		load func(l *plan.Load)
		time func(s *plan.Schedule)
	}
	for want, f := range map[string]faulty{
		"at least 96 are needed": {time: func(s *plan.Schedule) { s.Start[2] -= 4; s.Finish[2] -= 4 }},
		"there are":              {time: func(s *plan.Schedule) { s.Finish[0]-- }},
		"2 of 1 are at work":     {load: func(l *plan.Load) { l.Resources[0].Capacity = 1 }},
		"it has 2 of 1":          {load: func(l *plan.Load) { l.Holdings[1].From, l.Holdings[1].To = 0, 3 }},
		"before its earliest":    {load: func(l *plan.Load) { l.Activities[0].Earliest = 9000 }},
		"it is done on one day": {time: func(s *plan.Schedule) {
			s.Start[0], s.Finish[0] = 62, plan.Day+30
		}},
		"while the shop is closed": {time: func(s *plan.Schedule) { s.Start[0] = 0 },
			load: func(l *plan.Load) { l.Activities[0].Duration = 4 }},
		"no breach says so": {load: func(l *plan.Load) { l.Activities[1].After[0].Max = 2 },
			time: func(s *plan.Schedule) {
				s.Start[0], s.Finish[0] = 28, 32
				s.Start[1], s.Finish[1] = 40, 62
			}},
		"it was done from 1 to 2": {load: func(l *plan.Load) {
			l.Activities[0].State, l.Activities[0].Start, l.Activities[0].Finish = plan.Done, 1, 2
		}},
		"it was begun at 3": {load: func(l *plan.Load) {
			l.Activities[0].State, l.Activities[0].Start = plan.Begun,
				3
		}},
		"it has 7 starts": {time: func(s *plan.Schedule) { s.Start = s.Start[:7] }},
	} {
		l := small()
		s := solve(t, l)
		s = &plan.Schedule{Start: slices.Clone(s.Start), Finish: slices.Clone(s.Finish), Order: s.Order}
		if f.load != nil {
			f.load(l)
		}
		if f.time != nil {
			f.time(s)
		}
		if err := plan.Verify(l, s); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

// A promise comes before an early mean.
func TestPromisesComeFirst(t *testing.T) {
	for boat := range 2 {
		l := small()
		free := solve(t, l)
		early := min(free.Launches(l)[0], free.Launches(l)[1])
		l.Boats[boat].Due, l.Boats[boat].Weight = early, 1
		if s := solve(t, l); s.Launches(l)[boat] > early {
			t.Errorf("boat %d is launched at %d, promised for %d", boat, s.Launches(l)[boat], early)
		}
	}
}

// A schedule of another load is refused, not read beyond its end.
func TestScheduleOfAnotherLoad(t *testing.T) {
	l := small()
	s := solve(t, l)
	other := small()
	other.Activities = append(other.Activities, plan.Activity{Title: "one more"})
	for _, err := range []error{
		second(plan.Waits(other, s)), second(plan.Floats(other, s, 0)), second(plan.CriticalChain(other, s, 0)),
		second(plan.Replay(other, s, make([]plan.Time, 9))), second(plan.Simulate(other, s, nil,
			plan.Simulation{Runs: 1})),
		second(plan.Replay(l, s, nil)), second(plan.Floats(l, s, 2)), second(plan.CriticalChain(l, s, -1)),
		second(plan.Replay(l, &plan.Schedule{Start: s.Start, Finish: s.Finish, Order: []plan.Handover{{From: 3,
			To: 0}}},
			make([]plan.Time, 8))),
		second(plan.Replay(l, &plan.Schedule{Start: s.Start, Finish: s.Finish, Order: []plan.Handover{{From: 8,
			To: 0}}},
			make([]plan.Time, 8))),
		second(plan.Replay(l, s, slices.Repeat([]plan.Time{-1}, 8))),
	} {
		if err == nil {
			t.Error("it passes")
		}
	}
}

func second[T any](_ T, err error) error { return err }

// A boat that is added while the plan of the others stays as it is fills the gaps that they leave.
func TestNewBoatAmongOthers(t *testing.T) {
	all := yard(4, 9)
	with := *all
	with.Activities, with.Boats = slices.Clone(all.Activities[:180]), all.Boats[:3]
	with.Holdings = slices.DeleteFunc(slices.Clone(all.Holdings), func(h plan.Holding) bool { return h.From >= 180 })
	before := solve(t, &with)
	settled := *all
	settled.Activities = slices.Clone(all.Activities)
	for i := range before.Start {
		a := &settled.Activities[i]
		a.State, a.Start, a.Finish = plan.Done, before.Start[i], before.Finish[i]
	}
	after := solve(t, &settled)
	if !slices.Equal(after.Start[:180], before.Start) || !slices.Equal(after.Finish[:180], before.Finish) {
		t.Error("the plan of the others has changed")
	}
	free := solve(t, all)
	if last := len(all.Activities) - 1; after.Finish[last] < before.Finish[0]/2 ||
		after.Finish[last] > 2*free.Finish[last] {
		t.Errorf("the new boat is launched at %d; planned with the others at %d", after.Finish[last], free.Finish[last])
	}
}

// A load without work is planned in no time.
func TestEmptyLoad(t *testing.T) {
	l := &plan.Load{}
	s := solve(t, l)
	if n, err := plan.CriticalPath(l); err != nil || len(n.Ends)+len(s.Start) != 0 {
		t.Errorf("%v, %v", n, err)
	}
}

// The invented yard is planned without a breach, and as the checker wants it.
func TestYard(t *testing.T) {
	l := yard(25, 4)
	s := solve(t, l)
	if len(l.Activities) != 1500 || len(s.Breaches) > 0 {
		t.Errorf("%d activities, breaches %v", len(l.Activities), s.Breaches)
	}
}

// The same load gives the same plan, and the same number the same luck, on every processor: what this test knows was
// computed on another one than it may run on.
func TestSameOnEveryProcessor(t *testing.T) {
	l := yard(25, 4)
	s, err := plan.Solve(l, plan.Objective{}, 150) // beyond the rules, into the search
	if err != nil {
		t.Fatal(err)
	}
	spreads := make([]plan.Spread, len(l.Activities))
	for i := range spreads {
		d := l.Activities[i].Duration
		spreads[i] = plan.Spread{Low: d * 3 / 4, Likely: d, High: 2 * d}
	}
	outcomes, err := plan.Simulate(l, s, spreads, plan.Simulation{Runs: 200, Number: 5, Boat: 30, Shop: 20})
	if err != nil {
		t.Fatal(err)
	}
	sum := fnv.New64a()
	fmt.Fprint(sum, s.Start, s.Finish, s.Order)
	for _, o := range outcomes {
		fmt.Fprint(sum, o.P50, o.P80, o.Kept, o.Missed)
	}
	if got, want := sum.Sum64(), uint64(0x4a2544cbfe4005cf); got != want {
		t.Errorf("the plan has the digest %#x, want %#x", got, want)
	}
}
