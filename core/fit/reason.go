package fit

import (
	"slices"

	"ribband/core/fit/sat"
	"ribband/core/formula"
)

// Reason is why choices cannot be had together: a smallest set of them and of rules that clash. Without any one of them
// there would be a boat.
type Reason struct {
	Slots []int // settled ones, whose contents take part
	Rules []int
	// what of the boat clashes besides by rules: an option that is not made for the hull, too many in a slot
	Clashes  []Clash
	Fields   []int // of the use: whatever the others are, the reason stays
	Smallest bool  // proved: false where a search gave up on the way
}

// Reason finds why choices cannot be had; wanted is the slot that was asked for, which stays among them whatever else
// goes; -1 for none. Nil means that there is a boat with them, or that neither strategy found one and nothing is
// proved.
//
// It asks for a boat without one choice after the other: what there is none without either was not the reason. Then the
// same for the rules that clashed on the way. Each question goes to the search first and to the solver where that gives
// up. Source: deletion-based minimisation of an unsatisfiable core, a textbook method. ~Choices go before rules: with
// fewer choices fewer rules clash, while the choices that are left are what a person can change. The solver's own core
// would be quicker, but rests on what happened to be learnt; it only shortens the list to start from.
func (f *Fit) Reason(q Question, wanted int) *Reason {
	m := f.minimising(q)
	met := newBitset(len(f.rules) + 1)
	c := q.Choices
	switch _, status := m.search(c, nil, met); status {
	case Infeasible:
		// Two ways to drop many at once before asking about each: on a boat of thirty choices most have nothing to do
		// with it.
		c = m.dropUnread(c, met, wanted)
	case Unknown:
		a := f.solve(q, nil)
		if a == nil || a.Status != sat.Unsat {
			return nil
		}
		c = m.dropOthers(c, a.Slots, wanted)
	default:
		return nil
	}
	for slot, settled := range c.Settled {
		if settled && slot != wanted {
			if without := f.Drop(c, slot); m.infeasible(without, nil) {
				c = without
			}
		}
	}
	boat, rules := m.rules(c)
	out := &Reason{Smallest: m.smallest}
	for slot, settled := range c.Settled {
		if settled {
			out.Slots = append(out.Slots, slot)
		}
	}
	rules.each(func(r int) { out.Rules = append(out.Rules, r) })
	out.Fields, _ = m.fields(c, rules)
	for _, clash := range boat.clashes() {
		if clash.Kind != Broken {
			out.Clashes = append(out.Clashes, clash)
		}
	}
	return out
}

// ReasonLike is the reason of a like question, one for another use, if that keeps this from being had as well; nil
// where it does not, which proves nothing. Whether fewer rules would do is not asked again, which takes a search for
// each of them: only the fields on which it rests are those of this use.
func (f *Fit) ReasonLike(q Question, wanted int, like *Reason) *Reason {
	m := f.minimising(q)
	rules := newBitset(len(f.rules) + 1)
	for _, r := range like.Rules {
		rules.add(r)
	}
	fields, proved := m.fields(m.dropOthers(q.Choices, like.Slots, wanted), rules)
	if !proved {
		return nil
	}
	return &Reason{Slots: like.Slots, Rules: like.Rules, Clashes: like.Clashes, Fields: fields}
}

// minimising is one search for a reason. Smallest turns false when a question came to no answer: what was asked for is
// kept then, perhaps needlessly.
type minimising struct {
	fit      *Fit
	why      *explanations
	question Question
	smallest bool
}

func (f *Fit) minimising(q Question) *minimising {
	return &minimising{fit: f, why: f.newExplanations(), question: q, smallest: true}
}

// narrowRules are the rules that read few slots. Whether a rule is narrow decides whether other slots may follow by it
// in the optimiser.
func (f *Fit) narrowRules() bitset {
	set := newBitset(len(f.rules) + 1)
	for i := range f.rules {
		if !f.rules[i].explained.wide {
			set.add(i)
		}
	}
	return set
}

// ask is the question about other choices.
func (m *minimising) ask(c Choices) Question {
	q := m.question
	q.Choices = c
	return q
}

func (m *minimising) search(c Choices, rules, met bitset) (*boat, Status) {
	s := search{fit: m.fit, why: m.why, tries: DefaultTries, rules: rules, met: met}
	return s.nearest(m.fit.newBoat(m.ask(c)))
}

// dropOthers drops at once the choices beside some slots.
func (m *minimising) dropOthers(c Choices, slots []int, wanted int) Choices {
	for slot, settled := range c.Settled {
		if settled && slot != wanted && !slices.Contains(slots, slot) {
			c = m.fit.Drop(c, slot)
		}
	}
	return c
}

// infeasible says that there is no boat with the choices under some rules, nil for all, and that this is proved. Not
// known counts as no: a reason must never name too little.
func (m *minimising) infeasible(c Choices, rules bitset) bool {
	_, status := m.search(c, rules, nil)
	if status != Unknown {
		return status == Infeasible
	}
	a := m.fit.solve(m.ask(c), rules)
	m.smallest = m.smallest && a != nil && a.Status != sat.Unknown
	return a != nil && a.Status == sat.Unsat
}

// rules are those that keep a boat from being with some choices, none too many; with the boat that is nearest to one.
// Only those that clashed on the way can be needed, since the search ended without the others.
func (m *minimising) rules(c Choices) (*boat, bitset) {
	met := newBitset(len(m.fit.rules) + 1)
	b, status := m.search(c, nil, met)
	if status != Infeasible { // it was the solver that proved it, and it knows by what
		clear(met)
		for _, r := range m.fit.solve(m.ask(c), nil).Rules {
			met.add(r)
		}
	}
	rules := slices.Clone(met)
	met.each(func(r int) {
		rules.drop(r)
		if !m.infeasible(c, rules) {
			rules.add(r)
		}
	})
	return b, rules
}

// fields are those of the use that a proof by some rules rests on: what its clashes read. With other values of the
// others it goes the same way. So a proof over all uses asks again only for other values of these (see package proof).
// Proved says that there is such a proof.
func (m *minimising) fields(c Choices, rules bitset) (fields []int, proved bool) {
	var reads formula.Reads
	heard := map[fault]bool{}
	root := m.fit.newBoat(m.ask(c))
	s := search{fit: m.fit, why: m.why, tries: DefaultTries, rules: rules, hear: func(x fault) {
		if !heard[x] {
			heard[x] = true
			reads = reads.With(formula.Reads{Use: root.fieldsOf(x)})
		}
	}}
	if _, status := s.nearest(root); status == Infeasible {
		return reads.Use, true
	} else if status != Unknown {
		return nil, false
	}
	if a := m.fit.solve(m.ask(c), rules); a != nil && a.Status == sat.Unsat {
		return a.Fields, true
	}
	return nil, false
}

// dropUnread drops at once the choices in slots that no rule met on the way reads.
func (m *minimising) dropUnread(c Choices, met bitset, wanted int) Choices {
	f, root := m.fit, m.fit.newBoat(m.ask(c))
	read := newBitset(len(f.slots))
	met.each(func(r int) {
		for _, s := range root.rule(r).closure().slots {
			read.add(s)
		}
	})
	without := c
	for slot, settled := range c.Settled {
		if settled && slot != wanted && !read.has(slot) {
			without = f.Drop(without, slot)
		}
	}
	if m.infeasible(without, nil) {
		return without
	}
	return c
}
