package proof

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
)

// asked is the whole of a rule: what it needs is asked only when it counts. The two have to be one formula where they
// are bounded: that the need divides by zero does not count where the rule does not ask.
func asked(r *pack.Rule) formula.Program {
	if r.When.Empty() {
		return r.Need
	}
	return program(slices.Concat(r.When.Steps(), r.Need.Steps(),
		[]formula.Step{{Op: formula.True}, {Op: formula.If}})...)
}

// program makes a formula of steps that follow from well-formed ones. A failure is a mistake here and not of a book,
// whose formulas were checked when it was read.
func program(steps ...formula.Step) formula.Program {
	f, err := formula.New(steps)
	if err != nil {
		panic(fmt.Sprintf("composing a formula: %v", err))
	}
	return f
}

// rules tells of each rule whether it rules something out: a boat breaks it that keeps all others. Idle ones are told
// at the end, when it is known of each which others say it already: two that say the same would otherwise each be
// called needless.
func (p *prover) rules(q *questions) {
	var idle []int
	for r := range p.pack.Rules {
		f, def := q.rules[r].is, &p.pack.Rules[r]
		switch p.found(f); {
		case f.Spec != nil && def.Guard:
			p.find(Diagnostic{Kind: NoEffect, Index: r,
				Message: fmt.Sprintf("rule %s is marked as a guard, which no boat breaks; this boat does", def.ID),
				Advice:  "take the mark away", Witness: f.Spec})
		case f.Spec != nil:
			p.proof.Rules.Effective = append(p.proof.Rules.Effective, Breaking{def.ID, *f.Spec})
		case def.Guard:
			p.proof.Rules.Guards = append(p.proof.Rules.Guards, Guard{def.ID, f.Never})
		case !f.Never:
			p.unknown(Diagnostic{Kind: NoEffect, Index: r,
				Advice: "if it is there for the yard's safety or for later changes of the book, mark it with guard: " +
					"true; or split it into rules over fewer figures"},
				fmt.Sprintf("whether rule %s rules anything out", def.ID), p.tried(f.Effort))
		default:
			idle = append(idle, r)
		}
	}
	for _, r := range idle {
		p.idle(r, q)
	}
}

// breaking looks for a boat that breaks one rule alone, on every hull and for every use, and notes it or the rules by
// which there is none. What no boat breaks at all, whatever else is asked of it, is known at once. ~From the quick to
// the slow: bounds over all boats, a search near the standard build, the solver for few uses, a local search over all
// uses, and the solver again for many uses where nothing else stayed open. A guard gets less of the last two, as nobody
// expects a boat.
func (p *prover) breaking(r int) *Finding {
	f := &Finding{}
	st, a := p.breaker(r)
	if st != nil {
		p.broken(f, r, st)
		return f
	}
	if f.Never = a.never(); !f.Never {
		f.Effort = &a.effort
		return f
	}
	f.Rules = p.rulesOf(a.reasons)
	return f
}

// breaker is the boat that breaks a rule alone, or what is known of there being none. Hulls on which the first search
// came to nothing are noted, so that it is not made a second time where all uses are asked for.
func (p *prover) breaker(r int) (st *formula.State, all answer) {
	under, use := p.fit.Reversed(r), p.engine.StandardUse()
	if p.never(under.Condition()) {
		return nil, all
	}
	def, open := &p.pack.Rules[r], make([]*fit.Build, len(p.pack.Hulls))
	for h := range p.pack.Hulls { // most are broken by a boat near the standard build
		q := p.anyBoat(under, h)
		q.Use = use
		b := p.fit.Search(q.Question, fit.DefaultTries)
		if valid(b) {
			return b.State, all
		}
		if b.Status == fit.Unknown {
			open[h] = b
		}
	}
	if all = p.overHulls(under, use, fewUses, open, def.Guard); all.state != nil {
		return all.state, all
	}
	every := branch{use, make([]bool, len(use))}
	for _, boats := range walks(def.Guard) {
		for h := 0; h < len(p.pack.Hulls) && !all.never(); h++ {
			if st := p.roam(p.anyBoat(under, h), every, boats); st != nil {
				return st, all
			}
			all.effort.Walk = boats
		}
	}
	if all.unasked && all.open == 0 && !def.Guard {
		// the walk found none, and stays what was tried of each hull
		all = p.overHulls(under, use, mostUses, open, false)
	}
	return all.state, all
}

// walks are how many boats are judged of each hull, one walk after the other. A short one first, since the boat is
// mostly found on one of the hulls early, and a long walk on the others before that one is in vain.
func walks(guard bool) []int {
	if guard {
		return []int{guardBoats}
	}
	return []int{roamBoats / 2, roamBoats}
}

// overHulls asks for a boat of any hull, for so many uses of each. What stays open is added up, and the first boat ends
// it.
func (p *prover) overHulls(under *fit.Terms, use []float64, uses int, searched []*fit.Build,
	whole bool) (sum answer) {
	for h := range p.pack.Hulls {
		q := p.anyBoat(under, h)
		q.uses, q.roamed, q.first, q.whole = uses, true, searched[h], whole
		a := p.overUses(q, use)
		sum.state, sum.asked, sum.reasons, sum.open = a.state, sum.asked+a.asked, append(sum.reasons, a.reasons...),
			sum.open+a.open
		sum.effort = sum.effort.with(a.effort)
		if sum.unasked = sum.unasked || a.unasked; a.state != nil {
			return sum
		}
	}
	return sum
}

// never says that no boat of any hull meets a condition, valid or not, for any use: by bounds over all of them. That
// needs no search: a guard that no boat can break, such as that a length is above zero, ends here.
func (p *prover) never(def formula.Program) bool {
	needed, free := p.figs.Needed(def.Reads()), make([]bool, len(p.pack.Slots))
	for s := range free {
		free[s] = true
	}
	for h := range p.pack.Hulls {
		st, box := p.bareBoat(h), formula.Box{}
		for i := range p.pack.Use {
			u := &p.pack.Use[i]
			box.Use = append(box.Use, formula.Interval{Lo: u.Value(0), Hi: u.Value(u.Steps() - 1)})
		}
		p.figs.BoundsOfUses(st, free, needed, &box)
		if v, sound := def.Judge(&box); !sound || v.MayHold {
			return false
		}
	}
	return true
}

// broken notes a boat that breaks one rule alone, judged afresh. It must break this rule and no other, or the rule
// would be needed for nothing that another does not do.
func (p *prover) broken(f *Finding, r int, st *formula.State) {
	if rules, sound := p.judge.broken(st); !sound || !slices.Equal(rules, []int{r}) {
		f.err = fmt.Errorf("a boat of %s was taken to break rule %s alone; judged afresh, it breaks %v, sound: %v",
			p.pack.Hulls[st.HullID].ID, p.pack.Rules[r].ID, rules, sound)
	}
	witness := p.engine.SpecOf(st.HullID, st.Use, p.whole(st))
	breaks := boatOf(st)
	f.Spec, f.Breaks = &witness, &breaks
}

// idle tells why a rule rules nothing out. Of two that say the same, the later one is told. The others are those of the
// reasons why no boat breaks it alone: whoever deletes it relies on them.
func (p *prover) idle(r int, q *questions) {
	def := &p.pack.Rules[r]
	f := Diagnostic{Kind: NoEffect, Index: r, Advice: "delete it; if it is to guard against later " +
		"changes of the book, mark it with guard: true"}
	others := q.rules[r].is.Rules
	switch {
	case len(others) == 0:
		f.Message = fmt.Sprintf("rule %s has no effect: no boat breaks it, with or without the other rules", def.ID)
	case len(others) == 1 && slices.Equal(q.rules[others[0]].is.idle(), []int{r}):
		if others[0] > r {
			return // that one is told
		}
		f.Message = fmt.Sprintf("rule %s says the same as rule %s", def.ID, p.pack.Rules[others[0]].ID)
		f.Advice = "delete one of them"
	default:
		var ids []string
		for _, o := range others {
			ids = append(ids, p.pack.Rules[o].ID)
		}
		f.Message = fmt.Sprintf("rule %s has no effect: every boat that breaks it breaks %s", def.ID, oneOf(ids))
	}
	p.find(f)
}

// oneOf names the rules in a sentence.
func oneOf(ids []string) string {
	if len(ids) == 1 {
		return "rule " + ids[0] + " too"
	}
	return "one of the rules " + strings.Join(ids, ", ") + " too"
}

// Two rules of which each is idle by the other alone say the same.

// idle are the rules by which no boat breaks a rule alone; nil where some boat does, or that is open.
func (f *Finding) idle() []int {
	if !f.Never {
		return nil
	}
	return f.Rules
}
