package drawing_test

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ribband/core/drawing"
	"ribband/core/measure"
)

// dimension is a length beside a dimension line in feet and inches.
var dimension = regexp.MustCompile(`^(-?)(?:(\d+)′\x{a0})?(\d*)([⅛¼⅜½⅝¾⅞]?)″$`)

// fractions of an inch.
var fractions = map[string]float64{"⅛": 0.125, "¼": 0.25, "⅜": 0.375, "½": 0.5, "⅝": 0.625, "¾": 0.75, "⅞": 0.875}

// A reader in the US has feet and inches on every drawing of the boat, and no metre; what they say is what the metres
// said, within a quarter of an inch and the centimetre.
func TestLengthsAreInFeetAndInches(t *testing.T) {
	metric := regexp.MustCompile(`^([\d.]+)\x{a0}m$`)
	compared := 0
	for name, d := range cases(t) {
		kind, _, _ := strings.Cut(name, "-")
		if kind != "profile" && kind != "plan" && kind != "sections" {
			continue
		}
		in := func(s measure.System) (lengths []string, all string) {
			svg, err := d.SVG(drawing.Format{System: s})
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range parse(t, svg) {
				if e.name == "text" && e.attrs["fill"] == "var(--ink, #16262d)" {
					lengths = append(lengths, strings.TrimSpace(e.text))
				}
				all += e.text + "\n"
			}
			return lengths, all
		}
		metres, _ := in(measure.Sea)
		feet, all := in(measure.USCustomary)
		if regexp.MustCompile(`\d\x{a0}m\b`).MatchString(all) {
			t.Errorf("%s: metres are left in %q", name, all)
		}
		if len(metres) != len(feet) {
			t.Fatalf("%s: %q in metres, %q in feet", name, metres, feet)
		}
		for i, m := range metres {
			f := metric.FindStringSubmatch(m)
			if f == nil {
				continue
			}
			want, _ := strconv.ParseFloat(f[1], 64)
			k := dimension.FindStringSubmatch(feet[i])
			if k == nil {
				t.Errorf("%s: %s is %q", name, m, feet[i])
				continue
			}
			ft, _ := strconv.ParseFloat(k[2], 64)
			inches, _ := strconv.ParseFloat(k[3], 64)
			if got := ft*0.3048 + (inches+fractions[k[4]])*0.0254; math.Abs(got-want) > 0.0064+0.005 {
				t.Errorf("%s: %s is %q", name, m, feet[i])
			}
			compared++
		}
	}
	if compared < 10 {
		t.Errorf("only %d lengths were compared", compared)
	}
}
