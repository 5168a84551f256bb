package clauses

import (
	"fmt"

	"ribband/core/fit/sat"
)

// mostVariables bounds how many options, each as often as it may be there, a hull may have. A real book has some
// hundreds.
const mostVariables = 3000

// number gives each option its variables. One variable for each piece, and not one for each count, so that "at least
// two" is a literal: that is how formulas, least and most ask.
func (c *Clauses) number() error {
	c.counts = make([][]sat.Lit, len(c.pack.Options))
	for o := range c.pack.Options {
		def := &c.pack.Options[o]
		if !c.pack.Offered(o, c.hull) {
			continue
		}
		if c.variables+def.Most > mostVariables {
			return fmt.Errorf("writing the rules of %s as clauses: its options may be there more than %d times in "+
				"all; "+
				"lower the most of %s",
				c.pack.Hulls[c.hull].ID, mostVariables, def.ID)
		}
		for range def.Most {
			c.counts[o] = append(c.counts[o], c.fresh())
		}
	}
	return nil
}

// slot writes what a slot may hold, and that it holds nothing where it is not there. A lazy condition gets a variable
// of its own, free for the solver to choose: it proposes a boat with the slot open or closed, and learns if the
// condition says otherwise.
func (w *writer) slot(i int) {
	c, def := w.Clauses, &w.pack.Slots[i]
	lits := c.held(i)
	open := yes
	if !c.pack.Exists(i, c.hull) {
		open = -yes
	} else if !def.When.Empty() {
		var lazy bool
		if open, lazy = w.truth(def.When); lazy {
			open = c.fresh()
			c.lazySlots = append(c.lazySlots, i)
		}
	}
	c.open = append(c.open, open)
	for o := def.First; o < def.End; o++ {
		c.add(open, -c.AtLeast(o, 1))
		for k := 1; k < len(c.counts[o]); k++ {
			c.add(-c.counts[o][k], c.counts[o][k-1])
		}
	}
	if !def.Multiple {
		if len(lits) > 1 {
			c.atMostOne = append(c.atMostOne, lits)
		}
		if def.Least > 0 {
			c.add(append(lits[:len(lits):len(lits)], -open)...)
		}
		return
	}
	// Counted no further than least and most ask: one beyond the most is enough to forbid it.
	sums := c.atLeast(lits, max(def.Least, (def.Most+1)*min(def.Most, 1)))
	if def.Least > len(sums) {
		c.add(-open)
	} else if def.Least > 0 {
		c.add(-open, sums[def.Least-1])
	}
	if def.Most > 0 && def.Most < len(sums) {
		c.add(-sums[def.Most])
	}
}

// held are the literals that count what is in a slot. Pieces of one option are as many literals, which is what least
// and most of a slot count.
func (c *Clauses) held(slot int) (lits []sat.Lit) {
	for o := c.pack.Slots[slot].First; o < c.pack.Slots[slot].End; o++ {
		lits = append(lits, c.counts[o]...)
	}
	return lits
}
