package measure_test

import (
	"encoding/json"
	"math"
	"testing"

	"ribband/core/measure"
)

// The sources of these tables: the definition of a millionth and of rounding half away from zero; computed.

func TestFromFloat(t *testing.T) {
	for _, c := range []struct {
		in   float64
		want string
	}{
		{0, "0"}, {1, "1"}, {2.5, "2.5"}, {-2.5, "-2.5"}, {0.1, "0.1"}, {1.0 / 3, "0.333333"}, {2.0 / 3, "0.666667"},
		{0.0000004, "0"}, {-0.0000004, "0"}, {0.0000005, "0.000001"}, {-0.0000005, "-0.000001"},
		{math.Copysign(0, -1), "0"}, {9_000_000_000, "9000000000"},
	} {
		q, err := measure.FromFloat[measure.Quantity](c.in)
		if err != nil || q.String() != c.want {
			t.Errorf("%v: %s, %v; want %s", c.in, q, err, c.want)
		}
		h, err := measure.FromFloat[measure.Hours](c.in)
		if err != nil || h.String() != c.want {
			t.Errorf("%v h: %s, %v; want %s", c.in, h, err, c.want)
		}
	}
}

func TestFromFloatErrors(t *testing.T) {
	for _, c := range []struct {
		in   float64
		want string
	}{
		{math.NaN(), "NaN is not a quantity"},
		{math.Inf(1), "+Inf is not a quantity"},
		{math.Inf(-1), "-Inf is not a quantity"},
		{1e10, "1e+10 is not a quantity"},
		{-1e10, "-1e+10 is not a quantity"},
		{math.MaxFloat64, "1.7976931348623157e+308 is not a quantity"},
	} {
		_, err := measure.FromFloat[measure.Quantity](c.in)
		if err == nil || err.Error() != c.want {
			t.Errorf("%v: %v, want %s", c.in, err, c.want)
		}
	}
}

// A thousand parts of the largest quantity add up without overflow, and the largest is written and read back.
func TestLargestQuantity(t *testing.T) {
	largest := measure.Quantity(0)
	for f := 9_223_372_036.0; ; f = math.Nextafter(f, math.Inf(1)) {
		q, err := measure.FromFloat[measure.Quantity](f)
		if err != nil {
			break
		}
		largest = q
	}
	if q := largest.Times(1000); q < largest {
		t.Errorf("a thousand of %s are %s", largest, q)
	}
	var back measure.Quantity
	if err := back.UnmarshalText([]byte(largest.String())); err != nil || back != largest {
		t.Errorf("%s reads as %s, %v", largest, back, err)
	}
}

func TestFixed(t *testing.T) {
	for _, c := range []struct {
		in     measure.Quantity
		digits int
		want   string
	}{
		{1_250_000, 1, "1.3"}, {1_249_999, 1, "1.2"}, {-1_250_000, 1, "-1.3"}, {-400_000, 0, "0"}, {-500_000, 0, "-1"},
		{1, 6, "0.000001"}, {1, 3, "0.000"}, {-1, 3, "0.000"}, {12_000_000, 2, "12.00"}, {1_500_000, -3, "2"},
		{1_500_000, 9, "1.500000"},
		{math.MaxInt64, 6, "9223372036854.775807"}, {math.MinInt64, 6, "-9223372036854.775808"},
		{math.MinInt64, 0, "-9223372036855"},
	} {
		if got := c.in.Fixed(c.digits); got != c.want {
			t.Errorf("%d to %d: %s, want %s", c.in, c.digits, got, c.want)
		}
		if got := measure.Hours(c.in).Fixed(c.digits); got != c.want {
			t.Errorf("%d h to %d: %s, want %s", c.in, c.digits, got, c.want)
		}
	}
}

func TestReading(t *testing.T) {
	for in, want := range map[string]measure.Quantity{
		"0": 0, "-0": 0, "1": 1_000_000, "2.5": 2_500_000, "-2.5": -2_500_000, "0.000001": 1,
		"000000000012": 12_000_000, "1.500000": 1_500_000,
		"9223372036.854775": 9_223_372_036_854_775,
	} {
		var q measure.Quantity
		if err := q.UnmarshalText([]byte(in)); err != nil || q != want {
			t.Errorf("%q: %s, %v; want %s", in, q, err, want)
		}
		var h measure.Hours
		if err := h.UnmarshalText([]byte(in)); err != nil || h != measure.Hours(want) {
			t.Errorf("%q: %s h, %v; want %s", in, h, err, want)
		}
	}
}

func TestReadingErrors(t *testing.T) {
	for _, in := range []string{
		"", "-", "--1", "+1", ".5", "5.", "1.2.3", "1e3", "0x1", "1_0", " 1", "1 ", "NaN", "1.0000001", "1234567890123",
		"9223372036.854776", "٣", "1.-5",
	} {
		var q measure.Quantity
		err := q.UnmarshalText([]byte(in))
		want := "reading a quantity \"" + in + "\": want digits with an optional decimal point and at most 6 decimals"
		if err == nil || err.Error() != want {
			t.Errorf("error %v\nwant  %s", err, want)
		}
		var h measure.Hours
		if err := h.UnmarshalText([]byte(in)); err == nil {
			t.Errorf("%q was read as hours", in)
		}
	}
}

func TestJSON(t *testing.T) {
	text, err := json.Marshal(map[string]any{"q": measure.Quantity(2_500_000), "h": measure.Hours(-1)})
	if err != nil || string(text) != `{"h":"-0.000001","q":"2.5"}` {
		t.Errorf("%s, %v", text, err)
	}
}

func TestGrown(t *testing.T) {
	for _, c := range []struct {
		q     measure.Quantity
		share int64
		want  string
	}{
		{240_000_000, 100_000, "264"},                                   // 240 and 10 %
		{132_000_000, 150_000, "151.8"},                                 // 132 and 15 %
		{1, 499_999, "0.000001"},                                        // below half a millionth
		{1, 500_000, "0.000002"},                                        // half goes up
		{5_000_000, 0, "5"},                                             // nothing wasted
		{0, 500_000, "0"},                                               // nothing of nothing
		{9e15, 1_000_000_000, "9223372036.854775"},                      // held at the largest quantity
		{math.MaxInt64, math.MaxInt64 - 1_000_000, "9223372036.854775"}, // without overflow
	} {
		if got := c.q.Grown(c.share); got.String() != c.want {
			t.Errorf("%s grown by %d: %s, want %s", c.q, c.share, got, c.want)
		}
	}
}

func TestPacks(t *testing.T) {
	for _, c := range []struct {
		q, size measure.Quantity
		packs   int64
		rest    measure.Quantity
	}{
		{264_000_000, 25_000_000, 11, 11_000_000},
		{250_000_000, 25_000_000, 10, 0},
		{1, 25_000_000, 1, 24_999_999},
		{0, 25_000_000, 0, 0},
		{3, 2, 2, 1},
		// a pack beyond all sense does not overflow
		{5_000_000_000_000_000_000, 9_000_000_000_000_000_000, 1, 4_000_000_000_000_000_000},
	} {
		packs, rest := c.q.Packs(c.size)
		if packs != c.packs || rest != c.rest {
			t.Errorf("%s in packs of %s: %d and %s, want %d and %s", c.q, c.size, packs, rest, c.packs, c.rest)
		}
	}
}

func TestTimesAndFloat(t *testing.T) {
	if q := measure.Quantity(250_000).Times(4); q != 1_000_000 || q.Float() != 1 {
		t.Errorf("4 × 0.25 = %s", q)
	}
	if h := measure.Hours(250_000).Times(6); h != 1_500_000 || h.Float() != 1.5 {
		t.Errorf("6 × 0.25 h = %s", h)
	}
}
