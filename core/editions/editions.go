// Package editions sets two states of a price book side by side: what each option costs, sells for and weighs on each
// hull, what came and went, which boats can no longer be had, and what quotations that are out come to by the newer
// one.
//
// It is for the owner: costs, margins and hours are in it, and nothing of it is published. It computes nothing that the
// engines do not say; a boat of an option is the standard build of a hull with the option put into its slot.
//
// Nothing here is sourced from outside: costs and margins are those of packages cost and price.
package editions

import (
	"slices"

	"ribband/core/book"
	"ribband/core/engine"
	"ribband/core/figures"
	"ribband/core/fit"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/works"
)

// Edition is a state of a book: as it is written, and as the yard's engine computes it.
type Edition struct {
	Book   *book.Book
	Engine *engine.Engine
}

// Options are looked at by themselves, since a book has more boats than anybody could compare. What one is in a boat of
// a customer, with all that comes with it, its quotation says: see [Requote].

// Item is one of an option on a hull, by itself. Amounts are net, in the currency of the book.
type Item struct {
	Hull   string        `json:"hull"`
	Option string        `json:"option"`
	Title  string        `json:"title"`
	Price  money.Amount  `json:"price"`
	Listed bool          `json:"listed"` // it has a list price; else its price follows from its cost
	Cost   money.Amount  `json:"cost"`
	Margin money.Rate    `json:"margin"` // of the price; 0 where that is nothing
	Hours  measure.Hours `json:"hours"`
	MassKg float64       `json:"mass_kg"` // that it carries
}

// Standard is the standard build of a hull for the use that the book assumes.
type Standard struct {
	Hull    string        `json:"hull"`
	Title   string        `json:"title"`
	Net     money.Amount  `json:"net"`
	Total   money.Amount  `json:"total"` // as the customer pays it
	Cost    money.Amount  `json:"cost"`
	Margin  money.Rate    `json:"margin"`
	Hours   measure.Hours `json:"hours"`
	Figures []Figure      `json:"figures"`
}

// Figure is a figure of a boat as it is stated.
type Figure struct {
	ID    string `json:"id"`
	Title string `json:"title"`
	Text  string `json:"text"` // with its unit
}

// Profile is what an edition says of every hull and option.
type Profile struct {
	Standards []Standard `json:"standards"`
	Items     []Item     `json:"items"` // by hull, then in the order of the book
}

// ProfileOf is the profile of an edition. An option whose price or cost cannot be computed on the standard build is
// left out: the checker of the book reports it. The error says that a hull has no answer.
func ProfileOf(e *engine.Engine) (*Profile, error) {
	p := &Profile{}
	for h := range e.Pack.Hulls {
		a, err := e.AnswerStandard(h, "")
		if err != nil {
			return nil, err
		}
		p.Standards = append(p.Standards, standardOf(e, a))
		for o := range e.Pack.Options {
			if !e.Pack.Made(o, h) {
				continue
			}
			if item, ok := itemOf(e, a, o); ok {
				p.Items = append(p.Items, item)
			}
		}
	}
	return p, nil
}

// standardOf states a standard build.
func standardOf(e *engine.Engine, a *engine.Answer) Standard {
	hull := &e.Pack.Hulls[a.Hull]
	s := Standard{Hull: hull.ID, Title: hull.Title, Net: a.Price.Net, Total: a.Price.Total, Cost: a.Cost.Summary.Total,
		Margin: a.Margin, Hours: a.Work.Hours().Total()}
	// in metric units, whoever reads it: two books may have others
	for _, v := range e.FigureValues(a.Build, measure.Sea) {
		s.Figures = append(s.Figures, Figure{v.ID, v.Title, e.Text(v.Message())})
	}
	return s
}

// itemOf computes one of an option on the standard build; false where that fails.
func itemOf(e *engine.Engine, standard *engine.Answer, option int) (item Item, ok bool) {
	def := &e.Pack.Options[option]
	// settled, so that it stays whatever it clashes with: its own lines are looked at, and not the boat
	c := e.Fit.NewChoices()
	c.Counts[option], c.Settled[def.Slot] = 1, true
	st := e.Fit.CompleteFrom(standard.Build, c, 1).State
	// by the tables of the pack, which every desk reads
	price, err := e.Pricing.Option(st, option)
	if err != nil {
		return item, false
	}
	costs, err := e.Costing.Item(st, works.Of(option, 1))
	if err != nil {
		return item, false
	}
	_, labour, err := e.Costing.Lines(st, works.Of(option, 1))
	if err != nil {
		return item, false
	}
	item = Item{Hull: e.Pack.Hulls[standard.Hull].ID, Option: def.ID, Title: def.Title, Price: price, Cost: costs.Total,
		Listed: len(e.Pack.Costs.Options[option].List) > 0, MassKg: massOf(e, option, st)}
	item.Margin, _ = money.MarginOf(price, costs.Total)
	for _, l := range labour {
		item.Hours += l.Hours
	}
	return item, true
}

// massOf is the mass that one of an option carries.
func massOf(e *engine.Engine, option int, st *formula.State) float64 {
	// what it brings along by a rule, or replaces, is not in it
	for _, c := range e.Pack.Options[option].Carries {
		if e.Pack.Figures[c.Figure].ID == string(figures.MassKg) {
			return measure.Round(c.Amount.Number()(st), 3)
		}
	}
	return 0
}

// Move is an option on a hull of which something is not what it was.
type Move struct {
	Was Item `json:"was"`
	Now Item `json:"now"`
}

// Moves are the options that both profiles have on a hull and that differ in an amount, hours or mass.
func Moves(was, now *Profile) (list []Move) {
	// by name: what was added between two of them has moved all indices
	before := map[[2]string]Item{}
	for _, i := range was.Items {
		before[[2]string{i.Hull, i.Option}] = i
	}
	for _, i := range now.Items {
		b, ok := before[[2]string{i.Hull, i.Option}]
		if ok && !(b.Price.Equal(i.Price) && b.Cost.Equal(i.Cost) && b.Hours == i.Hours && b.MassKg == i.MassKg) {
			list = append(list, Move{b, i})
		}
	}
	return list
}

// A price that was below before is no news: check warns of it each time.

// Fallen are the options with a list price whose margin is below a floor now and was not before.
func Fallen(moves []Move, floor money.Rate) (list []Move) {
	// a price that follows from the cost keeps its margin, but for rounding
	for _, m := range moves {
		if m.Now.Listed && m.Now.Price.Sign() > 0 && m.Now.Margin.Cmp(floor) < 0 && m.Was.Margin.Cmp(floor) >= 0 {
			list = append(list, m)
		}
	}
	return list
}

// The two strategies of package fit are asked one after the other, as for a boat of the page; what both leave open is
// said to be open.

// had looks for a boat of a hull with at least one of an option, for the use that the book assumes, and says what is
// proved where none is found.
func had(e *engine.Engine, hull, option int) (*fit.Build, fit.Status) {
	q := fit.Question{Hull: hull, Use: e.StandardUse(), Choices: e.Fit.NewChoices(), Terms: e.Fit.Having(option, true)}
	// the search answers most questions in the shortest time, and the solver proves what it leaves open
	b := e.Fit.Search(q, fit.DefaultTries)
	if b.Status != fit.Unknown {
		return b, b.Status
	}
	solved, reason := e.Fit.Solve(q)
	switch {
	case solved != nil && len(solved.Clashes) == 0:
		return solved, solved.Status
	case reason != nil:
		return b, fit.Infeasible
	}
	return b, fit.Unknown
}

// find is the index of something by its identifier; -1 for none.
func find[T any](list []T, id string, of func(*T) string) int {
	return slices.IndexFunc(list, func(x T) bool { return of(&x) == id })
}
