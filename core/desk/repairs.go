package desk

import (
	"slices"
	"strconv"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/screen"
)

// Why something cannot be had, repairs, and what repairs leave alone.

// reason asks why a blocked option, an empty slot, or the boat as it stands, cannot be had; asked once more, it closes
// the answer. It is worked out only when somebody asks: the smallest set of rules and the ways out take several
// searches.
func (d *Desk) reason(r *Request, _ *Reply) error {
	want := wanted(r)
	if d.asked != nil && d.asked.Want == want { // the button opens and closes
		d.asked = nil
		return nil
	}
	what, err := d.askable(want)
	if err != nil {
		return err
	}
	asked := &screen.Asked{Want: want}
	// of what is not made for the hull all is said, and no other choice brings it back
	if !d.engine.Absent(d.answer, want) {
		if asked.Reason, err = d.engine.Reason(d.answer, want); err != nil {
			return err
		}
		if asked.Repairs, asked.All, err = d.engine.Repairs(d.answer, want); err != nil {
			return err
		}
	}
	if asked.Others, err = d.engine.Others(d.answer, want, asked.Reason); err != nil {
		return err
	}
	d.asked = asked
	d.announced = d.engine.Say("desk.asked", msg.Words("what", what), msg.Count("n", len(asked.Ways())))
	return nil
}

// wanted is what a request is about.
func wanted(r *Request) engine.Want {
	if r.Option != "" {
		return engine.Want{Option: r.Option}
	}
	return engine.Want{Empty: r.Slot}
}

// askable says what cannot be had, and refuses to explain what can. The page has no button for that; it may come from a
// page that is a change behind.
func (d *Desk) askable(w engine.Want) (what msg.Message, err error) {
	p := d.engine.Public()
	switch {
	case w.Option != "":
		o := slices.IndexFunc(p.Options, func(o pack.Option) bool { return o.ID == w.Option })
		if o < 0 {
			return what, msg.Fault("desk.unknown-option", quoted("option", w.Option))
		}
		def := &p.Options[o]
		if s := d.engine.Alternatives(d.answer).Option(d.engine, o).Status; s != fit.Blocked && s != fit.Absent {
			return what, msg.Fault("desk.not-blocked", msg.Text("option", def.Title))
		}
		return msg.New("desk.asked-option", msg.Text("option", def.Title)), nil
	case w.Empty != "":
		s, ok := d.engine.FindSlot(w.Empty)
		if !ok {
			return what, msg.Fault("desk.unknown-slot", quoted("slot", w.Empty))
		}
		if x := d.engine.Alternatives(d.answer).Slot(s).Empty; x == nil || x.Status != fit.Blocked {
			return what, msg.Fault("desk.not-blocked", msg.Text("option", p.Slots[s].Title))
		}
		return msg.New("desk.asked-empty", msg.Inside("slot", p.Slots[s].Title)), nil
	case len(d.answer.Build.Clashes) == 0:
		return what, msg.Fault("desk.can-be-built")
	}
	return msg.New("desk.asked-boat"), nil
}

// repair applies one of the repairs that are shown. It names its place in the list: another page, or an older one, may
// show another list, and then the option differs or nothing is asked.
func (d *Desk) repair(r *Request, _ *Reply) error {
	if d.asked == nil || d.asked.Want != wanted(r) {
		return msg.Fault("desk.repair-of-another")
	}
	ways := d.asked.Ways()
	i, err := strconv.Atoi(r.Key)
	if err != nil || i < 0 || i >= len(ways) {
		return errNoSuchChange
	}
	// what a repair leaves alone stays as it was chosen, marks and deal too: they are in its spec
	way := ways[i]
	changes := way.Changes[0]
	for _, c := range way.Changes[1:] {
		changes = msg.New("desk.changes", msg.Words("first", changes), msg.Words("next", c))
	}
	return d.settle(way.Spec, msg.New("desk.repaired", msg.Words("changes", changes)))
}

// errNoSuchChange refuses a place beyond a list of changes.
var errNoSuchChange = msg.Fault("desk.no-such-change")

// keep marks a choice as not to be changed by repairs. The boat stays as it is, and so does all that was said of it: a
// quotation that was opened is still the one on the page, and its details still are of this boat.
func (d *Desk) keep(r *Request, _ *Reply) error {
	// apply forgets these, since it does not know that only a mark changes
	before, opened, differences := d.answer.Spec.Digest(), d.reopened, d.differences
	if err := d.apply(engine.Keep{Slot: r.Slot, Kept: r.Checked}); err != nil {
		return err
	}
	d.reopened, d.differences = opened, differences
	if d.quoted == before {
		d.quoted = d.answer.Spec.Digest()
	}
	locked := "no"
	if r.Checked {
		locked = "yes"
	}
	d.announced = d.engine.Say("desk.lock", msg.Text("slot", d.slotTitle(r.Slot)), msg.Choice("locked", locked))
	return nil
}
