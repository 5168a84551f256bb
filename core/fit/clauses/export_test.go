package clauses

import (
	"ribband/core/figures"
	"ribband/core/pack"
)

// CompileWithin compiles with another bound on what is tried out, so that small books have lazy rules.
func CompileWithin(p *pack.Pack, figs *figures.Figures, hull int, use []float64, most int) *Clauses {
	return compile(p, figs, hull, use, most)
}

// LazySlots are the slots whose condition is lazy.
func (c *Clauses) LazySlots() []int { return c.lazySlots }
