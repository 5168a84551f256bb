package orders

import (
	"fmt"

	"ribband/core/pack"
	"ribband/core/plan"
)

// Taken is what a plan takes of the yard, for desks that say when a further boat would be launched. It has no order's
// number, boat or customer in it: only how many people and places are taken when.
func (p *Plan) Taken() (*pack.Load, error) {
	taken, err := plan.TakenBy(&p.load.Plan, p.schedule)
	if err != nil {
		return nil, fmt.Errorf("telling desks of a plan: %w", err)
	}
	// how many there are says to whom it is told how much they rest on
	l := &pack.Load{Day: p.Day.String(), Built: p.load.built, Taken: *taken}
	for i := range p.load.Plan.Boats {
		// what is in the water takes nothing more
		if p.load.Plan.Activities[p.load.Plan.Boats[i].Launch].State != plan.Done {
			l.Orders++
		}
	}
	return l, nil
}
