package book_test

import (
	"strings"
	"testing"

	"ribband/core/book"
)

// Sources: the United Kingdom's and Germany's entries of the IBAN registry of ISO 13616 (SWIFT), from memory; the last
// is the invented one of the demo book, whose check digits were worked out by whole-number arithmetic: 98 - (0000…0000
// XX00 as digits) mod 97 = 90.
func TestAccountNumbers(t *testing.T) {
	for iban, sound := range map[string]bool{
		"GB82 WEST 1234 5698 7654 32": true, "GB82WEST12345698765432": true, "DE89 3704 0044 0532 0130 00": true,
		"XX90 0000 0000 0000 0000 00": true,
		"GB82 WEST 1234 6598 7654 32": false, "DE98 3704 0044 0532 0130 00": false,
		"de89 3704 0044 0532 0130 00": false, "DE8X 3704 0044 0532 0130 00": false, "82GB": false,
		"GB82 WEST 1234 5698 7654 3\u00b2": false, strings.Repeat("A", 35): false,
	} {
		b := read(t, smallBook)
		b.Yard.Bank.IBAN = book.Text{Value: iban, At: book.Position{File: "yard.yaml", Line: 2, Column: 3}}
		if diagnostics := b.Validate(); (len(diagnostics) == 0) != sound {
			t.Errorf("%q: %v", iban, diagnostics)
		}
	}
	if got := book.GroupedIBAN("XX900000 00000000000000"); got != "XX90 0000 0000 0000 0000 00" {
		t.Errorf("grouped: %q", got)
	}
	if got := book.GroupedIBAN(""); got != "" {
		t.Errorf("none: %q", got)
	}
}
