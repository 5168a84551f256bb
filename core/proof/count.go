package proof

import (
	"fmt"
	"slices"

	"ribband/core/fit/clauses"
	"ribband/core/fit/count"
	"ribband/core/fit/sat"
)

// count counts the boats of a hull, for the use that the book assumes, over the rules that clauses can hold: not those
// over figures which many slots carry together. The same clauses are a second opinion, by another method, on what is in
// every boat and in none. The number is for the eye: it tells a book that allows ten boats from one that allows 10^20,
// and a rule too many shows in it at once.
func (p *prover) count(hull int) *Finding {
	c, f := clauses.Compile(p.pack, p.figs, hull, p.engine.StandardUse()), &Finding{}
	if n, err := c.Count(count.Limits{}); err != nil {
		f.Uncount = err.Error()
	} else {
		f.Count = n.String()
	}
	f.Rules = c.Lazy()
	always, err := c.Always(sat.Limits{})
	never, other := c.Never(sat.Limits{})
	f.Always, f.Nowhere, f.Undecide = always, never, err != nil || other != nil
	return f
}

// counted tells how many boats of a hull there are.
func (p *prover) counted(hull int, f *Finding) {
	h := &p.proof.Hulls[hull]
	if h.Boats = f.Count; h.Boats == "" {
		p.unknown(Diagnostic{Kind: OfBoats, Index: hull, Advice: "nothing hangs on it but the number"},
			fmt.Sprintf("how many boats of %s there are", h.ID),
			"Tried: counting the models of its clauses; "+f.Uncount)
	}
	for _, r := range f.Rules {
		h.Uncounted = append(h.Uncounted, p.pack.Rules[r].ID)
	}
	if f.Undecide {
		p.unknown(Diagnostic{Kind: OfBoats, Index: hull, Advice: "nothing hangs on it but this second opinion"},
			fmt.Sprintf("what is always or never in a boat of %s", h.ID), "Tried: clauses; the solver gave up")
		return
	}
	p.agree(hull, f)
}

// agree holds the boats that were found against what clauses say is in every boat or in none for the standard use. Only
// boats for the standard use can be compared, since clauses are written for one use.
func (p *prover) agree(hull int, f *Finding) {
	for _, b := range p.boats {
		if b.HullID != hull || !slices.Equal(b.Use, p.engine.StandardUse()) {
			continue
		}
		for _, o := range f.Always {
			if b.Counts[o] == 0 {
				p.err = fmt.Errorf("clauses say that every boat of %s has %s; one was found that has not",
					p.pack.Hulls[hull].ID, p.pack.Options[o].ID)
			}
		}
		for _, o := range f.Nowhere {
			if b.Counts[o] > 0 {
				p.err = fmt.Errorf("clauses say that no boat of %s has %s; one was found that has",
					p.pack.Hulls[hull].ID, p.pack.Options[o].ID)
			}
		}
	}
}

// Short writes a number of many digits by its first three and a power of ten. A count of 31 digits is no longer read,
// and its last digits tell nothing.
func Short(text string) string {
	if len(text) <= 12 {
		return text
	}
	return fmt.Sprintf("%c.%s × 10^%d", text[0], text[1:3], len(text)-1)
}
