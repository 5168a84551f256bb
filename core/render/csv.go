package render

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"ribband/core/doc"
)

// A spreadsheet begins a formula at the start of a cell, and behind what it takes for the end of one: where the comma
// is the decimal sign, cells are parted at semicolons, and our quotes mean nothing. So it is with tabs, bars and line
// ends of every kind. A comma within a cell is safe: who parts at commas knows our quotes. The full-width and small
// forms are what Japanese and Chinese programs take for the same characters; spaces, quotes and what is not seen at
// all may be dropped before a cell is looked at.
//
// Source: OWASP Application Security Verification Standard 5, 1.2.10 (= + - @, tab, null, a single quote before them);
// OWASP, CSV Injection (carriage return, line feed, full-width forms, separators: from memory); CWE-1236.
const (
	signs  = "=+@＝＋－＠﹦﹢﹣﹫-"
	starts = "\t\r\n\x00" // of a text, which some take for the sign of a formula to come
	parts  = ";|\t\r\n\v\f\u0085\u2028\u2029；｜﹔"
)

func isSign(r rune) bool { return strings.ContainsRune(signs, r) }

// isDropped says what may stand before a sign.
func isDropped(r rune) bool {
	return strings.ContainsRune("\"“”＂", r) || unicode.In(r, unicode.Z, unicode.Cc, unicode.Cf)
}

// CSV writes the data of a document by RFC 4180: its columns, then its rows. Words that a spreadsheet would take for a
// formula are kept from being one by an apostrophe before them; numbers are numbers, below zero too.
func CSV(d *doc.Doc) ([]byte, error) {
	if d.Data == nil {
		return nil, fmt.Errorf("writing a paper as CSV: %.60q has no table of data", d.Title)
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	// as the RFC has it
	w.UseCRLF = true
	// one record for all rows: the writer copies it out before the next is filled in
	record := make([]string, len(d.Data.Columns))
	for j, c := range d.Data.Columns {
		record[j] = c.Head()
	}
	err := w.Write(record)
	for _, group := range d.Data.Groups {
		for _, row := range group.Rows {
			// a row that has fewer cells than the table columns is filled up: readers count them
			clear(record)
			record[0] = harmless(row.Label)
			for j, c := range row.Cells[:min(len(row.Cells), len(record)-1)] {
				record[j+1] = c.Data()
				// a discount begins with a minus and has to stay a number
				if !c.IsNumber() {
					record[j+1] = harmless(record[j+1])
				}
			}
			if err == nil {
				err = w.Write(record)
			}
		}
	}
	// the first error is the cause; those behind it follow
	if w.Flush(); err == nil {
		err = w.Error()
	}
	if err != nil {
		return nil, fmt.Errorf("writing a paper as CSV: %w", err)
	}
	return b.Bytes(), nil
}

// harmless is words that no spreadsheet computes: an apostrophe stands before what begins a formula.
func harmless(s string) string {
	var b strings.Builder
	from, begins := 0, false // a sign here would begin a formula
	for i, r := range s {
		switch {
		case begins && isSign(r):
			b.WriteString(s[from:i] + "'")
			from, begins = i, false
		case strings.ContainsRune(parts, r):
			begins = true
		case !isDropped(r):
			begins = false
		}
	}
	s = b.String() + s[from:]
	first, _ := utf8.DecodeRuneInString(strings.TrimLeftFunc(s, isDropped))
	if isSign(first) || s != "" && strings.IndexByte(starts, s[0]) >= 0 {
		return "'" + s
	}
	return s
}
