package proof

import (
	"fmt"
	"strings"

	"ribband/core/fit"
)

// options tells of each option whether some valid boat of a hull has it, for all hulls, and which are in all boats.
// What is always there comes last, when the most boats are known that lack something.
func (p *prover) options(q *questions) {
	for o := range p.pack.Options {
		p.option(o, q.options[o])
	}
	for h := range p.pack.Hulls {
		p.always(h)
	}
}

// option tells of an option on every hull that it is made for. The rules may keep it from some: a motor is too strong
// for a small hull. That it can be had on none is wrong. What stays open on one hull keeps it from being called wrong:
// it may be had there.
func (p *prover) option(o int, of map[int]*ask) {
	ever, undecided, id := false, false, p.pack.Options[o].ID
	var never []int
	for h := range p.pack.Hulls {
		if of[h] == nil {
			continue
		}
		f, hull := of[h].is, &p.proof.Hulls[h]
		switch p.found(f); {
		case f.Spec != nil:
			ever, hull.Options = true, append(hull.Options, Witness{id, *f.Spec})
		case !f.Never:
			undecided = true
			p.unknown(Diagnostic{Kind: NeverHad, Index: o,
				Advice: "forbid the option on this hull (hulls: of the option), or split the rules over figures that " +
					"it meets"},
				fmt.Sprintf("whether %s can be had on %s", id, hull.ID), p.tried(f.Effort))
		default:
			never, hull.Never = append(never, h), append(hull.Never, Never{id, p.because(f.Why)})
		}
	}
	if len(never) == 0 || ever || undecided {
		return
	}
	witness := p.engine.SpecOf(never[0], p.engine.StandardUse(), p.with(o))
	p.find(Diagnostic{Kind: NeverHad, Index: o, Message: fmt.Sprintf("option %s can never be had: on %s, %s",
		id, p.pack.Hulls[never[0]].ID, p.because(of[never[0]].is.Why)),
		Advice: "change one of these rules, or delete the option", Witness: &witness})
}

// had looks for a boat with an option for every use, the one that the book assumes first. Why says what keeps it from
// that, where there is no boat. ~In a slot of multiple the option is first asked for alone, which mostly succeeds and
// gives the shorter reason; then as one that must be there, whatever is beside it.
func (p *prover) had(hull, o int) *Finding {
	slot, use := p.pack.Options[o].Slot, p.engine.StandardUse()
	q := question{Question: fit.Question{Hull: hull, Use: use, Choices: p.with(o), Any: true}, wanted: slot}
	var why *fit.Reason
	if p.pack.Slots[slot].Multiple { // perhaps beside others
		b := p.fit.Search(q.Question, fit.DefaultTries)
		if !valid(b) {
			why = p.fit.Reason(q.Question, slot)
			q = p.anyBoat(p.fit.Having(o, true), hull)
		}
	}
	a, f := p.overUses(q, use), &Finding{}
	p.note(f, a.state)
	switch f.Never = a.never(); {
	case a.state != nil:
		witness := p.engine.SpecOf(hull, a.state.Use, p.least(a.state))
		f.Spec = &witness
	case !f.Never:
		f.Effort = &a.effort
	default:
		if why == nil && len(a.reasons) > 0 {
			why = a.reasons[0].Reason
		}
		f.Why, f.Rules = p.whyOf(why), p.rulesOf(a.reasons)
	}
	return f
}

// with settles one of an option in its slot. The slot is then fixed to this one option and no other.
func (p *prover) with(o int) fit.Choices {
	c := p.fit.NewChoices()
	c.Counts[o], c.Settled[p.pack.Options[o].Slot] = 1, true
	return c
}

// because names the rules of a reason, and what else of the boat clashes. A reader who knows the book finds the rule by
// its name; one who does not reads what it is for.
func (p *prover) because(why *Why) string {
	var parts []string
	for _, r := range why.Rules {
		parts = append(parts, fmt.Sprintf("rule %s (%s)", p.pack.Rules[r].ID, p.pack.Rules[r].Because))
	}
	return strings.Join(append(parts, why.Clashes...), "; ")
}

// always finds the options that are in every boat of a hull. One that a boat found on the way lacks is not; of the
// others a boat without is looked for. Of several hundred options most are ruled out by the boats that are known, so
// that few questions are left.
func (p *prover) always(hull int) {
	h := &p.proof.Hulls[hull]
	for o := range p.pack.Options {
		lacking := !p.pack.Offered(o, hull)
		for _, st := range p.boats {
			lacking = lacking || st.HullID == hull && st.Counts[o] == 0
		}
		if lacking {
			continue
		}
		x := &ask{name: fmt.Sprintf("%s without %s", h.ID, p.pack.Options[o].ID),
			run: func() *Finding { return p.without(hull, o) }}
		p.answer(x)
		switch f := x.is; {
		case len(f.Boats) > 0:
			p.found(f)
		case f.Never:
			h.Always = append(h.Always, p.pack.Options[o].ID)
		default:
			p.unknown(Diagnostic{Kind: NeverHad, Index: o},
				fmt.Sprintf("whether a boat of %s can be without %s", h.ID, p.pack.Options[o].ID), p.tried(f.Effort))
		}
	}
}

// It is asked of few options: of several hundred the boats that are known lack all but those of which that is likely.

// without looks for a boat that lacks an option. The rest of its slot is free, so that another option may stand in its
// place.
func (p *prover) without(hull, o int) *Finding {
	a, f := p.overUses(p.anyBoat(p.fit.Having(o, false), hull), p.engine.StandardUse()), &Finding{}
	p.note(f, a.state)
	switch f.Never = a.never(); {
	case f.Never:
		f.Rules = p.rulesOf(a.reasons)
	case a.state == nil:
		f.Effort = &a.effort
	}
	return f
}
