package quote_test

import (
	"testing"

	"ribband/core/engine"
	"ribband/core/quote"
)

// A nautical mile is 1852 m exactly (SI brochure, 8th edition, table 8, from memory).
func TestValueShown(t *testing.T) {
	for _, c := range []struct {
		value, unit, want string
	}{
		{"4.5", "kn", "4.5 kn (8.3\u00a0km/h)"},
		{"28.8", "nm", "28.8 nm (53.3\u00a0km)"},
		{"120", "nm", "120 nm (222\u00a0km)"},
		{"0", "nm", "0 nm"},
		{"1234", "kg", "1\u202f234 kg"},
		{"2.5", "°", "2.5°"},
		{"Fresh water", "", "Fresh water"},
		{"not known", "", "not known"},
	} {
		if got := (engine.Value{Value: c.value, Unit: c.unit}).Shown(" "); got != c.want {
			t.Errorf("%s %s: %q, want %q", c.value, c.unit, got, c.want)
		}
	}
}

func TestDay(t *testing.T) {
	for iso, want := range map[string]string{"2027-02-06": "6\u00a0February\u00a02027",
		"2026-11-20": "20\u00a0November\u00a02026", "": "", "soon": "soon", "2027-02-30": "2027-02-30"} {
		if got := quote.Day(iso); got != want {
			t.Errorf("%q: %q, want %q", iso, got, want)
		}
	}
}
