//go:build !buyer

package paper

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/export"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/sheet"
)

// buildSheet is what the yard builds a boat by, and what it costs.
var buildSheet = Paper{
	ID:      "build-sheet",
	ForYard: true,
	Formats: []Format{AsText, AsHTML, AsJSON, AsCSV, AsWorkbook},
	OnPage:  []Format{AsHTML, AsText, AsCSV, AsWorkbook, AsJSON},
	Gather: func(s *Source, e *engine.Engine, a *engine.Answer, _ string) (err error) {
		if s.Yard = sheet.ForYard(e, a, s.Quote.Details); s.Yard == nil {
			return errors.New("making a build sheet: this desk knows no hours and costs; ask the yard's")
		}
		// a pack with the orders of the yard knows days, too; a boat that finds no place has none
		if e.Plans() && len(s.Yard.Sent) > 0 {
			if b, none := e.LaunchOf(a); none == nil {
				s.Yard.Plan(b)
			}
		}
		s.Pictures, err = sheet.Pictures(e, a.Build)
		return err
	},
	Build: func(s *Source) *doc.Doc { return (&build{s, s.Yard}).build() },
	Data: map[Format]func(*Source) ([]byte, error){
		// everything that the yard computes, with where it stands in the book: the paper has it rounded and in words
		AsJSON: func(s *Source) ([]byte, error) {
			text, err := json.MarshalIndent(s.Yard, "", "  ")
			if err != nil {
				return nil, fmt.Errorf("writing a build sheet as JSON: %w", err)
			}
			return append(steady(text), '\n'), nil
		},
		AsWorkbook: func(s *Source) ([]byte, error) { return export.Workbook((&build{s, s.Yard}).workbook()), nil },
	},
}

// The sheet is long: a boat with everything takes some twenty pages. It is not read through. The foreman plans by its
// first page, the office orders by its materials, each shop has its own card ([jobCard]) of the same numbers.

// build builds the sheet of a boat.
type build struct {
	*Source
	y *sheet.Yard
}

// build goes from what the foreman plans by, hours, to what is bought, cut and wired, then costs, drawings and papers.
func (b *build) build() *doc.Doc {
	y, name := b.y, b.Say("paper.build-sheet")
	// the yard is not named at the head: its own people know whose sheet it is, and look for the boat
	subject, remarks := b.subject()
	blocks := []doc.Block{
		doc.Letterhead{Name: name, Address: []string{subject}, Note: remarks},
		doc.Heading(y.Hull),
		b.clashes(y.Clashes),
		b.shops(),
		b.values(b.Say("paper.use"), "", y.Use),
		b.Specification(y.Contents),
		b.options(),
		b.work(),
		b.sent(),
		b.purchases(),
		b.brought(),
		b.laminates(y.Laminates),
	}
	blocks = append(blocks, b.partSections(y.Parts)...)
	blocks = append(blocks, b.cuts(y.Cuts))
	blocks = append(blocks, b.loomSections(y.Loom, y.Circuits)...)
	blocks = append(blocks, b.cost(), drawings(b.Pictures), b.solar(y.Solar), b.figures(y.Figures))
	blocks = append(blocks, b.BoatPapers(y)...)
	blocks = append(blocks, b.caution(), doc.Footer{b.Say("paper.colophon-yard",
		msg.Text("colophon", b.colophon(y.Edition, y.Spec)))})
	return &doc.Doc{Title: b.named(name, y.Hull), Foot: b.foot(name, y.Hull), Dense: true, Blocks: blocks,
		Data: b.data()}
}

// shops are the hours of each shop: of the base boat, its options, both, the standard build, and beyond that.
func (b *build) shops() doc.Section {
	of := func(s sheet.ShopHours) doc.Row {
		return row(s.Shop, doc.Hours(s.Base), doc.Hours(s.Options), doc.Hours(s.Total), doc.Hours(s.Standard),
			doc.Hours(s.Over))
	}
	// the sum is that of the work, not of the rounded rows above it
	all := of(b.y.Hours)
	all.Style = "total"
	// a shop without work on this boat stands there with zeros: the foremen plan by one and the same list
	return titled(b.Say("paper.hours-by-shop"), "", doc.Table{
		Columns: columns(b.Say("paper.shop"), b.Say("paper.base-boat"), b.Say("paper.options"),
			b.Say("paper.this-boat"),
			b.Say("paper.standard-build"), b.Say("paper.over-standard")),
		Groups: doc.Rows(b.y.Shops, of), Foot: []doc.Row{all}})
}

// options are what each choice adds to the hours, so that a salesperson sees what is dear to build.
func (b *build) options() doc.Section {
	return titled(b.Say("paper.hours-by-option"), "", doc.Table{
		Columns: columns(b.Say("paper.option"), b.Say("paper.count"), b.Say("paper.hours")),
		Groups: doc.Rows(b.y.Options, func(o sheet.OptionHours) doc.Row {
			return row(b.named(o.Slot, o.Title), doc.Count(o.Count), doc.Hours(o.Hours))
		})})
}

// work sums the hours of each operation over the base boat and the options, shop by shop, in the order of the book.
func (b *build) work() doc.Section {
	type operation struct {
		title string
		hours measure.Hours
	}
	// the same operation in two shops is two: each plans its own hours
	var list []operation
	for _, shop := range b.y.Shops {
		at := map[string]int{}
		for _, w := range b.y.Work {
			if w.Shop != shop.Shop {
				continue
			}
			i, ok := at[w.Operation]
			if !ok {
				i = len(list)
				at[w.Operation], list = i, append(list, operation{title: b.named(w.Shop, w.Operation)})
			}
			list[i].hours += w.Hours
		}
	}
	return titled(b.Say("paper.work-by-shop"), "", doc.Table{
		Columns: columns(b.Say("paper.operation"), b.Say("paper.hours")),
		Groups:  doc.Rows(list, func(o operation) doc.Row { return row(o.title, doc.Hours(o.hours)) })})
}

// sent is what goes out to suppliers: whose it is, what has to be done before, when it must go and when it is back.
func (b *build) sent() doc.Section {
	t := doc.Table{Style: "listing", Columns: []doc.Column{{Title: b.Say("paper.operation")},
		{Title: b.Say("paper.supplier")}, {Title: b.Say("paper.quantity"), Right: true},
		{Title: b.Say("paper.goes-after")}, {Title: b.Say("paper.working-days"), Right: true}}}
	// without the orders of the yard nobody can say a day
	days := len(b.y.Sent) > 0 && b.y.Sent[0].Out != ""
	if days {
		t.Columns = append(t.Columns, doc.Column{Title: b.Say("paper.goes-out")},
			doc.Column{Title: b.Say("paper.due-back")})
	}
	t.Groups = doc.Rows(b.y.Sent, func(s sheet.SentPart) doc.Row {
		r := row(s.Operation, doc.Text(s.Supplier), doc.Used(s.Quantity, s.Unit), doc.Text(b.listed(s.After...)),
			doc.Count(s.Days))
		// what the supplier is to build in goes along, and nobody looks for it afterwards
		var with []string
		for _, m := range s.With {
			for _, p := range m.Parts {
				used, symbol := p.Used.Shown(p.Unit)
				with = append(with, b.named(b.material(p), b.Decimal(used)+" "+doc.Unit(b.Language, symbol)))
			}
		}
		if len(with) > 0 {
			r.Detail = b.Say("paper.goes-along", msg.Text("materials", b.listed(with...)))
		}
		if days {
			r.Cells = append(r.Cells, doc.Date(s.Out), doc.Date(s.Back))
		}
		return r
	})
	return titled(b.Say("paper.outside"), "", t)
}

// purchases are what is bought for this boat before what is in the store, the longest lead first, otherwise in the
// order of the book.
func (b *build) purchases() doc.Section {
	// stable, or two editions of one boat could not be compared by eye
	sorted := slices.Clone(b.y.Purchases)
	slices.SortStableFunc(sorted, func(p, q sheet.PurchasePart) int {
		if p.Stock != q.Stock {
			if p.Stock {
				return 1
			}
			return -1
		}
		return q.LeadDays - p.LeadDays
	})
	return titled(b.Say("paper.materials"), "", doc.Table{Style: "listing",
		Columns: []doc.Column{{Title: b.Say("paper.material")}, {Title: b.Say("paper.used"), Right: true},
			{Title: b.Say("paper.packs")}, {Title: b.Say("paper.source")},
			{Title: b.Say("paper.supplier")}, {Title: b.Say("paper.lead"), Unit: b.Say("paper.days")}},
		Groups: doc.Rows(sorted, func(p sheet.PurchasePart) doc.Row {
			// what is kept in store is taken from there, and not ordered for this boat
			from := b.Say("paper.order")
			if p.Stock {
				from = b.Say("paper.store")
			}
			return row(p.Title, doc.Used(p.Used, p.Unit), doc.Text(b.packs(p)),
				doc.Text(from), doc.Text(p.Supplier), doc.Some(float64(p.LeadDays)))
		})})
}

// brought are the materials that the customer brings.
func (b *build) brought() doc.Section {
	var list []sheet.MaterialPart
	for _, m := range b.y.Materials {
		if m.Customer {
			list = append(list, m)
		}
	}
	return titled(b.Say("paper.from-customers"), "", doc.Table{Style: "listing",
		Columns: []doc.Column{{Title: b.Say("paper.material")}, {Title: b.Say("paper.used"), Right: true},
			{Title: b.Say("paper.operation")}},
		Groups: doc.Rows(list, func(m sheet.MaterialPart) doc.Row {
			return row(m.Title, doc.Used(m.Used, m.Unit), doc.Text(m.Operation))
		})})
}

// packs are the packs to buy or to take; nothing for what is sold by the unit.
func (b *build) packs(p sheet.PurchasePart) string {
	if p.Packs == 0 || p.Pack == oneUnit {
		return ""
	}
	// a pack of so many pieces needs no unit, and "50 each" would be read as a price
	if p.Unit == "each" {
		return b.Say("paper.packs-of-pieces", msg.Count("n", p.Packs), msg.Text("size", b.Decimal(p.Pack.String())))
	}
	_, symbol := p.Used.Shown(p.Unit)
	return b.Say("paper.packs-of", msg.Count("n", p.Packs), msg.Text("size", b.Decimal(p.Pack.String())),
		msg.Text("unit", doc.Unit(b.Language, symbol)))
}

// cost is the cost in its parts, and what the price leaves.
func (b *build) cost() doc.Section {
	c := &b.y.Cost
	var rows []doc.Row
	add := func(title string, a money.Amount) { rows = append(rows, row(title, doc.Money(a, b.y.Currency))) }
	// in the order in which the cost is built up, so that it can be added up from the top
	add(b.Say("paper.materials"), c.Materials)
	add(b.Say("paper.part-packs"), c.Leftovers)
	add(b.Say("paper.labour"), c.Labour)
	if !c.Outside.IsZero() { // most boats never leave the yard
		add(b.Say("paper.outside"), c.Outside)
	}
	add(b.Say("paper.overhead-materials"), c.OverheadOnMaterials)
	add(b.Say("paper.overhead-labour"), c.OverheadOnLabour)
	add(b.Say("paper.contingency"), c.Contingency)
	add(b.Say("paper.cost"), c.Total)
	add(b.Say("paper.net-price"), c.NetPrice)
	// what only some deals have
	if !c.TradeInOver.IsZero() {
		add(b.Say("paper.trade-in-over"), c.TradeInOver)
	}
	if !c.Commission.IsZero() {
		add(b.Say("paper.commission"), c.Commission)
	}
	rows = append(rows, row(b.Say("paper.margin"), doc.Share(c.Margin)))
	if c.Approval != "" {
		rows = append(rows, row(b.Say("paper.approved-by"), doc.Text(c.Approval)))
	}
	return titled(b.Say("paper.cost"), "", doc.Table{Columns: columns("", b.y.Currency.Code),
		Groups: []doc.Group{{Rows: rows}}})
}

// data are operations and materials, each for the base boat or an option, then what the shops cut, bend and coat, then
// purchases, the loom, and what labels say.
func (b *build) data() *doc.Table {
	y := b.y
	// for is whose work or material it is, by the identifier of the option; book is the place in its files
	d := newData("kind", "for", "id", "title", "shop", "quantity", "unit", "currency", "amount", "packs", "pack_size",
		"supplier", "lead_days", "book")
	text, none, currency := doc.Text, doc.Cell{}, doc.Text(y.Currency.Code)
	// hours and quantities with all their digits: the paper rounds them, a calculation must not
	for _, w := range y.Work {
		d.add("work", text(w.For), none, text(w.Operation), text(w.Shop), doc.Decimal(w.Hours.String()), text("h"),
			currency, doc.Money(w.Amount, y.Currency), none, none, none, none, text(w.Trace.At))
	}
	// days of the plan are no matter of the book, and move with it: they are on the paper alone
	for _, s := range y.Sent {
		d.add("outside", text(s.For), text(s.ID), text(s.Operation), none, doc.Decimal(s.Quantity.String()),
			text(s.Unit), currency, doc.Money(s.Amount, y.Currency), none, none, text(s.Supplier),
			doc.Some(float64(s.Days)), text(s.Trace.At))
	}
	for _, m := range y.Materials {
		kind := "material"
		if m.Customer {
			kind = "brought"
		}
		d.add(kind, text(m.For), text(m.Material), text(m.Title), text(m.Shop), doc.Decimal(m.Used.String()),
			text(m.Unit), currency, doc.Money(m.Amount, y.Currency), none, none, none, none, text(m.Trace.At))
	}
	b.partData(d, y.Parts)
	for _, p := range y.Purchases {
		charged, packs, size := none, none, none
		if !p.Charged.IsZero() { // for what is left over of the packs bought for this boat
			charged = doc.Money(p.Charged, y.Currency)
		}
		if p.Packs > 0 {
			packs, size = doc.Count(p.Packs), doc.Decimal(p.Pack.String())
		}
		d.add("purchase", none, text(p.Material), text(p.Title), none, doc.Decimal(p.Used.String()), text(p.Unit),
			currency, charged, packs, size, text(p.Supplier), doc.Some(float64(p.LeadDays)))
	}
	b.loomData(d, y.Loom, y.Circuits)
	// labels have no amounts; they are here so that a plate can be engraved from the file
	for _, l := range b.labels(&y.Papers) {
		for _, sentence := range l.Blocks[0].(doc.List) {
			d.add("label", text(l.Title), none, text(sentence))
		}
	}
	return &d.Table
}
