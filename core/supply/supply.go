// Package supply reads the price lists that suppliers send and says what they change in the book: which materials get
// another price, what the list lacks, and what is left to a person.
//
// A list is a table of text, as spreadsheets save it: parted by semicolons, commas or tabs, in UTF-8 or Windows-1252,
// with letterheads above its columns. Columns are found by the words of their heads in English, Dutch and German, or
// named. Nothing is guessed: what can be read in two ways, such as 1.250 in a list without any other decimal sign, is a
// fault of its row.
//
//	read.go     a file as rows: its signs, its columns, its faults
//	words.go    the words over columns, units and currencies
//	number.go   prices and discounts as people write them
//	propose.go  rows and materials by their article, and what is left to a person
//	write.go    the places of the book that change
//
// The package writes nothing. Its edit of the book keeps comments and layout (package amend).
//
// Source: RFC 4180 (rows, quotes); everything else is common practice of price lists, no source.
package supply

import (
	"ribband/core/measure"
	"ribband/core/money"
)

// Row is one price of a list.
type Row struct {
	Line    int    `json:"line"` // from 1
	Article string `json:"article"`
	Title   string `json:"title,omitempty"`
	// Price is that of one unit, net of discount and tax, rounded to millionths.
	Price money.Amount `json:"price"`
	// Unit is one of package measure, or the supplier's own word; empty where the list says none.
	Unit     string           `json:"unit,omitempty"`
	Currency string           `json:"currency,omitempty"` // ISO 4217; empty where the list says none
	From     measure.Quantity `json:"from,omitempty"`     // units from which it holds; 0 for the first price
	Day      string           `json:"day,omitempty"`      // from which it holds; empty where the list says none
}

// List is what was read of a file.
type List struct {
	Rows   []Row
	Faults []error // of rows that were left out, each with its line and remedy
	// Breaks says that the list has a column of quantities: what has no price by quantity in it has none.
	Breaks bool
}

// Options say what a file does not.
type Options struct {
	// Columns are heads of columns by their role, one of [Roles], as the file writes them.
	Columns map[string]string
}

// Roles are what a column can be, by the names that a person uses to point at one. A price is what the yard pays; a
// list price has the discount still to be taken off. Per is how many units the price is for, which may also stand in
// the unit or over the price; from is the quantity from which it holds, with a row for each.
var Roles = []string{"article", "title", "price", "list", "discount", "unit", "per", "currency", "from", "date"}
