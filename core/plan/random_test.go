package plan_test

import (
	"fmt"

	"pgregory.net/rapid"

	"ribband/core/plan"
)

// kinds say what a random load may have.
type kinds struct{ windows, begun bool }

// randomLoad draws a small load: boats with activities that wait for each other, shops on calendars with nights and
// closed days, places held through several activities, lags, releases and promises; with windows and work already done
// where the kinds say so. It passes Check; whether it can be scheduled is another matter.
func randomLoad(t *rapid.T, k kinds) *plan.Load {
	between := func(from, to int, label string) int { return rapid.IntRange(from, to).Draw(t, label) }
	l := &plan.Load{Calendars: []plan.Calendar{plan.Always()}}
	for c := range between(1, 2, "calendars") {
		from := plan.Time(between(0, 40, "opens"))
		noon := from + plan.Time(between(1, 10, "noon"))
		hours := []plan.Hours{{From: from, Until: noon}, {From: noon + plan.Time(between(0, 4, "break")),
			Until: noon + 20}}
		closed := rapid.SliceOfN(rapid.IntRange(0, 20), 0, 4).Draw(t, "closed")
		l.Calendars = append(l.Calendars, plan.Weekdays(fmt.Sprintf("calendar %d", c+1), closed, hours...))
	}
	for r := range between(1, 3, "resources") {
		l.Resources = append(l.Resources, plan.Resource{Title: fmt.Sprintf("shop %d", r),
			Calendar: between(0, len(l.Calendars)-1, "calendar"), Capacity: between(1, 4, "capacity")})
	}
	for h := range between(0, 3, "holders") {
		l.Holders = append(l.Holders, plan.Holder{Title: fmt.Sprintf("place %d", h), Units: between(1, 2, "units")})
	}
	for b := range between(1, 4, "boats") {
		randomBoat(t, l, b, k)
	}
	return l
}

func randomBoat(t *rapid.T, l *plan.Load, boat int, k kinds) {
	between := func(from, to int, label string) int { return rapid.IntRange(from, to).Draw(t, label) }
	first, n := len(l.Activities), between(1, 8, "activities")
	for i := range n {
		a := plan.Activity{Title: fmt.Sprintf("boat %d activity %d", boat, i), Boat: boat,
			Calendar: between(0, len(l.Calendars)-1, "calendar"), Duration: plan.Time(between(0, 30, "duration"))}
		if clock, err := l.Calendars[a.Calendar].Clock(); err == nil && between(0, 2, "one day") == 0 {
			// as long as it may be on the shortest day of all
			a.OneDay, a.Duration = true, min(a.Duration, clock.Worked(plan.Week)/7)
		}
		for r := range l.Resources {
			if l.Resources[r].Calendar == a.Calendar && between(0, 2, "demand") > 0 {
				a.Demands = append(a.Demands, plan.Demand{Resource: r, Units: between(1, l.Resources[r].Capacity,
					"crew")})
			}
		}
		for p := max(0, i-3); p < i; p++ {
			if between(0, 1, "link") == 0 {
				continue
			}
			link := plan.Link{Activity: first + p, Min: plan.Time(between(0, 1, "waits") * between(0, 100, "least")),
				Max: plan.Never}
			if k.windows && between(0, 2, "window") == 0 {
				link.Max = link.Min + plan.Time(between(0, 200, "most"))
			}
			a.After = append(a.After, link)
		}
		if between(0, 4, "release") == 0 {
			a.Earliest = plan.Time(between(0, 900, "earliest"))
		}
		l.Activities = append(l.Activities, a)
	}
	for h := range l.Holders {
		from := first + between(0, n-1, "from")
		to := from + between(0, n-1-(from-first), "to")
		if between(0, 1, "held") == 0 || l.Activities[to].Duration == 0 || !follows(l, from, to) {
			continue
		}
		l.Holdings = append(l.Holdings, plan.Holding{Holder: h, From: from, To: to})
	}
	b := plan.Boat{Title: fmt.Sprintf("boat %d", boat), Launch: first + n - 1, Due: plan.Never}
	if between(0, 1, "promised") == 1 {
		b.Due, b.Weight = plan.Time(between(0, 3000, "due")), between(1, 3, "weight")
	}
	l.Boats = append(l.Boats, b)
	if k.begun && between(0, 1, "begun") == 1 {
		begin(t, l, first, between(1, n, "done"))
	}
}

// begin books the first activities of a boat as done, the last of them as begun.
func begin(t *rapid.T, l *plan.Load, first, count int) {
	at := plan.Time(rapid.IntRange(-300, 200).Draw(t, "at"))
	for i := first; i < first+count; i++ {
		a := &l.Activities[i]
		a.State, a.Start = plan.Done, at
		at += plan.Time(rapid.IntRange(0, 40).Draw(t, "took"))
		a.Finish = at
		if i == first+count-1 && rapid.Bool().Draw(t, "under way") {
			a.State = plan.Begun
		}
	}
}

// follows says whether one activity is another or comes after it, by whatever way.
func follows(l *plan.Load, from, to int) bool {
	if from == to {
		return true
	}
	for _, link := range l.Activities[to].After {
		if follows(l, from, link.Activity) {
			return true
		}
	}
	return false
}

// hasWindows says whether a load has a latest lag.
func hasWindows(l *plan.Load) bool {
	for i := range l.Activities {
		for _, link := range l.Activities[i].After {
			if link.Max < plan.Never {
				return true
			}
		}
	}
	return false
}
