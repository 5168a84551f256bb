package count

import (
	"fmt"
	"math/big"
)

// counter is one search.
type counter struct {
	assignment
	splitter
	rank []int32 // by variable: the highest of a component is picked

	limits    Limits
	decisions int
	cache     map[string]*node
	cached    int // bytes, roughly

	keeps bool    // whether the search is kept, as nodes with their branches
	nodes []*node // kept, each after those it rests on
}

// node is a component with its number of models, the sum of those of its branches. Its count is of the variables of the
// component alone, so that it is good wherever the same component comes up.
type node struct {
	count    *big.Int
	branches []branch // where the search is kept: those with models

	above *big.Int // see Marginals
}

// branch is what a component becomes under one literal: literals that are settled, variables that are free, and parts.
// It has two to the power of the free ones times the product of the parts' models.
type branch struct {
	count   *big.Int
	settled []literal
	free    []int32
	parts   []*node
}

// formula counts all. It is a branch too: the one before any decision.
func (c *counter) formula() (branch, error) {
	all := component{variables: upTo(c.variables()), clauses: upTo(len(c.clauses))}
	c.part = make([]int32, c.variables())
	c.clauseSeen, c.groupSeen = make([]int32, len(c.clauses)), make([]int32, len(c.groups))
	for _, k := range all.clauses {
		if !c.unit(k) {
			return branch{count: new(big.Int)}, nil
		}
	}
	if !c.propagate(0) {
		return branch{count: new(big.Int)}, nil
	}
	c.rank = c.order()
	return c.branch(all, 0)
}

func upTo(n int) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = int32(i)
	}
	return list
}

// branch counts what the trail, from a place on, has left of a component. A part without models ends it: the product is
// zero whatever the others are.
func (c *counter) branch(of component, from int) (branch, error) {
	parts, free := c.split(of)
	b := branch{count: new(big.Int).Lsh(big.NewInt(1), uint(len(free)))}
	if c.keeps {
		b.settled = append(b.settled, c.trail[from:]...)
		b.free = free
	}
	for _, part := range parts {
		n, err := c.component(part)
		if err != nil {
			return branch{}, err
		}
		b.count.Mul(b.count, n.count)
		if b.count.Sign() == 0 {
			break
		}
		if c.keeps {
			b.parts = append(b.parts, n)
		}
	}
	return b, nil
}

// component counts a component: by what the cache knows, or by a decision. The two branches share no model and leave
// none out, so that their sum is exact. Undo comes in either case, since assume leaves what it settled before a
// conflict.
func (c *counter) component(of component) (*node, error) {
	key := c.key(of)
	if n, known := c.cache[key]; known {
		return n, nil
	}
	if c.decisions == c.limits.Decisions {
		return nil, fmt.Errorf("%w after %d decisions; allow more, or count a part of the formula", ErrGaveUp,
			c.decisions)
	}
	c.decisions++
	n := &node{count: new(big.Int)}
	v := c.pick(of)
	for _, l := range [...]literal{literal(2 * v), literal(2*v + 1)} {
		mark := len(c.trail)
		if c.assume(l) {
			b, err := c.branch(of, mark)
			if err != nil {
				return nil, err
			}
			n.count.Add(n.count, b.count)
			if c.keeps && b.count.Sign() > 0 {
				n.branches = append(n.branches, b)
			}
		}
		c.undo(mark)
	}
	return n, c.remember(key, n)
}

// pick is the variable to decide: that of the highest rank.
func (c *counter) pick(of component) int32 {
	best := of.variables[0]
	for _, v := range of.variables {
		if c.rank[v] > c.rank[best] {
			best = v
		}
	}
	return best
}

// remember puts a node into the cache. A search that is kept cannot drop nodes: it gives up where the cache is full.
func (c *counter) remember(key string, n *node) error {
	c.cached += bytes(key, n)
	if c.cached > c.limits.Cache {
		if c.keeps {
			return fmt.Errorf("%w with %d bytes of counted components; allow more, or count without marginals",
				ErrGaveUp, c.limits.Cache)
		}
		clear(c.cache)
		c.cached = 0
	}
	c.cache[key] = n
	if c.keeps {
		c.nodes = append(c.nodes, n)
	}
	return nil
}

// bytes is roughly what an entry of the cache takes.
func bytes(key string, n *node) int {
	const entry, kept = 150, 100 // of a node with its place in the map, and of a branch without what is in its lists
	total := entry + len(key) + n.count.BitLen()/8
	for _, b := range n.branches {
		total += kept + b.count.BitLen()/8 + 4*len(b.settled) + 4*len(b.free) + 8*len(b.parts)
	}
	return total
}
