package clauses

import (
	"fmt"
	"slices"

	"ribband/core/fit"
	"ribband/core/fit/sat"
	"ribband/core/formula"
)

// Limits bound the effort of [Clauses.Complete]. They count work and not time.
type Limits struct {
	Boats int        // that the solver may propose
	Sat   sat.Limits // of each proposal
	Proof bool       // keep what confirms that a wish is impossible
}

// DefaultLimits are part of a second on a real book. A wish that a first search leaves open is mostly proved by the
// first boats or by none.
var DefaultLimits = Limits{Boats: 60, Sat: sat.Limits{Conflicts: 20_000}}

// Completion is the answer of [Clauses.Complete]. With [fit.Optimal] it is a boat of which no other with the choices
// deviates less from what the soft slots hold by themselves; with [fit.Infeasible] it says which rules and settled slots
// together, with what slots may hold at all, allow no boat: none could be left out by what was learnt, though there may
// be a smaller set. Otherwise it is [fit.Unknown], without a boat.
type Completion struct {
	Status     fit.Status
	Counts     []int // by option
	Deviations int
	Rules      []int
	Slots      []int
	Fields     []int // of the use, of an impossible wish: whatever the others are, it stays so
	Proposed   int   // boats
	Proof      *sat.Proof
	Core       []sat.Lit // what the proof confirms to be impossible
}

// Complete fills the soft slots as [fit.Fit.Complete] does, with the fewest deviations, by another method. The solver
// proposes a boat of the fewest deviations that the clauses allow; if it breaks a lazy rule, or cannot be computed, a
// clause that says why is added, and the solver proposes another. An error says that the book is too large.
func (c *Clauses) Complete(choices fit.Choices, limits Limits) (*Completion, error) {
	if c.wrong != nil {
		return nil, c.wrong
	}
	for s, settled := range choices.Settled {
		if settled && !c.mayHold(s, choices.Counts) {
			return &Completion{Status: fit.Infeasible, Slots: []int{s}}, nil
		}
	}
	a := query{Clauses: c, gates: gates{variables: c.variables, known: map[string]sat.Lit{}}, solver: sat.New(0),
		slotOf: map[int]int{}}
	if limits.Proof {
		a.solver.Proof = &sat.Proof{}
	}
	a.solver.Limits = limits.Sat
	if err := a.solver.AddFormula(c.Formula()); err != nil {
		return nil, fmt.Errorf("completing a boat: %w", err)
	}
	a.wish(choices)
	return a.complete(limits.Boats)
}

// mayHold says whether a slot can hold what is chosen at all.
func (c *Clauses) mayHold(slot int, counts []int) bool {
	def := &c.pack.Slots[slot]
	for o := def.First; o < def.End; o++ {
		if counts[o] > len(c.counts[o]) || counts[o] < 0 {
			return false
		}
	}
	return true
}

// query is one wish under way.
type query struct {
	*Clauses
	gates       gates // of this wish
	solver      *sat.Solver
	assumptions []sat.Lit
	slotOf      map[int]int // by variable: the settled slot that an assumption is of
	deviations  []sat.Lit
	noGoods     *noGoods
	computed    bool // something was learnt from figures that could not be computed
}

// wish assumes the rules and what is settled, and finds what would deviate.
func (a *query) wish(choices fit.Choices) {
	a.assumptions = slices.Clone(a.selectors)
	for s := range a.pack.Slots {
		def := &a.pack.Slots[s]
		if !choices.Settled[s] {
			a.deviate(s)
			continue
		}
		for o := def.First; o < def.End; o++ {
			for k, l := range a.counts[o] {
				a.assumptions = append(a.assumptions, sign(l, k < choices.Counts[o]))
				a.slotOf[l.Var()] = s
			}
		}
	}
	a.flush()
}

// deviate makes the literals for what in a soft slot is not as it is by itself: of the whole slot, or in a slot of
// several of each option.
func (a *query) deviate(slot int) {
	def := &a.pack.Slots[slot]
	var alike []sat.Lit
	for o := def.First; o < def.End; o++ {
		if len(a.counts[o]) == 0 {
			continue
		}
		same := a.gates.and(a.AtLeast(o, a.defaults[o]), -a.AtLeast(o, a.defaults[o]+1))
		for k, l := range a.counts[o] {
			a.solver.Prefer(sign(l, k < a.defaults[o]))
		}
		if alike = append(alike, same); def.Multiple {
			a.deviations = append(a.deviations, a.gates.and(a.open[slot], -same))
		}
	}
	if !def.Multiple {
		a.deviations = append(a.deviations, a.gates.and(a.open[slot], -a.gates.and(alike...)))
	}
}

// flush hands the gates that were made to the solver.
func (a *query) flush() {
	for a.solver.Variables() < a.gates.variables {
		a.solver.NewVar()
	}
	for _, clause := range a.gates.clauses {
		a.solver.Add(clause...)
	}
	a.gates.clauses = nil
}

func (a *query) complete(boats int) (*Completion, error) {
	a.deviations = slices.DeleteFunc(a.deviations, func(l sat.Lit) bool { return l == -yes })
	a.noGoods = newNoGoods(a.Clauses)
	for proposed := 1; proposed <= boats; proposed++ {
		best, err := a.solver.Minimise(a.deviations, nil, a.assumptions...)
		if err != nil {
			return nil, fmt.Errorf("completing a boat: %w", err)
		}
		switch best.Status {
		case sat.Unsat:
			return a.impossible(proposed - 1), nil
		case sat.Unknown:
			return &Completion{Status: fit.Unknown, Proposed: proposed - 1}, nil
		}
		st := a.state(best.Model)
		learnt := a.noGoods.of(st, best.Model)
		a.computed = a.computed || len(st.Faults) > 0
		if len(learnt) == 0 {
			return &Completion{Status: fit.Optimal, Counts: st.Counts, Deviations: int(best.Weight),
				Proposed: proposed}, nil
		}
		for _, clause := range learnt {
			a.solver.Add(clause...)
		}
	}
	return &Completion{Status: fit.Unknown, Proposed: boats}, nil
}

// impossible tells the core in rules and slots.
func (a *query) impossible(proposed int) *Completion {
	core, _ := a.solver.MinimalCore(a.assumptions...)
	out := &Completion{Status: fit.Infeasible, Proposed: proposed, Proof: a.solver.Proof, Core: core}
	for _, l := range core {
		if s, settled := a.slotOf[l.Var()]; !settled {
			out.Rules = append(out.Rules, slices.Index(a.selectors, l))
		} else if !slices.Contains(out.Slots, s) {
			out.Slots = append(out.Slots, s)
		}
	}
	slices.Sort(out.Rules)
	out.Fields = a.fields(out.Rules)
	return out
}

// fields are those of the use that some rules read, the conditions of slots, and the figures of modules where these
// count.
func (a *query) fields(rules []int) []int {
	list := []formula.Reads{}
	for _, r := range rules {
		list = append(list, a.pack.Rules[r].When.Reads(), a.pack.Rules[r].Need.Reads())
	}
	for i := range a.pack.Slots {
		list = append(list, a.pack.Slots[i].When.Reads())
	}
	if a.computed {
		list = append(list, modules(a.pack))
	}
	return a.figures.Resolve(formula.Union(list)).Use
}
