package count

import (
	"fmt"
	"math/big"
)

// Marginals are the models of a formula by literal. A variable with all of them is in every model (a core variable);
// one with none is in no model (dead).
type Marginals struct {
	Total *big.Int
	with  []*big.Int // by variable, counted from 0: where it is true
}

// With is the number of models in which a literal holds; it is nil for a literal that the formula has not.
func (m Marginals) With(signed int) *big.Int {
	l, ok := Formula{Variables: len(m.with)}.literal(signed)
	if !ok {
		return nil
	}
	n := m.with[l.variable()]
	if signed < 0 {
		return new(big.Int).Sub(m.Total, n)
	}
	return new(big.Int).Set(n)
}

// Marginals counts the models, and those of each literal, in one search. The search is kept, as a circuit of sums over
// branches and products over parts (decision-DNNF), and walked once from the top: so many models come through a node
// from above times its own count. It takes up to twice the time of Count, and gives up where the cache is full.
//
// Source, from memory: A. Darwiche, "On the tractable counting of theory models and its application to truth
// maintenance and belief revision", Journal of Applied Non-Classical Logics 11 (2001).
func (f Formula) Marginals(limits Limits) (Marginals, error) {
	c, err := newCounter(f, limits)
	if err != nil {
		return Marginals{}, fmt.Errorf("count models by literal: %w", err)
	}
	c.keeps = true
	all, err := c.formula()
	if err != nil {
		return Marginals{}, fmt.Errorf("count models by literal: %w", err)
	}
	m := Marginals{Total: all.count, with: make([]*big.Int, f.Variables)}
	for v := range m.with {
		m.with[v] = new(big.Int)
	}
	for _, n := range c.nodes {
		n.above = new(big.Int)
	}
	m.pass(all, big.NewInt(1))
	for i := len(c.nodes) - 1; i >= 0; i-- {
		if n := c.nodes[i]; n.above.Sign() > 0 {
			for _, b := range n.branches {
				m.pass(b, n.above)
			}
		}
	}
	return m, nil
}

// pass hands the models that come through a branch to its literals, its free variables (half of them each way) and its
// parts. To a part the rest of the models is above: those of the branch over its own. The divisions are exact: the
// models that come through are a multiple of the branch, which is two for each free variable times those of each part.
func (m Marginals) pass(b branch, above *big.Int) {
	models := new(big.Int).Mul(above, b.count)
	for _, l := range b.settled {
		if l == 2*literal(l.variable()) {
			m.with[l.variable()].Add(m.with[l.variable()], models)
		}
	}
	half := new(big.Int).Rsh(models, 1)
	for _, v := range b.free {
		m.with[v].Add(m.with[v], half)
	}
	for _, part := range b.parts {
		part.above.Add(part.above, half.Quo(models, part.count))
	}
}
