package desk

import (
	"bytes"
	"errors"

	"ribband/core/quote"
	"ribband/core/spec"
)

// mostSteps bounds how far back undo goes.
const mostSteps = 50

// step is what undo goes back to, and what was done then.
type step struct {
	what        string
	spec        spec.Spec
	reopened    *quote.Quote
	differences []quote.Difference
	customer    bool // the act changed these too
	details     quote.Details
	quoted      string
}

// now is a step back to the present boat.
func (d *Desk) now(r *Request) step {
	return step{d.words(r), d.answer.Spec, d.reopened, d.differences, r.Act == "reset" || r.Act == "file" ||
		r.Act == "open", d.details, d.quoted}
}

// remember keeps the boat before a change, and says whether there was one. The first boat of a visit is not a change,
// nor is a session that is taken up again.
func (d *Desk) remember(r *Request, before step) bool {
	first := !d.begun && r.Act == "open"
	d.begun = true
	if first || r.Act == "undo" || r.Act == "restore" || bytes.Equal(before.spec.Encode(), d.answer.Spec.Encode()) {
		return false
	}
	if len(d.past) == mostSteps {
		d.past = append(d.past[:0], d.past[1:]...)
	}
	d.past = append(d.past, before)
	return true
}

// undo goes back to the boat before the last change.
func (d *Desk) undo(_ *Request, reply *Reply) error {
	if len(d.past) == 0 {
		return errors.New("there is nothing to undo")
	}
	last := d.past[len(d.past)-1]
	if err := d.settle(last.spec, []string{"Undone: " + last.what + "."}); err != nil {
		return err
	}
	d.past = d.past[:len(d.past)-1]
	d.reopened, d.differences = last.reopened, last.differences
	if last.customer {
		d.details, d.quoted, reply.Fresh = last.details, last.quoted, true
	}
	return nil
}

// words name what a request does, for who wants to undo it.
func (d *Desk) words(r *Request) string {
	switch r.Act {
	case "choose", "toggle", "count":
		for _, o := range d.engine.Public().Options {
			if o.ID == r.Option {
				return d.engine.Public().Slots[o.Slot].Title
			}
		}
	case "empty":
		return d.slotTitle(r.Slot)
	case "standard":
		return d.slotTitle(r.Slot) + " reset to standard"
	case "keep":
		if r.Checked {
			return d.slotTitle(r.Slot) + " locked"
		}
		return d.slotTitle(r.Slot) + " unlocked"
	case "use":
		for _, u := range d.engine.Public().Use {
			if u.ID == r.Field {
				return u.Title
			}
		}
	case "remove":
		switch r.Key {
		case "discount":
			return "discount removed"
		case "trade-in":
			return "trade-in removed"
		}
		return "extra item removed"
	}
	return map[string]string{"hull": "another hull", "reset": "started again", "repair": "change",
		"discount": "discount", "extra": "extra item", "trade-in": "trade-in",
		"file": "file opened", "open": "link opened", "brief-take": "another boat"}[r.Act]
}

func (d *Desk) slotTitle(id string) string {
	for _, s := range d.engine.Public().Slots {
		if s.ID == id {
			return s.Title
		}
	}
	return id
}
