package quote_test

import (
	"testing"

	"ribband/core/engine"
	"ribband/core/measure"
)

// A nautical mile is 1852 m exactly (SI brochure, 8th edition, table 8, from memory).
func TestValuesInWords(t *testing.T) {
	for _, c := range []struct {
		value engine.Value
		want  string
	}{
		{engine.In(measure.Sea, 4.5, "kn", 1), "4.5\u00a0kn (8.3\u00a0km/h)"},
		{engine.In(measure.Sea, 28.8, "nm", 1), "28.8\u00a0nm (53.3\u00a0km)"},
		{engine.In(measure.Sea, 120, "nm", 0), "120\u00a0nm (222\u00a0km)"},
		{engine.In(measure.Sea, 0, "nm", 0), "0\u00a0nm"},
		{engine.In(measure.Sea, 1234, "kg", 0), "1\u202f234\u00a0kg"},
		{engine.In(measure.USCustomary, 1234, "kg", 0), "2\u202f721\u00a0lb"},
		{engine.In(measure.Sea, 2.5, "deg", 1), "2.5°"},
		{engine.In(measure.Sea, 4, "each", 0), "4"},
		{engine.In(measure.Sea, 1e300, "kg", 0), "not known"},
		{engine.Value{Choice: "fresh", Text: "Fresh water"}, "Fresh water"},
		{engine.Value{State: engine.None, Unit: "kn"}, "none"},
		{engine.Value{State: engine.NotKnown, Unit: "kn"}, "not known"},
	} {
		if got := c.value.Message().String(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.value, got, c.want)
		}
	}
}
