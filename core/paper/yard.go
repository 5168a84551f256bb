package paper

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/look"
	"ribband/core/measure"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

func yardHTML(y *sheet.Yard, q *quote.Quote, pictures []look.Picture) []g.Node {
	return []g.Node{
		Header(Class("letterhead"), P(Class("yard"), g.Text("Build sheet")), P(Class("address"), g.Text(subject(q))),
			yardRemarks(q)),
		H1(g.Text(y.Hull)),
		clashes(y.Clashes),
		shopTable(y),
		valueTable("Intended use", "", y.Use),
		specification(y.Contents),
		optionTable(y),
		workTable(y),
		purchaseTable(y),
		laminateTable(y.Laminates),
		partTables(y.Parts),
		cutTable(y.Cuts),
		loomTables(y.Loom, y.Circuits),
		costTable(y),
		drawings(pictures),
		valueTable("Performance and dimensions", preliminary, y.Figures),
		g.Map(boatLists(y), func(l titledList) g.Node { return notes(l.title, l.items) }),
		notes("Caution", []string{shopCaution}),
		Footer(P(g.Text(yardColophon(y)))),
	}
}

func subject(q *quote.Quote) string {
	if q == nil || q.Number == "" {
		return "No quotation yet"
	}
	return strings.Join(contact([]string{"Quotation " + q.Number}, quote.Day(q.Date), q.Customer.Name), ", ")
}

// yardRemarks are the words of the quotation that the yard must know.
func yardRemarks(q *quote.Quote) g.Node {
	if q == nil || q.Remarks == "" {
		return nil
	}
	return P(Class("note"), g.Text(q.Remarks))
}

func yardColophon(y *sheet.Yard) string {
	return fmt.Sprintf("Price book %s of %s, %.12s. Specification %.12s. For the yard only: contains costs.",
		y.Edition.Name, quote.Day(y.Edition.Date), y.Edition.Digest, y.Spec)
}

// hours writes hours to a tenth.
func hours(h measure.Hours) string { return amount(h.Fixed(1)) }

func headRow(first string, rest ...string) g.Node {
	return THead(Tr(Th(g.Attr("scope", "col"), g.Text(first)),
		g.Map(rest, func(s string) g.Node { return Th(g.Attr("scope", "col"), Class("number"), g.Text(s)) })))
}

func bodyRow(class, first string, rest ...string) g.Node {
	return Tr(Class(class), Th(g.Attr("scope", "row"), g.Text(first)),
		g.Map(rest, func(s string) g.Node { return Td(Class("number"), g.Text(s)) }))
}

func shopTable(y *sheet.Yard) g.Node {
	row := func(class string) func(s sheet.ShopHours) g.Node {
		return func(s sheet.ShopHours) g.Node {
			return bodyRow(class, s.Shop, hours(s.Base), hours(s.Options), hours(s.Total), hours(s.Standard),
				hours(s.Over))
		}
	}
	return Section(H2(g.Text("Hours by shop")),
		Table(headRow("Shop", "Base boat", "Options", "This boat", "Standard build", "Over standard"),
			TBody(g.Map(y.Shops, row(""))), TFoot(row("total")(y.Hours))))
}

// shopWork is an operation with all its hours, in one shop.
type shopWork struct {
	shop, operation string
	hours           measure.Hours
}

// work sums the hours of each operation over the base boat and the options, shop by shop, in the order of the book.
func work(y *sheet.Yard) []shopWork {
	var list []shopWork
	for _, shop := range y.Shops {
		at := map[string]int{}
		for _, w := range y.Work {
			if w.Shop != shop.Shop {
				continue
			}
			if i, ok := at[w.Operation]; ok {
				list[i].hours += w.Hours
				continue
			}
			at[w.Operation] = len(list)
			list = append(list, shopWork{w.Shop, w.Operation, w.Hours})
		}
	}
	return list
}

func workTable(y *sheet.Yard) g.Node {
	return Section(H2(g.Text("Operations by shop")),
		Table(headRow("Operation", "Hours"), TBody(g.Map(work(y), func(w shopWork) g.Node {
			return bodyRow("", w.shop+": "+w.operation, hours(w.hours))
		}))))
}

// toOrder puts what is bought for this boat before what is in the store, the longest lead first, otherwise in the order
// of the book.
func toOrder(list []sheet.PurchasePart) []sheet.PurchasePart {
	sorted := slices.Clone(list)
	slices.SortStableFunc(sorted, func(a, b sheet.PurchasePart) int {
		if a.Stock != b.Stock {
			if a.Stock {
				return 1
			}
			return -1
		}
		return b.LeadDays - a.LeadDays
	})
	return sorted
}

func optionTable(y *sheet.Yard) g.Node {
	return Section(H2(g.Text("Hours by option")),
		Table(headRow("Option", "Count", "Hours"), TBody(g.Map(y.Options, func(o sheet.OptionHours) g.Node {
			return bodyRow("", o.Slot+": "+o.Title, strconv.Itoa(o.Count), hours(o.Hours))
		}))))
}

func purchaseTable(y *sheet.Yard) g.Node {
	return Section(H2(g.Text("Materials")),
		listing([]string{"Material", "Used", "Unit", "Packs", "From", "Supplier", "Lead, days"}, toOrder(y.Purchases),
			func(p sheet.PurchasePart) []string {
				used, unit := p.Used.Shown(p.Unit)
				return []string{p.Title, amount(used), unit, packs(p), from(p), p.Supplier, days(p)}
			}))
}

// used writes a quantity of material with its unit.
func used(q measure.Quantity, unit string) string {
	number, symbol := q.Shown(unit)
	return amount(number) + " " + symbol
}

func packs(p sheet.PurchasePart) string {
	if p.Packs == 0 || p.Pack == "1" { // sold by the unit
		return ""
	}
	_, unit := p.Used.Shown(p.Unit)
	return fmt.Sprintf("%d × %s %s", p.Packs, p.Pack, unit)
}

func from(p sheet.PurchasePart) string {
	if p.Stock {
		return "stock"
	}
	return "order"
}

func days(p sheet.PurchasePart) string {
	if p.LeadDays == 0 {
		return ""
	}
	return strconv.Itoa(p.LeadDays)
}

func lead(p sheet.PurchasePart) string {
	if p.LeadDays == 0 || p.Stock {
		return ""
	}
	return fmt.Sprintf("%d days", p.LeadDays)
}

// costRows are the parts of the cost with their titles.
func costRows(c sheet.CostPart) [][2]string {
	rows := [][2]string{
		{"Materials", c.Materials}, {"Part packs left over", c.Leftovers}, {"Labour", c.Labour},
		{"Overhead on materials", c.OverheadOnMaterials}, {"Overhead on labour", c.OverheadOnLabour},
		{"Contingency", c.Contingency},
		{"Cost", c.Total}, {"Net price", c.NetPrice},
	}
	if c.TradeInOver != "" {
		rows = append(rows, [2]string{"Trade-in above its resale value", c.TradeInOver})
	}
	rows = append(rows, [2]string{"Margin on price", c.Margin})
	if c.Approval != "" {
		rows = append(rows, [2]string{"Approved by", c.Approval})
	}
	return rows
}

func costTable(y *sheet.Yard) g.Node {
	return Section(H2(g.Text("Cost")), Table(headRow("", y.Currency),
		TBody(g.Map(costRows(y.Cost), func(r [2]string) g.Node { return bodyRow("", r[0], amount(r[1])) }))))
}

func yardText(y *sheet.Yard, q *quote.Quote) string {
	t := &textPaper{}
	t.line("Build sheet")
	t.wrapped(subject(q))
	if q != nil {
		t.wrapped(q.Remarks)
	}
	t.heading(y.Hull, '=')
	t.list("This boat cannot be built as it stands", y.Clashes)
	t.heading("Hours by shop", '-')
	t.line(fmt.Sprintf("%-18s%12s%12s%12s%12s%12s", "Shop", "Base boat", "Options", "This boat", "Standard", "Over"))
	for _, s := range append(append([]sheet.ShopHours{}, y.Shops...), y.Hours) {
		name := s.Shop
		if utf8.RuneCountInString(name) > 18 {
			t.wrapped(name)
			name = ""
		}
		t.line(fmt.Sprintf("%-18s%12s%12s%12s%12s%12s", name, hours(s.Base), hours(s.Options), hours(s.Total),
			hours(s.Standard), hours(s.Over)))
	}
	t.heading("Hours by option", '-')
	for _, o := range y.Options {
		t.amount(o.Slot+": "+pack.Times(o.Count, o.Title), o.Hours.Fixed(1))
	}
	t.heading("Operations by shop", '-')
	for _, w := range work(y) {
		t.amount(w.shop+": "+w.operation, w.hours.Fixed(1))
	}
	t.values("Intended use", y.Use)
	t.specification(y.Contents)
	t.heading("Materials", '-')
	for _, p := range toOrder(y.Purchases) {
		t.amount(strings.TrimSuffix(p.Title+", "+strings.Join(contact(nil, from(p), packs(p), p.Supplier, lead(p)),
			", "), ", "), used(p.Used, p.Unit))
	}
	laminateText(t, y.Laminates)
	partText(t, y.Parts)
	cutText(t, y.Cuts)
	loomText(t, y.Loom, y.Circuits)
	t.heading("Cost in "+y.Currency, '-')
	for _, r := range costRows(y.Cost) {
		t.amount(r[0], r[1])
	}
	t.values("Performance and dimensions", y.Figures)
	t.wrapped(preliminary)
	t.solar(y.Solar)
	for _, l := range boatLists(y) {
		t.list(l.title, l.items)
	}
	t.line("")
	t.wrapped(yardColophon(y))
	return t.String()
}

func yardJSON(y *sheet.Yard) ([]byte, error) {
	text, err := json.MarshalIndent(y, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("writing a paper: %w", err)
	}
	return append(text, '\n'), nil
}

// yardCSV is one table: operations and materials, each for the base boat or an option, then what the shops cut, bend
// and coat, then purchases, the loom, and what labels say.
func yardCSV(y *sheet.Yard) ([]byte, error) {
	rows := [][]string{{"kind", "for", "id", "title", "shop", "quantity", "unit", "currency", "amount", "packs",
		"supplier", "lead_days", "book"}}
	for _, w := range y.Work {
		rows = append(rows, []string{"work", w.For, "", w.Operation, w.Shop, w.Hours.String(), "h", y.Currency,
			w.Amount, "", "", "", w.Trace.At})
	}
	for _, m := range y.Materials {
		rows = append(rows, []string{"material", m.For, m.Material, m.Title, m.Shop, m.Used.String(), m.Unit,
			y.Currency, m.Amount, "", "", "", m.Trace.At})
	}
	for _, t := range partLists(y.Parts) {
		for _, r := range t.rows {
			rows = append(rows, []string{t.kind, r.what, "", r.material + ": " + r.size(t.columns), "", r.quantity,
				r.unit, "", "", "", "", "", ""})
		}
	}
	for _, p := range y.Purchases {
		rows = append(rows, []string{"purchase", "", p.Material, p.Title, "", p.Used.String(), p.Unit, y.Currency,
			p.Charged, packs(p), p.Supplier, days(p), ""})
	}
	rows = append(rows, loomRows(y.Loom, y.Circuits)...)
	for _, l := range labels(y) {
		for _, text := range l.items {
			rows = append(rows, []string{"label", l.title, "", text, "", "", "", "", "", "", "", "", ""})
		}
	}
	return writeCSV(rows)
}
