package fit

import (
	"slices"

	"ribband/core/fit/why"
	"ribband/core/formula"
)

// Question asks for a boat of a hull with some choices.
type Question struct {
	Hull    int
	Use     []float64
	Choices Choices
	Terms   *Terms // nil: the rules of the book
	Any     bool   // any valid boat does: the solver need not give the nearest
}

// Terms are other rules than those of the book: one may be left out, and one is added, which has the next number after
// them. They select among what is compiled, so that nothing is compiled anew for them. They are not changed by
// questions. One added condition is enough for what is asked: a rule turned round, an option that has to be there or
// not.
type Terms struct {
	off  int // -1 for none
	more *condition
}

// Reversed are the terms by which a boat keeps all rules but one, and breaks that. The rule itself does not count, and
// what is added says that it counts and what it needs is not met.
func (f *Fit) Reversed(rule int) *Terms {
	r := &f.pack.Rules[rule]
	steps := append(slices.Clone(r.Need.Steps()), formula.Step{Op: formula.Not})
	if !r.When.Empty() {
		steps = slices.Concat(r.When.Steps(), steps, []formula.Step{{Op: formula.And}})
	}
	return &Terms{rule, f.newCondition(composed(steps...))}
}

// Having are the terms by which a boat has at least one of an option, or none of it, whatever else is in its slot.
// Settling the slot would not do in a slot of multiple, where others may have to stand beside it.
func (f *Fit) Having(option int, some bool) *Terms {
	steps := []formula.Step{{Op: formula.Has, Index: option}}
	if !some {
		steps = append(steps, formula.Step{Op: formula.Not})
	}
	return &Terms{-1, f.newCondition(composed(steps...))}
}

// Condition is what the terms add.
func (t *Terms) Condition() formula.Program { return t.more.Need }

// composed makes a formula of steps that follow from well-formed ones. They come from this package and not from a book,
// so that a failure is a mistake here.
func composed(steps ...formula.Step) formula.Program {
	f, err := formula.New(steps)
	if err != nil {
		panic("composing a formula: " + err.Error())
	}
	return f
}

// condition is one beyond the rules of the book, as a rule that a boat breaks which does not meet it. It cannot stand
// among the rules that are judged in one loop (formula.Rules), which are compiled with the book; so it has a test of
// its own.
type condition struct {
	rule
	holds formula.TruthFunc
}

func (f *Fit) newCondition(need formula.Program) *condition {
	c := &condition{f.newRule(formula.Program{}, need, need.Reads()), need.Truth()}
	f.explainRule(&c.rule)
	c.Condition = why.NewCondition(f.figures, formula.Program{}, need)
	return c
}

// rule is one of the rules that hold for a boat, by its number.
func (b *boat) rule(i int) *rule {
	if i == len(b.fit.rules) {
		return &b.terms.more.rule
	}
	return &b.fit.rules[i]
}

// breaks says whether a boat breaks a rule that counts.
func (b *boat) breaks(i int) bool {
	if t := b.terms; t != nil {
		switch i {
		case t.off:
			return false
		case len(b.fit.rules):
			return !t.more.holds(b.live.State)
		}
	}
	return b.fit.tests.Breaks(i, b.live.State)
}
