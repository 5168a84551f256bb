package proof

import (
	"fmt"
	"math"

	"ribband/core/formula"
	"ribband/core/pack"
	"ribband/core/spec"
	"ribband/core/takeoff"
)

// Owner is what of the book a formula belongs to.
type Owner string

const (
	OfHull   Owner = "hull"
	OfOption Owner = "option"
	OfSlot   Owner = "slot"
	OfRule   Owner = "rule"
	OfFigure Owner = "figure"
)

// Formula is one of the book's. What a cut or a circuit measures has no formula that could be bounded: layouts are
// computed, and only tried.
type Formula struct {
	Owner   Owner
	Index   int    // of the owner, in the pack
	What    string // "hours of sew-canvas"
	At      int    // where the yard's pack knows its place: an index of its sources; else -1
	program formula.Program
	atLeast float64        // the least value that it may have
	measure takeoff.Amount // of what a cut or a circuit measures; then there is no program
	line    *pack.BOMLine  // likewise
}

// Formulas is what was proved of them: each on each hull, for all uses. They are counted by formula and hull, since a
// formula may be safe on one hull and open on another.
type Formulas struct {
	Safe  int `json:"safe" jsonschema:"description=no boat of the hull divides by zero in it, or gets less from it than may be"`
	Open  int `json:"open" jsonschema:"description=neither proved nor refuted; each is listed among what is open"`
	Tried int `json:"tried" jsonschema:"description=quantities that a cut or a circuit measures: tried on every boat that was found on the way"`
}

// listed are the formulas of the book, those twice alike in one place once. Amounts, hours and prices may not be
// negative, which a formula that subtracts can come to; places and figures may. The order is that of the pack.
func (p *prover) listed() (list []Formula) {
	add := func(owner Owner, i int, what string, at int, f formula.Program, least float64) {
		if !f.Empty() {
			list = append(list, Formula{Owner: owner, Index: i, What: what, At: at, program: f, atLeast: least})
		}
	}
	anything, takeoffs := math.Inf(-1), takeoff.New(p.pack)
	item := func(owner Owner, i int, it *pack.BillOfMaterials) {
		for k := range it.Materials {
			n := &it.Materials[k]
			what := ""
			if n.Circuit != nil {
				what = string(n.Circuit.Part) + " of circuit " + p.pack.Circuits[n.Circuit.Circuit].ID
			} else {
				what = "quantity of " + p.pack.Costs.Materials[n.Index].ID
			}
			if n.Amount.Empty() {
				list = append(list, Formula{Owner: owner, Index: i, What: what, At: n.At, measure: takeoffs.Of(n),
					line: &pack.BOMLine{Cut: n.Cut, Circuit: n.Circuit}})
			}
			add(owner, i, what, n.At, n.Amount, 0)
		}
		for _, n := range it.Operations {
			// of outside work it is a quantity, in the unit of its price
			op, what := &p.pack.Costs.Operations[n.Index], "hours of "
			if op.Outside != nil {
				what = "quantity of "
			}
			add(owner, i, what+op.ID, n.At, n.Amount, 0)
		}
		for _, t := range it.List {
			add(owner, i, "price", t.At, t.Per, 0)
			add(owner, i, "condition of the price", t.At, t.When, anything)
		}
	}
	place := func(owner Owner, i int, at *pack.Place) {
		if at != nil {
			for _, f := range []formula.Program{at.X, at.Y, at.Z} {
				add(owner, i, "place", -1, f, anything)
			}
		}
	}
	points := func(owner Owner, i int, list *pack.Points) {
		for _, x := range list.All() {
			place(owner, i, &x.Place)
			add(owner, i, "immersion", -1, x.Immersed, anything)
		}
	}
	carries := func(owner Owner, i int, list []pack.Contribution) {
		for _, c := range list {
			add(owner, i, p.pack.Figures[c.Figure].ID, -1, c.Amount, anything)
		}
	}
	for i := range p.pack.Hulls {
		h := &p.pack.Hulls[i]
		item(OfHull, i, &p.pack.Costs.Hulls[i])
		carries(OfHull, i, h.Carries)
		place(OfHull, i, h.Place)
		if h.Seats != nil {
			place(OfHull, i, &h.Seats.Place)
			add(OfHull, i, "seats", -1, h.Seats.Side, anything)
		}
		points(OfHull, i, &h.Points)
	}
	for i, s := range p.pack.Slots {
		add(OfSlot, i, "condition", -1, s.When, anything)
		place(OfSlot, i, s.Place)
	}
	for i := range p.pack.Options {
		o := &p.pack.Options[i]
		item(OfOption, i, &p.pack.Costs.Options[i])
		carries(OfOption, i, o.Carries)
		place(OfOption, i, o.Place)
		if x := o.Extent; x != nil {
			for _, f := range []formula.Program{x.Length, x.Width, x.Height} {
				add(OfOption, i, "extent", -1, f, anything)
			}
		}
		points(OfOption, i, &o.Points)
	}
	for i, f := range p.pack.Figures {
		add(OfFigure, i, "formula", -1, f.Formula, anything)
	}
	for i, r := range p.pack.Rules {
		add(OfRule, i, "condition", -1, asked(&r), anything)
	}
	return list
}

// formulas tells whether one of them fails; what a cut or a circuit measures is tried on the boats that were found. A
// formula is proved and not tried: bounds hold for boats that nobody has thought of.
func (p *prover) formulas(q *questions) {
	tries := p.tries(q)
	for i := range q.list {
		if f := &q.list[i]; f.measure == nil {
			p.proved(f, q.formulas[i].is)
		} else {
			p.measured(f, tries[i].is)
		}
	}
}

// tries are the questions about what is measured, by place in the list. What they are tried on is part of them.
func (p *prover) tries(q *questions) map[int]*ask {
	boats := make([]Boat, len(p.boats))
	for i, st := range p.boats {
		boats[i] = boatOf(st)
	}
	var list []*ask
	all, of := digestOf(boats, p.digests.parts), map[int]*ask{}
	for i := range q.list {
		if f := &q.list[i]; f.measure != nil {
			of[i] = &ask{name: "measure of " + q.names[i], more: []any{all, f.Owner, f.Index, f.line},
				run: func() *Finding { return p.try(f) }}
			list = append(list, of[i])
		}
	}
	p.fill(list)
	p.answer(list...)
	return of
}

// fill computes the figures of boats that are known by their counts alone, where one of the questions needs them.
func (p *prover) fill(list []*ask) {
	for _, x := range list {
		if x.keys = p.digests.keys(x.name, x.more...); !p.recall(x) {
			for _, st := range p.unfilled {
				p.figs.Fill(st)
			}
			return
		}
	}
}

// proved tells of a formula: on how many hulls it is safe, on which that is open, and the boat on which it fails.
func (p *prover) proved(f *Formula, is *Finding) {
	if is.err != nil {
		p.err = is.err
	}
	p.proof.Formulas.Safe += is.Safe
	p.proof.Formulas.Open += len(is.Open)
	for _, h := range is.Open {
		own := *f
		p.unknown(Diagnostic{Kind: Unsafe, Formula: &own,
			Advice: "guard it: see the divisions under Formulas in the README of the book; or let it follow from " +
				"fewer slots"},
			fmt.Sprintf("whether %s of %s %s holds on every boat of %s", f.What, f.Owner, p.owner(f),
				p.pack.Hulls[h].ID),
			fmt.Sprintf("Tried: bounds over up to %d parts of these boats, divided by slots and values of the use",
				mostParts))
	}
	if is.Spec != nil {
		p.unsafe(f, is.Spec, is.Gives)
	}
}

// measured tells of what was measured on every boat that was found and needs it. The first failure is enough to show.
// It proves nothing of other boats, which the count says: tried, and not safe.
func (p *prover) measured(f *Formula, is *Finding) {
	if is.Spec != nil {
		p.unsafe(f, is.Spec, is.Gives)
		return
	}
	p.proof.Formulas.Tried++
}

// try does so: boat by boat in the order in which they were found, and so with the same witness every time.
func (p *prover) try(f *Formula) *Finding {
	for _, b := range p.boats {
		if f.inUse(b) {
			if _, _, err := f.measure(b); err != nil {
				witness := p.engine.SpecOf(b.HullID, b.Use, p.least(b))
				return &Finding{Spec: &witness, Gives: err.Error()}
			}
		}
	}
	return &Finding{}
}

// inUse says whether a boat needs a formula. Of the others every boat may need the value, and bounds allow for all of
// them.
func (f *Formula) inUse(st *formula.State) bool {
	switch f.Owner {
	case OfHull:
		return f.Index == st.HullID
	case OfOption:
		return st.Counts[f.Index] > 0
	}
	return true
}

// unsafe tells of a formula that fails, with the boat on which it does.
func (p *prover) unsafe(f *Formula, witness *spec.Spec, gives string) {
	own := *f
	p.find(Diagnostic{Kind: Unsafe, Formula: &own, Message: fmt.Sprintf("%s of %s %s %s on a boat that can be built",
		f.What, f.Owner, p.owner(f), gives),
		Advice:  "change the formula so that it holds on this boat too, or forbid the boat by a rule",
		Witness: witness})
}

// formula proves one on each hull by itself: hull fields are numbers then, and bounds much narrower. One witness is
// enough: behind a hull on which it fails no other is looked at.
func (p *prover) formula(f *Formula) *Finding {
	is := &Finding{Bounded: true}
	for h := range p.pack.Hulls {
		if !p.concerns(f, h) {
			continue
		}
		s := p.newSplitting(f, h)
		v := s.part(s.start(), s.everyUse())
		is.Bounded, is.Rules = is.Bounded && !s.asked, append(is.Rules, s.rules...)
		switch v {
		case holds:
			is.Safe++
		case fails:
			witness := p.engine.SpecOf(h, s.failing.Use, p.least(s.failing))
			is.Spec, is.Gives = &witness, s.gives(s.failing)
			return is
		default:
			is.Open = append(is.Open, h)
		}
	}
	return is
}

// concerns says whether boats of a hull ever use a formula. A figure and a rule are read on every hull.
func (p *prover) concerns(f *Formula, hull int) bool {
	switch f.Owner {
	case OfHull:
		return f.Index == hull
	case OfOption:
		return p.pack.Offered(f.Index, hull)
	case OfSlot:
		return p.pack.Exists(f.Index, hull)
	}
	return true
}

// owner names whose a formula is, as the book does.
func (p *prover) owner(f *Formula) string {
	switch f.Owner {
	case OfHull:
		return p.pack.Hulls[f.Index].ID
	case OfOption:
		return p.pack.Options[f.Index].ID
	case OfSlot:
		return p.pack.Slots[f.Index].ID
	case OfRule:
		return p.pack.Rules[f.Index].ID
	}
	return p.pack.Figures[f.Index].ID
}
