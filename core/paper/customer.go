package paper

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/drawing"
	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
)

// customerHTML puts the first picture, the boat, on the first page.
func customerHTML(q *quote.Quote, pictures []look.Picture) []g.Node {
	first := min(1, len(pictures))
	return []g.Node{
		letterhead(q),
		H1(g.Text(kind(q))),
		particulars(q),
		clashes(q.Clashes),
		drawings(pictures[:first]),
		priceTable(q),
		stageTable(q),
		payment(q),
		specification(q.Contents),
		standardBuild(q),
		drawings(pictures[first:]),
		valueTable("Hull and persons", "", q.Dimensions),
		valueTable("Performance and dimensions", preliminary, q.Figures),
		valueTable("Intended use", "", q.Use),
		notes("Delivery", q.Delivery),
		notes("Not included", q.Exclusions),
		notes("Warranty", q.Warranty),
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
		rows = append(rows, [2]string{"For", strings.Join(contact([]string{q.Customer.Name},
			append(q.Customer.Address, q.Customer.Email, q.Customer.Phone)...), ", ")})
	}
	for _, r := range [][2]string{{"Date", quote.Day(q.Date)}, {"Valid until", quote.Day(q.ValidUntil)},
		{"Prepared by", q.Seller}, {"Destination", q.Price.Region}, {"Remarks", q.Remarks}} {
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

// shortTable is how many lines of a price are kept together on a page. A longer table goes on over the page, and has
// the sum so far on each line, so that it can be added up there.
const shortTable = 20

func priceTable(q *quote.Quote) g.Node {
	p := q.Price
	long := len(p.Lines)+len(p.Discounts) > shortTable
	class, columns := "price short", "2"
	if long {
		class, columns = "price long", "3"
	}
	return Section(H2(g.Text("Price")),
		Table(Class(class),
			THead(Tr(Th(g.Attr("scope", "col"), g.Text("Item")),
				Th(g.Attr("scope", "col"), Class("number"), g.Text(p.Currency.Code)),
				g.If(long, Th(g.Attr("scope", "col"), Class("number carried"), g.Text("Carried"))))),
			g.Map(priceSections(p), func(s priceSection) g.Node {
				return TBody(
					g.If(s.title != "", Tr(Class("group"),
						Th(g.Attr("scope", "rowgroup"), ColSpan(columns), g.Text(s.title)))),
					g.Map(s.lines, func(l quote.LinePart) g.Node { return priceRow(p.Currency, l, long) }),
				)
			}),
			TFoot(totals(p)...),
		),
		P(Class("note"), g.Text(taxNote(p))),
		g.Iff(p.TradeIn != nil, func() g.Node { return P(Class("note"), g.Text(p.TradeIn.Detail)) }),
	)
}

// priceSection is what stands under one heading of the price.
type priceSection struct {
	title string
	lines []quote.LinePart
}

// priceSections are the lines of a price under their sections, and behind them the discounts.
func priceSections(p quote.PricePart) (list []priceSection) {
	for i, l := range p.Lines {
		if i == 0 || l.Section != p.Lines[i-1].Section {
			list = append(list, priceSection{title: l.Section})
		}
		s := &list[len(list)-1]
		s.lines = append(s.lines, l)
	}
	if len(p.Discounts) > 0 {
		list = append(list, priceSection{title: "Discounts", lines: p.Discounts})
	}
	return list
}

func priceRow(c money.Currency, l quote.LinePart, carried bool) g.Node {
	return Tr(
		Th(g.Attr("scope", "row"), g.Text(l.Title), g.If(l.Detail != "", Span(Class("detail"), g.Text(l.Detail)))),
		Td(Class("number"), g.Text(sum(l.Amount, c))),
		g.If(carried, Td(Class("number carried"), g.Text(sum(l.Carried, c)))),
	)
}

func totals(p quote.PricePart) []g.Node {
	row := func(title string, v money.Amount, class string) g.Node {
		return Tr(Class(class), Th(g.Attr("scope", "row"), g.Text(title)), Td(Class("number"), g.Text(sum(v, p.Currency))))
	}
	if p.TaxMode == "inclusive" {
		return append([]g.Node{
			row("Total", p.Total, "total"),
			row("of which net", p.Net, "part"),
			row("of which "+p.TaxName+" "+p.TaxRate.Percent(), p.Tax, "part"),
		}, tradeIn(p, row)...)
	}
	return append([]g.Node{
		g.If(p.TaxMode == "exclusive", row("Net", p.Net, "part")),
		g.If(p.TaxMode == "exclusive", row(p.TaxName+" "+p.TaxRate.Percent(), p.Tax, "part")),
		row("Total", p.Total, "total"),
	}, tradeIn(p, row)...)
}

// tradeIn is what is taken off the total in payment, and what then is payable.
func tradeIn(p quote.PricePart, row func(title string, v money.Amount, class string) g.Node) []g.Node {
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
			THead(Tr(Th(g.Attr("scope", "col"), g.Text("When")),
				Th(g.Attr("scope", "col"), Class("number"), g.Text("Share")),
				Th(g.Attr("scope", "col"), Class("number"), g.Text(q.Price.Currency.Code)))),
			TBody(g.Map(q.Price.Stages, func(s quote.StagePart) g.Node {
				return Tr(Th(g.Attr("scope", "row"), g.Text(s.Title),
					g.If(!s.TradeIn.IsZero(), Span(Class("detail"), g.Text(lessTradeIn(q.Price.Currency, s))))),
					Td(Class("number"), g.Text(s.Share.Percent())), Td(Class("number"), g.Text(sum(s.Amount, q.Price.Currency))))
			})),
		))
}

// lessTradeIn says how much of a stage the trade-in pays.
func lessTradeIn(c money.Currency, s quote.StagePart) string {
	return "less the trade-in, " + sum(s.TradeIn.Neg(), c)
}

// payment says where to pay to. A draft asks for nothing.
func payment(q *quote.Quote) g.Node {
	to := payTo(q)
	if to == "" {
		return nil
	}
	return P(Class("note"), g.Text(to))
}

func payTo(q *quote.Quote) string {
	b := q.Yard.Bank
	if q.Number == "" || b.IBAN == "" {
		return ""
	}
	return "Payments to " + strings.Join(contact([]string{q.Yard.Name}, b.Name, "IBAN\u00a0"+b.IBAN,
		labelled("BIC\u00a0", b.BIC)), ", ") + ", with the number of the quotation."
}

// labelled puts a label before a text; nothing for none.
func labelled(label, text string) string {
	if text == "" {
		return ""
	}
	return label + text
}

func standardBuild(q *quote.Quote) g.Node {
	if len(q.Includes)+len(q.Standard) == 0 {
		return nil
	}
	return Section(Class("standard"), H2(g.Text(standardTitle(q))), P(Class("note"), g.Text(standardNote)),
		Ul(g.Map(q.Includes, func(t string) g.Node { return Li(g.Text(t)) })),
		Dl(g.Map(q.Standard, func(sec quote.SectionPart) g.Node {
			return g.Group{Dt(g.Text(sec.Title)), Dd(g.Text(inSection(sec)))}
		})))
}

func standardTitle(q *quote.Quote) string {
	return "What the standard build of the " + q.Hull + " contains"
}

const standardNote = "At the first line of the price, before the changes that are listed there. The specification above says what this boat has."

// inSection is what a section contains, in one sentence.
func inSection(sec quote.SectionPart) string {
	var words []string
	for _, s := range sec.Slots {
		var names []string
		for _, o := range s.Options {
			names = append(names, pack.Times(o.Count, o.Title))
		}
		words = append(words, s.Title+": "+strings.Join(names, ", "))
	}
	return strings.Join(words, "; ")
}

func specification(sections []quote.SectionPart) g.Node {
	return Section(H2(g.Text("Specification")),
		P(Class("note"), g.Text("A dot marks what differs from the standard build.")),
		g.Map(sections, func(sec quote.SectionPart) g.Node {
			return Div(Class("chapter"), H3(g.Text(sec.Title)), Dl(g.Map(sec.Slots, func(s quote.SlotPart) g.Node {
				return g.Group{
					Dt(g.Text(s.Title), g.If(!s.Standard,
						Span(Class("changed"), Title("differs from the standard build"), g.Text(" •")))),
					Dd(g.Map(s.Options, func(o quote.OptionPart) g.Node { return Div(g.Text(pack.Times(o.Count, o.Title))) })),
				}
			})))
		}))
}

// preliminary stands over the figures, so that nobody reads them without it.
const preliminary = "Preliminary estimates, to be read with the cautions at the end of this document. Loading, flotation, batteries, wiring and lifting: qualified persons decide."

func valueTable(title, note string, values []engine.Value) g.Node {
	if len(values) == 0 {
		return nil
	}
	return Section(Class("values"), H2(g.Text(title)), g.If(note != "", P(Class("note"), g.Text(note))),
		Dl(g.Map(values, func(v engine.Value) g.Node {
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
	return Section(Class("acceptance"),
		g.If(q.Acceptance != "", g.Group{H2(g.Text("Acceptance")), P(g.Text(q.Acceptance))}),
		Div(Class("signatures"),
			Div(g.Text(customerSigns)),
			Div(g.Text(yardSigns(q))),
		))
}

const customerSigns = "Place, date, signature of the customer"

func yardSigns(q *quote.Quote) string { return "Place, date, for " + q.Yard.Name }

// registered is who the yard is by law.
func registered(q *quote.Quote) string {
	return strings.Join(contact([]string{q.Yard.Register}, q.Yard.TaxNumber), ". ")
}

func colophon(q *quote.Quote) g.Node {
	law := registered(q)
	return Footer(g.If(law != "", P(g.Text(law))),
		P(g.Textf("Price book %s of %s, %.12s. Specification %.12s.", q.Edition.Name, quote.Day(q.Edition.Date),
			q.Edition.Digest, q.SpecDigest)))
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
	t.pair("For", strings.Join(contact([]string{q.Customer.Name},
		append(q.Customer.Address, q.Customer.Email, q.Customer.Phone)...), ", "))
	for _, r := range [][2]string{{"Date", quote.Day(q.Date)}, {"Valid until", quote.Day(q.ValidUntil)},
		{"Prepared by", q.Seller}, {"Destination", q.Price.Region}, {"Remarks", q.Remarks}} {
		t.pair(r[0], r[1])
	}
	if len(q.Clashes) > 0 {
		t.list("This boat cannot be built as it stands", q.Clashes)
	}
	t.price(q.Price)
	t.wrapped(payTo(q))
	t.specification(q.Contents)
	t.standard(q)
	t.values("Hull and persons", q.Dimensions)
	t.values("Performance and dimensions", q.Figures)
	t.wrapped(preliminary)
	t.solar(q.Solar)
	t.values("Intended use", q.Use)
	t.list("Delivery", q.Delivery)
	t.list("Not included", q.Exclusions)
	t.list("Warranty", q.Warranty)
	t.list("Terms", q.Terms)
	t.list("Cautions", q.Cautions)
	t.signatures(q)
	t.line("")
	t.wrapped(registered(q))
	t.wrapped(fmt.Sprintf("Price book %s of %s, %.12s. Specification %.12s.", q.Edition.Name, quote.Day(q.Edition.Date),
		q.Edition.Digest, q.SpecDigest))
	return t.String()
}

func (t *textPaper) price(p quote.PricePart) {
	t.heading("Price in "+p.Currency.Code, '-')
	for _, s := range priceSections(p) {
		t.wrapped(s.title)
		for _, l := range s.lines {
			t.entry("  ", strings.TrimSuffix(l.Title+": "+l.Detail, ": "), l.Amount.Fixed(p.Currency.Digits))
		}
	}
	t.rule()
	if p.TaxMode == "exclusive" {
		t.amount("Net", p.Net.Fixed(p.Currency.Digits))
		t.amount(p.TaxName+" "+p.TaxRate.Percent(), p.Tax.Fixed(p.Currency.Digits))
	}
	t.amount("Total", p.Total.Fixed(p.Currency.Digits))
	if p.TaxMode == "inclusive" {
		t.amount("of which net", p.Net.Fixed(p.Currency.Digits))
		t.amount("of which "+p.TaxName+" "+p.TaxRate.Percent(), p.Tax.Fixed(p.Currency.Digits))
	}
	if p.TradeIn != nil {
		t.amount("Trade-in: "+p.TradeIn.Title, p.TradeIn.Amount.Fixed(p.Currency.Digits))
		t.amount("Payable", p.Payable.Fixed(p.Currency.Digits))
	}
	t.wrapped(taxNote(p))
	if p.TradeIn != nil {
		t.wrapped(p.TradeIn.Detail)
	}
	if len(p.Stages) > 0 {
		t.heading("Stage payments", '-')
		for _, s := range p.Stages {
			title := s.Title + ", " + s.Share.Percent()
			if !s.TradeIn.IsZero() {
				title += ", " + lessTradeIn(p.Currency, s)
			}
			t.amount(title, s.Amount.Fixed(p.Currency.Digits))
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
				names = append(names, pack.Times(o.Count, o.Title))
			}
			mark := " "
			if !s.Standard {
				mark = "*"
			}
			t.pair(mark+" "+s.Title, strings.Join(names, "; "))
		}
	}
}

func (t *textPaper) standard(q *quote.Quote) {
	if len(q.Includes)+len(q.Standard) == 0 {
		return
	}
	t.heading(standardTitle(q), '-')
	t.wrapped(standardNote)
	for _, i := range q.Includes {
		t.indented("- ", i)
	}
	for _, sec := range q.Standard {
		t.wrapped(sec.Title)
		t.indented("  ", inSection(sec))
	}
}

// signatures are the acceptance with a line for each to sign on.
func (t *textPaper) signatures(q *quote.Quote) {
	if q.Number == "" {
		return
	}
	if q.Acceptance != "" {
		t.heading("Acceptance", '-')
		t.wrapped(q.Acceptance)
	}
	for _, who := range []string{customerSigns, yardSigns(q)} {
		t.line("")
		t.line("")
		t.line(strings.Repeat("_", textWidth/2))
		t.wrapped(who)
	}
}

func (t *textPaper) values(title string, values []engine.Value) {
	if len(values) == 0 {
		return
	}
	t.heading(title, '-')
	for _, v := range values {
		t.pair("  "+v.Title, v.Message().String())
	}
}

// solar is the yield by month; on paper that shows pictures it is drawn.
func (t *textPaper) solar(s *look.SolarPart) {
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

// customerCSV is one table of all that the quotation says; amounts of money stand in their own column, what else has a
// value has it as its detail.
func customerCSV(q *quote.Quote) ([]byte, error) {
	fixed := func(a money.Amount) string { return a.Fixed(q.Price.Currency.Digits) }
	rows := [][]string{{"kind", "key", "section", "title", "detail", "currency", "amount", "carried"}}
	priced := func(kind, key, section, title, detail string, amount money.Amount, carried string) {
		rows = append(rows, []string{kind, key, section, title, detail, q.Price.Currency.Code, fixed(amount), carried})
	}
	said := func(kind, key, section, title, detail string) {
		if title+detail != "" {
			rows = append(rows, []string{kind, key, section, title, detail, "", "", ""})
		}
	}
	for _, r := range [][2]string{{"number", q.Number}, {"date", q.Date}, {"valid until", q.ValidUntil},
		{"boat", q.Hull}, {"customer", q.Customer.Name}, {"prepared by", q.Seller},
		{"destination", q.Price.Region}, {"remarks", q.Remarks}, {"yard", q.Yard.Name}, {"register", q.Yard.Register},
		{"tax number", q.Yard.TaxNumber}} {
		if r[1] != "" {
			said("quotation", r[0], "", "", r[1])
		}
	}
	for _, l := range q.Price.Lines {
		priced("line", l.Key, l.Section, l.Title, l.Detail, l.Amount, carriedOn(l, fixed))
	}
	for _, l := range q.Price.Discounts {
		priced("discount", l.Key, "", l.Title, l.Detail, l.Amount, carriedOn(l, fixed))
	}
	for _, r := range []struct {
		kind   string
		amount money.Amount
	}{{"net", q.Price.Net}, {"tax", q.Price.Tax}, {"total", q.Price.Total}} {
		priced(r.kind, "", "", "", "", r.amount, "")
	}
	if t := q.Price.TradeIn; t != nil {
		priced("trade-in", "", "", t.Title, "", t.Amount, "")
		priced("payable", "", "", "", "", q.Price.Payable, "")
	}
	for _, s := range q.Price.Stages {
		priced("stage", "", "", s.Title, s.Share.Percent(), s.Amount, "")
	}
	said("payment", "", "", "", payTo(q))
	for _, part := range []struct {
		kind     string
		sections []quote.SectionPart
	}{{"specification", q.Contents}, {"standard build", q.Standard}} {
		for _, sec := range part.sections {
			for _, s := range sec.Slots {
				for _, o := range s.Options {
					said(part.kind, o.ID, sec.Title, s.Title, pack.Times(o.Count, o.Title))
				}
			}
		}
	}
	for _, part := range []struct {
		kind   string
		values []engine.Value
	}{{"dimension", q.Dimensions}, {"figure", q.Figures}, {"use", q.Use}} {
		for _, v := range part.values {
			said(part.kind, v.ID, "", v.Title, v.Message().String())
		}
	}
	for _, part := range []struct {
		kind string
		list []string
	}{{"every boat has", q.Includes}, {"delivery", q.Delivery}, {"not included", q.Exclusions},
		{"warranty", q.Warranty}, {"term", q.Terms}, {"caution", q.Cautions}, {"clash", q.Clashes}} {
		for _, text := range part.list {
			said(part.kind, "", "", "", text)
		}
	}
	if q.Number != "" {
		said("acceptance", "", "", "", q.Acceptance)
	}
	return writeCSV(rows)
}

func carriedOn(l quote.LinePart, fixed func(money.Amount) string) string {
	if l.Carried.IsZero() {
		return ""
	}
	return fixed(l.Carried)
}

// sum is an amount for a reader.
func sum(a money.Amount, c money.Currency) string { return money.Grouped(a.Fixed(c.Digits)) }

// formulaStarts are what spreadsheets take for the beginning of a formula.
const formulaStarts = "=+-@\t\r\n"

// writeCSV follows RFC 4180. A cell that a spreadsheet would take for a formula is kept from being one by an apostrophe
// before it; a negative number stays a number.
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
