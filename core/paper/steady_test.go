package paper

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// The last figures of a number are those of the processor, and stand in no file. Strings stay.
func TestSteady(t *testing.T) {
	for _, c := range [][2]string{
		{`{"a": 24.277064691868926}`, `{"a": 24.2770646919}`},
		{`{"a": 24.27706469186892}`, `{"a": 24.2770646919}`}, // the same, of a processor that fuses
		{`[2.2600000000000002, -0.06999999999999984, 1.5, 12, 0]`, `[2.26, -0.07, 1.5, 12, 0]`},
		{`{"2.2600000000000002": "0.8584073464102068 \" 2.2600000000000002"}`,
			`{"2.2600000000000002": "0.8584073464102068 \" 2.2600000000000002"}`},
		{`[1e-7, 1.2345678901234567e-9, 123456789012]`, `[1e-7, 0.00000000123456789012, 123456789012]`},
		{`"`, `"`}, {`"\`, `"\`}, {`-`, `-`}, {``, ``},
	} {
		if got := string(steady([]byte(c[0]))); got != c[1] {
			t.Errorf("%s is %s, want %s", c[0], got, c[1])
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		v := map[string]float64{rapid.String().Draw(t, "key"): rapid.Float64Range(-1e9, 1e9).Draw(t, "number")}
		text, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		var back map[string]float64
		if err := json.Unmarshal(steady(text), &back); err != nil || len(back) != 1 {
			t.Fatalf("%s becomes %s: %v", text, steady(text), err)
		}
		for k, x := range v {
			if y, there := back[k]; there && math.Abs(x-y) > math.Abs(x)*1e-11 {
				t.Fatalf("%v becomes %v", x, y)
			} else if !there && strings.ToValidUTF8(k, "") == k {
				t.Fatalf("%q is gone", k)
			}
		}
	})
}
