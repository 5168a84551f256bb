package render

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"

	"ribband/core/doc"
)

// formulaStarts are what spreadsheets take for the beginning of a formula.
//
// Source: OWASP, CSV injection (from memory).
const formulaStarts = "=+-@\t\r\n"

// CSV writes the data of a document by RFC 4180: its columns, then its rows. Words that a spreadsheet would take for a
// formula are kept from being one by an apostrophe before them; numbers are numbers, below zero too.
func CSV(d *doc.Doc) ([]byte, error) {
	if d.Data == nil {
		return nil, fmt.Errorf("writing a paper as CSV: %.60q has no table of data", d.Title)
	}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	record := make([]string, len(d.Data.Columns))
	for j, c := range d.Data.Columns {
		record[j] = c.Head()
	}
	err := w.Write(record)
	for _, group := range d.Data.Groups {
		for _, row := range group.Rows {
			clear(record)
			record[0] = harmless(row.Label)
			for j, c := range row.Cells[:min(len(row.Cells), len(record)-1)] {
				record[j+1] = c.Data()
				if !c.IsNumber() {
					record[j+1] = harmless(record[j+1])
				}
			}
			if err == nil {
				err = w.Write(record)
			}
		}
	}
	if w.Flush(); err == nil {
		err = w.Error()
	}
	if err != nil {
		return nil, fmt.Errorf("writing a paper as CSV: %w", err)
	}
	return b.Bytes(), nil
}

// harmless is words that no spreadsheet computes.
func harmless(s string) string {
	if s != "" && strings.ContainsRune(formulaStarts, rune(s[0])) {
		return "'" + s
	}
	return s
}
