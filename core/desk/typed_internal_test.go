package desk

import (
	"math"
	"strings"
	"testing"

	"ribband/core/measure"
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
		{"+.25", "0.25", "", "", 2},
		{"--5", "", "", "no", 2},
		{"−", "", "", "no", 2},
		{".", "", "", "no", 2},
		{". 5", "", "", "no", 2},
		{"5 m\nor 6", "", "", "no", 2},
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
		system     measure.System
	}{
		{"46 km", "nm", 0, 46 / 1.852, "", measure.Sea},
		{"46", "nm", 0, 46 / 1.852, "", measure.Inland},
		{"8,3", "kn", 0.5, 4.5, "", measure.Inland},
		{"46 nm", "nm", 0, 46, "", measure.Inland},
		{"250", "km", 50, 250, "", measure.Inland},
		{"8.2", "m", 0.1, 2.5, "", measure.USCustomary},
		{"100", "nm", 1, 100, "", measure.USCustomary},
		{"2.5 m", "m", 0.1, 2.5, "", measure.USCustomary},
		{"3 kg", "kn", 0.5, 0, "km/h", measure.Inland},
		{"46 km", "nm", 1, 25, "", measure.Sea},
		{"10 km/h", "kn", 0, 10 / 1.852, "", measure.Sea},
		{"5 mph", "kn", 0, 5 * 1.609344 / 1.852, "", measure.Sea},
		{"1,60 m", "m", 0.01, 1.6, "", measure.Sea},
		{"160 cm", "m", 0.01, 1.6, "", measure.Sea},
		{"6 ft", "m", 0.01, 1.83, "", measure.Sea},
		{"250", "km", 1, 250, "", measure.Sea},
		{"100 nm", "km", 1, 185, "", measure.Sea},
		{"2 h", "h", 0.5, 2, "", measure.Sea},
		{"90 min", "h", 0.5, 1.5, "", measure.Sea},
		{"5 KN", "kn", 0.5, 5, "", measure.Sea},
		{"3 apples", "kn", 0.5, 0, "kn", measure.Sea},
		{"3 kg", "kn", 0.5, 0, "kn", measure.Sea},
	} {
		got, err := quantity(c.text, c.unit, c.step, c.system)
		if (err != nil) != (c.fault != "") || err == nil && math.Abs(got-c.want) > 1e-6 ||
			err != nil && !strings.Contains(err.Error(), c.fault) {
			t.Errorf("%q is %v %s, %v; want %v", c.text, got, c.unit, err, c.want)
		}
	}
}
