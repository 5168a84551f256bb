// Package render writes a document (package doc) in a form: as HTML that prints, as plain text, as CSV.
//
// The same document and language give the same bytes. Words of the document never become markup, a line or a formula of
// their own: HTML and CSS are escaped, control characters break no line of plain text, and CSV holds no formulas.
//
// HTML is for printing and for the page, text for mail and terminals, CSV for programs and spreadsheets. What only one
// of them can show (drawings, a sum carried from page to page, small type) is hinted at by the document and left out by
// the others; no form knows of a particular paper.
package render
