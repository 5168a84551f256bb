package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// secondBook is that of another invented yard: in Norway, with its currency and tax, which builds one boat of timber
// and one of glass. It was written by rules/README.md alone, so that the grammar is that of any yard and not of the
// demo.
const secondBook = "../testdata/books/kvitfjaer"

// Another yard's book is a book: no error, no warning, and all that it says is proved over all its boats.
func TestSecondBook(t *testing.T) {
	o := worked(t, tool(t, "", "check", "-strict", "-book", secondBook))
	for _, want := range []string{"2 hulls, 34 slots, 79 options", ": no errors.", "myrull-54: 62 options can be had",
		"rogn-68: 69 options can be had"} {
		if !strings.Contains(o.out, want) {
			t.Errorf("the check does not say %q: %s", want, o.out)
		}
	}
}

// A quotation from it, in crowns with its tax, as it was when it was last looked at; -update writes it anew.
func TestSecondBookQuotes(t *testing.T) {
	golden := filepath.Join(secondBook, "quotation.txt")
	got := worked(t, tool(t, "", "quote", "-book", secondBook, "-spec", filepath.Join(secondBook, "boat.json"),
		"-format", "text")).out
	if *update {
		write(t, golden, got)
	}
	want, err := os.ReadFile(golden)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the quotation differs from %s; look at it, and write it with -update: %s", golden, got)
	}
	// what a glance at the golden could pass over
	for _, part := range []string{"NOK", "of which MVA", "Kvitfjær Båtbyggeri", "Barn red"} {
		if !strings.Contains(got, part) {
			t.Errorf("it lacks %q", part)
		}
	}
}
