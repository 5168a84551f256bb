package doc_test

import (
	"fmt"
	"slices"
	"testing"

	"ribband/core/doc"
	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/msg"
)

// A cell in the words of a reader, and for a program. Sources: [money.Grouped] and [measure.Joined], which name the
// standards; the rest by definition.
func TestCells(t *testing.T) {
	for _, c := range []struct {
		cell        doc.Cell
		words, data string
		number      bool
	}{
		{doc.Cell{}, "", "", false},
		{doc.Text("not known"), "not known", "not known", false},
		{doc.Number(1178.5, 0), "1\u202f179", "1179", true},
		{doc.Number(-0.001, 2), "0.00", "0.00", true},
		{doc.Exact(1.50), "1.5", "1.5", true},
		{doc.Some(0), "", "", false},
		{doc.Some(20), "20", "20", true},
		{doc.Count(12345), "12\u202f345", "12345", true},
		{doc.Hours(1_250_000), "1.3", "1.3", true},
		{doc.Decimal(""), "", "", false},
		{doc.Decimal("-1234.50"), "\u22121\u202f234.50", "-1234.50", true},
		{doc.Used(22_960_000, "m2"), "23.00 m²", "23.00", true},
		{doc.Used(2_100_000, "each"), "3 each", "3", true},
		{doc.Quantity(12.257, 2, "kg"), "12.26 kg", "12.26", true},
		{doc.Money(money.MustParse("1450"), money.Currency{Code: "EUR", Digits: 2}), "1\u202f450.00", "1450.00", true},
		{doc.Money(money.MustParse("1450"), money.Currency{Code: "JPY"}), "1\u202f450", "1450", true},
		{doc.Share(money.MustRate("0.175")), "17.5\u202f%", "0.175", true},
		{doc.Date("2027-02-06"), "6\u00a0February\u00a02027", "2027-02-06", false},
	} {
		if words, data := c.cell.Words(msg.English), c.cell.Data(); words != c.words || data != c.data ||
			c.cell.IsNumber() != c.number && !c.cell.Empty() {
			t.Errorf("%+v: %q and %q, number %v; want %q and %q, %v", c.cell, words, data, c.cell.IsNumber(), c.words,
				c.data, c.number)
		}
	}
}

// A column stands at the right where it is told to, or holds nothing but numbers; a missing cell says nothing.
func TestNumericColumns(t *testing.T) {
	table := doc.Table{Columns: make([]doc.Column, 5), Groups: []doc.Group{
		{Rows: []doc.Row{{Cells: []doc.Cell{doc.Count(1), doc.Text("x"), doc.Text("x"), {}}}}},
		{Rows: []doc.Row{{Cells: []doc.Cell{doc.Number(measure.Round(1.25, 1), 1)}}}}}}
	table.Columns[3].Right = true
	if got := table.Numeric(); !slices.Equal(got, []bool{false, true, false, true, true}) {
		t.Errorf("at the right stand %v", got)
	}
}

// What has nothing to say is left out with its title.
func TestEmptyBlocks(t *testing.T) {
	for _, b := range []doc.Block{doc.Heading(""), doc.Paragraph{Note: true}, doc.List{}, doc.Steps{},
		doc.Code{Title: "QR code"},
		doc.Terms{List: []doc.Term{{}}},
		doc.Table{Columns: make([]doc.Column, 2), Foot: make([]doc.Row, 1)}, doc.Drawings{{ID: "x"}}, doc.Signatures{},
		doc.Footer{}, doc.Section{Title: "T", Note: "n", Blocks: []doc.Block{doc.Section{Title: "C"}}}} {
		if !b.Empty() {
			t.Errorf("%#v is said to have something in it", b)
		}
	}
	if (doc.Section{Blocks: []doc.Block{doc.List{}, doc.Paragraph{Text: "x"}}}).Empty() {
		t.Error("a section with a paragraph is said to be empty")
	}
}

// A column's head names the unit that its cells leave out.
func ExampleColumn_Head() {
	fmt.Println(doc.Column{Title: "Length", Unit: "m"}.Head())
	fmt.Println(doc.Column{Unit: "mm²"}.Head())
	// Output:
	// Length, m
	// mm²
}
