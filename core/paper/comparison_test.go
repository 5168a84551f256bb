package paper_test

import (
	"strings"
	"testing"

	"ribband/core/money"
	"ribband/core/paper"
	"ribband/core/quote"
)

// compared is the comparison of two quotations in a format.
func compared(t *testing.T, was, now *quote.Quote, f paper.Format) string {
	t.Helper()
	text, err := paper.Comparison.Write(&paper.Source{Earlier: was, Quote: now}, f)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// revisions are a quotation and its second revision: another table, a longer validity, other remarks.
func revisions(t *testing.T) (was, now *quote.Quote) {
	t.Helper()
	e, s := yardEngine(), readSpec(t, frozenSpec)
	d := readDetails(t)
	d.Revision = 1
	was = freeze(t, d)
	s.Choices["table"] = map[string]int{"table-folding-oak": 1}
	d.Revision, d.ValidUntil, d.Remarks = 2, "2027-05-31", strings.Replace(d.Remarks, "mooring 12", "mooring 14", 1)
	now, err := quote.Freeze(e, answer(t, e, s), d)
	if err != nil {
		t.Fatal(err)
	}
	return was, now
}

// freeze is the demo quotation with details.
func freeze(t *testing.T, d quote.Details) *quote.Quote {
	t.Helper()
	q, _ := papersOf(t, yardEngine(), frozenSpec, &d)
	return q
}

// Every line whose amount changed stands with both and their difference, which add up to that of the totals; words that
// changed are marked, and what is the same is not.
func TestComparisonShowsWhatDiffers(t *testing.T) {
	was, now := revisions(t)
	rows, sum := readCSV(t, compared(t, was, now, paper.AsCSV)), money.Amount{}
	total, changed := "", 0
	for _, row := range rows[1:] {
		switch {
		case row[0] == "price" && row[1] == "Total":
			total = row[4]
		case row[0] == "price" && row[1] != "Net" && row[1] != "Tax" && row[1] != "Payable":
			sum, changed = sum.Add(money.MustParse(row[4])), changed+1
		case row[0] == "other" && row[2] == row[3]:
			t.Errorf("%q is the same in both", row)
		}
	}
	if want := now.Price.Total.Sub(was.Price.Total); changed == 0 || !sum.Equal(want) || total != want.Fixed(2) {
		t.Errorf("%d lines differ by %s, the totals by %s; want %s", changed, sum, total, want)
	}
	page := compared(t, was, now, paper.AsHTML)
	for _, want := range []string{"Quotation HL-2027-014 and Quotation HL-2027-014, revision 2",
		"mooring <mark>14, </mark>the week", "mooring <mark>12, </mark>the " +
			"week", "<mark>31\u00a0May\u00a02027</mark>"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	if n := strings.Count(page, "<mark>"); n > 60 {
		t.Errorf("%d marks: what is the same is marked too", n)
	}
	text := compared(t, was, now, paper.AsText)
	if !strings.Contains(text, "Valid until •") || strings.Contains(text, "Prepared by •") {
		t.Errorf("the dots of the text are others: %s", text)
	}
	for _, private := range []string{was.Approval, "Sold to us"} {
		if private != "" && strings.Contains(page+text, private) {
			t.Errorf("the customer reads %q", private)
		}
	}
}

// A quotation beside itself has no mark and no dot, and no row of data.
func TestComparisonOfTheSame(t *testing.T) {
	was, _ := revisions(t)
	if page := compared(t, was, was, paper.AsHTML); strings.Contains(page, "<mark>") || strings.Contains(page, " •<") {
		t.Error("something is marked where nothing differs")
	}
	if rows := readCSV(t, compared(t, was, was, paper.AsCSV)); len(rows) != 1 {
		t.Errorf("%d rows where nothing differs", len(rows)-1)
	}
}
