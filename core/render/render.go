// Package render writes a document (package doc) in a form: as HTML that prints, as plain text, as CSV.
//
// The same document and language give the same bytes. Words of the document never become markup, a line or a formula of
// their own: HTML and CSS are escaped, control characters break no line of plain text, and CSV holds no formulas.
package render
