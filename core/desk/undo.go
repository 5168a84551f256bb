package desk

import (
	"bytes"
	"strconv"

	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/quote"
	"ribband/core/screen"
	"ribband/core/spec"
)

// mostSteps bounds how far back undo goes. A step is a spec, some kilobytes: nobody goes back further by hand.
const mostSteps = 50

// step is what undo goes back to, and what was done then, in words: its slot or option may not be in what comes after.
type step struct {
	what        string
	spec        spec.Spec
	effect      screen.Effect // what it made of the boat
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
	return step{what: d.engine.Text(d.named(r)), spec: d.answer.Spec, reopened: d.reopened,
		differences: d.differences, customer: customer, details: d.details, quoted: d.quoted}
}

// remember keeps the boat before a change. What changed is told by the specs, so that an act which came to nothing
// leaves no step. The first boat of a visit is not a change.
func (d *Desk) remember(r *Request, before step, was *engine.Answer, reply *Reply) {
	first := !d.begun && r.Act == "open"
	d.begun = true
	if r.Past != nil { // another record, which has its own
		d.past, d.undone = nil, nil
		if !reply.Apart {
			d.past = restored(r.Past)
		}
		return
	}
	if first || back(r) || bytes.Equal(before.spec.Encode(), d.answer.Spec.Encode()) {
		return
	}
	if r.Act != "redo" { // any other change forgets what was undone
		d.undone = nil
	}
	d.push(before, was, reply)
}

// Two kinds of taking back: a step back, which is as if the change had never been made and can be done again; and one
// change out of the middle, which is a change of its own, stands in the table, and can itself be taken back.

// back says that a request goes a step back, which is none itself.
func back(r *Request) bool { return r.Act == "undo" && r.Key == "" }

// push keeps a step, with what it made of the boat.
func (d *Desk) push(s step, was *engine.Answer, reply *Reply) {
	if len(d.past) == mostSteps { // the oldest goes
		d.past = append(d.past[:0], d.past[1:]...)
		d.dropped++
	}
	// worked out once, while both boats are there: later nobody knows what the other cost
	s.effect = screen.EffectOf(d.engine, d.engine.Between(was, d.answer))
	d.past = append(d.past, s)
	reply.Pushed = &Past{s.what, string(s.spec.Encode()), &s.effect}
}

// undo goes back to the boat before the last change. An undo is no step itself: asked once more, it goes back further.
// With a key it takes back one change from among the others: that is a change itself.
func (d *Desk) undo(r *Request, reply *Reply) error {
	if len(d.past) == 0 {
		return msg.Fault("desk.nothing-to-undo")
	}
	if !back(r) {
		return d.takeBack(r)
	}
	last := d.past[len(d.past)-1]
	// what redo goes to is the boat of now, under the name of what is undone
	ahead := d.now(r)
	ahead.what = last.what
	if err := d.settle(last.spec, msg.New("desk.undone", msg.Text("change", last.what))); err != nil {
		return err
	}
	d.past, reply.Popped = d.past[:len(d.past)-1], true
	d.undone = append(d.undone, ahead)
	d.reopened, d.differences = last.reopened, last.differences
	if last.customer {
		d.details, d.quoted, reply.Fresh = last.details, last.quoted, true
	}
	return nil
}

// takeBack takes one change back and leaves those after it, where what is left still fits.
func (d *Desk) takeBack(r *Request) error {
	i, err := strconv.Atoi(r.Key)
	if i -= d.dropped; err != nil || i < 0 || i >= len(d.past) {
		return msg.Fault("desk.no-such-revision") // the page was older than the table
	}
	what := msg.Text("change", d.past[i].what)
	// The changes after it stay; whether they still fit without it, the engine says as of any other boat.
	s, ok := d.answer.Spec.Without(d.past[i].spec, d.after(i))
	if !ok {
		return msg.Fault("desk.changed-since", what)
	}
	return d.settle(s, msg.New("desk.undone", what))
}

// after is the boat behind a step.
func (d *Desk) after(i int) spec.Spec {
	if i+1 < len(d.past) {
		return d.past[i+1].spec
	}
	return d.answer.Spec
}

// redo does again what was undone last, until something else is done.
func (d *Desk) redo(_ *Request, reply *Reply) error {
	if len(d.undone) == 0 {
		return msg.Fault("desk.nothing-to-redo")
	}
	last := d.undone[len(d.undone)-1]
	if err := d.settle(last.spec, msg.New("desk.redone", msg.Text("change", last.what))); err != nil {
		return err
	}
	// the step itself is kept by push, so that it can be undone again
	d.undone = d.undone[:len(d.undone)-1]
	d.reopened, d.differences = last.reopened, last.differences
	if last.customer {
		d.details, d.quoted, reply.Fresh = last.details, last.quoted, true
	}
	return nil
}

// The specs around each change go to the page with it: whether a change can still be taken back follows from them and
// from the boat of now, and is asked where the table is shown, not with every request.

// revisions are the changes of the boat, the oldest first, as the page lists them.
func (d *Desk) revisions() []screen.Revision {
	list := make([]screen.Revision, len(d.past))
	for i := range d.past {
		list[i] = screen.Revision{Number: d.dropped + i, What: d.past[i].what, Effect: d.past[i].effect,
			Before: d.past[i].spec, After: d.after(i)}
	}
	return list
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
	case "undo":
		if i, err := strconv.Atoi(r.Key); err == nil && i >= d.dropped && i-d.dropped < len(d.past) {
			return msg.New("desk.did-take-back", msg.Text("change", d.past[i-d.dropped].what))
		}
	case "redo":
		if n := len(d.undone); n > 0 {
			return msg.Plain(d.undone[n-1].what)
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
