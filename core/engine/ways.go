package engine

import (
	"math"
	"slices"

	"ribband/core/fit"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/spec"
)

// Ways out that no other choice gives: another use of the boat, and another hull.

// mostFields is of how many fields of the use another value is looked for. Each takes some boats.
const mostFields = 4

// Others are the ways to have what is wanted, with all other choices as they are: by one other field of the use, the
// nearest value that does, or on another hull, if need be with such a use. Why is what [Engine.Reason] found; the use
// is looked at where it takes part in that, or, where nothing is proved, in the rules that the nearest boat breaks.
func (e *Engine) Others(a *Answer, w Want, why *Reason) (list []Repair, err error) {
	c, _, err := e.Wanted(a, w)
	if err != nil {
		return nil, err
	}
	if !w.absent(e, a.Hull) { // another use makes no other hull of it
		for _, field := range e.fields(a, w, why) {
			if r := e.byUse(a, c, field); r != nil {
				list = append(list, *r)
			}
		}
	}
	for hull := range e.Pack.Hulls {
		if hull != a.Hull && !w.absent(e, hull) {
			if r := e.byHull(a, w, hull); r != nil {
				list = append(list, *r)
			}
		}
	}
	return list, nil
}

// Absent says that what is wanted is not made for the hull of an answer, or not sold.
func (e *Engine) Absent(a *Answer, w Want) bool { return w.absent(e, a.Hull) }

// absent says that what is wanted is not offered for a hull.
func (w Want) absent(e *Engine, hull int) bool {
	o, ok := e.options[w.Option]
	return ok && !e.Pack.Offered(o, hull)
}

// fields are those of the use that may be in the way. The country is none of them: nobody moves for a boat.
func (e *Engine) fields(a *Answer, w Want, why *Reason) (fields []int) {
	var clashes []fit.Clash
	if why != nil {
		fields = slices.Clone(why.fields)
		clashes = why.Rules
	} else if w == (Want{}) {
		clashes = a.Build.Clashes
	} else if v := e.verdict(a, w); v.Build != nil {
		clashes = v.Build.Clashes
	}
	// what a rule names itself comes first: a bridge before all that the draught follows from
	var list []int
	for _, i := range append(e.named(clashes), fields...) {
		if i != e.Pack.RegionField && !slices.Contains(list, i) {
			list = append(list, i)
		}
	}
	return list[:min(len(list), mostFields)]
}

// named are the fields of the use that the rules of some clashes name themselves.
func (e *Engine) named(clashes []fit.Clash) (fields []int) {
	for _, x := range clashes {
		if x.Kind != fit.Broken {
			continue
		}
		r := &e.Pack.Rules[x.Index]
		for _, i := range r.When.Reads().With(r.Need.Reads()).Use {
			if i != e.Pack.RegionField {
				fields = append(fields, i)
			}
		}
	}
	return fields
}

// verdict is that of what is wanted.
func (e *Engine) verdict(a *Answer, w Want) fit.Verdict {
	if w.Option != "" {
		return e.Alternatives(a).Option(e, e.options[w.Option]).Verdict
	}
	if s := e.Alternatives(a).Slot(e.slots[w.Empty]); s.Empty != nil {
		return s.Empty.Verdict
	}
	return fit.Verdict{}
}

// byUse is the way by one field of the use; nil where it gives none.
func (e *Engine) byUse(a *Answer, c fit.Choices, field int) *Repair {
	s := e.settled(a.Spec, c)
	change, ok := e.useFor(&s, a.Hull, a.Build.State.Use, c, field)
	if !ok {
		return nil
	}
	return e.way(a, s, change)
}

// useFor puts into a spec the nearest value of a field of the use with which its choices can be built on a hull.
func (e *Engine) useFor(s *spec.Spec, hull int, before []float64, c fit.Choices, field int) (change msg.Message,
	ok bool) {
	u, was, use := &e.Pack.Use[field], before[field], slices.Clone(before)
	buildable := func(v float64) bool {
		use[field] = v
		return len(e.Fit.Complete(hull, use, c, fit.DefaultTries).Clashes) == 0
	}
	found := math.NaN()
	// A scale has an order to search by; a list of choices has none, and its first that does is taken.
	if len(u.Choices) == 0 {
		found = nearestStep(u.Steps(), u.StepOf(was), func(step int) bool { return buildable(u.Value(step)) }, u.Value)
	}
	for i := range u.Choices {
		if v := float64(i); math.IsNaN(found) && v != was && buildable(v) {
			found = v
		}
	}
	if math.IsNaN(found) {
		return change, false
	}
	if s.Use == nil {
		s.Use = map[string]spec.Value{}
	}
	s.Use[u.ID] = e.UseValue(field, found)
	return msg.New("engine.use-changed", msg.Text("field", u.Title), msg.Words("now", e.useMessage(field, found)),
		msg.Words("before", e.useMessage(field, was))), true
}

// nearestStep is the value of the step nearest to one for which something holds, or NaN. On each side it is looked for
// by halves, as if it held from somewhere on: what it ends at does hold, and may have a nearer one where that is not
// so.
func nearestStep(steps, from int, holds func(step int) bool, value func(step int) float64) float64 {
	best, far := math.NaN(), steps
	for _, end := range []int{steps - 1, 0} {
		// A side whose far end does not hold is given up at once: most requirements grow harder one way.
		if end == from || !holds(end) {
			continue
		}
		no, yes := from, end
		for no-yes > 1 || yes-no > 1 {
			if half := (no + yes) / 2; holds(half) {
				yes = half
			} else {
				no = half
			}
		}
		// On a draw the upper one stays, which was looked at first.
		if d := max(yes-from, from-yes); d < far {
			best, far = value(yes), d
		}
	}
	return best
}

// UseWords words a value of a field of the use as a spec has it; a choice that the book does not know stays as it is.
func (e *Engine) UseWords(field int, v spec.Value, units measure.System) msg.Message {
	for _, c := range e.Pack.Use[field].Choices {
		if c.ID == v.Choice {
			return msg.Plain(c.Title)
		}
	}
	if v.Choice != "" {
		return stated(v)
	}
	number, unit := v.Number, e.Pack.Use[field].Unit
	if u, ok := measure.UnitOf(unit); ok {
		number, unit = u.Stated(units, number)
	}
	return msg.New("engine.value", msg.Quantity("value", number, unit, msg.Exact))
}

// useMessage words a value of a field of the use, in the unit that the field is asked in.
func (e *Engine) useMessage(field int, v float64) msg.Message {
	return e.UseWords(field, e.UseValue(field, v), measure.Sea)
}

// byHull is the way by another hull; nil where the choices do not go with it either.
func (e *Engine) byHull(a *Answer, w Want, hull int) *Repair {
	s, remarks, err := e.MoveTo(a.Spec, e.Pack.Hulls[hull].ID)
	if err != nil {
		return nil
	}
	if s.Choices == nil {
		s.Choices = map[string]map[string]int{}
	}
	switch {
	case w.Option != "":
		// The move took along what that hull has too; what is wanted need not have been among it.
		def := &e.Pack.Slots[e.Pack.Options[e.options[w.Option]].Slot]
		if s.Choices[def.ID] == nil || !def.Multiple {
			s.Choices[def.ID] = map[string]int{}
		}
		s.Choices[def.ID][w.Option] = 1
	case w.Empty != "":
		s.Choices[w.Empty] = map[string]int{}
	}
	changes := append([]msg.Message{msg.New("engine.hull-changed", msg.Text("now", e.Pack.Hulls[hull].Title),
		msg.Text("before", e.Pack.Hulls[a.Hull].Title))}, remarks...)
	if r := e.way(a, s, changes...); r != nil {
		return r
	}
	// with another use as well, where a rule names one that the hull does not go with: the bridge, the persons
	to, err := e.resolve(s)
	if err != nil {
		return nil
	}
	b := e.Fit.Complete(hull, to.use, to.choices, fit.DefaultTries)
	for _, field := range e.named(b.Clashes) {
		if change, ok := e.useFor(&s, hull, to.use, to.choices, field); ok {
			return e.way(a, s, append(changes, change)...)
		}
	}
	return nil
}

// way answers a spec that is a way out; nil where it is none, or where its price cannot be compared.
func (e *Engine) way(a *Answer, s spec.Spec, changes ...msg.Message) *Repair {
	// Answered whole, and not estimated: what is offered here is one press from being the boat.
	then, err := e.answer(s, a, nil)
	if err != nil || len(then.Build.Clashes) > 0 {
		return nil
	}
	return &Repair{Changes: changes, Effect: e.between(a, then), Spec: s}
}

// between is the difference of two answers in every column. Where hull and use are the same, [Engine.Effect] gives the
// same in less time.
func (e *Engine) between(a, then *Answer) Effect {
	c := comparison{engine: e, answer: a, then: then.Build.State}
	var x Effect
	for _, column := range e.columns {
		var d Delta
		switch column.Kind {
		case InMoney:
			d = Delta{Known: true, Money: then.Price.Goods.Sub(a.Price.Goods)}
		case InUnits:
			d = c.figure(column.Figure)
		case InHours:
			if then.Work == nil || a.Work == nil { // which no desk does that knows hours
				break
			}
			d = Delta{Known: true, ByShop: make([]measure.Hours, len(then.Work.ByShop))}
			for i := range d.ByShop {
				d.ByShop[i] = then.Work.ByShop[i].Total() - a.Work.ByShop[i].Total()
			}
		case InDays:
			d = e.laterThan(a, then)
		}
		x = append(x, d)
	}
	return x
}
