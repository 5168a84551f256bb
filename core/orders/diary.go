package orders

import (
	"fmt"

	"ribband/core/export"
)

// Diary is the plan for a diary, as iCalendar: of each boat the day of its launch, and the week for which it is
// promised. A plan of a later day has a higher sequence, so that entries move where the launches do.
func (p *Plan) Diary() []byte {
	yard := p.load.engine.Public().Yard.Name
	// two entries for each boat, that both stay what they are when the plan changes
	var list []export.DayEntry
	for i := range p.Boats {
		b := &p.Boats[i]
		name := fmt.Sprintf("%s, %s, %s", b.Number, b.Hull, b.Customer)
		monday := b.Promised.Monday()
		list = append(list, export.DayEntry{ID: []string{yard, b.Number, "launch"}, Begin: b.Launch.String(),
			End: b.Launch.Add(1).String(), Summary: "Launch of " + name,
			Note: fmt.Sprintf("Promised for %s. Half of the simulated builds are done by %s, four of five by %s.",
				b.Promised, b.P50, b.P80)},
			export.DayEntry{ID: []string{yard, b.Number, "promise"}, Begin: monday.String(),
				End: monday.Add(
					7,
				).String(), Summary: "Promised: " + name, Note: fmt.Sprintf("Planned for %s.", b.Launch)})
	}
	// days since one before any plan, which only grow
	first, _ := ParseDay("2000-01-01")
	return export.Days("plan", p.Day.String(), p.Day.Since(first), list)
}
