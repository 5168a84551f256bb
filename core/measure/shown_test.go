package measure_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/measure"
)

func TestShown(t *testing.T) {
	for _, c := range []struct {
		q            float64
		unit         string
		number, sign string
	}{
		{12, "each", "12", "each"}, {0.5, "each", "1", "each"}, {7.35, "set", "8", "set"}, {2, "pair", "2", "pair"},
		{0.0034, "m3", "0.004", "m³"}, {0.003, "m3", "0.003", "m³"},
		{12.657, "m2", "12.70", "m²"}, {12.65, "m2", "12.65", "m²"}, {8, "m", "8.0", "m"}, {2.571, "m", "2.6", "m"},
		{1.151, "l", "1.16", "l"}, {0, "kg", "0.00", "kg"}, {3.456, "cord", "3.46", "cord"},
		{6, "drums", "6", "drums"},
	} {
		q, err := measure.FromFloat[measure.Quantity](c.q)
		if err != nil {
			t.Fatal(err)
		}
		if number, sign := q.Shown(c.unit); number != c.number || sign != c.sign {
			t.Errorf("%v %s is shown as %q %q; want %q %q", c.q, c.unit, number, sign, c.number, c.sign)
		}
	}
}

func TestJoined(t *testing.T) {
	for _, c := range [][4]string{{"3.5", " ", "kn", "3.5 kn (6.5\u00a0km/h)"},
		{"1\u202f000", " ", "nm", "1\u202f000 nm (1852\u00a0km)"}, {"0.0", " ", "nm", "0.0 nm"},
		{"8", " ", "kn", "8 kn (14.8\u00a0km/h)"}, {"0.5", " ", "°", "0.5°"}, {"8", " ", "", "8"}} {
		if got := measure.Joined(c[0], c[1], c[2]); got != c[3] {
			t.Errorf("%q and %q are joined to %q; want %q", c[0], c[2], got, c[3])
		}
	}
}

// Half is away from zero, on papers and drawings alike: 1178.5 mm were 1178 on one and 1179 on the other, 2.575 m were
// 2.57 and 2.58.
func TestDecimal(t *testing.T) {
	for _, c := range []struct {
		v      float64
		digits int
		want   string
	}{{1178.5, 0, "1179"}, {2.575, 2, "2.58"}, {-0.0004, 3, "0.000"}, {-2.5, 0, "-3"}, {0.25, 1, "0.3"},
		{12, 2, "12.00"}} {
		if got := measure.Decimal(c.v, c.digits); got != c.want {
			t.Errorf("%v to %d digits is %s; want %s", c.v, c.digits, got, c.want)
		}
	}
}

// What is rounded for use is never less than what is needed, and by less than a step more.
func TestPropertyForUse(t *testing.T) {
	steps := map[string]float64{"each": 1, "set": 1, "pair": 1, "m": 0.1, "m2": 0.05, "m3": 0.001, "l": 0.01,
		"kg": 0.01}
	rapid.Check(t, func(t *rapid.T) {
		q := measure.Quantity(rapid.Int64Range(0, 1e12).Draw(t, "q"))
		for unit, step := range steps {
			r := q.ForUse(unit)
			if r < q || (r-q).Float() >= step || r.ForUse(unit) != r {
				t.Fatalf("%s %s is %s for use", q, unit, r)
			}
		}
		if r := q.Whole(); r < q || (r-q).Float() >= 1 || r%1_000_000 != 0 {
			t.Fatalf("%s is %s whole", q, r)
		}
	})
}
