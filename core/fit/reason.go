package fit

import (
	"slices"

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
// goes; -1 for none. Nil means that there is a boat with them, or that none was found within the tries and nothing is
// proved.
//
// Where a search over all rules ends within the tries without a proof, the rules over few slots may have one: a search
// over them alone does not lose itself among those over the whole boat. It searches for a boat without one choice after
// the other: what there is none without either was not the reason. Then the same for the rules that clashed on the way.
// Source: deletion-based minimisation of an unsatisfiable core, a textbook method.
func (f *Fit) Reason(q Question, wanted int) *Reason {
	c := q.Choices
	m := minimising{fit: f, why: f.newExplanations(), question: q, smallest: true}
	met := newBitset(len(f.rules) + 1)
	_, status := m.search(c, nil, met)
	if status == Unknown {
		clear(met)
		m.among = f.narrowRules(q.Terms)
		_, status = m.search(c, nil, met)
	}
	if status != Infeasible {
		return nil
	}
	c = m.dropUnread(c, met, wanted)
	for slot, settled := range c.Settled {
		if settled && slot != wanted {
			if without := f.Drop(c, slot); m.infeasible(without, nil) {
				c = without
			}
		}
	}
	clear(met)
	boat, _ := m.search(c, nil, met)
	rules := slices.Clone(met)
	met.each(func(r int) {
		rules.drop(r)
		if !m.infeasible(c, rules) {
			rules.add(r)
		}
	})
	out := &Reason{Smallest: m.smallest}
	for slot, settled := range c.Settled {
		if settled {
			out.Slots = append(out.Slots, slot)
		}
	}
	rules.each(func(r int) { out.Rules = append(out.Rules, r) })
	out.Fields = m.fields(c, rules)
	for _, clash := range boat.clashes() {
		if clash.Kind != Broken {
			out.Clashes = append(out.Clashes, clash)
		}
	}
	return out
}

// minimising is one search for a reason.
type minimising struct {
	fit      *Fit
	why      *explanations
	question Question
	among    bitset // the rules that count where none are named; nil for all
	smallest bool
}

// narrowRules are the rules that read few slots.
func (f *Fit) narrowRules(t *Terms) bitset {
	set := newBitset(len(f.rules) + 1)
	for i := range f.rules {
		if !f.rules[i].explained.wide {
			set.add(i)
		}
	}
	if t != nil && !t.more.explained.wide {
		set.add(len(f.rules))
	}
	return set
}

// boat is that of other choices.
func (m *minimising) boat(c Choices) *boat {
	q := m.question
	q.Choices = c
	return m.fit.newBoat(q)
}

func (m *minimising) search(c Choices, rules, met bitset) (*boat, Status) {
	if rules == nil {
		rules = m.among
	}
	s := search{fit: m.fit, why: m.why, tries: DefaultTries, rules: rules, met: met}
	return s.nearest(m.boat(c))
}

// fields are those of the use that a proof by some rules rests on: what its clashes read. With other values of the
// others it goes the same way.
func (m *minimising) fields(c Choices, rules bitset) []int {
	var reads formula.Reads
	heard := map[fault]bool{}
	root := m.boat(c)
	s := search{fit: m.fit, why: m.why, tries: DefaultTries, rules: rules, hear: func(x fault) {
		if !heard[x] {
			heard[x] = true
			reads = reads.With(formula.Reads{Use: root.fieldsOf(x)})
		}
	}}
	s.nearest(root)
	return reads.Use
}

// infeasible says that there is no boat with the choices under some rules, and that this is proved.
func (m *minimising) infeasible(c Choices, rules bitset) bool {
	_, status := m.search(c, rules, nil)
	m.smallest = m.smallest && status != Unknown
	return status == Infeasible
}

// dropUnread drops at once the choices in slots that no rule met on the way reads.
func (m *minimising) dropUnread(c Choices, met bitset, wanted int) Choices {
	f, root := m.fit, m.boat(c)
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
