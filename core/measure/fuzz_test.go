package measure_test

import (
	"testing"

	"ribband/core/measure"
)

func FuzzQuantityUnmarshalText(f *testing.F) {
	for _, s := range []string{"", "0", "-0", "-", "1.", ".1", "2.5", "-2.500000", "0.0000001", "1e3", "+1",
		"9223372036.854775", "999999999999.999999", "٣"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var q measure.Quantity
		if q.UnmarshalText(text) != nil {
			return
		}
		var back measure.Quantity
		if err := back.UnmarshalText([]byte(q.String())); err != nil || back != q || back.String() != q.String() {
			t.Errorf("%q is %s, which reads as %s, %v", text, q, back, err)
		}
	})
}
