package paper_test

import (
	"encoding/csv"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/paper"
)

func readCSV(t testing.TB, text string) [][]string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll() // every row has as many cells as the first
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// Source: RFC 4180, section 2: lines end with CRLF; cells with commas, quotes or line breaks are quoted, quotes
// doubled.
func TestCSVFollowsTheRFC(t *testing.T) {
	q, y := papersOf(t, yardEngine(), frozenSpec, nil)
	q.Price.Lines[0].Title = "a \"quoted\", long\ntitle"
	for _, text := range []string{customer(t, q, paper.AsCSV), yard(t, y, q, paper.AsCSV)} {
		if !strings.HasSuffix(text, "\r\n") || strings.Count(text, "\n") != strings.Count(text, "\r\n") {
			t.Error("not all lines end with CRLF")
		}
		if rows := readCSV(t, text); len(rows) < 5 || slices.Contains(rows[0], "") {
			t.Errorf("%d rows, titles %q", len(rows), rows[0])
		}
	}
	if text := customer(t, q, paper.AsCSV); !strings.Contains(text,
		"line,boat,Boat,\"a \"\"quoted\"\", long\r\ntitle\",") {
		t.Errorf("quoted wrongly: %.200q", text)
	}
}

// A spreadsheet takes cells that begin so for formulas. Source: OWASP page on CSV injection, from memory.
func isFormula(cell string) bool {
	return cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r\n") && strings.Trim(cell[1:], "0123456789.") != ""
}

func TestCSVHoldsNoFormula(t *testing.T) {
	q, _ := papersOf(t, yardEngine(), frozenSpec, nil)
	starts := []string{"=1+1", "+1", "-2+3", "@SUM(A1)", "\tx", "\rx", "\nx", "-", "=", ""}
	rapid.Check(t, func(r *rapid.T) {
		s := rapid.SampledFrom(starts).Draw(r, "start") + drawNasty(r, "rest")
		q.Price.Lines[0].Title, q.Price.Lines[0].Detail, q.Price.Discounts[0].Title = s, s, s
		for _, row := range readCSV(t, customer(t, q, paper.AsCSV)) {
			for _, cell := range row {
				if isFormula(cell) {
					t.Fatalf("%q is a formula", cell)
				}
			}
		}
	})
}

// A extra item titled -2+3… was once left a formula, since negative amounts begin alike; those stay numbers.
func TestCSVKeepsNegativeNumbers(t *testing.T) {
	q, _ := papersOf(t, yardEngine(), frozenSpec, nil)
	q.Price.Discounts[0].Title = "-2+3"
	for _, row := range readCSV(t, customer(t, q, paper.AsCSV)) {
		if row[0] == "discount" && row[3] == "'-2+3" {
			if row[6] != q.Price.Discounts[0].Amount.Fixed(2) || row[6][0] != '-' {
				t.Errorf("the amount of the discount is %q", row[6])
			}
			return
		}
	}
	t.Error("the discount is not there, or is a formula")
}
