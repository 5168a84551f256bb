package takeoff_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/formula"
	"ribband/core/laminate"
	"ribband/core/takeoff"
)

// composed is the amount that a form makes of numbers.
func composed(t *rapid.T, word string, parts ...float64) float64 {
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

// Every composed amount is what the function of package laminate gives with the same numbers.
func TestPropertyComposedAmountsAreThoseOfLaminate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := func(least, most float64, what string) float64 {
			return rapid.Float64Range(least, most).Draw(t,
				what)
		}
		same := func(form string, got, want float64, err error) {
			if err != nil || math.Abs(got-want) > 1e-9*(1+math.Abs(want)) {
				t.Fatalf("%s: %v, package laminate gives %v (%v)", form, got, want, err)
			}
		}
		width, length, thick := number(10, 2000, "width, mm"), number(10, 5000, "length, mm"),
			number(5, 200, "thickness, mm")
		cushion, err := laminate.NewCushion(laminate.Cushion{Name: "seat", Width: width, Length: length, Count: 1,
			Layers: []laminate.FoamLayer{{Name: "foam", Thickness: thick, Density: 60}}})
		same("foam", composed(t, "foam", width*length/1e6, thick), cushion.Litres/1000, err)

		count := rapid.IntRange(1, 20).Draw(t, "count")
		timber, err := laminate.NewTimber("oak",
			[]laminate.Stick{{Name: "rail", Thickness: thick, Width: width, Length: length / 1000, Count: count}}, 1)
		same("timber", composed(t, "timber", thick, width, length/1000, float64(count)), timber.Net/1000, err)

		top := laminate.Top{Name: "top", Length: number(1, 6, "top, m"), Width: number(1, 3, "top's width, m"),
			Height: number(0.5, 2, "height, m"), Radius: number(0.05, 0.3, "radius, m"),
			Crown: number(0, 0.25, "crown, m"), Bows: rapid.IntRange(2, 6).Draw(t, "bows")}
		frame, err := laminate.NewFrame(top)
		same("tube", composed(t, "tube", float64(top.Bows), top.Width, top.Height, 2*top.Length, top.Crown, top.Radius),
			frame.Length, err)

		area, cover := number(0.1, 60, "area, m2"), number(1, 20, "cover, m2/l")
		paint, err := laminate.NewPaint(area, count, cover, 1)
		same("coat", composed(t, "coat", area, float64(count), cover), paint.Litres, err)

		mils := number(5, 40, "wet, mil")
		gelcoat, err := laminate.NewGelcoat("hull", area, mils, 0, laminate.GelcoatDensity)
		same("gelcoat", composed(t, "gelcoat", area, 0.0254*mils), gelcoat.Kilograms, err)
	})
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
