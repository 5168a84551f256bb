package bank_test

import (
	"math"
	"testing"

	"ribband/core/bank"
)

func within(t *testing.T, what string, got, want, by float64) {
	t.Helper()
	if !(math.Abs(got-want) <= by) {
		t.Errorf("%s: %.4f, want %.4f ± %g", what, got, want, by)
	}
}

// Source: FAO Irrigation and Drainage Paper 56, examples 8, 9 and 10: 20° S on 3 September, Rio de Janeiro (22°54' S)
// in May with 220 h of sunshine.
func TestSunByPublishedExamples(t *testing.T) {
	above, hours := bank.Extraterrestrial(-20, 246)
	within(t, "example 8, MJ/m²", 3.6*above, 32.2, 0.05)
	within(t, "example 9, h", hours, 11.7, 0.05)
	above, hours = bank.Extraterrestrial(-(22 + 54.0/60), 135)
	within(t, "example 10, above the atmosphere", 3.6*above, 25.1, 0.05)
	within(t, "example 10, daylight", hours, 10.9, 0.05)
	within(t, "example 10, on the ground", 3.6*bank.Sunlit(above, 220.0/31/hours), 14.5, 0.1)
}

// In Hungary the sun shines 1800 to 2050 h in a year, and 4300 to 4900 MJ/m² reach the ground (met.hu, solar radiation
// and sunshine duration of Hungary, means of 1971 to 2009). Source of the latitude: 47° N.
func TestSunOfAYear(t *testing.T) {
	c := bank.Climate{LatitudeDeg: 47, Sunshine: 0.54}
	days := [12]float64{31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}
	r, daylight := c.Irradiation()
	hours, mj := 0.0, 0.0
	for m, d := range days {
		hours += d * daylight[m] * c.SunshineIn(m)
		mj += d * 3.6 * r[m]
	}
	if hours < 1800 || hours > 2050 {
		t.Errorf("%.0f h of sunshine in the year", hours)
	}
	if mj < 4300 || mj > 4900 {
		t.Errorf("%.0f MJ/m² in the year", mj)
	}
	// Debrecen had 649.98 MJ/m² in July 1996 (met.hu), a month of a usual year.
	within(t, "July, kWh/m² a day", r[6], 649.98/3.6/31, 0.4)
	south, _ := bank.Climate{LatitudeDeg: -47, Sunshine: 0.54}.Irradiation()
	if south[0] < south[6] {
		t.Error("south of the equator January is winter")
	}
}

// The sun lengthens the time to the reserve by what it brings in the hours stated, never by more. Source: energy
// balance, solved by stepping.
func TestSunLengthensThePassage(t *testing.T) {
	for _, c := range []struct{ wh, w, sunW, sunH float64 }{
		{4000, 1000, 0, 8}, {4000, 1000, 200, 2}, {4000, 1000, 200, 8}, {4000, 300, 400, 3}, {500, 1000, 300, 6},
		{4000, 1000, 200, 5},
	} {
		left, hours := c.wh, 0.0
		const step = 1e-4
		for left > 0 {
			sun := 0.0
			if hours < c.sunH {
				sun = c.sunW
			}
			left -= (c.w - sun) * step
			hours += step
		}
		within(t, "hours", bank.HoursUntilEmpty(c.wh, c.w, c.sunW, c.sunH), hours, 2e-3)
	}
}
