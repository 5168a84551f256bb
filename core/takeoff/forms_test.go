package takeoff_test

import (
	"math"
	"testing"

	"ribband/core/formula"
	"ribband/core/takeoff"
)

// composed is the amount that a form makes of numbers.
func composed(t testing.TB, word string, parts ...float64) float64 {
	form, ok := takeoff.FormOf(word)
	if !ok {
		t.Fatalf("there is no form %s", word)
	}
	var programs []formula.Program
	for _, p := range parts {
		programs = append(programs, formula.Constant(p))
	}
	amount, err := form.Compose(programs)
	if err != nil {
		t.Fatal(err)
	}
	return amount.Number()(&formula.State{})
}

// near compares what a form gives with what it should.
func near(t testing.TB, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}

// Each form against worked examples.
func TestFormsByWorkedExamples(t *testing.T) {
	const (
		inch      = 25.4              // mm
		boardFoot = 144 * 0.016387064 // l
	)
	// 24 by 72 by 4 in are 48 board feet of 144 in³.
	// Source: definition of the board foot.
	near(t, "foam", composed(t, "foam", 24*inch*72*inch/1e6, 4*inch), 48*boardFoot/1000, 1e-12)
	// Two strakes of 25 by 50 mm, 6 m long: 15 dm³.
	// Source: geometry.
	near(t, "timber", composed(t, "timber", 25, 50, 6, 2), 0.015, 1e-12)
	// 420 ft², which the maker converts to 39.06 m², at 4 m²/l in one coat: 9.765 l.
	// Source: a paint maker's page; two coats of 12 m² at 10 m²/l by hand.
	near(t, "coat", composed(t, "coat", 39.06, 1, 4), 9.765, 1e-9)
	near(t, "two coats", composed(t, "coat", 12, 2, 10), 2.4, 1e-12)
	// At 15 mil a US gallon of 231 in³ covers 106.94 ft²: 0.381 l/m².
	// Source: definition of the gallon; a density of 1.2 kg/l.
	near(t, "gelcoat", composed(t, "gelcoat", 1, 15*inch/1000), 3.785411784/(106.944444444*0.09290304)*1.2, 1e-9)
}

// Bows by other ways than the formula of the form.
// Source: geometry.
func TestTubeByGeometry(t *testing.T) {
	// square corners: a sum of straight lengths
	near(t, "square", composed(t, "tube", 3, 1.5, 1, 4, 0, 0), 3*(1+1.5+1)+4, 1e-12)
	// bends as wide as the bow: half a circle
	near(t, "round", composed(t, "tube", 1, 2, 1, 0, 0, 1), math.Pi, 1e-12)
	// two legs, two quarters of a circle and the straight roof between them
	near(t, "bends", composed(t, "tube", 1, 1.6, 1.1, 0, 0, 0.15), 2*(1.1-0.15)+math.Pi*0.15+(1.6-0.3), 1e-12)
	// the arc over 1.6 m that rises 0.1 m, by its circle: R = (0.8² + 0.1²)/(2×0.1), arc = 2R×asin(0.8/R)
	r := (0.64 + 0.01) / 0.2
	more := composed(t, "tube", 1, 1.6, 1, 0, 0.1, 0.1) - composed(t, "tube", 1, 1.6, 1, 0, 0, 0.1)
	near(t, "crown", more, 2*r*math.Asin(0.8/r)-1.6, 0.0002)
}

func TestComposeWantsEveryPart(t *testing.T) {
	form, _ := takeoff.FormOf("foam")
	if _, err := form.Compose([]formula.Program{formula.Constant(1)}); err == nil {
		t.Error("foam of an area without a thickness is composed")
	}
	if _, err := form.Compose([]formula.Program{{}, {}}); err == nil {
		t.Error("foam of empty parts is composed")
	}
	if _, ok := takeoff.FormOf("bucket"); ok {
		t.Error("there is a form bucket")
	}
}

// The text of a composed amount keeps parts together that are sums.
func TestTextOfComposedAmounts(t *testing.T) {
	for _, c := range []struct {
		form  string
		parts []string
		want  string
	}{
		{"foam", []string{"hull.seat_m2", "50"}, "hull.seat_m2 * 50 / 1000"},
		{"coat", []string{"1 + hull.a_m2", "2.5", "9"}, "(1 + hull.a_m2) * 2.5 / 9"},
		{"timber", []string{"22", "70", "hull.length_m", "4"}, "22 * 70 * hull.length_m * 4 / 1000 / 1000"},
	} {
		form, _ := takeoff.FormOf(c.form)
		if got := form.Text(c.parts); got != c.want {
			t.Errorf("%s: %q, want %q", c.form, got, c.want)
		}
	}
}
