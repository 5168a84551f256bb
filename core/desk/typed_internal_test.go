package desk

import (
	"math"
	"strings"
	"testing"
)

// Numbers as they are written in English, German, Dutch, French and Swiss letters (CLDR's number patterns, from
// memory).
func TestReadNumber(t *testing.T) {
	for _, c := range []struct {
		text, number, unit, fault string
		digits                    int
	}{
		{"90.000", "90000", "", "", 2},
		{"90,000", "90000", "", "", 2},
		{"90 000", "90000", "", "", 2},
		{"90\u202f000,50 EUR", "90000.50", "EUR", "", 2},
		{"90'000.50", "90000.50", "", "", 2},
		{"1.234.567,8", "1234567.8", "", "", 2},
		{"1,234,567.8", "1234567.8", "", "", 2},
		{"1.234.567", "1234567", "", "", 2},
		{"1,5", "1.5", "", "", 2},
		{"1.5", "1.5", "", "", 2},
		{",5", "0.5", "", "", 2},
		{"0.125", "0.125", "", "", 2},
		{"46 km", "46", "km", "", 2},
		{"46km", "46", "km", "", 2},
		{"4 %", "4", "%", "", 2},
		{"−4,5", "-4.5", "", "", 2},
		{"1,500", "", "", "two", 3},
		{"1234.567", "", "", "two", 2},
		{"1.00.000", "", "", "two", 2},
		{"1.000,5.3", "", "", "two", 2},
		{"12.34.56", "", "", "two", 2},
		{"many", "", "", "no", 2},
		{"", "", "", "no", 2},
		{"NaN", "", "", "no", 2},
	} {
		number, unit, err := readNumber(c.text, c.digits)
		if number != c.number || unit != c.unit || (err != nil) != (c.fault != "") {
			t.Errorf("%q is read as %q %q, %v; want %q %q", c.text, number, unit, err, c.number, c.unit)
		}
	}
}

// The conversions are those of an hour and a mile that anybody can look up: 1 nm is 1.852 km, 1 mile 1.609344 km.
func TestQuantity(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		step, want float64
		fault      string
	}{
		{"46 km", "nm", 0, 46 / 1.852, ""},
		{"46 km", "nm", 1, 25, ""},
		{"10 km/h", "kn", 0, 10 / 1.852, ""},
		{"5 mph", "kn", 0, 5 * 1.609344 / 1.852, ""},
		{"1,60 m", "m", 0.01, 1.6, ""},
		{"160 cm", "m", 0.01, 1.6, ""},
		{"6 ft", "m", 0.01, 1.83, ""},
		{"250", "km", 1, 250, ""},
		{"100 nm", "km", 1, 185, ""},
		{"2 h", "h", 0.5, 2, ""},
		{"90 min", "h", 0.5, 1.5, ""},
		{"5 KN", "kn", 0.5, 5, ""},
		{"3 apples", "kn", 0.5, 0, "kn"},
		{"3 kg", "kn", 0.5, 0, "kn"},
	} {
		got, err := quantity(c.text, c.unit, c.step)
		if (err != nil) != (c.fault != "") || err == nil && math.Abs(got-c.want) > 1e-6 ||
			err != nil && !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%q is %v %s, %v; want %v", c.text, got, c.unit, err, c.want)
		}
	}
}
