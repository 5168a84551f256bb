package papers

import (
	"ribband/core/doc"
	"ribband/core/msg"
	"ribband/core/orders"
	"ribband/core/pack"
)

// SupplierOrder is an order to a supplier: what the yard wants of him, how much, in which packs, and by which day it
// has to be there. It has the yard's own words and identifiers of the articles, since these come back on his papers.
// There is no price in it, which is between the two by other papers, and nothing of the boats: neither customer nor
// order nor hull.
func SupplierOrder(l *msg.Language, yard *pack.YardInfo, supplier string, list []orders.Purchase,
	day orders.Day) *doc.Doc {
	w := in(l)
	title := w.Say("office.supplier-order", msg.Date("day", day.String()))
	t := doc.Table{Style: "listing", Columns: []doc.Column{{Title: w.Say("office.article")},
		{Title: w.Say("office.our-number")}, {Title: w.Say("office.your-number")},
		{Title: w.Say("office.quantity"), Right: true},
		{Title: w.Say("office.packs"), Right: true}, {Title: w.Say("office.wanted-by"), Right: true}}}
	// said once below the list, where something of it is late
	hurry := false
	t.Groups = doc.Rows(list, func(b orders.Purchase) doc.Row {
		r := row(b.Title, doc.Text(b.Material), doc.Text(b.Article), doc.Used(b.Buy, b.Unit), doc.Text(w.packs(&b)),
			doc.Date(b.Wanted().String()))
		// by the days that he takes it cannot be there in time: he is asked, and not the boat
		if b.Late > 0 {
			hurry = true
			r.Detail = w.Say("office.sooner")
		}
		// what he works on comes from the yard, and the day in the last column is that on which it is back
		if !b.Back.IsZero() {
			r.Detail = w.Say("office.comes-to-you", msg.Date("day", b.OrderBy.String()))
		}
		return r
	})
	lines := []string{w.Say("office.confirm-order")}
	if hurry {
		lines = append(lines, w.Say("office.hurry"))
	}
	return &doc.Doc{Title: title, Foot: title + " · " + yard.Name, Head: supplier, Data: supplierData(supplier, list),
		Blocks: []doc.Block{letterhead(yard), doc.Heading(title),
			particulars([2]string{w.Say("office.to"), supplier}, [2]string{w.Say("paper.date"), w.Date(day.String())},
				[2]string{w.Say("office.deliver-to"), w.listed(append([]string{yard.Name}, yard.Address...)...)}),
			section("", "", doc.Paragraph{Text: w.Say("office.we-order")}, t),
			notes(w.Say("paper.terms"), lines),
			section("", "acceptance", doc.Signatures{w.Say("paper.yard-signs", msg.Text("yard", yard.Name))}),
			law(yard)}}
}

// packs are the packs to deliver; nothing for what is not bought by the pack.
func (w writer) packs(b *orders.Purchase) string {
	if b.Packs == 0 {
		return ""
	}
	// a pack of so many pieces needs no unit, and "50 each" would be read as a price
	if b.Unit == "each" {
		return w.Say("paper.packs-of-pieces", msg.Count("n", b.Packs), msg.Text("size", w.Decimal(b.Pack.String())))
	}
	return w.Say("paper.packs-of", msg.Count("n", b.Packs), msg.Text("size", w.Decimal(b.Pack.String())),
		msg.Text("unit", doc.Unit(w.Language, b.Unit)))
}

// supplierData is the order for a program: what many suppliers take in is a table.
func supplierData(supplier string, list []orders.Purchase) *doc.Table {
	// the supplier on each row, so that several orders can be put together
	t := &doc.Table{}
	for _, name := range []string{"article", "title", "supplier", "suppliers_article", "quantity", "unit", "packs",
		"pack_size", "wanted_by"} {
		t.Columns = append(t.Columns, doc.Column{Title: name})
	}
	t.Groups = doc.Rows(list, func(b orders.Purchase) doc.Row {
		packs, size := doc.Cell{}, doc.Cell{}
		if b.Packs > 0 {
			packs, size = doc.Count(b.Packs), doc.Decimal(b.Pack.String())
		}
		// with all digits: the paper rounds up, as a shop measures
		return row(b.Material, doc.Text(b.Title), doc.Text(supplier), doc.Text(b.Article),
			doc.Decimal(b.Buy.String()), doc.Text(b.Unit), packs, size, doc.Date(b.Wanted().String()))
	})
	return t
}
