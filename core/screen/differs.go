package screen

import (
	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
)

// What differs from the standard build, all in one place: by it a buyer checks an order, and a yard sees what this boat
// asks of it beyond the usual.

// differences are the slots that hold something else, in the order of the book.
func (v *View) differences() []g.Node {
	if v.changes() == 0 {
		return []g.Node{note(v.say("screen.differs-none"))}
	}
	var items []g.Node
	for s := range v.pack().Slots {
		if v.differs(s) {
			items = append(items, v.differing(s))
		}
	}
	return []g.Node{Ul(Class("differs"), g.Group(items))}
}

// differing is one slot: what stands there, what the standard build has, and the way back to that.
func (v *View) differing(slot int) g.Node {
	def := &v.pack().Slots[slot]
	// The standard build of this hull and this use, as the engine completes it: not the book's first option.
	standard := v.pack().Contents(v.Answer.Standard.State.Counts, slot)
	if standard == "" {
		standard = v.Engine.Say("screen.none")
	}
	// of the ledger, so that the two never say different amounts
	amount := ""
	for _, l := range v.Answer.Price.Lines {
		if l.Key == def.ID {
			amount = v.difference(l.Shown)
		}
	}
	// What came along with another choice goes with that one, and has no way back of its own.
	back := note(v.say("screen.differs-along"))
	if v.Answer.Build.Choices.Settled[slot] {
		back = button(ID("standard-"+def.ID), act("standard", "slot", def.ID), v.told("aria-label",
			"screen.as-standard-this", msg.Text("slot", def.Title)), v.say("screen.as-standard"))
	}
	return Li(A(Href("#slot-"+def.ID), g.Attr("data-do", "go"), Span(Class("item"), g.Text(v.itemOf(def.ID))),
		g.Text(" "+def.Title)), Span(Class("amount"), g.Text(amount)),
		P(g.Text(v.stands(slot)), noted(v.Engine.Say("screen.differs-standard", msg.Text("standard", standard)))), back)
}
