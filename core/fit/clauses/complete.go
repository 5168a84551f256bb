package clauses

import (
	"fmt"
	"slices"

	"ribband/core/fit/sat"
	"ribband/core/fit/why"
	"ribband/core/formula"
	"ribband/core/pack"
)

// Limits bound the effort of [Clauses.Complete]. They count work and not time.
type Limits struct {
	Boats int        // that the solver may propose
	Sat   sat.Limits // of each proposal
	Proof bool       // keep what confirms that there is no boat
}

// DefaultLimits are part of a second on a real book. A question that a first search leaves open is mostly answered by
// the first boats or by none. The limit on boats is for rules that bounds do not explain, see because; the one on
// conflicts bounds a single proposal.
var DefaultLimits = Limits{Boats: 60, Sat: sat.Limits{Conflicts: 20_000}}

// Question asks for a boat with some choices. Selectors make it one of other rules than those of the book.
type Question struct {
	Settled []bool            // by slot
	Counts  []int             // by option, of the settled slots
	Off     []int             // rules that do not count
	More    []formula.Program // conditions that are rules, too; numbered on after those of the book
	Any     bool              // any boat does, the nearest or not
}

// Answer is what is known of a [Question]. Sat comes with the boat of which no other with the choices deviates less
// from the default content of the soft slots, or with any. Unsat comes with the rules and settled slots that together,
// with what slots may hold at all, allow no boat: none could be left out by what was learnt, though there may be a
// smaller set.
type Answer struct {
	Status     sat.Status
	Counts     []int // by option
	Deviations int
	Rules      []int
	Slots      []int
	Fields     []int // of the use, where there is no boat: whatever the others are, it stays so
	Proposed   int   // boats
	Proof      *sat.Proof
	Core       []sat.Lit // what the proof confirms to be impossible
}

// Complete fills the soft slots with the fewest deviations. The solver proposes a boat of the fewest deviations that
// the clauses allow; if it breaks a lazy rule, or cannot be computed, a no-good that says why is added, and the solver
// proposes another. An error says that the book is too large. Fewest deviations under some of the clauses is a lower
// bound, and no-goods only raise it: the first proposal that breaks nothing is therefore nearest.
func (c *Clauses) Complete(ask Question, limits Limits) (*Answer, error) {
	if c.wrong != nil {
		return nil, c.wrong
	}
	for s, settled := range ask.Settled {
		if settled && !c.mayHold(s, ask.Counts) {
			return &Answer{Status: sat.Unsat, Slots: []int{s}}, nil
		}
	}
	q, err := c.query(ask, limits)
	if err != nil {
		return nil, fmt.Errorf("completing a boat: %w", err)
	}
	return q.complete(limits.Boats)
}

// mayHold says whether a slot can hold what is chosen at all. More pieces than an option has variables cannot be put to
// the solver: there is no literal for them. So this is answered before, with the slot as the reason.
func (c *Clauses) mayHold(slot int, counts []int) bool {
	def := &c.pack.Slots[slot]
	for o := def.First; o < def.End; o++ {
		if counts[o] > len(c.counts[o]) || counts[o] < 0 {
			return false
		}
	}
	return true
}

// query is one question under way. Its clauses are those of the book with what the question adds, and its solver is
// new, so that nothing of a question is left behind.
type query struct {
	*Clauses       // with what the question adds
	solver         *sat.Solver
	why            *why.Why
	lazyConditions []lazyCondition
	assumptions    []sat.Lit
	slotOf         map[int]int // by variable: the settled slot that an assumption is of
	deviations     []sat.Lit
	any            bool // any boat does
	computed       bool // something was learnt from figures that could not be computed
}

// query hands everything to a new solver: what one question learns must not change the answer to the next.
func (c *Clauses) query(ask Question, limits Limits) (*query, error) {
	var more []pack.Rule
	for _, need := range ask.More {
		more = append(more, pack.Rule{Need: need})
	}
	q := &query{Clauses: c.with(more), solver: sat.New(0), why: why.New(c.figures, len(c.pack.Slots)),
		lazyConditions: slices.Clip(c.learning().lazy), slotOf: map[int]int{}, any: ask.Any}
	for _, r := range q.lazy[len(c.lazy):] {
		q.lazyConditions = append(q.lazyConditions, q.lazyRule(r))
	}
	if limits.Proof {
		q.solver.Proof = &sat.Proof{}
	}
	q.solver.Limits = limits.Sat
	if err := q.solver.AddFormula(c.Formula()); err != nil {
		return nil, err
	}
	q.assume(ask)
	return q, nil
}

// assume assumes the rules that count and what is settled, and finds what would deviate.
func (q *query) assume(ask Question) {
	q.assumptions = slices.Clone(q.selectors)
	for _, r := range ask.Off {
		q.assumptions[r] = -q.assumptions[r]
	}
	for s := range q.pack.Slots {
		def := &q.pack.Slots[s]
		if !ask.Settled[s] {
			q.deviate(s)
			continue
		}
		for o := def.First; o < def.End; o++ {
			for k, l := range q.counts[o] {
				q.assumptions = append(q.assumptions, sign(l, k < ask.Counts[o]))
				q.slotOf[l.Var()] = s
			}
		}
	}
	// A deviation that cannot be costs nothing to wish away, and only lengthens the sum.
	q.deviations = slices.DeleteFunc(q.deviations, func(l sat.Lit) bool { return l == -yes })
	for q.solver.Variables() < q.variables {
		q.solver.NewVar()
	}
	for _, clause := range q.gates.clauses {
		q.solver.Add(clause...)
	}
}

// deviate makes the literals for what in a soft slot is not as its default: of the whole slot, or in a slot of multiple
// of each option. The preferences let the first model be near the standard build, so that the least sum is soon met.
func (q *query) deviate(slot int) {
	def := &q.pack.Slots[slot]
	var alike []sat.Lit
	for o := def.First; o < def.End; o++ {
		if len(q.counts[o]) == 0 {
			continue
		}
		same := q.and(q.AtLeast(o, q.defaults[o]), -q.AtLeast(o, q.defaults[o]+1))
		for k, l := range q.counts[o] {
			q.solver.Prefer(sign(l, k < q.defaults[o]))
		}
		if alike = append(alike, same); def.Multiple {
			q.deviations = append(q.deviations, q.and(q.open[slot], -same))
		}
	}
	if !def.Multiple {
		q.deviations = append(q.deviations, q.and(q.open[slot], -q.and(alike...)))
	}
}

func (q *query) complete(boats int) (*Answer, error) {
	for proposed := 1; proposed <= boats; proposed++ {
		best, err := q.propose()
		if err != nil {
			return nil, fmt.Errorf("completing a boat: %w", err)
		}
		switch best.Status {
		case sat.Unsat:
			return q.infeasible(proposed - 1), nil
		case sat.Unknown:
			return &Answer{Proposed: proposed - 1}, nil
		}
		st := q.state(best.Model)
		learnt := q.noGoods(st, best.Model)
		q.computed = q.computed || len(st.Faults) > 0
		if len(learnt) == 0 {
			return &Answer{Status: sat.Sat, Counts: st.Counts, Deviations: int(best.Weight), Proposed: proposed}, nil
		}
		for _, clause := range learnt {
			q.solver.Add(clause...)
		}
	}
	return &Answer{Proposed: boats}, nil
}

// propose is the boat of the fewest deviations that the clauses allow; where any does, the first that is met. That one
// is near the standard build too, since the solver guesses that first: what it saves is the proof that none is nearer.
func (q *query) propose() (sat.Optimum, error) {
	if !q.any {
		return q.solver.Minimise(q.deviations, nil, q.assumptions...)
	}
	out := sat.Optimum{Status: q.solver.Solve(q.assumptions...)}
	if out.Status == sat.Sat {
		out.Model = q.solver.Model()
		out.Weight = out.Model.Weigh(q.deviations, nil)
	}
	return out, nil
}

// infeasible tells the core in rules and slots. It is made minimal over all assumptions, since a person reads it: of
// what was settled and of the rules only those come that are needed for this proof.
func (q *query) infeasible(proposed int) *Answer {
	core, _ := q.solver.MinimalCore(q.assumptions...)
	out := &Answer{Status: sat.Unsat, Proposed: proposed, Proof: q.solver.Proof, Core: core}
	for _, l := range core {
		switch s, settled := q.slotOf[l.Var()]; {
		case !settled && slices.Contains(q.selectors, l): // that a rule does not count is no reason
			out.Rules = append(out.Rules, slices.Index(q.selectors, l))
		case settled && !slices.Contains(out.Slots, s):
			out.Slots = append(out.Slots, s)
		}
	}
	slices.Sort(out.Rules)
	out.Fields = q.fields(out.Rules)
	return out
}

// fields are those of the use that some rules read, the conditions of slots, and the figures of modules where these
// count. Conditions of all slots count, whether they took part or not: clauses do not tell which of them did. More
// fields than needed cost a question again, fewer would prove too much.
func (q *query) fields(rules []int) []int {
	list := []formula.Reads{}
	for _, r := range rules {
		list = append(list, q.rules[r].When.Reads(), q.rules[r].Need.Reads())
	}
	for i := range q.pack.Slots {
		list = append(list, q.pack.Slots[i].When.Reads())
	}
	if q.computed {
		list = append(list, modules(q.pack))
	}
	return q.figures.Resolve(formula.Union(list)).Use
}
