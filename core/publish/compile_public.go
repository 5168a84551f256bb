package publish

import (
	"fmt"
	"strconv"
	"strings"

	"ribband/core/book"
	"ribband/core/figures"
	"ribband/core/formula"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/suggest"
)

// terms are what papers say and money follows: the yard, the edition, rounding, stages, sections and regions.
func (c *compiler) terms() {
	b, p := c.book, c.pack
	p.Yard = pack.YardInfo{Name: b.Yard.Name.Value, Note: b.Yard.Note.Value, Address: texts(b.Yard.Address),
		Email: b.Yard.Email.Value, Phone: b.Yard.Phone.Value, Page: b.Yard.Page.Value,
		Enquiry:  b.Yard.Enquiry.Value,
		Register: b.Yard.Register.Value, TaxNumber: b.Yard.TaxNumber.Value,
		Bank: pack.Bank{Name: b.Yard.Bank.Name.Value, IBAN: book.GroupedIBAN(b.Yard.Bank.IBAN.Value),
			BIC: b.Yard.Bank.BIC.Value}}
	// the digest is of the book, not of the pack: all desks of one edition have the same
	p.Edition = pack.Edition{Name: b.Edition.Name.Value, Date: b.Edition.Date.Value,
		Until: dayBefore(b.NextChange())}
	p.Currency, p.Rounding = b.Currency.Value, money.Mode(b.Rounding.Mode.Value)
	p.ValidityDays = int(b.ValidityDays.Value)
	p.Terms, p.Cautions = texts(b.Terms), texts(b.Cautions)
	p.Delivery, p.Exclusions, p.Warranty, p.Acceptance = texts(b.Delivery), texts(b.Exclusions), texts(b.Warranty),
		b.Acceptance.Value
	// for everybody: what a key has signed is verified by whoever holds the paper. It makes another edition of the
	// book, as every other line of it does.
	for _, k := range b.Yard.SigningKeys {
		key := pack.SigningKey{Type: k.Type.Value, Curve: k.Curve.Value, X: k.Public.Value}
		p.SigningKeys = append(p.SigningKeys, key)
	}
	// not where it is not said: what is locked after how long by itself is the program's to say
	p.LockMinutes = int(b.Yard.LockAfterMinutes.Value)
	for _, s := range b.Stages {
		p.Stages = append(p.Stages, pack.Stage{ID: s.ID.Value, Title: s.Title.Value, Share: s.Share.Value})
	}
	// for everybody, in the order of the book: a row of words on the page has the same order everywhere
	for _, x := range b.Glossary {
		p.Glossary = append(p.Glossary, pack.Entry{Word: x.Word.Value, Means: x.Means.Value, Forms: texts(x.Forms)})
	}
	for _, s := range b.Sections {
		p.Sections = append(p.Sections, pack.Section{ID: s.ID.Value, Title: s.Title.Value, Note: s.Note.Value})
	}
	for _, r := range b.Regions {
		p.Regions = append(p.Regions, pack.Region{ID: r.ID.Value, Title: r.Title.Value, TaxName: r.Tax.Name.Value,
			TaxRate: r.Tax.Rate.Value,
			TaxMode: pack.TaxMode(r.Tax.Mode.Value), Condition: r.Tax.Condition.Value, Limits: r.Limits.Value,
			Latitude: r.LatitudeDeg.Value, Sunshine: r.Sunshine.Value, Currency: exchange(r.Currency)})
	}
}

// exchange is the other currency of a region; nil for none.
func exchange(x *book.Exchange) *pack.Exchange {
	if x == nil {
		return nil
	}
	return &pack.Exchange{Code: x.Code.Value, Rate: x.Rate.Value, Date: x.Date.Value}
}

// texts are the values of some texts; nil where there are none, so that the pack leaves them out.
func texts(list []book.Text) []string {
	var out []string
	for _, t := range list {
		out = append(out, t.Value)
	}
	return out
}

// uses are what hulls and buyers state. A choice is held as a number, its index, so that formulas compare numbers
// alone.
func (c *compiler) uses() {
	for _, f := range c.book.HullFields {
		c.pack.HullFields = append(c.pack.HullFields,
			pack.Field{ID: f.ID.Value, Title: f.Title.Value, Unit: f.Unit.Value, Quoted: f.Quoted})
	}
	for i, u := range c.book.Use {
		f := pack.UseField{ID: u.ID.Value, Title: u.Title.Value, Unit: u.Unit.Value, Min: u.Min.Value, Max: u.Max.Value,
			Step: u.Step.Value}
		if choices := c.choices(u); choices != nil {
			f.Standard = float64(choices[u.Standard.Value])
		} else {
			f.Standard, _ = strconv.ParseFloat(u.Standard.Value, 64) // validated with the book
		}
		for _, x := range u.Choices.List {
			// one list or the other: the check of the book allows no third
			f.Choices = append(f.Choices, pack.Choice{ID: x.ID.Value, Title: x.Title.Value})
		}
		if u.Choices.FromRegions {
			c.pack.RegionField = i
			for _, r := range c.book.Regions {
				f.Choices = append(f.Choices, pack.Choice{ID: r.ID.Value, Title: r.Title.Value})
			}
		}
		c.pack.Use = append(c.pack.Use, f)
	}
}

// figures are the numbers of a boat, in the book's order, which is the order of the page; what is computed first is
// settled by package figures.
func (c *compiler) figures() {
	for _, f := range c.book.Figures {
		// a figure of the yard's stands in the costs, which no buyer gets
		list := &c.pack.Public.Figures
		if figures.YardOnly(figures.ID(f.Computed.Value)) {
			list = &c.pack.Costs.Figures
		}
		*list = append(*list, pack.Figure{ID: f.ID.Value, Title: f.Title.Value,
			Unit:  c.book.UnitShown(f.Unit.Value),
			Hulls: c.hullList(f.Hulls), Digits: int(f.Digits.Value),
			Hidden: f.Hidden, Quoted: f.Quoted, Compared: f.Compared, Short: f.Short.Value,
			Formula: c.onHulls(&f), Computed: c.computed(f.Computed)})
	}
	c.pack.Assemble()
}

// onHulls is the formula of a figure, which is 0 on hulls that are not named: so its bounds know that, and whoever
// reads it. What is wrong with it is told of what the owner wrote.
func (c *compiler) onHulls(f *book.Figure) formula.Program {
	before := len(c.diagnostics)
	p := c.lower(f.Formula, formula.Number)
	if len(f.Hulls) == 0 || f.Formula.Empty() || len(c.diagnostics) > before {
		return p
	}
	var names []string
	for _, h := range f.Hulls {
		if _, ok := c.ids["hull"][h.Value]; ok { // an unknown one was reported
			names = append(names, strconv.Quote(h.Value))
		}
	}
	if len(names) == 0 {
		return p
	}
	return c.lower(book.Formula{Value: fmt.Sprintf("hull.id in [%s] ? (%s) : 0", strings.Join(names, ", "),
		f.Formula.Value), At: f.Formula.At}, formula.Number)
}

// computed checks the name of a figure that the program computes. The name chooses a module of the program, as a
// formula chooses its own inputs.
func (c *compiler) computed(name book.Text) string {
	if _, ok := figures.Find(figures.ID(name.Value)); name.Value != "" && !ok {
		var known []string
		for _, d := range figures.Registry() {
			known = append(known, string(d.ID))
		}
		c.error(name.At, suggest.Nearest(name.Value, known, "the computed figures are "+strings.Join(known, ", ")),
			"unknown computed figure %q", name)
	}
	return name.Value
}

// figureCircle reports a figure that depends on itself, by formulas or by what is carried. A computed figure counts
// with what its module reads only where that follows from the book, as circuits do.
func (c *compiler) figureCircle() {
	// a formula that could not be lowered reads nothing: it may hide a circle, and makes none up
	reads := make([]formula.Reads, len(c.pack.Figures))
	for i, f := range c.pack.Figures {
		reads[i] = f.Formula.Reads()
		if r, ok := figures.CircuitReads(c.pack, figures.ID(f.Computed)); ok {
			reads[i] = r
		}
	}
	carry := func(list []pack.Contribution) {
		for _, y := range list {
			reads[y.Figure] = reads[y.Figure].With(y.Amount.Reads())
		}
	}
	for _, h := range c.pack.Hulls {
		carry(h.Carries)
	}
	for _, o := range c.pack.Options {
		carry(o.Carries)
	}
	if i := figures.Circle(reads); i >= 0 {
		c.error(c.book.Figures[i].ID.At, "let one of the figures on the way not read the next",
			"the figure %s depends on itself", c.book.Figures[i].ID)
	}
}

// yardOnly reports what would be another boat on the buyer's desk: formulas that read a figure which is not known
// there. Every desk must judge a boat alike: a boat that the buyer's desk allows and the yard's refuses would be sold.
func (c *compiler) yardOnly() {
	check := func(at book.Position, p formula.Program) {
		for _, i := range p.Reads().Figures {
			if f := &c.pack.Figures[i]; figures.YardOnly(figures.ID(f.Computed)) {
				c.error(at, "let only prices, costs and papers follow from it",
					"the figure %s is not known on the buyer's desk, so nothing of the boat may follow from it", f.ID)
			}
		}
	}
	// what carries an unknown figure is not in the pack
	carried := func(list book.Pairs[book.Formula], made []pack.Contribution) {
		for _, y := range list {
			if _, ok := c.ids["figure"][y.Key.Value]; ok {
				check(y.Value.At, made[0].Amount)
				made = made[1:]
			}
		}
	}
	for i, f := range c.book.Figures {
		check(f.Formula.At, c.pack.Figures[i].Formula)
	}
	for i, r := range c.book.Rules {
		check(r.Need.At, c.pack.Rules[i].Need)
		check(r.Need.At, c.pack.Rules[i].When)
	}
	// options are numbered through all slots
	option := 0
	for i, s := range c.book.Slots {
		check(s.When.At, c.pack.Slots[i].When)
		for _, o := range s.Options {
			carried(o.Carries, c.pack.Options[option].Carries)
			option++
		}
	}
	for i, h := range c.book.Hulls {
		carried(h.Carries, c.pack.Hulls[i].Carries)
	}
}

// rules lowers the rules, and makes rules of what options require and exclude. A link is a rule with its option as the
// condition, so that fit knows rules alone. Its name has the option and a number, since links have none of their own.
func (c *compiler) rules() {
	for _, r := range c.book.Rules {
		c.pack.Rules = append(c.pack.Rules, pack.Rule{ID: r.ID.Value, When: c.lower(r.When, formula.Truth),
			Need:    c.lower(r.Need, formula.Truth),
			Because: r.Because.Value, Advice: r.Advice.Value, Guard: r.Guard})
	}
	for _, s := range c.book.Slots {
		for _, o := range s.Options {
			for i, l := range o.Requires {
				c.link(o, l, fmt.Sprintf("%s-requires-%d", o.ID, i+1), false)
			}
			for i, l := range o.Excludes {
				c.link(o, l, fmt.Sprintf("%s-excludes-%d", o.ID, i+1), true)
			}
		}
	}
}

// link makes a rule of a link: with the option, one of the others must be aboard, or none of them may be. It is written
// in steps, not as text: the identifiers of a book need no quoting, and no parser runs a second time.
func (c *compiler) link(o book.Option, l book.Link, id string, exclude bool) {
	// in postfix: a, b or, c or, and not behind them
	need := []formula.Step{}
	for i, other := range l.AnyOf {
		// an option that is not known has been reported by the check of the book
		need = append(need, formula.Step{Op: formula.Has, Index: c.ids["option"][other.Value]})
		if i > 0 {
			need = append(need, formula.Step{Op: formula.Or})
		}
	}
	// none of them: the whole or is turned round
	if exclude {
		need = append(need, formula.Step{Op: formula.Not})
	}
	when, err := formula.New([]formula.Step{{Op: formula.Has, Index: c.ids["option"][o.ID.Value]}})
	if err == nil {
		var needed formula.Program
		needed, err = formula.New(need)
		c.pack.Rules = append(c.pack.Rules, pack.Rule{ID: id, When: when, Need: needed, Because: l.Because.Value,
			Advice: l.Advice.Value, Guard: l.Guard})
	}
	if err != nil {
		c.error(l.At, "name at least one option in any_of", "the link of %s is empty", o.ID)
	}
}
