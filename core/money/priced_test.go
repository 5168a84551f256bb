package money_test

import (
	"testing"

	"ribband/core/money"
)

// The place of the code is that of CLDR's pattern for English in the country (for France of French), from memory.
func TestPriced(t *testing.T) {
	for _, c := range [][3]string{
		{"1234.5", "de", "1\u202f234.5\u00a0EUR"},
		{"69609.05", "eu-trade", "69\u202f609.05\u00a0EUR"},
		{"-20.00", "fr", "\u221220.00\u00a0EUR"},
		{"69609.05", "nl", "EUR\u00a069\u202f609.05"},
		{"999.00", "gb", "EUR\u00a0999.00"},
		{"1000", "", "EUR\u00a01\u202f000"},
	} {
		if got := money.Priced(c[0], "EUR", c[1]); got != c[2] {
			t.Errorf("%s in %q: %q, want %q", c[0], c[1], got, c[2])
		}
	}
}
