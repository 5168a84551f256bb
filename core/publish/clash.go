package publish

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/book"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
)

// clashDiagnostic says what clashes in a boat, where that stands in the book, and which values it read. A clash is told
// to a buyer by what to change; its owner needs the rule, the place and the numbers that it read.
func clashDiagnostic(e *engine.Engine, at positions, what string, hull int, c fit.Clash,
	st *formula.State) book.Diagnostic {
	p, reason := e.Pack, strings.TrimSuffix(engine.Because(c).String(), ".")
	d := book.Diagnostic{Position: at.hulls[hull], Advice: "change the standard of a slot"}
	switch c.Kind {
	case fit.Broken:
		rule := &p.Rules[c.Index]
		d.Advice = "change the standard of a slot, or the rule"
		reason = fmt.Sprintf("rule %s at %s: %s%s", rule.ID, at.rules[c.Index], reason,
			valuesRead(e, rule.When.Reads().With(rule.Need.Reads()), st))
	case fit.TooFew, fit.Closed:
		reason = fmt.Sprintf("slot %s at %s: %s", p.Slots[c.Index].ID, at.slots[c.Index], reason)
	// the index goes on behind the slots with the options
	case fit.TooMany:
		if o := c.Index - len(p.Slots); o >= 0 {
			reason = fmt.Sprintf("option %s at %s: %s", p.Options[o].ID, at.options[o], reason)
		} else {
			reason = fmt.Sprintf("slot %s at %s: %s", p.Slots[c.Index].ID, at.slots[c.Index], reason)
		}
	case fit.WrongHull:
		reason = fmt.Sprintf("option %s at %s: %s", p.Options[c.Index].ID, at.options[c.Index], reason)
	// nothing of the boat can be computed: the mass, if there is one, tells most
	case fit.Unsound:
		d.Advice = "see whether dimensions, offsets and masses are in metres and kg and belong to the same boat"
		for i := range p.Figures {
			if p.Figures[i].ID == string(figures.MassKg) {
				reason += fmt.Sprintf(" (figures.mass_kg is %s)", rounded(st.Figures[i]))
			}
		}
	}
	d.Message = what + ": " + reason
	return d
}

// valuesRead lists the numbers that a condition read: " (figures.mass_kg is 304, hull.length_m is 4.8)". Options that
// are not aboard are left out: a rule may read hundreds, and what is there is what counts. Numbers are rounded as a
// person reads them.
func valuesRead(e *engine.Engine, r formula.Reads, st *formula.State) string {
	p := e.Pack
	var list []string
	note := func(name string, v float64) {
		// a number that is read twice is said once
		if text := fmt.Sprintf("%s is %s", name, rounded(v)); !slices.Contains(list, text) {
			list = append(list, text)
		}
	}
	for _, i := range r.Figures {
		note("figures."+p.Figures[i].ID, st.Figures[i])
	}
	for _, i := range r.Hull {
		note("hull."+p.HullFields[i].ID, st.Hull[i])
	}
	for _, i := range r.Use {
		if u := &p.Use[i]; len(u.Choices) > 0 {
			list = append(list, fmt.Sprintf("use.%s is %s", u.ID, u.Choices[int(st.Use[i])].ID))
		} else {
			note("use."+u.ID, st.Use[i])
		}
	}
	for _, o := range r.Options {
		if st.Counts[o] > 0 {
			list = append(list, p.Options[o].ID+" is in it")
		}
	}
	if len(list) == 0 {
		return ""
	}
	return " (" + strings.Join(list, ", ") + ")"
}
