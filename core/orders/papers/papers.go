// Package papers has what the office of a yard sends and files: change orders to sign, requests for payment, letters to
// suppliers, the file of a boat. Each is a function that builds a document (package doc); package render writes it.
//
// Nothing is computed here: what a paper states, package orders, the quotations of the order and the engine have. A
// customer's paper is built of what its customer may have (quote.ForCustomer) and of nothing else: it has no hour, cost
// or margin of the yard and no other customer. It is in the language of the quotation; what goes to suppliers is in the
// yard's own.
package papers

import (
	"strings"

	"ribband/core/doc"
	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/msg/office"
	"ribband/core/orders"
	"ribband/core/pack"
)

// writer puts papers into the words of a language.
type writer struct{ *msg.Language }

// in is a writer of a language, with the words of the office.
func in(l *msg.Language) writer { return writer{office.Words(l)} }

// section is a part of a paper under a title.
func section(title, style string, blocks ...doc.Block) doc.Section {
	return doc.Section{Title: title, Style: style, Blocks: blocks}
}

// notes are sentences in small type under a title.
func notes(title string, list []string) doc.Section { return section(title, "notes", doc.List(list)) }

// particulars are names with a value each; what is empty is left out, since it asks to be filled in by hand.
func particulars(pairs ...[2]string) doc.Terms {
	terms := doc.Terms{Style: "particulars"}
	for _, p := range pairs {
		if p[1] != "" {
			terms.List = append(terms.List, doc.Term{Name: p[0], Values: []string{p[1]}})
		}
	}
	return terms
}

// letterhead is who writes.
func letterhead(yard *pack.YardInfo) doc.Letterhead {
	return doc.Letterhead{Name: yard.Name, Address: append(append([]string{}, yard.Address...), yard.Email, yard.Phone),
		Note: yard.Note}
}

// law is what the law of the yard's country wants on its letters: the book has the words.
func law(yard *pack.YardInfo) doc.Footer {
	// each a sentence of its own in one line, whether or not the book ends it with a point
	var list []string
	for _, text := range []string{yard.Register, yard.TaxNumber} {
		if text != "" {
			list = append(list, strings.TrimSuffix(text, "."))
		}
	}
	if len(list) == 0 {
		return nil
	}
	return doc.Footer{strings.Join(list, ". ")}
}

// listed puts what there is of some texts in a row.
func (w writer) listed(texts ...string) string {
	// an address has lines that are empty, and two commas in a row look like a slip
	var there []string
	for _, t := range texts {
		if t != "" {
			there = append(there, t)
		}
	}
	return w.List(msg.Commas, there)
}

// columns are titles of columns; all but the first hold numbers.
func columns(titles ...string) []doc.Column {
	// at the right also where a cell is words: a ragged column cannot be added up by eye
	list := make([]doc.Column, len(titles))
	for i, t := range titles {
		list[i] = doc.Column{Title: t, Right: i > 0}
	}
	return list
}

// row is a row of cells behind a label.
func row(label string, cells ...doc.Cell) doc.Row { return doc.Row{Label: label, Cells: cells} }

// week is a week as people say it, with the days that it has: what is promised must not hang on how weeks are counted.
func (w writer) week(x orders.Week) string {
	// in Britain and the Netherlands few people count weeks, and in America they begin on a Sunday
	monday := x.Monday()
	return w.Say("office.week", msg.Count("week", x.Week), msg.Text("year", x.String()[:4]),
		msg.Date("first", monday.String()), msg.Date("last", monday.Add(6).String()))
}

// amounts are cells of one currency.
func amounts(c money.Currency, list ...money.Amount) (cells []doc.Cell) {
	for _, a := range list {
		cells = append(cells, doc.Money(a, c))
	}
	return cells
}

// some is an amount, and an empty cell for nothing.
func some(a money.Amount, c money.Currency) doc.Cell {
	if a.IsZero() {
		return doc.Cell{}
	}
	return doc.Money(a, c)
}
