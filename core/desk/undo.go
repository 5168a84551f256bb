package desk

import (
	"bytes"

	"ribband/core/msg"
	"ribband/core/quote"
	"ribband/core/spec"
)

// mostSteps bounds how far back undo goes. A step is a spec, some kilobytes: nobody goes back further by hand.
const mostSteps = 50

// step is what undo goes back to, and what was done then, in words: its slot or option may not be in what comes after.
type step struct {
	what        string
	spec        spec.Spec
	reopened    *quote.Quote
	differences []quote.Difference
	// the act changed the customer's details too, so that undo brings them back; else they were typed since, and stay
	customer bool
	details  quote.Details
	quoted   string
}

// now is a step back to the present boat. Acts that begin with another customer take the details along; others leave
// them as they are, whatever is undone.
func (d *Desk) now(r *Request) step {
	customer := r.Act == "reset" || r.Act == "file" || r.Act == "open"
	return step{d.engine.Text(d.named(r)), d.answer.Spec, d.reopened, d.differences, customer, d.details, d.quoted}
}

// remember keeps the boat before a change. What changed is told by the specs, so that an act which came to nothing
// leaves no step. The first boat of a visit is not a change.
func (d *Desk) remember(r *Request, before step, reply *Reply) {
	first := !d.begun && r.Act == "open"
	d.begun = true
	if r.Past != nil { // another record, which has its own
		d.past = nil
		if !reply.Apart {
			d.past = restored(r.Past)
		}
		return
	}
	if first || r.Act == "undo" || bytes.Equal(before.spec.Encode(), d.answer.Spec.Encode()) {
		return
	}
	if len(d.past) == mostSteps { // the oldest goes
		d.past = append(d.past[:0], d.past[1:]...)
	}
	d.past = append(d.past, before)
	reply.Pushed = &Past{before.what, string(before.spec.Encode())}
}

// undo goes back to the boat before the last change. An undo is no step itself: asked once more, it goes back further.
func (d *Desk) undo(_ *Request, reply *Reply) error {
	if len(d.past) == 0 {
		return msg.Fault("desk.nothing-to-undo")
	}
	last := d.past[len(d.past)-1]
	if err := d.settle(last.spec, msg.New("desk.undone", msg.Text("change", last.what))); err != nil {
		return err
	}
	d.past, reply.Popped = d.past[:len(d.past)-1], true
	d.reopened, d.differences = last.reopened, last.differences
	if last.customer {
		d.details, d.quoted, reply.Fresh = last.details, last.quoted, true
	}
	return nil
}

// named says in a word or two what a request does, for who wants to undo it: the title of the slot or field where it
// changes one, else what happens to the boat.
func (d *Desk) named(r *Request) msg.Message {
	slot := msg.Text("slot", d.slotTitle(r.Slot))
	switch r.Act {
	case "choose", "toggle", "count":
		for _, o := range d.engine.Public().Options {
			if o.ID == r.Option {
				return msg.Plain(d.engine.Public().Slots[o.Slot].Title)
			}
		}
	case "empty":
		return msg.Plain(d.slotTitle(r.Slot))
	case "standard":
		return msg.New("desk.did-standard", slot)
	case "keep":
		if r.Checked {
			return msg.New("desk.did-lock", slot)
		}
		return msg.New("desk.did-unlock", slot)
	case "use":
		for _, u := range d.engine.Public().Use {
			if u.ID == r.Field {
				return msg.Plain(u.Title)
			}
		}
	case "remove":
		return msg.New("desk.did-remove", msg.Choice("what", r.Key))
	}
	return msg.Message{Code: did[r.Act]}
}

// did are the acts that are named alike whatever they are about.
var did = map[string]msg.Code{"hull": "desk.did-hull", "reset": "desk.did-reset", "repair": "desk.did-repair",
	"discount": "desk.did-discount", "extra": "desk.did-extra", "trade-in": "desk.did-trade-in",
	"file": "desk.did-file", "open": "desk.did-open", "brief-take": "desk.did-take"}

// slotTitle is the title of a slot; what is none is named as it was asked for, and the engine refuses it.
func (d *Desk) slotTitle(id string) string {
	for _, s := range d.engine.Public().Slots {
		if s.ID == id {
			return s.Title
		}
	}
	return id
}
