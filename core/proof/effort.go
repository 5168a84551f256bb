package proof

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/fit"
	"ribband/core/fit/clauses"
)

// Effort is what was spent on a question that stays open: over which boats, what stood in the way, and how far the
// searches went. The owner of the book has to judge how much a silence is worth, and where to begin.
type Effort struct {
	Hulls   []int     `json:"hulls"`             // of which it is open
	Use     []float64 `json:"use"`               // the first for which it is
	Rules   []int     `json:"rules,omitempty"`   // that the boat breaks at which the first search gave up
	Walk    int       `json:"walk,omitempty"`    // boats that the last search judged at most; 0 where it was not made
	Unasked bool      `json:"unasked,omitempty"` // nothing else is open but that more uses count than were asked for
}

// opened notes a hull and use for which a question stays open. The first of several is told, since the others are
// mostly open for the same reason.
func (e *Effort) opened(hull int, use []float64, near []int) {
	if len(e.Hulls) == 0 {
		e.Use = slices.Clone(use)
	}
	e.Rules = slices.Concat(e.Rules, near)
	slices.Sort(e.Rules)
	e.Rules = slices.Compact(e.Rules)
	if !slices.Contains(e.Hulls, hull) {
		e.Hulls = append(e.Hulls, hull)
	}
}

// Hulls are told all, since their owner may be content to forbid something on one of them.

// with adds up what was spent on two hulls.
func (e Effort) with(f Effort) Effort {
	for _, h := range f.Hulls {
		e.opened(h, f.Use, f.Rules)
	}
	e.Walk, e.Unasked = max(e.Walk, f.Walk), e.Unasked || f.Unasked
	return e
}

// A solver's last proposal would do as well, but the search's is the one that the page would show for these choices.

// near are the rules that the nearest boat of a search breaks, without the condition that a question added.
func (p *prover) near(b *fit.Build) (rules []int) {
	for _, x := range b.Clashes {
		if x.Kind == fit.Broken && x.Index < len(p.pack.Rules) {
			rules = append(rules, x.Index)
		}
	}
	return rules
}

// tried says in short sentences over which boats a question stays open, what stood in the way, and what was tried. Too
// many uses and too hard a question have different remedies: fewer values of a field, or narrower rules.
func (p *prover) tried(e *Effort) string {
	var hulls, rules []string
	for _, h := range e.Hulls {
		hulls = append(hulls, p.pack.Hulls[h].ID)
	}
	text := "Over boats of " + strings.Join(hulls, ", ") + p.forUse(e.Use)
	if len(e.Rules) > 0 {
		for _, r := range e.Rules {
			rules = append(rules, p.pack.Rules[r].ID)
		}
		text += ". In the way at last: rule " + strings.Join(rules, ", rule ")
	}
	if e.Unasked {
		return text + fmt.Sprintf(". Tried: %d combinations of values of the use on each hull, of more that count",
			mostUses)
	}
	// A search for any boat is left out where few uses were asked for and each had its answer from the solver.
	text += fmt.Sprintf(". Tried: bounds, clauses up to %d boats", clauses.DefaultLimits.Boats)
	if e.Walk > 0 {
		text += fmt.Sprintf(", a search up to %d boats", e.Walk)
	}
	return text
}

// What is as the book assumes goes without saying, as in a spec: who reads the sentence has that book before him.

// forUse names the fields of a use that are not as the book assumes.
func (p *prover) forUse(use []float64) string {
	var parts []string
	for i, v := range use {
		if u := &p.pack.Use[i]; v != u.Standard {
			parts = append(parts, u.ID+" "+p.engine.UseValue(i, v).String())
		}
	}
	if len(parts) == 0 {
		return " for the use that the book assumes"
	}
	return " with " + strings.Join(parts, ", ")
}
