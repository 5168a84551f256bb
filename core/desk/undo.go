package desk

import (
	"bytes"
	"strconv"

	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/quote"
	"ribband/core/screen"
	"ribband/core/spec"
	"ribband/core/visible"
)

// mostSteps bounds how far back undo goes. A step is a spec, some kilobytes: nobody goes back further by hand.
const mostSteps = 50

// step is what undo goes back to, and what was done then.
type step struct {
	did         Did
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
	return step{did: d.named(r), spec: d.answer.Spec, reopened: d.reopened,
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
	reply.Pushed = &Past{s.did, string(s.spec.Encode()), &s.effect}
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
	ahead.did = last.did
	if err := d.settle(last.spec, msg.New("desk.undone", msg.Text("change", d.say(last.did)))); err != nil {
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
	what := msg.Text("change", d.say(d.past[i].did))
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
	if err := d.settle(last.spec, msg.New("desk.redone", msg.Text("change", d.say(last.did)))); err != nil {
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
		list[i] = screen.Revision{Number: d.dropped + i, What: d.say(d.past[i].did), Effect: d.past[i].effect,
			Before: d.past[i].spec, After: d.after(i)}
	}
	return list
}

// Did is what was done to the boat, as it is kept: it gets its words where it is shown, in whatever language the page
// is in by then. Its slot or field may not be in the edition that comes after.
type Did struct {
	Act  string `json:"act"`            // of the request
	Of   string `json:"of,omitempty"`   // identifier of the slot or of the field of the use, or what was removed
	Back int    `json:"back,omitempty"` // how often it was taken back out of the middle: twice, and it is there again
}

// named is what a request does, for who wants to undo it.
func (d *Desk) named(r *Request) Did {
	switch r.Act {
	case "choose", "toggle", "count":
		for _, o := range d.engine.Public().Options {
			if o.ID == r.Option {
				return Did{Act: "choose", Of: d.engine.Public().Slots[o.Slot].ID}
			}
		}
	case "empty":
		return Did{Act: "choose", Of: r.Slot}
	case "keep":
		if r.Checked {
			return Did{Act: "lock", Of: r.Slot}
		}
		return Did{Act: "unlock", Of: r.Slot}
	case "standard":
		return Did{Act: r.Act, Of: r.Slot}
	case "use":
		return Did{Act: r.Act, Of: r.Field}
	case "remove":
		return Did{Act: r.Act, Of: r.Key}
	case "undo":
		if i, err := strconv.Atoi(r.Key); err == nil && i >= d.dropped && i-d.dropped < len(d.past) {
			did := d.past[i-d.dropped].did
			did.Back++
			return did
		}
	case "redo": // it is the same change again, and bears its name
		if n := len(d.undone); n > 0 {
			return d.undone[n-1].did
		}
	}
	return Did{Act: r.Act}
}

// say puts into a word or two what was done: the title of the slot or field where it changed one, else what happened to
// the boat. What a file of the page's says of it may hold what cannot be seen.
func (d *Desk) say(did Did) string {
	m := msg.New("desk.did-repair") // also what another version of the page kept
	if code, ok := dids[did.Act]; ok {
		m = msg.New(code)
	}
	slot := msg.Text("slot", d.slotTitle(did.Of))
	switch did.Act {
	case "choose":
		m = msg.Plain(d.slotTitle(did.Of))
	case "standard":
		m = msg.New("desk.did-standard", slot)
	case "lock":
		m = msg.New("desk.did-lock", slot)
	case "unlock":
		m = msg.New("desk.did-unlock", slot)
	case "use":
		m = msg.Plain(visible.Show(did.Of))
		for _, u := range d.engine.Public().Use {
			if u.ID == did.Of {
				m = msg.Plain(u.Title)
			}
		}
	case "remove":
		m = msg.New("desk.did-remove", msg.Choice("what", did.Of))
	}
	text := d.engine.Text(m)
	// each taking back is a change with a line of its own in the table, and one that was taken back may be again
	for range min(did.Back, mostSteps) {
		text = d.engine.Say("desk.did-take-back", msg.Text("change", text))
	}
	return text
}

// dids are the acts that are named alike whatever they are about.
var dids = map[string]msg.Code{"hull": "desk.did-hull", "reset": "desk.did-reset", "repair": "desk.did-repair",
	"discount": "desk.did-discount", "extra": "desk.did-extra", "trade-in": "desk.did-trade-in",
	"dealer": "desk.did-dealer", "file": "desk.did-file", "open": "desk.did-open", "brief-take": "desk.did-take",
	"beside-take": "desk.did-take"}

// slotTitle is the title of a slot; what is none is named as it is called.
func (d *Desk) slotTitle(id string) string {
	for _, s := range d.engine.Public().Slots {
		if s.ID == id {
			return s.Title
		}
	}
	return visible.Show(id)
}
