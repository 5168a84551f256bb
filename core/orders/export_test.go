package orders

import "ribband/core/plan"

// Verify holds a plan to the checker that shares no code with the planner.
func Verify(p *Plan) error { return plan.Verify(&p.load.Plan, p.schedule) }

// InTheWeek is how many hours of an activity that is done lie in the week of the plan.
func InTheWeek(l *Load, activity int) float64 {
	a, of := &l.Plan.Activities[activity], l.task[activity]
	clock := l.yard.Shop(l.Boats[of.boat].Tasks[of.task].Shop).Clock
	return hoursOf(clock.Worked(max(0, a.Finish)) - clock.Worked(max(0, a.Start)))
}
