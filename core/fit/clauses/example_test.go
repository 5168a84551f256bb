package clauses_test

import (
	"fmt"
	"slices"
	"strings"

	"ribband/core/fit/clauses"
	"ribband/core/fit/count"
	"ribband/core/fit/sat"
	"ribband/core/formula"
	"ribband/core/pack"
)

// How many boats does the demo book allow, its rules over figures that many slots decide left out?
func ExampleClauses_Count() {
	z := demo()
	for hull, h := range z.pack.Hulls {
		n, err := clauses.Compile(z.pack, z.figures, hull, z.standardUse()).Count(count.Limits{})
		if err != nil {
			fmt.Println(err)
			return
		}
		fmt.Printf("%s: more than 10^%d\n", h.ID, len(n.String())-1)
	}
	// Output:
	// sedge-46: more than 10^41
	// rush-54: more than 10^45
	// reed-65: more than 10^46
	// osier-76: more than 10^45
}

// large is a hull of the demo book that all tops are made for.
const large = 2

// named writes clauses with the names of options and rules; what stands for a part of a condition is y with a number.
type named struct {
	pack  *pack.Pack
	names map[int]string // by variable
	parts int
}

func newNamed(p *pack.Pack, c *clauses.Clauses) *named {
	n := &named{p, map[int]string{}, 0}
	for o, def := range p.Options {
		n.names[c.AtLeast(o, 1).Var()] = def.ID
		for k := 2; k <= def.Most; k++ {
			n.names[c.AtLeast(o, k).Var()] = fmt.Sprintf("%s×%d", def.ID, k)
		}
	}
	for i, r := range p.Rules {
		n.names[c.Selector(i).Var()] = "rule " + r.ID
	}
	return n
}

func (n *named) clause(lits []sat.Lit) string {
	var words []string
	for _, l := range lits {
		name, known := n.names[l.Var()]
		if !known {
			n.parts++
			name = fmt.Sprint("y", n.parts)
			n.names[l.Var()] = name
		}
		if l < 0 {
			name = "not " + name
		}
		words = append(words, name)
	}
	return strings.Join(words, " or ")
}

// A rule over options is lowered when the book is published, and written as clauses under its selector. The part y1 of
// its condition is defined by equivalence.
func ExampleCompile() {
	z := demo()
	rule := slices.IndexFunc(z.pack.Rules,
		func(r pack.Rule) bool { return r.ID == "full-enclosure-needs-a-standing-frame" })
	words := formula.Words{Options: func(i int) string { return z.pack.Options[i].ID }}
	for _, p := range []formula.Program{z.pack.Rules[rule].When, z.pack.Rules[rule].Need} {
		fmt.Println(p, "is", p.Infix(words))
	}
	c := clauses.Compile(z.pack, z.figures, large, z.standardUse())
	n := newNamed(z.pack, c)
	var part sat.Lit
	for _, clause := range c.Formula().Clauses {
		if slices.Contains(clause, -c.Selector(rule)) {
			fmt.Println(n.clause(clause))
			part = clause[slices.IndexFunc(clause, func(l sat.Lit) bool { return n.names[l.Var()] == "y1" })]
		}
	}
	for _, clause := range c.Formula().Clauses {
		ofRule := func(l sat.Lit) bool { return strings.HasPrefix(n.names[l.Var()], "rule ") }
		if (slices.Contains(clause, part) || slices.Contains(clause, -part)) && !slices.ContainsFunc(clause, ofRule) {
			fmt.Println(n.clause(clause))
		}
	}
	// Output:
	// o159 o160 | is has("enclosure-full-flexible") or has("enclosure-full-rigid")
	// o135 o136 | o137 | is has("top-canopy") or has("top-hard") or has("top-solar")
	// top-canopy or top-hard or top-solar or y1 or not rule full-enclosure-needs-a-standing-frame
	// not y1 or not enclosure-full-rigid
	// not y1 or not enclosure-full-flexible
	// y1 or enclosure-full-rigid or enclosure-full-flexible
}

// A rule over the time to charge reads what many slots decide. Here a boat is proposed that breaks it; what is learnt
// is a clause over the few slots that break it whatever the others hold, and with the wish it leaves no boat.
func ExampleClauses_Complete() {
	z := demo()
	c := clauses.Compile(z.pack, z.figures, large, z.standardUse())
	wish := z.fit.NewChoices()
	for _, id := range []string{"bank-lfp-20", "charger-800-dual"} {
		o := optionOf(z.pack, id)
		wish.Settled[z.pack.Options[o].Slot], wish.Counts[o] = true, 1
	}
	limits := clauses.DefaultLimits
	limits.Proof = true
	got, err := c.Complete(asked(wish), limits)
	if err != nil {
		fmt.Println(err)
		return
	}
	n := newNamed(z.pack, c)
	fmt.Printf("%s, after %d proposed boats\n", got.Status, got.Proposed)
	for _, clause := range got.Proof.Given.Clauses[len(c.Formula().Clauses):] {
		for _, r := range c.Lazy() {
			if slices.Contains(clause, -c.Selector(r)) {
				fmt.Println("learnt:", n.clause(clause))
			}
		}
	}
	for _, r := range got.Rules {
		fmt.Println("rule:", z.pack.Rules[r].ID)
	}
	for _, s := range got.Slots {
		fmt.Println("slot:", z.pack.Slots[s].ID)
	}
	fmt.Println("the proof:", got.Proof.Check(got.Core))
	// Output:
	// unsatisfiable, after 2 proposed boats
	// learnt: not charger-800-dual or not inlet-230-16 or not bank-lfp-20 or not rule charged-overnight
	// learnt: not charger-800-dual or not inlet-230-32 or not bank-lfp-20 or not rule charged-overnight
	// rule: charged-overnight
	// rule: europe-has-230-v
	// slot: bank
	// slot: charger
	// the proof: <nil>
}
