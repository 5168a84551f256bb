package desk

import (
	"bytes"
	"slices"
	"strconv"
	"strings"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/screen"
	"ribband/core/spec"
)

// What changes the boat, by the act of the request. Other acts, on the deal, a repair or a boat that was found, end in
// the same two: apply one change, or settle a whole spec.

// open seats the desk before the boat of a link or a stored spec. A link to the stored boat, or to the one shown, opens
// that with all that a salesperson added, which is in no link. Where a link has another boat, or what was stored cannot
// be opened as it was, the reply says so, and the page sets aside what it has. A fragment that is no link, #contact
// say, changes nothing.
func (d *Desk) open(r *Request, reply *Reply) error {
	link := r.Link
	if link != "" && !spec.IsLink(link) {
		d.remark(msg.New("desk.no-link", quoted("end", strings.ToValidUTF8(link, "\ufffd"))))
		link = ""
	}
	// the boat that the page has: what it stored, or what it shows
	before, err := d.answer.Spec, error(nil)
	if r.Text != "" {
		if before, err = spec.Decode([]byte(r.Text)); err != nil {
			err = msg.Fault("desk.stored-unreadable", msg.Words("reason", msg.Of(err)))
		}
	}
	if link != "" {
		s, damage := spec.FromLink(link)
		if same := err == nil && len(damage) == 0 && s.Link() == before.Link(); !same {
			reply.Apart = err != nil || !d.plain(before) // another boat is to be shown
			d.propose(r)
			d.quoted, reply.Fresh = "", reply.Apart
			if err != nil {
				damage = append([]msg.Message{msg.Plain(d.fault(err))}, damage...)
			}
			return d.openSpec(s, damage...)
		}
	}
	if r.Text == "" { // the boat that is shown
		if !d.begun {
			d.propose(r)
		}
		return nil
	}
	// What was typed for a quotation is in the record, and the page fills it in. The rest is proposed, as it was when
	// this record began, and nothing of the one before is left.
	d.propose(r)
	// what could not be read stays with the page, which sets it aside
	if err == nil {
		err = d.openSpec(before)
	}
	reply.Apart = err != nil || d.answer.Spec.Digest() != before.Digest()
	return err
}

// plain says that a spec holds nothing that anybody would miss: the boat that the page begins with. The page lets
// such a boat go where another takes its place, and sets any other aside.
func (d *Desk) plain(s spec.Spec) bool {
	return s.Hull == d.engine.Public().Hulls[0].ID && len(s.Choices)+len(s.Use)+len(s.Extras)+len(s.Discounts) == 0 &&
		s.TradeIn == nil
}

// openSpec keeps of a spec what this edition knows, and says what it does not. A hull that is no more is no reason to
// open nothing: what a salesperson added, and many choices, go with another hull as well.
func (d *Desk) openSpec(s spec.Spec, remarks ...msg.Message) error {
	a, err := d.engine.Answer(s)
	if err != nil && !d.hasHull(s.Hull) {
		first := d.engine.Public().Hulls[0]
		remarks = append(remarks, msg.New("desk.another-hull", msg.Text("problem", d.fault(err)),
			msg.Text("hull", first.Title)))
		s.Hull = first.ID
		a, err = d.engine.Answer(s)
	}
	if err != nil {
		return err
	}
	for _, n := range a.Notes {
		remarks = append(remarks, n.Message())
	}
	// what could be read whole is the boat already, and is not worked out once more
	if s := d.engine.Usable(a); !bytes.Equal(s.Encode(), a.Spec.Encode()) {
		return d.settle(s, remarks...)
	}
	for _, m := range remarks {
		d.remark(m)
	}
	d.seat(a, nil)
	return nil
}

// hasHull tells a spec of a hull that is no more from one that is wrong otherwise: only the first can be opened with
// another hull.
func (d *Desk) hasHull(id string) bool {
	return slices.ContainsFunc(d.engine.Public().Hulls, func(h pack.Hull) bool { return h.ID == id })
}

// The acts below are one change each. What goes with a change, and what of the boat it sets aside, is the engine's to
// say: its remarks come back with the answer.

func (d *Desk) hull(r *Request, _ *Reply) error { return d.apply(engine.Hull{ID: r.Value}) }

func (d *Desk) choose(r *Request, _ *Reply) error { return d.put(r.Option, 1) }

// toggle is for slots of several options, each with a box to tick.
func (d *Desk) toggle(r *Request, _ *Reply) error {
	if r.Checked {
		return d.put(r.Option, 1)
	}
	return d.put(r.Option, 0)
}

// count takes as many of an option as somebody typed; the engine refuses more than the book allows.
func (d *Desk) count(r *Request, _ *Reply) error {
	n, err := strconv.Atoi(strings.TrimSpace(r.Value))
	if err != nil {
		return msg.Fault("desk.no-count", quoted("value", r.Value))
	}
	return d.put(r.Option, n)
}

// put is what the three kinds of control come to: so many of an option; none takes it out.
func (d *Desk) put(option string, count int) error {
	return d.apply(engine.Choose{Option: option, Count: count})
}

// empty and standard differ: the first is the choice of nothing, the second no choice.

func (d *Desk) empty(r *Request, _ *Reply) error { return d.apply(engine.Empty{Slot: r.Slot}) }

func (d *Desk) standard(r *Request, _ *Reply) error { return d.apply(engine.Release{Slot: r.Slot}) }

// use sets a field of the use: a number, or one of its choices by name. Which of the two a text is, the field decides.
func (d *Desk) use(r *Request, _ *Reply) error {
	// a choice, or a field that is none, is for the engine to refuse with the list of what there is
	v := spec.Value{Choice: r.Value}
	var err error
	if u := d.measured(r.Field); u != nil {
		v.Choice = ""
		v.Number, err = quantity(r.Value, u.Unit, u.Step, d.reads())
	}
	if err == nil {
		err = d.apply(engine.Use{Field: r.Field, Value: v})
	}
	if err != nil { // it is said beside the field, too, and what was typed stays to be corrected
		d.mistyped = screen.Mistyped{Field: r.Field, Text: r.Value, Says: d.fault(err)}
	}
	return err
}

// A field keeps what was typed in it, right or wrong: whoever has to correct 1,500 wants to see 1,500 and not the
// number of before.

// measured is a field of the use in which a number is typed; nil for another, whose choices may look like numbers.
func (d *Desk) measured(field string) *pack.UseField {
	for i := range d.engine.Public().Use {
		if u := &d.engine.Public().Use[i]; u.ID == field && len(u.Choices) == 0 {
			return u
		}
	}
	return nil
}

// units only changes how figures are shown. The boat is the same, so there is nothing to undo, and no unit in a spec.
func (d *Desk) units(r *Request, _ *Reply) error {
	if d.system = measure.System(r.Value); !d.system.Known() {
		d.system = ""
	}
	return nil
}

// reset is a new customer: the standard build of the hull, and an empty form of the quotation. Undo brings back both.
func (d *Desk) reset(r *Request, reply *Reply) error {
	d.propose(r)
	d.quoted, reply.Fresh = "", true
	return d.settle(spec.Spec{Format: spec.Format, Hull: d.answer.Spec.Hull})
}

// lookUp looks for something by its name. It is a way to it and no change: undo knows nothing of it.
func (d *Desk) lookUp(r *Request, reply *Reply) error {
	d.find = strings.TrimSpace(r.Value)
	if d.find != "" {
		// Who hears the page learns how many there are, and not each of them with every letter.
		reply.Announcement = d.engine.Say("desk.found", msg.Count("n", (&screen.View{Engine: d.engine, Answer: d.answer,
			Find: d.find}).Found()))
	}
	return nil
}
