package orders

import (
	"ribband/core/export"
	"ribband/core/msg"
	"ribband/core/msg/office"
)

// Diary is the plan for a diary, as iCalendar in the language of the engine: of each boat the day of its launch, and
// the week for which it is promised. A plan of a later day has a higher sequence, so that entries move where the
// launches do.
func (p *Plan) Diary() []byte {
	e := p.load.engine
	yard, words := e.Public().Yard.Name, office.Words(e.Language())
	// two entries for each boat, that both stay what they are when the plan changes
	var list []export.DayEntry
	for i := range p.Boats {
		b := &p.Boats[i]
		monday := b.Promised.Monday()
		boat := []msg.Arg{msg.Text("number", b.Number), msg.Text("hull", b.Hull), msg.Text("customer", b.Customer)}
		list = append(list,
			export.DayEntry{ID: []string{yard, b.Number, "launch"}, Begin: b.Launch.String(),
				End: b.Launch.Add(1).String(), Summary: words.Say("office.diary-launch", boat...),
				Note: words.Say("office.diary-expected", msg.Text("week", b.Promised.String()),
					msg.Date("half", b.P50.String()), msg.Date("most", b.P80.String()))},
			export.DayEntry{ID: []string{yard, b.Number, "promise"}, Begin: monday.String(),
				End: monday.Add(7).String(), Summary: words.Say("office.diary-promised", boat...),
				Note: words.Say("office.diary-planned", msg.Date("day", b.Launch.String()))})
	}
	// days since one before any plan, which only grow
	first, _ := ParseDay("2000-01-01")
	return export.Days("plan", p.Day.String(), p.Day.Since(first), list)
}
