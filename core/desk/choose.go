package desk

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// What changes the boat, by the act of the request.

// open seats the desk before a link, a stored spec, or the standard build: the first of them that there is.
func (d *Desk) open(r *Request, _ *Reply) error {
	switch {
	case r.Link != "":
		s, damage := spec.FromLink(r.Link)
		return d.openSpec(s, damage)
	case r.Text != "":
		s, err := spec.Decode([]byte(r.Text))
		if err != nil {
			return fmt.Errorf("what was stored here could not be read, so this is the standard build: %w", err)
		}
		return d.openSpec(s, nil)
	}
	return nil
}

// openSpec keeps of a spec what this edition knows, and says what it does not.
func (d *Desk) openSpec(s spec.Spec, remarks []string) error {
	a, err := d.engine.Answer(s)
	if err != nil && !d.hasHull(s.Hull) {
		first := d.engine.Pack.Hulls[0]
		remarks = append(remarks, sentence(err.Error())+" This is the "+first.Title+".")
		s.Hull = first.ID
		a, err = d.engine.Answer(s)
	}
	if err != nil {
		return err
	}
	for _, n := range a.Notes {
		remarks = append(remarks, sentence(n.String()))
	}
	return d.settle(d.engine.Usable(a), remarks)
}

func (d *Desk) hasHull(id string) bool {
	return slices.ContainsFunc(d.engine.Pack.Hulls, func(h pack.Hull) bool { return h.ID == id })
}

func (d *Desk) hull(r *Request, _ *Reply) error {
	s, remarks, err := d.engine.MoveTo(d.answer.Spec, r.Value)
	if err != nil {
		return err
	}
	return d.settle(s, remarks)
}

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
		return fmt.Errorf("%.20q is no count; write a whole number", r.Value)
	}
	return d.put(r.Option, n)
}

func (d *Desk) put(option string, count int) error {
	s, remarks, err := d.engine.Choose(d.answer, option, count)
	if err != nil {
		return err
	}
	return d.settle(s, remarks)
}

func (d *Desk) empty(r *Request, _ *Reply) error {
	s, remarks, err := d.engine.Empty(d.answer, r.Slot)
	if err != nil {
		return err
	}
	return d.settle(s, remarks)
}

func (d *Desk) standard(r *Request, _ *Reply) error {
	return d.settle(d.engine.Release(d.answer.Spec, r.Slot), nil)
}

func (d *Desk) use(r *Request, _ *Reply) error {
	s := d.answer.Spec.Clone()
	if s.Use == nil {
		s.Use = map[string]spec.Value{}
	}
	v := spec.Value{Choice: r.Value}
	if n, err := strconv.ParseFloat(r.Value, 64); err == nil && !d.hasChoices(r.Field) {
		v = spec.Value{Number: n}
	}
	s.Use[r.Field] = v
	a, err := d.engine.Answer(s)
	if err != nil {
		return err
	}
	for _, n := range a.Notes {
		if n.Place == "use."+r.Field {
			return errors.New(n.Message + "; " + n.Advice)
		}
	}
	return d.settle(s, nil)
}

// hasChoices says that a use is one of some choices, which may look like a number.
func (d *Desk) hasChoices(field string) bool {
	return slices.ContainsFunc(d.engine.Pack.Use, func(u pack.UseField) bool { return u.ID == field && len(u.Choices) > 0 })
}

func (d *Desk) units(r *Request, _ *Reply) error {
	d.system = measure.Metric
	if r.Value == string(measure.USCustomary) {
		d.system = measure.USCustomary
	}
	return nil
}

func (d *Desk) reset(*Request, *Reply) error {
	d.details, d.quoted = quote.Details{}, ""
	return d.settle(spec.Spec{Format: spec.Format, Hull: d.answer.Spec.Hull}, nil)
}
