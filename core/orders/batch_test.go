package orders_test

import (
	"slices"
	"testing"

	"ribband/core/orders"
	"ribband/core/plan"
)

// Set-ups are shared by boats that come one after the other, and what that saves is out of the plan; the rest is in it.
func TestSetUpsOfTheDemoAreShared(t *testing.T) {
	alone := demoLoad(t)
	l := demoLoad(t)
	p, err := l.Make(plan.Quick)
	if err != nil {
		t.Fatal(err)
	}
	if err := orders.Verify(p); err != nil {
		t.Fatal(err)
	}
	if len(p.SetUps) == 0 {
		t.Fatal("no set-up is shared")
	}
	saved, boats := 0.0, 0
	for _, s := range p.SetUps {
		if len(s.Orders) < 2 || s.Hours <= 0 || len(slices.Compact(slices.Clone(s.Orders))) != len(s.Orders) {
			t.Errorf("%+v", s)
		}
		saved += s.Hours.Float()
		boats += len(s.Orders) - 1
	}
	// of one person; the plan counts begun quarter-hours of a crew, so that less may be left out of it
	out := 0.0
	for i := range l.Plan.Activities {
		was, now := &alone.Plan.Activities[i], &l.Plan.Activities[i]
		if now.Duration > was.Duration {
			t.Errorf("%s takes %d, alone %d", now.Title, now.Duration, was.Duration)
		}
		if now.Duration < was.Duration {
			boats--
			out += float64(was.Duration-now.Duration) / 4 * float64(was.Demands[0].Units)
			if l.Spreads[i].Likely >= alone.Spreads[i].Likely {
				t.Errorf("%s spreads as if it were set up", now.Title)
			}
		}
	}
	if out > saved+0.5*float64(len(p.SetUps)) || out < saved/2 || boats < 0 {
		t.Errorf("%v h are out of the plan, %v h are said to be; %d boats too many", out, saved, -boats)
	}
}
