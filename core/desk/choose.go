package desk

import (
	"slices"
	"strconv"
	"strings"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// What changes the boat, by the act of the request.

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
	before, err := d.answer.Spec, error(nil)
	if r.Text != "" {
		if before, err = spec.Decode([]byte(r.Text)); err != nil {
			err = msg.Fault("desk.stored-unreadable", msg.Words("reason", msg.Of(err)))
		}
	}
	if link != "" {
		s, damage := spec.FromLink(link)
		if same := err == nil && len(damage) == 0 && s.Link() == before.Link(); !same {
			reply.Apart = err != nil || !d.plain(before)
			if d.begun {
				d.details, d.quoted, reply.Fresh = quote.Details{}, "", reply.Apart
			}
			return d.openSpec(s, damage...)
		}
	}
	if r.Text == "" { // the boat that is shown
		return nil
	}
	if err == nil {
		err = d.openSpec(before)
	}
	reply.Apart = err != nil || d.answer.Spec.Digest() != before.Digest()
	return err
}

// plain says that a spec holds nothing that anybody would miss: the boat that the page begins with.
func (d *Desk) plain(s spec.Spec) bool {
	return s.Hull == d.engine.Public().Hulls[0].ID && len(s.Choices)+len(s.Use)+len(s.Extras)+len(s.Discounts) == 0 &&
		s.TradeIn == nil
}

// openSpec keeps of a spec what this edition knows, and says what it does not.
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
	return d.settle(d.engine.Usable(a), remarks...)
}

func (d *Desk) hasHull(id string) bool {
	return slices.ContainsFunc(d.engine.Public().Hulls, func(h pack.Hull) bool { return h.ID == id })
}

func (d *Desk) hull(r *Request, _ *Reply) error { return d.apply(engine.Hull{ID: r.Value}) }

func (d *Desk) choose(r *Request, _ *Reply) error { return d.put(r.Option, 1) }

func (d *Desk) toggle(r *Request, _ *Reply) error {
	if r.Checked {
		return d.put(r.Option, 1)
	}
	return d.put(r.Option, 0)
}

func (d *Desk) count(r *Request, _ *Reply) error {
	n, err := strconv.Atoi(strings.TrimSpace(r.Value))
	if err != nil {
		return msg.Fault("desk.no-count", quoted("value", r.Value))
	}
	return d.put(r.Option, n)
}

func (d *Desk) put(option string, count int) error {
	return d.apply(engine.Choose{Option: option, Count: count})
}

func (d *Desk) empty(r *Request, _ *Reply) error { return d.apply(engine.Empty{Slot: r.Slot}) }

func (d *Desk) standard(r *Request, _ *Reply) error { return d.apply(engine.Release{Slot: r.Slot}) }

func (d *Desk) use(r *Request, _ *Reply) error {
	v := spec.Value{Choice: r.Value}
	if n, err := strconv.ParseFloat(r.Value, 64); err == nil && !d.hasChoices(r.Field) {
		v = spec.Value{Number: n}
	}
	return d.apply(engine.Use{Field: r.Field, Value: v})
}

// hasChoices says that a use is one of some choices, which may look like a number.
func (d *Desk) hasChoices(field string) bool {
	return slices.ContainsFunc(d.engine.Public().Use,
		func(u pack.UseField) bool { return u.ID == field && len(u.Choices) > 0 })
}

func (d *Desk) units(r *Request, _ *Reply) error {
	d.system = measure.Metric
	if r.Value == string(measure.USCustomary) {
		d.system = measure.USCustomary
	}
	return nil
}

func (d *Desk) reset(_ *Request, reply *Reply) error {
	d.details, d.quoted, reply.Fresh = quote.Details{}, "", true
	return d.settle(spec.Spec{Format: spec.Format, Hull: d.answer.Spec.Hull})
}
