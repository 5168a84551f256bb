package book_test

import (
	"os"
	"testing"

	"ribband/core/book"
	"ribband/core/book/source"
)

// read reads a book of the repository in which nothing is wrong.
func read(t testing.TB, folder string) *book.Book {
	t.Helper()
	b, diagnostics, err := source.Read(os.DirFS(folder))
	if err != nil || len(diagnostics) > 0 {
		t.Fatal(err, diagnostics)
	}
	return b
}

const (
	smallBook = "../../testdata/books/small"
	demoBook  = "../../rules"
)

func TestDiagnosticNamesPlaceAndRemedy(t *testing.T) {
	p := book.Diagnostic{Position: book.Position{File: "hull/options.yaml", Line: 12, Column: 7},
		Message: "unknown unit \"ell\"", Advice: "did you mean \"l\"?"}
	if got, want := p.Error(), `hull/options.yaml:12:7: unknown unit "ell"; did you mean "l"?`; got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
}

func TestGiven(t *testing.T) {
	b := read(t, smallBook)
	if !b.Contingency.Given() || !b.ValidityDays.Given() || !b.Rounding.PriceStep.Given() {
		t.Error("what the book states is not given")
	}
	if b.Pricing.Markup.Given() || b.Materials[1].LeadDays.Given() || (book.Money{}).Given() {
		t.Error("what the book leaves out is given")
	}
	if !b.Slots[0].When.Empty() || b.Slots[1].When.Empty() {
		t.Error("the first slot is always there, the second on a condition")
	}
}
