package measure_test

import (
	"testing"

	"ribband/core/measure"
)

func TestShown(t *testing.T) {
	for _, c := range []struct {
		q            float64
		unit         string
		number, sign string
	}{
		{12, "each", "12", "each"}, {0.5, "each", "0.50", "each"}, {2, "pair", "2", "pair"}, {0.0034, "m3", "0.003", "m³"},
		{12.657, "m2", "12.66", "m²"}, {8, "m", "8.00", "m"}, {1.15, "l", "1.15", "l"}, {3, "cord", "3.00", "cord"},
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
	for _, c := range [][4]string{{"3.5", " ", "kn", "3.5 kn (6.5\u00a0km/h)"}, {"1\u202f000", " ", "nm", "1\u202f000 nm (1852\u00a0km)"}, {"0.0", " ", "nm", "0.0 nm"}, {"8", " ", "kn", "8 kn (14.8\u00a0km/h)"}, {"0.5", " ", "°", "0.5°"}, {"8", " ", "", "8"}} {
		if got := measure.Joined(c[0], c[1], c[2]); got != c[3] {
			t.Errorf("%q and %q are joined to %q; want %q", c[0], c[2], got, c[3])
		}
	}
}
