//go:build !buyer

package paper

import (
	"ribband/core/doc"
	"ribband/core/export"
	"ribband/core/measure"
	"ribband/core/sheet"
)

// workbook is what the office calculates with: materials as they are used and as they are bought, hours, and how cost
// and prices build up. Numbers have all their digits, and each row names its place in the book, so that what looks
// wrong in a spreadsheet is put right where it comes from.
func (b *build) workbook() []export.Sheet {
	return []export.Sheet{
		{Name: b.Say("paper.materials"), Table: b.materialTable()},
		{Name: b.Say("paper.bought"), Table: b.purchaseTable()},
		{Name: b.Say("paper.hours"), Table: b.hourTable()},
		{Name: b.Say("paper.cost"), Table: b.costTable()},
		{Name: b.Say("paper.price"), Table: b.priceTable()},
	}
}

// money is a column of amounts in the currency of the yard.
func (b *build) money(title string) doc.Column {
	return doc.Column{Title: title, Unit: b.y.Currency.Code}
}

// heads are without units where each row has its own: columns of words and numbers by their titles.
func heads(titles ...string) (list []doc.Column) {
	for _, t := range titles {
		list = append(list, doc.Column{Title: t})
	}
	return list
}

// materialTable has a row for each material of the base boat or an option.
func (b *build) materialTable() doc.Table {
	// by identifier first, as the book has it, then by title: an office sorts by either
	columns := heads(b.Say("paper.for"), b.Say("paper.article"), b.Say("paper.material"), b.Say("paper.shop"),
		b.Say("paper.operation"), b.Say("paper.net"), b.Say("paper.used"), b.Say("paper.unit"),
		b.Say("paper.unit-code"))
	return doc.Table{
		Columns: append(columns, b.money(b.Say("paper.cost")), doc.Column{Title: b.Say("paper.place")}),
		Groups: doc.Rows(b.y.Materials, func(m sheet.MaterialPart) doc.Row {
			code, _ := measure.Code(m.Unit)
			return row(m.For, doc.Text(m.Material), doc.Text(m.Title), doc.Text(m.Shop), doc.Text(m.Operation),
				doc.Decimal(m.BuiltIn.String()), doc.Decimal(m.Used.String()), doc.Text(m.Unit), doc.Text(code),
				doc.Money(m.Amount, b.y.Currency), doc.Text(m.Trace.At))
		}),
		// what extra items cost is a sum that a salesperson typed, and stands in no row
		Foot: []doc.Row{row(b.Say("paper.with-extras"), append(make([]doc.Cell, 8),
			doc.Money(b.y.Cost.Materials, b.y.Currency))...)}}
}

// purchaseTable has a row for each material of the whole boat, in packs where it comes in packs.
func (b *build) purchaseTable() doc.Table {
	columns := heads(b.Say("paper.article"), b.Say("paper.material"), b.Say("paper.used"), b.Say("paper.unit"),
		b.Say("paper.unit-code"), b.Say("paper.pack"), b.Say("paper.packs"), b.Say("paper.left-over"))
	columns = append(columns, b.money(b.Say("paper.left-over-charged")))
	return doc.Table{
		Columns: append(columns, heads(b.Say("paper.source"), b.Say("paper.supplier"), b.Say("paper.lead"))...),
		Groups: doc.Rows(b.y.Purchases, func(p sheet.PurchasePart) doc.Row {
			from, pack, packs, left := b.Say("paper.order"), doc.Cell{}, doc.Cell{}, doc.Cell{}
			if p.Stock {
				from = b.Say("paper.store")
			}
			// what is sold by the unit has no packs, and nothing of it is left over
			if p.Packs > 0 {
				pack, packs, left = doc.Decimal(p.Pack.String()), doc.Count(p.Packs), doc.Decimal(p.Leftover.String())
			}
			return row(p.Material, doc.Text(p.Title), doc.Decimal(p.Used.String()), doc.Text(p.Unit),
				doc.Text(p.UnitCode), pack, packs, left, doc.Money(p.Charged, b.y.Currency), doc.Text(from),
				doc.Text(p.Supplier), doc.Some(float64(p.LeadDays)))
		})}
}

// hourTable has a row for each operation of the base boat or an option, as they are done.
func (b *build) hourTable() doc.Table {
	columns := heads(b.Say("paper.for"), b.Say("paper.shop"), b.Say("paper.operation"), b.Say("paper.hours"))
	return doc.Table{
		Columns: append(columns, b.money(b.Say("paper.labour")), doc.Column{Title: b.Say("paper.place")}),
		Groups: append(doc.Rows(b.y.Work, func(w sheet.WorkPart) doc.Row {
			return row(w.For, doc.Text(w.Shop), doc.Text(w.Operation), doc.Decimal(w.Hours.String()),
				doc.Money(w.Amount, b.y.Currency), doc.Text(w.Trace.At))
		}), doc.Rows(b.y.Sent, func(s sheet.SentPart) doc.Row { // without hours: what it costs stands all the same
			return row(s.For, doc.Text(s.Supplier), doc.Text(s.Operation), doc.Cell{},
				doc.Money(s.Amount, b.y.Currency), doc.Text(s.Trace.At))
		})...),
		// of the whole boat, with what extra items take and no operation has
		Foot: []doc.Row{row(b.y.Hours.Shop, doc.Cell{}, doc.Cell{}, doc.Decimal(b.y.Hours.Total.String()))}}
}

// costTable is the cost in its parts, and the rates by which some of them follow from others.
func (b *build) costTable() doc.Table {
	t := b.cost().Blocks[0].(doc.Table)
	t.Columns = append(heads(b.Say("paper.cost")), b.money(""), doc.Column{Title: b.Say("paper.share")},
		b.money(b.Say("paper.share-of")), doc.Column{Title: b.Say("paper.place")})
	// a rate stands with what it is a share of, so that it can be worked out again
	var rates []doc.Row
	for _, r := range b.y.Rates {
		rates = append(rates, row(b.Text(r.Part), doc.Money(r.Amount, b.y.Currency), doc.Share(r.Rate),
			doc.Money(r.Of, b.y.Currency), doc.Text(r.At)))
	}
	t.Groups = append(t.Groups, doc.Group{Rows: rates})
	return t
}

// priceTable says how the sell price of the base boat and of each option came about.
func (b *build) priceTable() doc.Table {
	columns := append(heads(b.Say("paper.for"), b.Say("paper.count"), b.Say("paper.priced-by"), b.Say("paper.share")),
		b.money(b.Say("paper.cost")), b.money(b.Say("paper.net-price")), doc.Column{Title: b.Say("paper.place")})
	return doc.Table{Columns: columns, Groups: doc.Rows(b.y.Prices, func(p sheet.PriceTrace) doc.Row {
		// a list price has neither margin nor markup
		share := doc.Cell{}
		if !p.Rate.IsZero() {
			share = doc.Share(p.Rate)
		}
		return row(p.For, doc.Count(p.Count), doc.Text(p.Method), share, doc.Money(p.Cost, b.y.Currency),
			doc.Money(p.Net, b.y.Currency), doc.Text(p.At))
	})}
}
