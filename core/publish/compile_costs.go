package publish

import (
	"cmp"
	"strconv"

	"ribband/core/book"
	"ribband/core/formula"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/numbering"
	"ribband/core/pack"
)

// selling is by what somebody quotes, whoever he is.
func (c *compiler) selling() {
	b, s := c.book, c.pack.Selling
	s.Maker = pack.Maker{Code: b.Yard.MakerCode.Value, Country: b.Yard.Country.Value}
	s.Numbering = cmp.Or(b.QuotationNumbers.Value, string(numbering.Default))
}

// costs are what prices and margins follow from. A buyer's prices are rounded already.
func (c *compiler) costs() {
	b, k := c.book, c.pack.Costs
	k.PriceStep = b.Rounding.PriceStep.Value
	k.OnLabour, k.OnMaterials, k.Contingency = b.Overhead.OnLabour.Value, b.Overhead.OnMaterials.Value,
		b.Contingency.Value
	k.Authority, k.MarginFloor = b.Discounts.Authority.Value, b.Discounts.MarginFloor.Value
	for _, d := range b.Dealers {
		k.Dealers = append(k.Dealers, pack.Dealership{ID: d.ID.Value, Firm: d.Firm.Value, Address: texts(d.Address),
			Email: d.Email.Value, Phone: d.Phone.Value, Authority: d.Authority.Value, Commission: d.Commission.Value})
	}
	for _, s := range b.Shops {
		k.Shops = append(k.Shops, pack.Shop{ID: s.ID.Value, Title: s.Title.Value, Rate: s.Rate.Value})
	}
	for _, o := range b.Operations {
		// who does it outside and in how many days stands in the work
		op := pack.Operation{ID: o.ID.Value, Title: o.Title.Value, Shop: c.ids["shop"][o.Shop.Value]}
		if s := o.Subcontracted; s != nil {
			op.Shop, op.Outside = pack.NoShop, &pack.Outside{Unit: s.UnitOf(), Price: s.Price.Value}
		}
		k.Operations = append(k.Operations, op)
	}
	for _, m := range b.Materials {
		// as exact decimals: packs of 0.1 m would else not add up to a metre
		size, err := money.ParseRate(strconv.FormatFloat(m.Pack.Value, 'f', -1, 64))
		if err != nil {
			c.error(m.Pack.At, "write the size with at most nine decimals", "the pack of %s: %v", m.ID, err)
		}
		k.Materials = append(k.Materials, pack.Material{ID: m.ID.Value, Title: m.Title.Value,
			Unit: b.UnitShown(m.Unit.Value), Whole: b.Counted(m.Unit.Value), Cost: m.Cost.Value,
			Breaks: c.breaks(&m), Waste: m.Waste.Value, Pack: size, Stock: m.Stock})
	}
}

// breaks lowers the prices of a material by quantity.
func (c *compiler) breaks(m *book.Material) (list []pack.Break) {
	// in fixed point, like what is taken: a boat that takes exactly so much has the price
	for _, b := range m.Breaks {
		least, err := measure.FromFloat[measure.Quantity](b.From.Value)
		if err != nil {
			c.error(b.From.At, "write how many units it holds from", "the price of %s: %v", m.ID, err)
		}
		list = append(list, pack.Break{Least: least, Price: b.Price.Value})
	}
	return list
}

// item lowers what a base boat (without an option's name) or an option takes, and settles how it is priced.
func (c *compiler) item(at book.Position, option string, price book.Price, margin, markup book.Rate,
	materials []book.Quantity, work []book.Work) pack.BillOfMaterials {
	item := pack.BillOfMaterials{At: c.place(at, "")}
	// the operation that takes it settles on whose sheet it stands, not what it costs
	for _, q := range materials {
		needs := c.materials(&q, option)
		for i := range needs {
			c.pack.Work.Sources[needs[i].At].Taker = c.taker(q.Operation, work)
			needs[i].Customer = q.ByCustomer()
		}
		item.Materials = append(item.Materials, needs...)
	}
	for _, w := range work {
		item.Operations = append(item.Operations, c.need("operation", w.Operation, w.Amount()))
	}
	for _, t := range price.Terms {
		// a plain amount is where it stands; one for each metre, say, is wrong by its formula
		where := t.Amount.At
		if !t.Per.Empty() {
			where = t.Per.At
		}
		// a break, or a part of a package, counts on some boats alone
		item.List = append(item.List, pack.Term{Amount: t.Amount.Value, Per: c.lower(t.Per, formula.Number),
			When: c.lower(t.When, formula.Truth), At: c.place(where, t.Per.Value)})
	}
	// a list price is taken as it is: neither margin nor markup makes anything of it
	if len(item.List) > 0 {
		return item
	}
	general := c.book.Pricing
	// the item's own word goes before the book's; of a book without margin the markup is there, which its check demands
	switch {
	// a margin of nothing is given, too: the yard sells at cost
	case margin.Given():
		item.Margin = c.method(margin)
	case markup.Given():
		item.Markup = c.method(markup)
	case general.Margin.Given():
		item.Margin = c.method(general.Margin)
	default:
		item.Markup = c.method(general.Markup)
	}
	return item
}

// taker is the operation that takes a material, counted from 1: the one named, or else the first of its item. Counted
// from 1, so that 0 is none in a pack that leaves zeros out.
func (c *compiler) taker(operation book.Text, work []book.Work) int {
	if operation.Value == "" {
		if len(work) == 0 {
			return 0 // a book without operations
		}
		operation = work[0].Operation
	}
	return 1 + c.ids["operation"][operation.Value]
}

// rateAt registers a rate; one that the book leaves out stands where the book begins. Every share has a place, so that
// the unfolding of an amount can name the source of each factor.
func (c *compiler) rateAt(r book.Rate) int {
	if !r.Given() {
		return c.place(c.book.Edition.Name.At, "0")
	}
	return c.place(r.At, r.Value.String())
}

// method is a margin or markup with its place.
func (c *compiler) method(r book.Rate) *pack.Method {
	return &pack.Method{Rate: r.Value, At: c.rateAt(r)}
}

// need lowers how much is taken of a material or an operation, by the index of its kind.
func (c *compiler) need(kind string, id book.Text, f book.Formula) pack.BOMLine {
	return pack.BOMLine{Index: c.ids[kind][id.Value], Amount: c.lower(f, formula.Number), At: c.place(f.At, f.Value)}
}
