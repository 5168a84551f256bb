package proof

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/engine"
	"ribband/core/fit"
	"ribband/core/pack"
)

// options proves of each option that some valid boat of a hull has it, for all hulls, and which are in all boats. What
// is always there comes last, when the most boats are known that lack something.
func (p *prover) options() {
	for o := range p.pack.Options {
		p.option(o)
	}
	for h := range p.pack.Hulls {
		p.always(h)
	}
}

// option looks for a boat with an option on every hull that it is made for. The rules may keep it from some: a motor is
// too strong for a small hull. That it can be had on none is wrong. What stays open on one hull keeps it from being
// called wrong: it may be had there.
func (p *prover) option(o int) {
	ever, undecided := false, false
	var never []string
	var first *fit.Reason
	for h := range p.pack.Hulls {
		if !p.pack.Made(o, h) {
			continue
		}
		switch a, why := p.had(h, o); {
		case a.state != nil:
			ever = true
		case !a.never():
			undecided = true
			p.unknown(Diagnostic{Kind: NeverHad, Index: o,
				Advice: "forbid the option on this hull (hulls: of the option), or split the rules over figures that " +
					"it meets"},
				fmt.Sprintf("whether %s can be had on %s", p.pack.Options[o].ID, p.pack.Hulls[h].ID), a.tried())
		default:
			never = append(never, p.pack.Hulls[h].ID)
			p.proof.Hulls[h].Never = append(p.proof.Hulls[h].Never, Never{p.pack.Options[o].ID, p.because(why)})
			if first == nil {
				first = why
			}
		}
	}
	if len(never) == 0 || ever || undecided {
		return
	}
	witness := p.engine.SpecOf(slices.IndexFunc(p.pack.Hulls, func(h pack.Hull) bool { return h.ID == never[0] }),
		p.engine.StandardUse(), p.with(o))
	p.find(Diagnostic{Kind: NeverHad, Index: o, Message: fmt.Sprintf("option %s can never be had: on %s, %s",
		p.pack.Options[o].ID, never[0], p.because(first)),
		Advice: "change one of these rules, or delete the option", Witness: &witness})
}

// had looks for a boat with an option for every use, the one that the book assumes first. Why says what keeps it from
// that, where there is no boat. ~In a slot of multiple the option is first asked for alone, which mostly succeeds and
// gives the shorter reason; then as one that must be there, whatever is beside it.
func (p *prover) had(hull, o int) (a answer, why *fit.Reason) {
	slot, use := p.pack.Options[o].Slot, p.engine.StandardUse()
	q := question{Question: fit.Question{Hull: hull, Use: use, Choices: p.with(o)}, wanted: slot}
	if p.pack.Slots[slot].Multiple { // perhaps beside others
		b := p.fit.Search(q.Question, fit.DefaultTries)
		if !valid(b) {
			why = p.fit.Reason(q.Question, slot)
			q = p.anyBoat(p.fit.Having(o, true), hull)
		}
	}
	a = p.overUses(q, use)
	if p.keep(a.state); a.state != nil {
		h := &p.proof.Hulls[hull]
		h.Options = append(h.Options, Witness{p.pack.Options[o].ID, p.engine.SpecOf(hull, a.state.Use,
			p.least(a.state))})
	} else if why == nil && len(a.reasons) > 0 {
		why = a.reasons[0].Reason
	}
	return a, why
}

// with settles one of an option in its slot. The slot is then fixed to this one option and no other.
func (p *prover) with(o int) fit.Choices {
	c := p.fit.NewChoices()
	c.Counts[o], c.Settled[p.pack.Options[o].Slot] = 1, true
	return c
}

// because names the rules of a reason, and what else of the boat clashes. The conditions that a question added have no
// name in the book and are left out. A reader who knows the book finds the rule by its name; one who does not reads
// what it is for.
func (p *prover) because(why *fit.Reason) string {
	var parts []string
	for _, r := range why.Rules {
		if r == len(p.pack.Rules) {
			continue // what was asked for: see fit.Having
		}
		parts = append(parts, fmt.Sprintf("rule %s (%s)", p.pack.Rules[r].ID, p.pack.Rules[r].Because))
	}
	for _, x := range why.Clashes {
		parts = append(parts, engine.Because(x).String())
	}
	return strings.Join(parts, "; ")
}

// always finds the options that are in every boat of a hull. One that a boat found on the way lacks is not; of the
// others a boat without is looked for. Of several hundred options most are ruled out by the boats that are known, so
// that few questions are left.
func (p *prover) always(hull int) {
	h := &p.proof.Hulls[hull]
	for o := range p.pack.Options {
		lacking := !p.pack.Made(o, hull)
		for _, st := range p.boats {
			lacking = lacking || st.HullID == hull && st.Counts[o] == 0
		}
		if lacking {
			continue
		}
		switch a := p.without(hull, o); {
		case a.state != nil:
		case a.never():
			h.Always = append(h.Always, p.pack.Options[o].ID)
		default:
			p.unknown(Diagnostic{Kind: NeverHad, Index: o},
				fmt.Sprintf("whether a boat of %s can be without %s", h.ID, p.pack.Options[o].ID), a.tried())
		}
	}
}

// without looks for a boat that lacks an option. The rest of its slot is free, so that another option may stand in its
// place.
func (p *prover) without(hull, o int) answer {
	a := p.overUses(p.anyBoat(p.fit.Having(o, false), hull), p.engine.StandardUse())
	p.keep(a.state)
	return a
}
