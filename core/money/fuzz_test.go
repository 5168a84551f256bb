package money_test

import (
	"testing"

	"ribband/core/money"
)

var fuzzStarts = []string{"", "0", "-0", "-", ".", "1.", ".1", "1450", "-3.85", "1e9", "1,5", "+1", " 1", "٣",
	"999999999999999.999999999", "00000000000000000000"}

func FuzzParse(f *testing.F) {
	for _, s := range fuzzStarts {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := money.Parse(s)
		if err != nil {
			return
		}
		if back, err := money.Parse(a.String()); err != nil || !back.Equal(a) || back.String() != a.String() {
			t.Errorf("%q is %s, which parses to %s, %v", s, a, back, err)
		}
	})
}

func FuzzParseRate(f *testing.F) {
	for _, s := range fuzzStarts {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := money.ParseRate(s)
		if err != nil {
			return
		}
		if back, err := money.ParseRate(r.String()); err != nil || !back.Equal(r) || back.String() != r.String() {
			t.Errorf("%q is %s, which parses to %s, %v", s, r, back, err)
		}
	})
}
