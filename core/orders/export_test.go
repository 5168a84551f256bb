package orders

import "ribband/core/plan"

// Verify holds a plan to the checker that shares no code with the planner.
func Verify(p *Plan) error { return plan.Verify(&p.load.Plan, p.schedule) }

// Left is how many hours of a day an activity that is under way takes from the day of the plan on, by its book.
func (p *Plan) Left(activity int) float64 {
	l := p.load
	a, of := &l.Plan.Activities[activity], l.task[activity]
	clock := l.shops[l.Boats[of.boat].Tasks[of.task].Shop].clock
	return float64(a.Duration-(clock.Worked(l.at(l.Day))-clock.Worked(max(0, a.Start)))) / 4
}
