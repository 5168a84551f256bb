package book

import (
	"math"
	"time"

	"ribband/core/money"
)

func (v *validation) trade() {
	numbered := map[[2]string]Position{} // articles, by supplier and number
	for _, m := range v.book.Materials {
		v.unit(m.Unit, true)
		v.notNegative(m.Cost)
		v.share(m.Waste, "5")
		v.atLeast(m.Pack, 0.001, "the pack of "+m.ID.Value)
		v.atLeast(m.LeadDays, 0, "the lead time of "+m.ID.Value)
		v.supplied(m)
		v.costBreaks(&m)
		v.priceDate(&m)
		v.numbered(&m, numbered)
		v.foamKind(&m)
	}
}

// supplied warns of waste, packs and lead times beyond reason.
func (v *validation) supplied(m Material) {
	if most := money.MustRate("1"); m.Waste.Given() && m.Waste.Value.Cmp(most) > 0 {
		v.warn(m.Waste.At, Limits.Waste.Advice(), "the waste of %s is %s", m.ID, m.Waste.Value)
	}
	v.within(m.Pack, Limits.Pack, "the pack of "+m.ID.Value)
	v.within(m.LeadDays, Limits.LeadDays, "the lead time of "+m.ID.Value)
	if m.Pack.Given() && v.book.Piece(&m) != "" && m.Pack.Value != math.Trunc(m.Pack.Value) {
		v.warn(m.Pack.At, "write how many are in a pack, or the unit in which it is kept",
			"a pack of %s holds %g, and it is kept by the %s", m.ID, m.Pack.Value, v.book.Piece(&m))
	}
}

// costBreaks checks prices by quantity: each from more on than the one before, and none dearer than it.
func (v *validation) costBreaks(m *Material) {
	before, price := 0.0, m.Cost
	for _, b := range m.Breaks {
		v.notNegative(b.Price)
		switch {
		case !(b.From.Value > before):
			v.error(b.From.At, "order them by quantity, each from more on than the one before",
				"a price of %s holds from %g on, and the one before it from %g", m.ID, b.From.Value, before)
		case b.Price.Given() && price.Given() && b.Price.Value.Cmp(price.Value) > 0:
			v.warn(b.Price.At, "write the price of one unit, as the cost is",
				"%s costs %s from %g on, and %s for less", m.ID, b.Price.Value, b.From.Value, price.Value)
		}
		before, price = b.From.Value, b.Price
	}
}

// priceDate checks the day from which prices hold.
func (v *validation) priceDate(m *Material) {
	if _, err := time.Parse(time.DateOnly, m.PriceDate.Value); m.PriceDate.Value != "" && err != nil {
		v.error(m.PriceDate.At, "write it as 2027-03-31", "the price date of %s: %q is no day of the calendar", m.ID,
			m.PriceDate.Value)
	}
}

// numbered checks that an article leads to one material: a price list of its supplier names nothing else.
func (v *validation) numbered(m *Material, seen map[[2]string]Position) {
	if m.Article.Value == "" {
		return
	}
	key := [2]string{m.Supplier.Value, m.Article.Value}
	if at, twice := seen[key]; twice {
		v.error(m.Article.At, "give each material its own, or make them one",
			"the article %s of %s stands at %s already", m.Article.Value, m.Supplier.Value, at)
		return
	}
	if m.Supplier.Value == "" {
		v.error(m.Article.At, "add supplier: beside it", "the article %s of %s is nobody's", m.Article.Value, m.ID)
	}
	seen[key] = m.Article.At
}

func (v *validation) notNegative(m Money) {
	if m.Value.Sign() < 0 {
		v.error(m.At, "write an amount of zero or more", "%s is negative", m.Value)
	}
}
