package book

import (
	"fmt"
	"strings"

	"ribband/core/money"
)

// Package is options that cost less together. It is written out as a slot of its own with one option, which is there
// when all of them are, and whose price is what is saved: so it has its line on the quotation, and who asks for it is
// shown what has to be chosen.
type Package struct {
	// Identifier, lower-case with hyphens; formulas read has("ID"). No slot or option has the same.
	ID Text `yaml:"id,required"`
	// The section of the specification in which it stands; that of its first option where not given.
	Section Text `yaml:"section"`
	// What it is called.
	Title Text `yaml:"title,required"`
	// A sentence about it for buyers.
	Note Text `yaml:"note"`
	// What a buyer is told as long as some of its options are missing.
	Because Text `yaml:"because,required"`
	// Its options, each with its count where it is not one.
	Options []Count `yaml:"options,required"`
	// What they cost together, net of tax, in the place of their list prices.
	Price Money `yaml:"price"`
	// What is saved, net of tax, where no price is given.
	Saving Money `yaml:"saving"`
	// The first day on which it is sold; always where not given.
	SoldFrom Text `yaml:"sold_from" json:",omitzero"`
	// The last day on which it is sold; without end where not given.
	SoldUntil Text `yaml:"sold_until" json:",omitzero"`
	// Where it stands.
	At Position `json:"-"`
}

// pack writes a package out.
func (b *Book) pack(p *Package) Slot {
	s := Slot{ID: p.ID, Section: p.Section, Title: p.Title, Note: p.Note, Because: p.Because, At: p.At,
		Standard: Standard{All: []Count{{p.ID, Number{1, p.At}}}, At: p.ID.At}}
	var all []string
	for _, c := range p.Options {
		if s.Section.Value == "" {
			s.Section = b.sectionOf(c.Option.Value)
		}
		if c.Count.Value > 1 {
			all = append(all, fmt.Sprintf("count(%q) >= %g", c.Option.Value, c.Count.Value))
		} else {
			all = append(all, fmt.Sprintf("has(%q)", c.Option.Value))
		}
	}
	at := p.At
	if len(p.Options) > 0 {
		at = p.Options[0].Option.At
	}
	s.When = Formula{Value: strings.Join(all, " and "), At: at}
	s.Options = []Option{{ID: p.ID, Title: p.Title, Price: b.saved(p), SoldFrom: p.SoldFrom, SoldUntil: p.SoldUntil,
		At: p.At, lowers: true}}
	return s
}

// sectionOf is the section of an option.
func (b *Book) sectionOf(option string) Text {
	for _, s := range b.Slots {
		for _, o := range s.Options {
			if o.ID.Value == option {
				return s.Section
			}
		}
	}
	return Text{}
}

// priceOf is the list price of an option; without terms where it has none.
func (b *Book) priceOf(option string) Price {
	for _, s := range b.Slots {
		for _, o := range s.Options {
			if o.ID.Value == option {
				return o.Price
			}
		}
	}
	return Price{}
}

// saved is the price of the option that stands for a package, below zero: what is saved, or the package's price less
// the list prices of its options.
func (b *Book) saved(p *Package) Price {
	if p.Saving.Given() {
		return Price{Terms: []PriceTerm{{Amount: Money{p.Saving.Value.Neg(), p.Saving.At}}}, At: p.Saving.At}
	}
	out := Price{Terms: []PriceTerm{{Amount: p.Price}}, At: p.Price.At}
	for _, c := range p.Options {
		for _, t := range b.priceOf(c.Option.Value).Terms {
			t.Amount.Value = t.Amount.Value.Times(int64(c.Count.Value)).Neg()
			out.Terms = append(out.Terms, t)
		}
	}
	return out
}

// packages checks what packages hold and what they cost.
func (v *validation) packages() {
	for i := range v.book.Packages {
		p := &v.book.Packages[i]
		if len(p.Options) < 2 {
			v.error(p.ID.At, "name two options or more", "the package %s holds %d options", p.ID, len(p.Options))
		}
		seen := map[string]bool{}
		listed := true
		for _, c := range p.Options {
			v.count(c.Count, 1, "an option of "+p.ID.Value)
			if !v.known("option", c.Option) {
				return
			}
			if seen[c.Option.Value] {
				v.error(c.Option.At, "name it once, with its count", "the package %s names %s twice", p.ID, c.Option)
			}
			seen[c.Option.Value] = true
			if p.Price.Given() && len(v.book.priceOf(c.Option.Value).Terms) == 0 {
				listed = false
				v.error(c.Option.At, "give it a list price, or the package a saving: in the place of its price",
					"%s has no list price, so that nobody can say what the package %s saves", c.Option, p.ID)
			}
		}
		if p.Price.Given() == p.Saving.Given() {
			v.error(p.ID.At, `write price: "4500", or saving: "480"`,
				"the package %s has neither price nor saving, or both", p.ID)
		} else if saving, plain := v.saving(p); listed && plain && saving.Sign() <= 0 {
			v.warn(orAt(p.Price.At, p.Saving.At), "make it cost less than its options one by one",
				"the package %s costs %s more than its options one by one", p.ID, saving.Neg())
		}
	}
}

// saving is what a package saves, where that follows from no choice.
func (v *validation) saving(p *Package) (saving money.Amount, plain bool) {
	for _, t := range v.book.saved(p).Terms {
		if !t.Per.Empty() || !t.When.Empty() {
			return saving, false
		}
		saving = saving.Sub(t.Amount.Value)
	}
	return saving, true
}
