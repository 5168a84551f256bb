// Package engine computes: [Compile] a pack once, then [Engine.Answer] specs against it.
//
// An answer is everything that the desk of the pack may know about one spec: the complete boat, what clashes in it, its
// figures, the price line by line, and on the show's and the yard's desk cost, margin and hours. Package core/quote
// freezes it for a customer. Numbers and dates come in from outside, since nothing here reads a clock.
package engine

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"ribband/core/cost"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/price"
	"ribband/core/spec"
	"ribband/core/suggest"
	"ribband/core/takeoff"
)

// Engine answers specs against one pack. It is not changed by answering, so that many may ask at once.
type Engine struct {
	Pack     *pack.Pack
	Fit      *fit.Fit
	Figures  *figures.Figures
	Costing  *cost.Costing // nil without the costs
	Pricing  *price.Pricing
	prices   *price.Index // nil without tables of prices
	Takeoffs *takeoff.Takeoffs
	programs []formula.Program  // by place in the book; with the work, like the following
	Measured map[int]*pack.Need // what is measured and not stated, by place
	hulls    map[string]int
	slots    map[string]int
	options  map[string]int
	uses     map[string]int
	shops    map[string]int
	Order    []int // of operations, as they are done; with the work
}

// Compile prepares a pack.
func Compile(p *pack.Pack) (*Engine, error) {
	figs, err := figures.Compile(p)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	costing, err := cost.Compile(p)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	pricing, err := price.Compile(p, costing)
	if err != nil {
		return nil, fmt.Errorf("compiling a pack: %w", err)
	}
	e := &Engine{Pack: p, Fit: fit.Compile(p, figs), Figures: figs, Costing: costing, Pricing: pricing,
		prices: pricing.Index(), Takeoffs: takeoff.New(p)}
	e.programs, e.Measured = programs(p)
	e.hulls = indexed(p.Hulls, func(h pack.Hull) string { return h.ID })
	e.slots = indexed(p.Slots, func(s pack.Slot) string { return s.ID })
	e.options = indexed(p.Options, func(o pack.Option) string { return o.ID })
	e.uses = indexed(p.Use, func(u pack.UseField) string { return u.ID })
	if p.Costs != nil {
		e.shops = indexed(p.Costs.Shops, func(s pack.Shop) string { return s.ID })
	}
	if p.Work != nil {
		e.Order = p.Work.BuildOrder()
	}
	return e, nil
}

func indexed[T any](list []T, id func(T) string) map[string]int {
	m := make(map[string]int, len(list))
	for i, x := range list {
		m[id(x)] = i
	}
	return m
}

// Unresolved is something in a spec that this edition cannot use, with the place and the remedy.
type Unresolved struct {
	Place   string
	Message string
	Advice  string
}

func (n Unresolved) String() string { return n.Place + ": " + n.Message + "; " + n.Advice }

// request is a spec in the indices of the pack.
type request struct {
	hull    int
	use     []float64
	choices fit.Choices
	extras  []cost.Extra
	notes   []Unresolved
}

func (w *request) note(place, advice, format string, args ...any) {
	w.notes = append(w.notes, Unresolved{place, fmt.Sprintf(format, args...), advice})
}

// resolve finds everything that a spec names. What is unknown is noted and left out.
func (e *Engine) resolve(s spec.Spec) (*request, error) {
	hull, ok := e.hulls[s.Hull]
	if !ok {
		return nil, fmt.Errorf("reading a spec: hull: unknown hull %.60q; %s", s.Hull,
			suggest.Nearest(s.Hull, keys(e.hulls), fmt.Sprintf("the hulls are %q", keys(e.hulls))))
	}
	w := &request{hull: hull, choices: e.Fit.NewChoices(), use: e.StandardUse()}
	for _, slot := range keys(s.Choices) {
		e.resolveSlot(w, slot, s.Choices[slot])
	}
	for _, field := range keys(s.Use) {
		e.resolveUse(w, field, s.Use[field])
	}
	for i, l := range s.Lines {
		e.resolveLine(w, i, l)
	}
	return w, nil
}

func keys[V any](m map[string]V) []string { return slices.Sorted(maps.Keys(m)) }

// StandardUse is the use that the book assumes.
func (e *Engine) StandardUse() []float64 {
	use := make([]float64, len(e.Pack.Use))
	for i, u := range e.Pack.Use {
		use[i] = u.Standard
	}
	return use
}

func (e *Engine) resolveSlot(w *request, id string, chosen map[string]int) {
	place := "choices." + id
	slot, ok := e.slots[id]
	if !ok {
		w.note(place, suggest.Nearest(id, keys(e.slots),
			"leave it out, or open the spec with the edition that it was made for"), "unknown slot")
		return
	}
	known := 0
	for _, name := range keys(chosen) {
		o, ok := e.options[name]
		if !ok || e.Pack.Options[o].Slot != slot {
			w.note(place+"."+name, suggest.Nearest(name, e.optionsOf(slot),
				"leave it out, or open the spec with the edition that it was made for"), "unknown option of this slot")
			continue
		}
		if known > 0 && !e.Pack.Slots[slot].Multiple {
			w.note(place+"."+name, "leave one of them out",
				"only one option fits this slot, and another is named before it")
			continue
		}
		w.choices.Counts[o] = chosen[name]
		known++
	}
	w.choices.Settled[slot] = known > 0 || len(chosen) == 0
}

func (e *Engine) optionsOf(slot int) []string {
	var ids []string
	for _, o := range e.Pack.Options[e.Pack.Slots[slot].First:e.Pack.Slots[slot].End] {
		ids = append(ids, o.ID)
	}
	return ids
}

func (e *Engine) resolveUse(w *request, id string, v spec.Value) {
	place := "use." + id
	i, ok := e.uses[id]
	if !ok {
		w.note(place, suggest.Nearest(id, keys(e.uses), "leave it out"), "unknown field")
		return
	}
	u := &e.Pack.Use[i]
	if len(u.Choices) > 0 {
		e.resolveChoice(w, place, i, v)
		return
	}
	if v.Choice != "" || v.Number < u.Min || v.Number > u.Max || math.IsNaN(v.Number) {
		w.note(place, fmt.Sprintf("write a number from %g to %g", u.Min, u.Max),
			"%s is not among the numbers that the book allows", v)
		return
	}
	w.use[i] = u.Value(u.StepOf(v.Number))
	if math.Abs(w.use[i]-v.Number) > 1e-9 {
		w.note(place, fmt.Sprintf("write a multiple of %g", u.Step), "%s lies between two steps; %g is taken", v,
			w.use[i])
	}
}

func (e *Engine) resolveChoice(w *request, place string, field int, v spec.Value) {
	var known []string
	for j, c := range e.Pack.Use[field].Choices {
		if v.Choice == c.ID {
			w.use[field] = float64(j)
			return
		}
		known = append(known, c.ID)
	}
	w.note(place, suggest.Nearest(v.Choice, known, fmt.Sprintf("the choices are %q", known)), "unknown choice %s", v)
}

func (e *Engine) resolveLine(w *request, i int, l spec.Line) {
	x := cost.Extra{Title: l.Title, Cost: l.Cost, Hours: map[int]measure.Hours{}}
	for _, shop := range keys(l.Hours) {
		if s, ok := e.shops[shop]; ok {
			x.Hours[s] = l.Hours[shop]
		} else if e.shops != nil {
			w.note(fmt.Sprintf("lines[%d].hours.%s", i, shop),
				suggest.Nearest(shop, keys(e.shops), "name a shop of the book"), "unknown shop")
		}
	}
	w.extras = append(w.extras, x)
}

// Answer is everything that the desk may know about a spec.
type Answer struct {
	Spec         spec.Spec
	Hull         int
	Build        *fit.Build
	Standard     *fit.Build   // the standard build of the hull for the same use
	Notes        []Unresolved // what of the spec could not be used
	Price        *price.Sheet
	Cost         *cost.Sheet // nil without the costs, like the following
	StandardCost *cost.Sheet
	Margin       money.Rate     // of the net price
	Warnings     []string       // beyond the salesperson's authority
	extras       []money.Amount // by extra item: what it costs in all
}

// Answer completes the spec to a boat and computes everything about it. A spec with unknown names is answered without
// them, with notes; one that clashes is answered with its clashes. An error means that there is no answer: an unknown
// hull, or a formula of the book that fails on this boat, with its place.
func (e *Engine) Answer(s spec.Spec) (*Answer, error) {
	w, err := e.resolve(s)
	if err != nil {
		return nil, err
	}
	a := &Answer{Spec: s, Hull: w.hull, Notes: w.notes}
	a.Build = e.Fit.CompleteDeep(w.hull, w.use, w.choices)
	a.Standard = e.Fit.CompleteDeep(w.hull, w.use, e.Fit.NewChoices())
	return a, e.compute(a, w)
}

func (e *Engine) compute(a *Answer, w *request) error {
	if e.Pack.Can(pack.Margins) {
		for _, x := range w.extras {
			a.extras = append(a.extras, e.Costing.Extra(x).Total)
		}
	}
	lines, err := e.lines(a)
	if err != nil {
		return err
	}
	if a.Price, err = e.Pricing.Sheet(price.Deal{Lines: lines, Discounts: e.discounts(a, lines), TradeIn: e.tradeIn(a)},
		e.Region(a.Build)); err != nil {
		return err
	}
	if !e.Pack.Can(pack.Margins) {
		return nil
	}
	if a.Cost, err = e.Costing.Boat(a.Build.State, w.extras); err != nil {
		return err
	}
	if a.StandardCost, err = e.Costing.Boat(a.Standard.State, nil); err != nil {
		return err
	}
	// What is allowed for a trade-in beyond its value is a cost of the deal. The net price is above zero, so that the
	// margin is one.
	a.Margin, _ = money.MarginOf(a.Price.Net, a.Cost.Summary.Total.Add(a.Price.TradeIn.Over()))
	e.warn(a)
	return nil
}

// discounts are those of the spec that find their line. A slot that is as in the standard build again has no line to
// give one on: that is noted.
func (e *Engine) discounts(a *Answer, lines []price.Line) []price.Discount {
	if !e.Pack.Can(pack.Discounts) {
		if len(a.Spec.Discounts)+len(a.Spec.Lines) > 0 || a.Spec.TradeIn != nil {
			a.Notes = append(a.Notes, Unresolved{"lines, discounts, trade_in",
				"extra items, discounts and trade-ins are for the yard's own desks", "they are left out here"})
		}
		return nil
	}
	var list []price.Discount
	for i, d := range a.Spec.Discounts {
		if d.On != "" && !slices.ContainsFunc(lines, func(l price.Line) bool { return l.Key == d.On && !l.Fixed }) {
			a.Notes = append(a.Notes, Unresolved{fmt.Sprintf("discounts[%d]", i),
				fmt.Sprintf("there is no line %.60q to give %q on", d.On, d.Title),
				"name a slot that differs from the standard build, or an extra item, or remove the discount"})
			continue
		}
		list = append(list, price.Discount{On: d.On, Title: d.Title, Share: d.Share, Amount: d.Amount})
	}
	return list
}

func (e *Engine) tradeIn(a *Answer) *price.TradeIn {
	if t := a.Spec.TradeIn; t != nil && e.Pack.Can(pack.Discounts) {
		return &price.TradeIn{Title: t.Title, Allowance: t.Allowance, Value: t.Value}
	}
	return nil
}

// warn says where a quote goes beyond what a salesperson may give.
func (e *Engine) warn(a *Answer) {
	t, r := e.Pack.Costs, &a.Price.Reductions
	if t.Authority.Sign() > 0 && r.Share.Cmp(t.Authority) > 0 {
		a.Warnings = append(a.Warnings, fmt.Sprintf("Reductions total %s of the list price; your limit is %s.",
			r.Share.Percent(), t.Authority.Percent()))
	}
	for i, l := range a.Spec.Lines {
		if l.Price.IsZero() && a.extras[i].IsZero() {
			a.Warnings = append(a.Warnings, fmt.Sprintf("%s is at no charge, and is not counted as a reduction: state its cost or hours.", l.Title))
		}
	}
	if t.MarginFloor.Sign() > 0 && a.Margin.Cmp(t.MarginFloor) < 0 {
		a.Warnings = append(a.Warnings, fmt.Sprintf("The margin is %s; it should not fall below %s.",
			a.Margin.Percent(), t.MarginFloor.Percent()))
	}
}

func (e *Engine) Region(b *fit.Build) *pack.Region {
	if e.Pack.RegionField < 0 {
		return nil
	}
	return &e.Pack.Regions[int(b.State.Use[e.Pack.RegionField])]
}

// AnswerStandard answers the standard build of a hull for a region; "" is the standard region.
func (e *Engine) AnswerStandard(hull int, region string) (*Answer, error) {
	s := spec.Spec{Format: spec.Format, Hull: e.Pack.Hulls[hull].ID}
	if region != "" {
		s.Use = map[string]spec.Value{e.Pack.Use[e.Pack.RegionField].ID: {Choice: region}}
	}
	return e.Answer(s)
}
