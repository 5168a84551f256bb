package money_test

import (
	"testing"

	"ribband/core/money"
)

// Groups of three by a small space, four digits like five. Source: ISO 80000-1, 7.3.2, from memory.
func TestGrouped(t *testing.T) {
	for in, want := range map[string]string{
		"0": "0", "999": "999", "4290": "4\u202f290", "48250.37": "48\u202f250.37", "123456": "123\u202f456",
		"1234567.891": "1\u202f234\u202f567.891", "-48250": "\u221248\u202f250", "-0.50": "\u22120.50",
	} {
		if got := money.Grouped(in); got != want {
			t.Errorf("%s: %q, want %q", in, got, want)
		}
	}
}
