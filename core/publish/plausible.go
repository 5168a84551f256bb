package publish

import (
	"fmt"
	"math"
	"slices"

	"ribband/core/book"
	"ribband/core/cost"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/works"
)

// plausibility tries what formulas give on the standard build of every hull, and on those with a single option put into
// its slot. A book may name a thousand boats; what is wrong by a slip of the pen is mostly wrong on these.
type plausibility struct {
	engine *engine.Engine
	// in build order, as the pack, so that an index means the same in both
	book        *book.Book
	diagnostics []book.Diagnostic
	// by kind and place: each once, on the first boat that shows it
	seen map[string]bool
	// in the order of the book, ready to compute
	circuits []circuitSizes
}

// implausible are masses that cannot be, hours, quantities and prices that are likely a slip.
// Each hull is looked at with its standard build, and with each option of its own added: as many boats as there are
// options, and each formula of the book is computed on some of them. A slip that only a combination shows is left to
// the proofs. Limits and their reasons stand in package book.
func implausible(e *engine.Engine, b *book.Book) []book.Diagnostic {
	p := &plausibility{engine: e, book: inBuildOrder(b), seen: map[string]bool{}}
	p.circuits = circuitsOf(e.Pack, b)
	for h := range p.book.Hulls {
		// one try, so that nothing is changed behind the owner's back: what clashes as listed is reported by
		// checkStandards
		standard := e.Fit.Complete(h, e.StandardUse(), e.Fit.NewChoices(), 1)
		hours, err := e.Work.Boat(standard.State, nil)
		if err == nil {
			_, err = e.Costing.Boat(standard.State, hours, nil)
		}
		if err != nil {
			continue // reported otherwise
		}
		base := p.hull(h, standard.State, hours)
		p.wiring("the standard build of "+p.book.Hulls[h].ID.Value, standard.State)
		for o, option := range e.Pack.Options {
			if !e.Pack.Offered(o, h) {
				continue
			}
			// settled, so that it stays whatever it clashes with: its own lines are looked at, not the boat
			c := e.Fit.NewChoices()
			c.Counts[o], c.Settled[option.Slot] = 1, true
			build := e.Fit.CompleteFrom(standard, c, 1)
			p.option(h, o, build.State, base)
			p.wiring(p.book.Hulls[h].ID.Value+" with "+option.ID, build.State)
		}
	}
	return p.diagnostics
}

// note notes a diagnostic once for its place and kind.
// A line that is wrong is wrong on nearly every boat, and a hundred boats would say so.
func (p *plausibility) note(grade book.Grade, kind string, at book.Position, advice, format string, args ...any) {
	if key := kind + " " + at.String(); !p.seen[key] {
		p.seen[key] = true
		p.diagnostics = append(p.diagnostics, book.Diagnostic{Position: at, Grade: grade, Message: fmt.Sprintf(format,
			args...),
			Advice: advice})
	}
}

// at is where a formula stands, by its number in the pack.
func (p *plausibility) at(source int) book.Position {
	s := p.engine.Pack.Work.Sources[source]
	return book.Position{File: s.File, Line: s.Line, Column: s.Column}
}

// givenFree warns of options without a list price whose price is nothing in every boat.
func givenFree(yard *pack.Pack, b *book.Book) (diagnostics []book.Diagnostic) {
	// the tables of prices are enough; nothing is answered
	p := &plausibility{engine: &engine.Engine{Pack: yard}, book: inBuildOrder(b)}
	for o := range yard.Options {
		def := p.written(o)
		// without any, the book itself shows it
		if len(def.Price.Terms) > 0 || len(def.Materials)+len(def.Operations) == 0 {
			continue
		}
		if sells := func(t pack.Table) bool {
			return slices.ContainsFunc(t.Prices, func(a money.Amount) bool { return !a.IsZero() })
		}; !slices.ContainsFunc(yard.Prices.Options[o], sells) {
			diagnostics = append(diagnostics, book.Diagnostic{Position: def.ID.At, Grade: book.Warning,
				Message: fmt.Sprintf("the option %s costs nothing in any boat: it sells free", def.ID),
				Advice:  `add price: "0" if the yard gives it away, or mend its quantities and hours`})
		}
	}
	return diagnostics
}

// hull looks at the base boat and at the hours of the whole standard build, and gives what the base boat weighs. A base
// boat in pounds, or one whose mass went to an option, is found by its mass for a square metre of length and beam.
func (p *plausibility) hull(h int, st *formula.State, w *works.Boat) (mass float64) {
	hull := &p.book.Hulls[h]
	mass, at, given := p.amount(figures.MassKg, p.engine.Pack.Hulls[h].Carries, hull.Carries, st)
	// a hull that carries no mass is in a book that does not float boats
	if given {
		// the mass of a hull grows with its area, from dinghies to launches within narrow bounds
		area := p.field(h, figures.HullLength) * p.field(h, figures.HullBeam)
		switch l := book.Limits.BaseMass; {
		// written so that what is no number fails, too
		case !(mass > 0):
			p.note(book.Error, "mass", at, "write what the base boat weighs in kg", "the base boat of %s weighs %s kg",
				hull.ID, rounded(mass))
		case area > 0 && !l.Holds(mass/area):
			p.note(book.Warning, "mass", at, l.Advice(),
				"the base boat of %s weighs %s kg, which is %s for a square metre", hull.ID, rounded(mass),
				rounded(mass/area))
		}
	}
	p.carried("the base boat of "+hull.ID.Value, p.engine.Pack.Hulls[h].Carries, hull.Carries, st)
	p.lines("the base boat of "+hull.ID.Value, works.Base(), st)
	// hours are checked by the weeks that they take: a shop of fifty does in a week what one person does in a year
	for s, shop := range p.book.Shops {
		hours := w.ByShop[s].Total().Float()
		if weeks := hours / shop.HoursWeek(); !book.Limits.ShopWeeks.Holds(weeks) {
			p.note(book.Warning, "weeks", shop.HoursDay.At, book.Limits.ShopWeeks.Advice(),
				"the standard build of %s takes the shop %s %s weeks: %s h at %g h a week", hull.ID, shop.ID,
				rounded(weeks), rounded(hours), shop.HoursWeek())
		}
	}
	// a cost that cannot be computed is reported by the tables of prices
	if total, err := p.engine.Costing.Item(st, works.Base()); err == nil {
		p.priced(hull.ID.Value, hull.Price, total, func() (money.Amount, error) { return p.engine.Pricing.Base(st) }, h)
	}
	return mass
}

// option looks at an option in a boat. What it weighs is held against the base boat of the hull, its batteries against
// itself.
func (p *plausibility) option(h, o int, st *formula.State, base float64) {
	id, def := p.engine.Pack.Options[o].ID, p.written(o)
	p.carried(id, p.engine.Pack.Options[o].Carries, def.Carries, st)
	mass, massAt, massGiven := p.amount(figures.MassKg, p.engine.Pack.Options[o].Carries, def.Carries, st)
	// an option in grams or pounds outweighs the boat it is built into
	if massGiven && base > 0 && mass > 0 && !book.Limits.OptionMass.Holds(mass/base) {
		p.note(book.Warning, "mass", massAt, "mind the unit, which is kg: "+book.Limits.OptionMass.Advice(),
			"%s weighs %s kg, and the base boat of %s %s kg", id, rounded(mass), p.book.Hulls[h].ID, rounded(base))
	}
	// the mass of the cells is a part of the option's own, from which flooding and flotation are computed
	if bank, bankAt, given := p.amount(figures.BankKg, p.engine.Pack.Options[o].Carries, def.Carries, st); given &&
		massGiven && bank > mass {
		p.note(book.Error, "bank", bankAt, "the mass of the option is that of its batteries and of what belongs to "+
			"them", "the batteries of %s weigh %s kg, and the whole option %s kg", id, rounded(bank), rounded(mass))
	}
	p.lines(id, works.Of(o, 1), st)
	if total, err := p.engine.Costing.Item(st, works.Of(o, 1)); err == nil {
		p.priced(id, def.Price, total, func() (money.Amount, error) { return p.engine.Pricing.Option(st, o) }, h)
	}
}

// carried reports what nothing can carry: masses below zero, and a bank that gives more than it holds.
// A mass below zero is how owners try to say that something is left out; it would lift the boat by a wrong lever.
func (p *plausibility) carried(who string, list []pack.Contribution, written book.Pairs[book.Formula],
	st *formula.State) {
	for i, c := range list {
		figure, v := &p.engine.Pack.Figures[c.Figure], c.Amount.Number()(st)
		switch {
		case figure.Unit == "kg" && v < 0:
			p.note(book.Error, "mass", written[i].Value.At,
				"write what it weighs, and for what is left out an empty slot or a lighter hull", "%s adds %s kg of %s",
				who, rounded(v), figure.ID)
		case figure.ID == string(figures.UsableShare) && !(v >= 0 && v <= 1):
			p.note(book.Error, "share", written[i].Value.At, "write a share of 1: 0.8 is 80 %",
				"%s gives %s of its energy", who, rounded(v))
		}
	}
}

// amount is what is carried of a figure, and where the book says so. A book may carry any totals; those that are looked
// at here are the ones that the modules of floating and power read.
func (p *plausibility) amount(figure figures.Given, list []pack.Contribution, written book.Pairs[book.Formula],
	st *formula.State) (v float64, at book.Position, given bool) {
	for i, c := range list {
		if p.engine.Pack.Figures[c.Figure].ID == string(figure) {
			return c.Amount.Number()(st), written[i].Value.At, true
		}
	}
	return 0, book.Position{}, false
}

// lines looks at the quantities and hours of an item.
// Quantities are those of one item as built in, before waste.
func (p *plausibility) lines(who string, item works.Cause, st *formula.State) {
	materials, labour, err := p.engine.Costing.Lines(st, item)
	if err != nil {
		return // reported with its price
	}
	for _, l := range materials {
		m := &p.book.Materials[l.Material]
		q := l.BuiltIn.Float()
		// a division in a formula gives 3.9999999 for 4
		if p.book.Piece(m) != "" && math.Abs(q-math.Round(q)) > 1e-6 {
			p.note(book.Warning, "pieces", p.at(l.At),
				"let the formula give whole numbers, with ceil(…), or keep the material in another unit",
				"%s takes %s of %s, which is kept by the %s", who, l.BuiltIn, m.ID, p.book.Piece(m))
		}
	}
	for _, l := range materials {
		m := &p.book.Materials[l.Material]
		// a slip in an amount is mostly a slip in its unit: litres for millilitres, m² for mm²
		if most, ok := book.MostQuantity[m.Unit.Value]; ok && !most.Holds(l.BuiltIn.Float()) {
			p.note(book.Warning, "quantity", p.at(l.At), most.Advice(), "%s takes %s %s of %s", who, l.BuiltIn,
				most.Unit, m.ID)
		}
	}
	for _, l := range labour {
		// minutes written as hours
		if hours := l.Hours.Float(); !book.Limits.Hours.Holds(hours) {
			p.note(book.Warning, "hours", p.at(l.At), book.Limits.Hours.Advice(), "%s takes %s h of %s", who,
				rounded(hours), p.book.Operations[l.Operation].ID)
		}
	}
}

// circuitSizes are the formulas of a circuit, ready to compute, with their places and limits.
type circuitSizes struct {
	id    string
	when  formula.TruthFunc
	sizes []circuitSize
}

// circuitSize is one number of a circuit, with its unit in messages and its limit.
type circuitSize struct {
	what  string
	value formula.NumberFunc
	at    book.Position
	limit book.Limit
}

// circuitsOf makes the formulas of all circuits ready once, since they are computed on every boat looked at.
func circuitsOf(p *pack.Pack, b *book.Book) (list []circuitSizes) {
	for i, c := range p.Circuits {
		written := &b.Circuits[i]
		list = append(list, circuitSizes{c.ID, c.When.Truth(), []circuitSize{
			{"A", c.Amps.Number(), written.Amps.At, book.Limits.Amps},
			{"V", c.Volts.Number(), written.Volts.At, book.Limits.Volts},
			{"m", c.Length.Number(), written.LengthM.At, book.Limits.Run}}})
	}
	return list
}

// wiring warns of currents, voltages and lengths beyond reason. What is no number above zero cannot be sized, and is
// reported as that.
func (p *plausibility) wiring(boat string, st *formula.State) {
	for _, c := range p.circuits {
		if !c.when(st) {
			continue
		}
		for _, x := range c.sizes {
			// milliamperes, millivolts, millimetres
			if v := x.value(st); v > 0 && !math.IsInf(v, 0) && !x.limit.Holds(v) {
				p.note(book.Warning, "circuit", x.at, x.limit.Advice(), "on %s the circuit %s has %s %s", boat, c.id,
					rounded(v), x.what)
			}
		}
	}
}

// priced warns of a list price below the cost, or with less than the margin that is the least.
func (p *plausibility) priced(id string, list book.Price, total cost.Summary, priced func() (money.Amount, error),
	hull int) {
	if len(list.Terms) == 0 {
		return
	}
	// a price that the book gives away with "0" is meant so, and so is what a package saves
	price, err := priced()
	if err != nil || price.IsZero() && p.givenAway(list) || price.Sign() < 0 {
		return
	}
	on := p.book.Hulls[hull].ID
	// below the cost is worse than below the floor: one of the two is said
	if price.Cmp(total.Total) < 0 {
		p.note(book.Warning, "price", list.At,
			`raise the price, or mend materials and hours; what is given away says price: "0"`, "%s sells at %s on %s and costs the yard %s", id, price, on, total.Total)
		return
	}
	floor := p.book.Discounts.MarginFloor
	if margin, ok := money.MarginOf(price, total.Total); ok && floor.Given() && margin.Cmp(floor.Value) < 0 {
		p.note(book.Warning, "price", list.At, fmt.Sprintf("raise the price, or lower margin_floor at %s", floor.At),
			"%s sells at %s on %s with a margin of %s, below the floor of %s", id, price, on, margin, floor.Value)
	}
}

// givenAway says that a list price is a plain zero, as an owner writes for what is free.
func (p *plausibility) givenAway(list book.Price) bool {
	return len(list.Terms) == 1 && list.Terms[0].Per.Empty() && list.Terms[0].Amount.Value.IsZero()
}

// written is an option as the book has it.
func (p *plausibility) written(option int) *book.Option {
	slot := p.engine.Pack.Options[option].Slot
	return &p.book.Slots[slot].Options[option-p.engine.Pack.Slots[slot].First]
}

// field is a dimension of a hull, in the unit of the field; 0 where the book has no such field.
func (p *plausibility) field(h int, id figures.HullField) float64 {
	i := slices.IndexFunc(p.engine.Pack.HullFields, func(f pack.Field) bool { return f.ID == string(id) })
	if i < 0 {
		return 0
	}
	return p.engine.Pack.Hulls[h].Fields[i]
}

// rounded shows a number as far as it matters in a message.
// Masses and hours of thousands need no decimals, and small shares need some.
func rounded(x float64) string {
	if math.Abs(x) >= 1000 && math.Abs(x) < 1e9 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.4g", x)
}
