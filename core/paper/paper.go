// Package paper makes documents: the customer's quote and the yard's sheet, each as HTML that prints on A4 and Letter,
// as text, as JSON and as CSV. Everything that a paper says was computed by package quote; nothing is computed here.
package paper

import (
	_ "embed"
	"fmt"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/money"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// Format is a form in which a paper is written.
type Format string

const (
	AsText Format = "text"
	AsHTML Format = "html"
	AsJSON Format = "json"
	AsCSV  Format = "csv"
)

// Formats are all of them.
var Formats = []Format{AsText, AsHTML, AsJSON, AsCSV}

// FormatOf finds a format by its name.
func FormatOf(name string) (Format, error) {
	for _, f := range Formats {
		if string(f) == name {
			return f, nil
		}
	}
	return "", fmt.Errorf("choosing a format: %.40q is none; want text, html, json or csv", name)
}

// Customer writes a quote for its customer, with pictures where the format shows them. Nothing of what is the yard's
// alone is in any format.
func Customer(q *quote.Quote, f Format, pictures ...look.Picture) ([]byte, error) {
	q = q.ForCustomer()
	switch f {
	case AsHTML:
		return page(kind(q), kind(q)+" · "+q.Yard.Name, customerHTML(q, pictures)...)
	case AsJSON:
		return q.Encode(), nil
	case AsCSV:
		return customerCSV(q)
	}
	return []byte(customerText(q)), nil
}

// Yard writes the yard's sheet of a boat. The quote, nil where there is none, gives its number and customer.
func Yard(y *sheet.Yard, q *quote.Quote, f Format, pictures ...look.Picture) ([]byte, error) {
	switch f {
	case AsHTML:
		return page("Build sheet: "+y.Hull, "Build sheet · "+y.Hull+numbered(q),
			Div(Class("dense"), g.Group(yardHTML(y, q, pictures))))
	case AsJSON:
		return yardJSON(y)
	case AsCSV:
		return yardCSV(y)
	}
	return []byte(yardText(y, q)), nil
}

// drawings puts pictures on a paper.
func drawings(pictures []look.Picture) g.Node {
	return Div(Class("pictures"), g.Map(pictures, func(p look.Picture) g.Node {
		if p.SVG == "" {
			return nil
		}
		class := "picture"
		if p.Small {
			class += " small"
		}
		return Section(Class(class), ID("picture-"+p.ID), H2(g.Text(p.Title)), g.Raw(p.SVG)) // escaped by core/drawing
	}))
}

//go:embed paper.css
var style string

// page is a document with a foot on each printed page, beside the number of the page.
func page(title, foot string, body ...g.Node) ([]byte, error) {
	var b strings.Builder
	doc := Doctype(frame(title, foot, body))
	if err := doc.Render(&b); err != nil {
		return nil, fmt.Errorf("writing a paper: %w", err)
	}
	b.WriteByte('\n')
	return []byte(b.String()), nil
}

// frame is the document around every paper.
func frame(title, foot string, body []g.Node) g.Node {
	return g.El("html", Lang("en"),
		Head(
			Meta(Charset("utf-8")),
			Meta(Name("viewport"), Content("width=device-width, initial-scale=1")),
			TitleEl(g.Text(title)),
			StyleEl(g.Raw(style)),          // our own style sheet, embedded at build time
			StyleEl(g.Raw(pageFoot(foot))), // escaped by cssString
		),
		Body(Main(body...)),
	)
}

// pageFoot is the foot of each printed page.
//
// Source: CSS Paged Media Module Level 3, page-margin boxes and the counters page and pages; Chromium prints them from
// release 131.
func pageFoot(text string) string {
	const look = "font: 8pt Arial, sans-serif; color: #55676d"
	return "@page { @bottom-left { content: " + cssString(text) + "; " + look +
		" } @bottom-right { content: \"Page \" counter(page) \" of \" counter(pages); " + look + " } }"
}

// cssString is a text as a string of CSS within HTML: all but plain letters, digits and a few marks is escaped by its
// code point, so that no text ends the string or the style sheet.
//
// Source: CSS Syntax Module Level 3, 4.3.7: a backslash, hexadecimal digits and a space that belongs to them.
func cssString(text string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range text {
		switch {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', strings.ContainsRune(" .,:-", c):
			b.WriteRune(c)
		case c == 0:
			b.WriteString("\\fffd ") // CSS has no null
		default:
			fmt.Fprintf(&b, "\\%x ", c)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// numbered is the number of a quotation behind what a foot says; nothing for a draft.
func numbered(q *quote.Quote) string {
	if q == nil || q.Number == "" {
		return ""
	}
	return " · Quotation " + q.Number
}

// amount writes a number for a reader; what is none, such as 6 each, stays as it is.
func amount(decimal string) string {
	if !isNumber(decimal) {
		return decimal
	}
	return money.Grouped(decimal)
}

// kind is what the paper is called.
func kind(q *quote.Quote) string {
	if q.Number == "" {
		return "Specification and price"
	}
	return "Quotation " + q.Number
}

// taxNote says how tax stands to the total.
func taxNote(p quote.PricePart) string {
	switch p.TaxMode {
	case pack.Inclusive:
		return fmt.Sprintf("The total includes %s %s (%s): %s.", p.TaxRate.Percent(), p.TaxName, p.Region,
			money.Priced(p.Tax.Fixed(p.Currency.Digits), p.Currency.Code, p.RegionID))
	case pack.Exclusive:
		return strings.TrimSpace(fmt.Sprintf("%s %s is added. %s", p.TaxRate.Percent(), p.TaxName, p.Condition))
	case pack.Zero:
		return fmt.Sprintf("%s: no %s is charged. %s", p.Region, p.TaxName, p.Condition)
	}
	return ""
}

// shown joins a value and its unit. Only numbers are grouped, not the words of a choice.
func shown(v engine.Value) string { return v.Message().String() }

// isNumber says whether a text is a decimal number.
func isNumber(s string) bool {
	_, err := money.Parse(s)
	return err == nil
}
