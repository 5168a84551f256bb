package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
)

// earliest tells a buyer the week before which no such boat is launched, where the book lets him know.
func (v *View) earliest() []g.Node {
	week, day, ok := v.Engine.EarliestLaunch(v.Answer)
	if !ok {
		return nil
	}
	return []g.Node{P(Class("launch"), v.say("screen.earliest", msg.Text("week", week.String()),
		msg.Date("date", week.Monday().String()))), note(v.say("screen.earliest-note", msg.Date("day", day.String())))}
}
