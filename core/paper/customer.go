package paper

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/drawing"
	"ribband/core/quote"
)

// customerHTML puts the first picture, the boat, on the first page.
func customerHTML(q *quote.Quote, pictures []quote.Picture) []g.Node {
	first := min(1, len(pictures))
	return []g.Node{
		letterhead(q),
		H1(g.Text(kind(q))),
		particulars(q),
		clashes(q.Clashes),
		drawings(pictures[:first]),
		priceTable(q),
		stageTable(q),
		specification(q.Contents),
		drawings(pictures[first:]),
		valueTable("Performance and dimensions", preliminary, q.Figures),
		valueTable("Intended use", "", q.Use),
		notes("Terms", q.Terms),
		notes("Cautions", q.Cautions),
		signatures(q),
		colophon(q),
	}
}

func letterhead(q *quote.Quote) g.Node {
	return Header(Class("letterhead"),
		P(Class("yard"), g.Text(q.Yard.Name)),
		P(Class("address"), g.Text(strings.Join(contact(q.Yard.Address, q.Yard.Email, q.Yard.Phone), " · "))),
		g.If(q.Yard.Note != "", P(Class("note"), g.Text(q.Yard.Note))),
	)
}

func contact(address []string, more ...string) []string {
	var out []string
	for _, s := range append(append([]string{}, address...), more...) {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// particulars are what stands between the heading and the price: for whom, when, how long it holds.
func particulars(q *quote.Quote) g.Node {
	rows := [][2]string{{"Boat", q.Hull}}
	if q.Customer.Name != "" {
		rows = append(rows, [2]string{"For", strings.Join(contact([]string{q.Customer.Name}, append(q.Customer.Address, q.Customer.Email, q.Customer.Phone)...), ", ")})
	}
	for _, r := range [][2]string{{"Date", quote.Day(q.Date)}, {"Valid until", quote.Day(q.ValidUntil)}, {"Prepared by", q.Seller}, {"Destination", q.Price.Region}, {"Remarks", q.Remarks}} {
		if r[1] != "" {
			rows = append(rows, r)
		}
	}
	return Dl(Class("particulars"), g.Map(rows, func(r [2]string) g.Node {
		return g.Group{Dt(g.Text(r[0])), Dd(g.Text(r[1]))}
	}))
}

func clashes(list []string) g.Node {
	if len(list) == 0 {
		return nil
	}
	return Section(Class("clashes"), H2(g.Text("This boat cannot be built as it stands")),
		Ul(g.Map(list, func(c string) g.Node { return Li(g.Text(c)) })))
}

func priceTable(q *quote.Quote) g.Node {
	p := q.Price
	return Section(H2(g.Text("Price")),
		Table(Class("price"),
			THead(Tr(Th(g.Attr("scope", "col"), g.Text("Item")), Th(g.Attr("scope", "col"), Class("number"), g.Text(p.Currency)))),
			TBody(
				g.Map(p.Lines, priceRow),
				g.Map(discounts(p), priceRow),
			),
			TFoot(totals(p)...),
		),
		P(Class("note"), g.Text(taxNote(p))),
		g.Iff(p.TradeIn != nil, func() g.Node { return P(Class("note"), g.Text(p.TradeIn.Detail)) }),
	)
}

// discounts are the discounts, each named as one.
func discounts(p quote.PricePart) []quote.LinePart {
	list := make([]quote.LinePart, len(p.Discounts))
	for i, d := range p.Discounts {
		d.Title = "Discount: " + d.Title
		list[i] = d
	}
	return list
}

func priceRow(l quote.LinePart) g.Node {
	return Tr(
		Th(g.Attr("scope", "row"), g.Text(l.Title), g.If(l.Detail != "", Span(Class("detail"), g.Text(l.Detail)))),
		Td(Class("number"), g.Text(amount(l.Amount))),
	)
}

func totals(p quote.PricePart) []g.Node {
	row := func(title, v, class string) g.Node {
		return Tr(Class(class), Th(g.Attr("scope", "row"), g.Text(title)), Td(Class("number"), g.Text(amount(v))))
	}
	if p.TaxMode == "inclusive" {
		return append([]g.Node{
			row("Total", p.Total, "total"),
			row("of which net", p.Net, "part"),
			row("of which "+p.TaxName+" "+p.TaxRate, p.Tax, "part"),
		}, tradeIn(p, row)...)
	}
	return append([]g.Node{
		g.If(p.TaxMode == "exclusive", row("Net", p.Net, "part")),
		g.If(p.TaxMode == "exclusive", row(p.TaxName+" "+p.TaxRate, p.Tax, "part")),
		row("Total", p.Total, "total"),
	}, tradeIn(p, row)...)
}

// tradeIn is what is taken off the total in payment, and what then is payable.
func tradeIn(p quote.PricePart, row func(title, v, class string) g.Node) []g.Node {
	if p.TradeIn == nil {
		return nil
	}
	return []g.Node{row("Trade-in: "+p.TradeIn.Title, p.TradeIn.Amount, "part"), row("Payable", p.Payable, "total")}
}

func stageTable(q *quote.Quote) g.Node {
	if len(q.Price.Stages) == 0 {
		return nil
	}
	return Section(Class("stages"), H2(g.Text("Stage payments")),
		Table(
			THead(Tr(Th(g.Attr("scope", "col"), g.Text("When")), Th(g.Attr("scope", "col"), Class("number"), g.Text("Share")), Th(g.Attr("scope", "col"), Class("number"), g.Text(q.Price.Currency)))),
			TBody(g.Map(q.Price.Stages, func(s quote.StagePart) g.Node {
				return Tr(Th(g.Attr("scope", "row"), g.Text(s.Title), g.If(s.TradeIn != "", Span(Class("detail"), g.Text(lessTradeIn(s))))), Td(Class("number"), g.Text(s.Share)), Td(Class("number"), g.Text(amount(s.Amount))))
			})),
		))
}

// lessTradeIn says how much of a stage the trade-in pays.
func lessTradeIn(s quote.StagePart) string {
	return "less the trade-in, " + amount(strings.TrimPrefix(s.TradeIn, "-"))
}

func specification(sections []quote.SectionPart) g.Node {
	return Section(H2(g.Text("Specification")),
		P(Class("note"), g.Text("A dot marks what differs from the standard build.")),
		g.Map(sections, func(sec quote.SectionPart) g.Node {
			return Div(Class("chapter"), H3(g.Text(sec.Title)), Dl(g.Map(sec.Slots, func(s quote.SlotPart) g.Node {
				return g.Group{
					Dt(g.Text(s.Title), g.If(!s.Standard, Span(Class("changed"), Title("differs from the standard build"), g.Text(" •")))),
					Dd(g.Map(s.Options, func(o quote.OptionPart) g.Node { return Div(g.Text(counted(o))) })),
				}
			})))
		}))
}

// preliminary stands over the figures, so that nobody reads them without it.
const preliminary = "Preliminary estimates, to be read with the cautions at the end of this document. Loading, flotation, batteries, wiring and lifting: qualified persons decide."

func valueTable(title, note string, values []quote.Value) g.Node {
	if len(values) == 0 {
		return nil
	}
	return Section(Class("values"), H2(g.Text(title)), g.If(note != "", P(Class("note"), g.Text(note))),
		Dl(g.Map(values, func(v quote.Value) g.Node {
			return g.Group{Dt(g.Text(v.Title)), Dd(g.Text(shown(v)))}
		})))
}

func notes(title string, list []string) g.Node {
	if len(list) == 0 {
		return nil
	}
	return Section(Class("notes"), H2(g.Text(title)), Ul(g.Map(list, func(t string) g.Node { return Li(g.Text(t)) })))
}

func signatures(q *quote.Quote) g.Node {
	if q.Number == "" {
		return nil
	}
	return Section(Class("signatures"),
		Div(g.Text("Place, date, signature of the customer")),
		Div(g.Text("Place, date, for "+q.Yard.Name)),
	)
}

func colophon(q *quote.Quote) g.Node {
	return Footer(P(g.Textf("Price book %s of %s, %.12s. Specification %.12s.", q.Edition.Name, quote.Day(q.Edition.Date), q.Edition.Digest, q.SpecDigest)))
}

// textWidth is the width of papers in plain text.
const textWidth = 78

func customerText(q *quote.Quote) string {
	t := &textPaper{}
	t.wrapped(q.Yard.Name)
	t.wrapped(strings.Join(contact(q.Yard.Address, q.Yard.Email, q.Yard.Phone), ", "))
	t.wrapped(q.Yard.Note)
	t.heading(kind(q), '=')
	t.pair("Boat", q.Hull)
	t.pair("For", strings.Join(contact([]string{q.Customer.Name}, append(q.Customer.Address, q.Customer.Email, q.Customer.Phone)...), ", "))
	for _, r := range [][2]string{{"Date", quote.Day(q.Date)}, {"Valid until", quote.Day(q.ValidUntil)}, {"Prepared by", q.Seller}, {"Destination", q.Price.Region}, {"Remarks", q.Remarks}} {
		t.pair(r[0], r[1])
	}
	if len(q.Clashes) > 0 {
		t.list("This boat cannot be built as it stands", q.Clashes)
	}
	t.price(q.Price)
	t.specification(q.Contents)
	t.values("Performance and dimensions", q.Figures)
	t.wrapped(preliminary)
	t.solar(q.Solar)
	t.values("Intended use", q.Use)
	t.list("Terms", q.Terms)
	t.list("Cautions", q.Cautions)
	t.line("")
	t.wrapped(fmt.Sprintf("Price book %s of %s, %.12s. Specification %.12s.", q.Edition.Name, quote.Day(q.Edition.Date), q.Edition.Digest, q.SpecDigest))
	return t.String()
}

func (t *textPaper) price(p quote.PricePart) {
	t.heading("Price in "+p.Currency, '-')
	for _, l := range append(append([]quote.LinePart{}, p.Lines...), discounts(p)...) {
		t.amount(strings.TrimSuffix(l.Title+": "+l.Detail, ": "), l.Amount)
	}
	t.rule()
	if p.TaxMode == "exclusive" {
		t.amount("Net", p.Net)
		t.amount(p.TaxName+" "+p.TaxRate, p.Tax)
	}
	t.amount("Total", p.Total)
	if p.TaxMode == "inclusive" {
		t.amount("of which net", p.Net)
	}
	if p.TradeIn != nil {
		t.amount("Trade-in: "+p.TradeIn.Title, p.TradeIn.Amount)
		t.amount("Payable", p.Payable)
	}
	t.wrapped(taxNote(p))
	if p.TradeIn != nil {
		t.wrapped(p.TradeIn.Detail)
	}
	if len(p.Stages) > 0 {
		t.heading("Stage payments", '-')
		for _, s := range p.Stages {
			title := s.Title + ", " + s.Share
			if s.TradeIn != "" {
				title += ", " + lessTradeIn(s)
			}
			t.amount(title, s.Amount)
		}
	}
}

func (t *textPaper) specification(sections []quote.SectionPart) {
	t.heading("Specification (* differs from the standard build)", '-')
	for _, sec := range sections {
		t.wrapped(sec.Title)
		for _, s := range sec.Slots {
			var names []string
			for _, o := range s.Options {
				names = append(names, counted(o))
			}
			mark := " "
			if !s.Standard {
				mark = "*"
			}
			t.pair(mark+" "+s.Title, strings.Join(names, "; "))
		}
	}
}

func (t *textPaper) values(title string, values []quote.Value) {
	if len(values) == 0 {
		return
	}
	t.heading(title, '-')
	for _, v := range values {
		t.pair("  "+v.Title, v.Shown(" "))
	}
}

// solar is the yield by month; on paper that shows pictures it is drawn.
func (t *textPaper) solar(s *quote.SolarPart) {
	if s == nil {
		return
	}
	t.heading("Solar energy, kWh on an average day of the month", '-')
	for half := range 2 {
		line := " "
		for i := 6 * half; i < 6*half+6; i++ {
			line += fmt.Sprintf("%5s%6s", drawing.Months[i], fixed(s.KWh[i], 2))
		}
		t.line(line)
	}
	t.wrapped(s.Source)
}

func customerCSV(q *quote.Quote) ([]byte, error) {
	rows := [][]string{{"kind", "key", "title", "detail", "currency", "amount"}}
	for _, l := range q.Price.Lines {
		rows = append(rows, []string{"line", l.Key, l.Title, l.Detail, q.Price.Currency, l.Amount})
	}
	for _, l := range q.Price.Discounts {
		rows = append(rows, []string{"discount", l.Key, l.Title, l.Detail, q.Price.Currency, l.Amount})
	}
	for _, r := range [][2]string{{"net", q.Price.Net}, {"tax", q.Price.Tax}, {"total", q.Price.Total}} {
		rows = append(rows, []string{r[0], "", "", "", q.Price.Currency, r[1]})
	}
	if t := q.Price.TradeIn; t != nil {
		rows = append(rows, []string{"trade-in", "", t.Title, "", q.Price.Currency, t.Amount}, []string{"payable", "", "", "", q.Price.Currency, q.Price.Payable})
	}
	for _, s := range q.Price.Stages {
		rows = append(rows, []string{"stage", "", s.Title, s.Share, q.Price.Currency, s.Amount})
	}
	return writeCSV(rows)
}

// formulaStarts are what spreadsheets take for the beginning of a formula.
const formulaStarts = "=+-@\t\r\n"

// writeCSV follows RFC 4180. A cell that a spreadsheet would take for a formula is kept from being one by an apostrophe before it; a
// negative number stays a number.
func writeCSV(rows [][]string) ([]byte, error) {
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range rows {
		safe := make([]string, len(row))
		for i, cell := range row {
			safe[i] = cell
			if cell != "" && strings.ContainsRune(formulaStarts, rune(cell[0])) && !isNumber(cell) {
				safe[i] = "'" + cell
			}
		}
		if err := w.Write(safe); err != nil {
			return nil, fmt.Errorf("writing a paper: %w", err)
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}
