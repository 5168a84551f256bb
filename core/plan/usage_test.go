package plan_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/plan"
)

// The weeks hold what all activities take and no more than there is, and no unit of a place has two boats at once.
func TestUsageAddsUp(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		load, s := draw(t, kinds{windows: true})
		if s == nil {
			return
		}
		weeks, err := plan.ByWeek(load, s)
		if err != nil {
			t.Fatal(err)
		}
		for r := range load.Resources {
			var took, worked plan.Time
			for i := range load.Activities {
				for _, d := range load.Activities[i].Demands {
					if d.Resource == r {
						took += plan.Time(d.Units) * load.Activities[i].Duration
					}
				}
			}
			for w, week := range weeks[r] {
				if worked += week.Worked; week.Worked > week.Open {
					t.Fatalf("resource %d works %d of %d in week %d", r, week.Worked, week.Open, w)
				}
			}
			if worked != took {
				t.Fatalf("resource %d works %d in all weeks, its activities take %d", r, worked, took)
			}
		}
		stays, err := plan.Stays(load, s)
		if err != nil || len(stays) != len(load.Holdings) {
			t.Fatalf("%v, %v", stays, err)
		}
		for k, a := range stays {
			holder := load.Holdings[a.Holding].Holder
			if a.Unit < 0 || a.Unit >= load.Holders[holder].Units {
				t.Fatalf("%+v is in no unit of %+v", a, load.Holders[holder])
			}
			for _, b := range stays[:k] {
				if load.Holdings[b.Holding].Holder == holder && a.Unit == b.Unit && a.From < b.Until &&
					b.From < a.Until {
					t.Fatalf("%+v and %+v are in one place", a, b)
				}
			}
		}
	})
}

// A week of the small load, by hand: 8.5 h a day of two laminators and a fitter; the first hull takes 1 + 10 + 2
// hours of laminators, and the second is in the same week.
func TestWeekByHand(t *testing.T) {
	l := small()
	weeks, err := plan.ByWeek(l, solve(t, l))
	if err != nil {
		t.Fatal(err)
	}
	day := plan.Time(34)
	if got, want := weeks[0][0], (plan.ShopWeek{Open: 5 * 2 * day, Worked: 2 * (4 + 40 + 8)}); got != want {
		t.Errorf("laminators: %+v, want %+v", got, want)
	}
	// fitting out begins on Tuesday at 15:00: an hour of it, three days, and the second boat's rest in the week after
	if got, want := weeks[1][0], (plan.ShopWeek{Open: 5 * day, Worked: 4 + 3*day}); got != want || len(weeks[1]) != 2 {
		t.Errorf("fitters: %+v, want %+v", weeks[1], want)
	}
	if got := weeks[1][1].Worked; got != 200-4-3*day {
		t.Errorf("fitters in the second week: %d", got)
	}
}
