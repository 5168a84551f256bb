package book_test

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"ribband/core/book"
)

// The cases of testdata/books/broken, run by package publish, hold each message of Validate to its place; here is what
// concerns all of them.

func TestValidateFindsNothingWrong(t *testing.T) {
	for _, folder := range []string{smallBook, demoBook} {
		b := read(t, folder)
		before := b.Digest()
		if diagnostics := b.Validate(); len(diagnostics) > 0 {
			t.Errorf("%s: %v", folder, diagnostics)
		}
		if b.Digest() != before {
			t.Errorf("%s: validating changes the book", folder)
		}
	}
}

// Of many faults all are found, in the same order each time, each with place and remedy.
func TestValidateIsDeterministic(t *testing.T) {
	b := read(t, demoBook)
	for i := range b.Sections {
		b.Sections[i].ID.Value = fmt.Sprint("chapter-", i)
	}
	for i := range b.Materials {
		b.Materials[i].ID.Value += "-x"
	}
	first := b.Validate()
	if len(first) < 300 {
		t.Fatalf("%d diagnostics, want more", len(first))
	}
	for range 5 {
		if !reflect.DeepEqual(b.Validate(), first) {
			t.Fatal("the same book, other diagnostics")
		}
	}
	for _, p := range first {
		if p.File == "" || p.Line < 1 || p.Column < 1 || p.Message == "" || p.Advice == "" {
			t.Errorf("no place or remedy: %q", p.Error())
		}
	}
}

// A book of nothing is wrong, but no reason to panic.
func TestValidateEmptyBook(t *testing.T) {
	var b book.Book
	if len(b.Validate()) == 0 {
		t.Error("a book of nothing is good")
	}
}

// Each circle of operations is reported once, wherever it is entered.
func TestValidateOperationsInCircle(t *testing.T) {
	b := read(t, smallBook)
	here := b.Operations[1].After[0].Operation.At
	text := func(s string) book.Text { return book.Text{Value: s, At: here} }
	for _, link := range []string{"a b", "b c", "c a", "d d", "e a"} {
		id, after, _ := strings.Cut(link, " ")
		b.Operations = append(b.Operations, book.Operation{ID: text(id), Title: text(id), Shop: text("assembly"),
			After: []book.Predecessor{{Operation: text(after)}}})
	}
	diagnostics := book.Errors(b.Validate())
	var circles []string
	for _, p := range diagnostics {
		circles = append(circles, p.Message)
	}
	want := []string{"the operation c waits for itself, by way of a", "the operation d waits for itself, by way of d"}
	if !reflect.DeepEqual(circles, want) {
		t.Errorf("got  %q\nwant %q", circles, want)
	}
}
