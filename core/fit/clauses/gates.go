package clauses

import (
	"fmt"
	"slices"

	"ribband/core/fit/sat"
)

// yes is the literal that is always true. It spares every caller the case of a condition that is a constant: add drops
// it again.
const yes sat.Lit = 1

// gates are clauses with auxiliary variables that they define.
type gates struct {
	variables int
	clauses   [][]sat.Lit
	atMostOne [][]sat.Lit
	known     map[string]sat.Lit // the same gate is the same variable
}

func newGates() gates {
	return gates{variables: 1, clauses: [][]sat.Lit{{yes}}, known: map[string]sat.Lit{}}
}

func (g *gates) fresh() sat.Lit {
	g.variables++
	return sat.Lit(g.variables)
}

// add adds a clause without its constants. One with the constant true, or with a literal and its opposite, says nothing
// and is not kept.
func (g *gates) add(lits ...sat.Lit) {
	var clause []sat.Lit
	for _, l := range lits {
		switch {
		case l == yes || slices.Contains(clause, -l):
			return
		case l != -yes && !slices.Contains(clause, l):
			clause = append(clause, l)
		}
	}
	g.clauses = append(g.clauses, clause)
}

// and is a literal that is true exactly where all of some are. Operands are sorted and each counts once, so that the
// same gate is found again in whatever order it is asked for.
func (g *gates) and(lits ...sat.Lit) sat.Lit {
	in := slices.DeleteFunc(slices.Clone(lits), func(l sat.Lit) bool { return l == yes })
	slices.Sort(in)
	in = slices.Compact(in)
	for _, l := range in {
		if l == -yes || slices.Contains(in, -l) {
			return -yes
		}
	}
	switch len(in) {
	case 0:
		return yes
	case 1:
		return in[0]
	}
	key := fmt.Sprint(in)
	out, known := g.known[key]
	if known {
		return out
	}
	out = g.fresh()
	g.known[key] = out
	back := []sat.Lit{out}
	for _, l := range in {
		g.add(-out, l)
		back = append(back, -l)
	}
	g.add(back...)
	return out
}

// or is a literal that is true exactly where at least one of some is. By de Morgan, so that both kinds share one
// memory.
func (g *gates) or(lits ...sat.Lit) sat.Lit { return -g.and(opposite(lits)...) }

// either is a literal that equals one of two by a condition. It is made of and and or, so that a solver learns about
// each side by itself.
func (g *gates) either(when, then, otherwise sat.Lit) sat.Lit {
	return g.or(g.and(when, then), g.and(-when, otherwise))
}

func opposite(lits []sat.Lit) []sat.Lit {
	out := make([]sat.Lit, len(lits))
	for i, l := range lits {
		out[i] = -l
	}
	return out
}

// atLeast are literals for at least one, two… of some up to a most: a counter that takes in one literal after the
// other.
// Source: C. Sinz, Towards an optimal CNF encoding of Boolean cardinality constraints, CP 2005, with equivalences; from
// memory.
func (g *gates) atLeast(lits []sat.Lit, most int) []sat.Lit {
	sums := make([]sat.Lit, min(most, len(lits)))
	for i := range sums {
		sums[i] = -yes
	}
	for _, l := range lits {
		// From above, since each sum takes in the literal by what the one below was before it.
		for j := len(sums) - 1; j >= 0; j-- {
			before := yes
			if j > 0 {
				before = sums[j-1]
			}
			sums[j] = g.or(sums[j], g.and(before, l))
		}
	}
	return sums
}
