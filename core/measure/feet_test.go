package measure_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/measure"
)

// Lengths worked by hand with 25.4 mm to the inch.
func TestFeetInches(t *testing.T) {
	for _, c := range []struct {
		m    float64
		want string
	}{
		{0, "0 in"}, {0.003, "⅛ in"}, {0.0015, "0 in"}, {0.0254, "1 in"}, {0.03, "1⅛ in"}, {0.05, "2 in"},
		{0.08, "3⅛ in"},
		{0.3, "11¾ in"}, {0.304, "1 ft 0 in"}, {0.3048, "1 ft 0 in"}, {0.32, "1 ft ½ in"}, {1.77, "5 ft 9½ in"},
		{4.6, "15 ft 1 in"}, {7.6, "24 ft 11 in"}, {7.61, "24 ft 11½ in"}, {7.6198, "25 ft 0 in"}, {-0.05, "-2 in"},
		{-0.001, "0 in"}, {math.NaN(), "NaN ft"},
	} {
		if got := strings.ReplaceAll(measure.FeetInches(c.m), "\u00a0", " "); got != c.want {
			t.Errorf("%v m is %q, want %q", c.m, got, c.want)
		}
	}
}

func ExampleFeetInches() {
	fmt.Println(strings.ReplaceAll(measure.FeetInches(5.4), "\u00a0", " "))
	// Output: 17 ft 8½ in
}

// What is written is what was measured, within half of the fraction that it is written to, and never has 12 in.
func TestPropertyFeetInches(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.Float64Range(-100, 100).Draw(t, "m")
		text := strings.ReplaceAll(measure.FeetInches(m), "\u00a0", " ")
		sign, left, total := 1.0, text, 0.0
		if l, ok := strings.CutPrefix(left, "-"); ok {
			sign, left = -1, l
		}
		most := 0.0254 / 16
		if feet, rest, ok := strings.Cut(left, " ft "); ok {
			n, err := strconv.Atoi(feet)
			if err != nil {
				t.Fatalf("%v m is %q", m, text)
			}
			total, left = float64(n)*0.3048, rest
			if math.Abs(m) >= 0.3048 {
				most = 0.0254 / 4
			}
		}
		left = strings.TrimSuffix(left, " in")
		for i, f := range []string{"⅛", "¼", "⅜", "½", "⅝", "¾", "⅞"} {
			if l, ok := strings.CutSuffix(left, f); ok {
				total, left = total+float64(i+1)*0.0254/8, l
			}
		}
		if left != "" {
			n, err := strconv.Atoi(left)
			if err != nil || n > 11 {
				t.Fatalf("%v m is %q", m, text)
			}
			total += float64(n) * 0.0254
		}
		if d := math.Abs(sign*total - m); d > most+1e-9 {
			t.Fatalf("%v m is %q, which is %v m", m, text, sign*total)
		}
	})
}
