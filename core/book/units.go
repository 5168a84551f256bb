package book

import (
	"slices"
	"strings"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/suggest"
)

// Unit is a unit that the yard keeps materials or states figures in beside those of package measure: a roll, a drum, a
// fathom.
type Unit struct {
	// Identifier, lower-case with hyphens; materials and figures name it as their unit.
	ID Text `yaml:"id,required"`
	// What a reader sees behind a number: rolls, fm.
	Symbol Text `yaml:"symbol,required"`
	// The known unit of which it is a multiple; without it pieces are counted, and taken whole.
	Of Text `yaml:"of"`
	// How many of that unit it is, a decimal.
	Factor Rate `yaml:"factor"`
}

// Unit finds a unit of the book by its identifier.
func (b *Book) Unit(id string) (*Unit, bool) {
	for i := range b.Units {
		if b.Units[i].ID.Value == id {
			return &b.Units[i], true
		}
	}
	return nil, false
}

// Counted says whether a unit counts pieces, which are taken whole.
func (b *Book) Counted(id string) bool {
	u, ok := b.Unit(id)
	if !ok {
		return measure.Counted(id)
	}
	return u.Of.Value == "" || measure.Counted(u.Of.Value)
}

// UnitShown is what a pack has for a unit: its identifier where the program knows it, else its symbol in the language
// of the book.
func (b *Book) UnitShown(id string) string {
	if u, ok := b.Unit(id); ok {
		return u.Symbol.Value
	}
	return id
}

// Piece is what a material is counted in, "piece", "set", "roll"; empty where it is measured.
func (b *Book) Piece(m *Material) string {
	switch id := m.Unit.Value; {
	case !b.Counted(id):
		return ""
	case id == "each":
		return "piece"
	default:
		return id
	}
}

// isUnit says whether there is a unit of that name.
func (v *validation) isUnit(id string) bool {
	_, own := v.book.Unit(id)
	return own || isKnownUnit(id)
}

func isKnownUnit(id string) bool { return slices.Contains(knownUnits(), id) }

// knownUnits are the names of those of the program.
func knownUnits() (names []string) {
	for _, u := range measure.Units {
		names = append(names, u.ID)
	}
	return names
}

// unit reports a unit that the program does not know, and that is none of the book where it may have its own.
func (v *validation) unit(id Text, own bool) {
	if isKnownUnit(id.Value) || own && v.isUnit(id.Value) || v.book.Damaged("units") {
		return
	}
	advice := "the units are " + strings.Join(knownUnits(), ", ") + "; a count, a share or another pure number has each"
	switch {
	case !own && v.isUnit(id.Value):
		advice += "; those of the book are for materials and figures"
	case own && len(v.book.Units) > 0:
		var names []string
		for _, u := range v.book.Units {
			names = append(names, u.ID.Value)
		}
		advice += "; those of the book are " + strings.Join(names, ", ")
	case own:
		advice += "; the book may have others under units:"
	}
	v.error(id.At, advice, "unknown unit %q", id)
}

// What a factor may be: beyond it something else is meant.
var leastFactor, mostFactor = money.MustRate("0.000001"), money.MustRate("1000000")

// units checks the units of the book.
func (v *validation) units() {
	for _, u := range v.book.Units {
		if _, known := measure.UnitOf(u.ID.Value); known {
			v.error(u.ID.At, "leave it out, or give yours another name", "the program knows the unit %s by itself",
				u.ID)
		}
		v.symbol(&u)
		switch {
		case u.Of.Value == "" && u.Factor.Given():
			v.error(u.Factor.At, "write of: with the unit of which it is so many, or leave the factor out",
				"the unit %s is a multiple of nothing", u.ID)
		case u.Of.Value == "":
		case !isKnownUnit(u.Of.Value):
			names := knownUnits()
			v.error(u.Of.At, suggest.Nearest(u.Of.Value, names, "the units are "+strings.Join(names, ", ")),
				"the unit %s is a multiple of the unknown unit %q", u.ID, u.Of)
		case !u.Factor.Given():
			v.error(u.Of.At, `add how many, as in factor: "1.8288"`, "the unit %s does not say how many %s it is",
				u.ID, u.Of)
		case u.Factor.Value.Cmp(leastFactor) < 0 || u.Factor.Value.Cmp(mostFactor) > 0:
			v.error(u.Factor.At, "write how many of the known unit one is, above zero",
				"the unit %s is %s %s", u.ID, u.Factor.Value, u.Of)
		}
	}
}

// symbol reports a symbol that would be read as another unit, in any language.
func (v *validation) symbol(u *Unit) {
	words := []string{u.Symbol.Value}
	if u.Symbol.Words != nil {
		for _, w := range *u.Symbol.Words {
			words = append(words, w.Value)
		}
	}
	for _, w := range words {
		if _, known := measure.UnitOf(w); known {
			v.error(u.Symbol.At, "write what nobody takes for that one", "the symbol of the unit %s is that of %s",
				u.ID, w)
			return
		}
	}
}
