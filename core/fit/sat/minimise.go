package sat

import (
	"cmp"
	"slices"
)

// Optimum is the answer of [Solver.Minimise].
type Optimum struct {
	// Sat: nothing is less. Unsat: there is no model. Unknown: this is the best so far, if there is a model
	Status Status
	Weight int64
	Model  Model
}

// Minimise finds a model in which the assumptions hold and the weights of the true literals add up to the least.
// Without weights each literal weighs 1. After Unsat see [Solver.Core]. An error says that the weights are too many,
// too few, or too large.
//
// It wishes at first that no literal costs anything. As long as the wishes are impossible together, a core of them says
// what at least one of must be given up: that is paid for, and the wish is now that no more than one of them is, later
// no more than two, and so on. The first model of all wishes is then the least. Wishes are heard from the heaviest
// down, so that cores have heavy wishes.
//
// Source: Andres, Kaufmann, Matheis and Schaub, Unsatisfiability-based optimization in clasp, ICLP 2012 (OLL); from
// memory. ~A search from above, asking for less after each model, has to prove the last step over the whole sum at
// once; here each core is about a few wishes. Boats deviate in few slots, so that few cores are paid for.
func (s *Solver) Minimise(lits []Lit, weights []int64, assumptions ...Lit) (Optimum, error) {
	s.known(assumptions)
	s.known(lits)
	if err := (Sum{Lits: lits, Weights: weights}).check(); err != nil {
		return Optimum{}, err
	}
	s.recall()
	b := s.budget()
	if status := s.solve(b, assumptions); status != Sat {
		return Optimum{Status: status}, nil
	}
	best := Optimum{Sat, s.model.Weigh(lits, weights), s.model}
	w := newWishes(s, lits, weights)
	defer w.withdraw()
	for w.paid < best.Weight {
		switch s.solve(b, append(w.heard(), assumptions...)) {
		case Unknown:
			best.Status = Unknown
			return best, nil
		case Sat:
			if weight := s.model.Weigh(lits, weights); weight < best.Weight {
				best = Optimum{Sat, weight, s.model}
			}
			// The wishes heard can all be had; now lighter ones are heard too.
			w.from /= 2
		case Unsat:
			w.pay(s.core)
		}
	}
	s.core = nil
	return best, nil
}

// wishes are literals that should be true, each at a price.
type wishes struct {
	solver *Solver
	all    []*wish
	paid   int64 // what every model costs
	from   int64 // wishes of at least this weight are heard
}

// wish is a literal that should be true. It may stand for: at most bound of these are.
type wish struct {
	lit    Lit
	weight int64
	of     []Lit
	bound  int64
}

// newWishes are that literals with a positive weight are false and those with a negative one true. What is left of a
// variable's weight when both its literals weigh is paid by every model.
func newWishes(s *Solver, lits []Lit, weights []int64) *wishes {
	w := &wishes{solver: s, from: 1}
	n, _ := s.normal(Sum{Lits: lits, Weights: weights})
	w.paid = -n.bound
	for i, l := range n.lits {
		w.all = append(w.all, &wish{lit: -l, weight: n.weights[i]})
		w.from = max(w.from, n.weights[i])
	}
	return w
}

// heard are the wishes that are heavy enough, the heaviest first.
func (w *wishes) heard() []Lit {
	slices.SortStableFunc(w.all, func(a, b *wish) int { return cmp.Compare(b.weight, a.weight) })
	var lits []Lit
	for _, x := range w.all {
		if x.weight >= max(1, w.from) {
			lits = append(lits, x.lit)
		}
	}
	return lits
}

// pay takes the weight of the lightest wish of a core off all of them, and wishes that no more than one of them is
// given up. All of them are, by the lightest: what is left of a heavier one is a wish still, and may be in a core
// again.
func (w *wishes) pay(core []Lit) {
	var denied []*wish
	price := int64(heaviest)
	for _, x := range w.all {
		if x.weight > 0 && slices.Contains(core, x.lit) {
			denied = append(denied, x)
			price = min(price, x.weight)
		}
	}
	w.paid += price
	var given []Lit
	for _, x := range denied {
		x.weight -= price
		given = append(given, -x.lit)
		w.add(x.of, x.bound+1, price)
	}
	w.add(given, 1, price)
}

// add wishes that at most bound of some literals are true.
func (w *wishes) add(of []Lit, bound, weight int64) {
	if int64(len(of)) <= bound {
		return
	}
	on := w.solver.NewVar()
	// Sums without weights cannot be wrong.
	_ = w.solver.AddSum(Sum{On: on, Lits: of, Bound: bound})
	w.all = append(w.all, &wish{on, weight, of, bound})
}

// withdraw makes the literals that were made for wishes false, so that their sums hold from now on.
func (w *wishes) withdraw() {
	for _, x := range w.all {
		if x.of != nil {
			w.solver.Add(-x.lit)
		}
	}
}
