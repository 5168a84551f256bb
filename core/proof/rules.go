package proof

import (
	"fmt"
	"iter"
	"slices"
	"strings"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/pack"
)

// ruled is the fit of the book with another rule in a place, or at the end of the list.
func (p *prover) ruled(at int, r pack.Rule) *fit.Fit {
	other := *p.pack
	other.Rules = slices.Clone(p.pack.Rules)
	if at == len(other.Rules) {
		other.Rules = append(other.Rules, r)
	} else {
		other.Rules[at] = r
	}
	return fit.Compile(&other, p.figs)
}

// reversed is the rule that is kept exactly where another is broken.
func reversed(r *pack.Rule) pack.Rule {
	steps := append(slices.Clone(r.Need.Steps()), formula.Step{Op: formula.Not})
	if !r.When.Empty() {
		steps = slices.Concat(r.When.Steps(), steps, []formula.Step{{Op: formula.And}})
	}
	return pack.Rule{ID: r.ID, Need: program(steps...)}
}

// asked is the whole of a rule: what it needs is asked only when it counts.
func asked(r *pack.Rule) formula.Program {
	if r.When.Empty() {
		return r.Need
	}
	return program(slices.Concat(r.When.Steps(), r.Need.Steps(), []formula.Step{{Op: formula.True}, {Op: formula.If}})...)
}

// program makes a formula of steps that follow from well-formed ones.
func program(steps ...formula.Step) formula.Program {
	f, err := formula.New(steps)
	if err != nil {
		panic(fmt.Sprintf("composing a formula: %v", err))
	}
	return f
}

// rules proves of each rule that it rules something out: a boat breaks it that keeps all others.
func (p *prover) rules() {
	var idle []int
	why := map[int][]int{} // of an idle rule: the others that say it already
	for r := range p.pack.Rules {
		switch broken, others, decided := p.breaking(r); {
		case broken != nil && p.pack.Rules[r].Guard:
			p.find(Finding{Kind: NoEffect, Index: r, Message: fmt.Sprintf("rule %s is marked as a guard, which no boat breaks; this boat does", p.pack.Rules[r].ID),
				Advice: "take the mark away", Witness: &broken.Spec})
		case broken != nil:
			p.proof.Rules.Effective = append(p.proof.Rules.Effective, *broken)
		case p.pack.Rules[r].Guard:
			p.proof.Rules.Guards = append(p.proof.Rules.Guards, p.pack.Rules[r].ID)
		case !decided:
			p.open("whether rule %s rules anything out", p.pack.Rules[r].ID)
		default:
			idle = append(idle, r)
			why[r] = others
		}
	}
	for _, r := range idle {
		p.idle(r, why)
	}
}

// mostGivenUp is how often the search for a boat that breaks a rule may give up before the rule is left open.
const mostGivenUp = 4

// breaking looks for a boat that breaks one rule alone, on every hull: for the standard use, then with one field changed, then with one that the rule reads and another. Where there is
// none at all, others are the rules without which there would be one.
func (p *prover) breaking(r int) (broken *Breaking, others []int, decided bool) {
	def := &p.pack.Rules[r]
	f := p.ruled(r, reversed(def))
	givenUp := 0
	for use, explain := range p.ways(p.fieldsOf(def.When.Reads().With(def.Need.Reads()))) {
		for h := range p.pack.Hulls {
			st, outcome := p.seek(r, f, h, use)
			switch {
			case st != nil:
				return p.broken(r, st), nil, true
			case outcome == fit.NoneFound:
				if givenUp++; givenUp == mostGivenUp {
					return nil, nil, false
				}
			case explain:
				if why := f.Reason(h, use, f.NewChoices(), -1); why != nil {
					others = append(others, why.Rules...)
				}
			}
		}
	}
	slices.Sort(others)
	others = slices.DeleteFunc(slices.Compact(others), func(i int) bool { return i == r })
	return nil, others, givenUp == 0
}

// seek looks for a boat that breaks a rule: f has the rule reversed. It searches, then climbs, then searches deep.
func (p *prover) seek(r int, f *fit.Fit, hull int, use []float64) (*formula.State, fit.Outcome) {
	b := f.Complete(hull, use, f.NewChoices(), fit.DefaultTries)
	if b.Outcome == fit.NoneFound {
		if st := p.climb(r, f, hull, use); st != nil {
			return st, fit.Near
		}
		b = f.Complete(hull, use, f.NewChoices(), fit.DeepTries)
	}
	if !valid(b) {
		return nil, b.Outcome
	}
	return b.State, b.Outcome
}

// broken is a boat that breaks one rule alone, judged afresh.
func (p *prover) broken(r int, st *formula.State) *Breaking {
	id := p.pack.Rules[r].ID
	if rules, sound := p.judge.broken(st); !sound || !slices.Equal(rules, []int{r}) {
		p.err = fmt.Errorf("a boat of %s was taken to break rule %s alone; judged afresh, it breaks %v, sound: %v", p.pack.Hulls[st.HullID].ID, id, rules, sound)
	}
	return &Breaking{id, p.spec(st.HullID, st.Use, p.whole(st))}
}

// ways are uses in which a rule may have an effect, with whether to ask why not; most are like another in that.
func (p *prover) ways(own []int) iter.Seq2[[]float64, bool] {
	return func(yield func([]float64, bool) bool) {
		more := true
		each := func(list [][]float64, explain bool) {
			for _, use := range list {
				more = more && yield(use, explain)
			}
		}
		standard, fields := p.engine.StandardUse(), everyField(p.pack)
		each(p.usesOf(own, ends), true)
		each(p.varied(standard, own, values), false)
		each(p.varied(standard, fields, ends), false)
		for _, use := range p.varied(standard, own, ends) {
			each(p.varied(use, fields, ends), false)
		}
	}
}

// idle tells why a rule rules nothing out. Of two that say the same, the later one is told.
func (p *prover) idle(r int, why map[int][]int) {
	def := &p.pack.Rules[r]
	f := Finding{Kind: NoEffect, Index: r, Advice: "delete it; if it is to guard against later changes of the book, mark it with guard: true"}
	others := why[r]
	switch {
	case len(others) == 0:
		f.Message = fmt.Sprintf("rule %s has no effect: no boat breaks it, with or without the other rules", def.ID)
	case len(others) == 1 && slices.Equal(why[others[0]], []int{r}):
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

func oneOf(ids []string) string {
	if len(ids) == 1 {
		return "rule " + ids[0] + " too"
	}
	return "one of the rules " + strings.Join(ids, ", ") + " too"
}
