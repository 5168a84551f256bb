package engine

import (
	"errors"

	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/spec"
	"ribband/core/suggest"
)

// What a search for boats asks of the engine: package core/brief leads it.

// listed are the listed prices, for a hunt. They are net of tax and by themselves; how they are shown depends on the
// region.
type listed struct{ engine *Engine }

// Net is what a boat costs, all together.
func (l listed) Net(st *formula.State) (int64, error) {
	return l.engine.prices.Sum(st, l.engine.Pack.Made)
}

// Least bounds from below what one of an option, or the base boat (-1), costs in all boats that the free slots leave
// open.
func (l listed) Least(option int, st *formula.State, free []bool) int64 {
	return l.engine.prices.Least(option, st, free)
}

// Listed are the prices for a hunt, in ten-thousandths net of tax; an error where the pack lists none.
func (e *Engine) Listed() (fit.Prices, error) {
	if e.prices == nil {
		return nil, errors.New("searching boats: this pack lists no prices; publish the book again")
	}
	return listed{e}, nil
}

// ResolveUse is a use with what somebody states of it; what the book does not know or allow is noted and left as the
// book assumes. A change of one field is checked by it before the boat is changed.
func (e *Engine) ResolveUse(use map[string]spec.Value) ([]float64, []Unresolved) {
	w := &request{use: e.StandardUse()}
	for _, field := range keys(use) {
		e.resolveUse(w, field, use[field])
	}
	return w.use, w.notes
}

// ResolveChoices are choices by slot; what the book does not know is noted and left out.
func (e *Engine) ResolveChoices(choices map[string]map[string]int) (fit.Choices, []Unresolved) {
	w := &request{choices: e.Fit.NewChoices()}
	for _, slot := range keys(choices) {
		e.resolveSlot(w, slot, choices[slot])
	}
	return w.choices, w.notes
}

// FindHull finds a hull by its identifier; place is where in a file it stands, for the error.
func (e *Engine) FindHull(place, id string) (int, error) {
	h, ok := e.hulls[id]
	if !ok {
		known := keys(e.hulls)
		problem := msg.New("engine.unknown-hull", msg.Text("hull", suggest.Clip(id, 60)))
		remedy := nearest(id, known, msg.New("engine.hulls", msg.Texts("known", msg.Commas, known)))
		return 0, &msg.Error{Message: Unresolved{place, problem, remedy}.Message()}
	}
	return h, nil
}

// FindSlot finds a slot by its identifier.
func (e *Engine) FindSlot(id string) (int, bool) {
	s, ok := e.slots[id]
	return s, ok
}

// SpecOf is the spec of choices on a hull for a use: what differs from what the book assumes. What the book assumes is
// left out, so that the spec follows the book when that assumes something else.
func (e *Engine) SpecOf(hull int, use []float64, c fit.Choices) spec.Spec {
	s := spec.Spec{Format: spec.Format, Hull: e.Pack.Hulls[hull].ID, Choices: e.choicesOf(c)}
	for i, v := range use {
		u := &e.Pack.Use[i]
		// what the book assumes need not be said
		if v == u.Standard {
			continue
		}
		if s.Use == nil {
			s.Use = map[string]spec.Value{}
		}
		s.Use[u.ID] = e.UseValue(i, v)
	}
	return s
}

// UseValue is a value of a use field as a spec has it.
func (e *Engine) UseValue(field int, v float64) spec.Value {
	if choices := e.Pack.Use[field].Choices; len(choices) > 0 {
		return spec.Value{Choice: choices[int(v)].ID}
	}
	return spec.Value{Number: v}
}

// Totals gives what boats of a use cost with tax as the customer pays it, without what a salesperson adds. The standard
// build of each hull is completed once for all of its boats.
func (e *Engine) Totals(use []float64) func(st *formula.State) (money.Amount, error) {
	standard := map[int]*fit.Build{}
	return func(st *formula.State) (money.Amount, error) {
		if standard[st.HullID] == nil {
			standard[st.HullID] = e.Fit.CompleteDeep(st.HullID, use, e.Fit.NewChoices())
		}
		a := &Answer{Hull: st.HullID, Build: &fit.Build{State: st}, Standard: standard[st.HullID]}
		lines, err := e.lines(a)
		if err != nil {
			return money.Amount{}, err
		}
		sheet, err := e.Pricing.Sheet(price.Deal{Lines: lines}, e.Region(a.Build))
		if err != nil {
			return money.Amount{}, err
		}
		return sheet.Total, nil
	}
}

// Hours are the build hours of a boat in all shops; false on a desk that does not know them. A boat on which a formula
// of an operation fails has none.
func (e *Engine) Hours(st *formula.State) (sum measure.Hours, ok bool) {
	if !e.Pack.Can(pack.Hours) {
		return 0, false
	}
	sum, err := e.Work.Hours(st)
	return sum, err == nil
}

// NetBelow is a net price, in ten-thousandths, that no boat of a use exceeds which costs at most a total with tax; at
// least 1, and 0 where it is too large to count. A search cuts off by it what is
// too dear without pricing whole boats. A sheet has a line for each slot and four more at most.
func (e *Engine) NetBelow(total money.Amount, use []float64) int64 {
	var r *pack.Region
	if f := e.Pack.RegionField; f >= 0 {
		r = &e.Pack.Regions[int(use[f])]
	}
	return e.prices.NetBelow(total, r, len(e.Pack.Slots)+4)
}

// FindShop is the index of a shop by its identifier. The order is that of hours by shop, as everywhere.
func (e *Engine) FindShop(id string) (int, error) {
	if i, ok := e.shops[id]; ok {
		return i, nil
	}
	known := keys(e.shops)
	return 0, msg.Fault("engine.no-shop", msg.Text("shop", suggest.Clip(id, 40)),
		msg.Words("remedy", nearest(id, known, msg.New("engine.shops", msg.Texts("known", msg.Commas, known)))))
}
