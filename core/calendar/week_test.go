package calendar_test

import (
	"testing"

	"pgregory.net/rapid"

	"ribband/core/calendar"
)

// Weeks at the ends of years.
//
// Source: ISO 8601-1:2019, 3.1.1.23 (the first week of a year has its first Thursday); the days by the calendar, from
// memory.
func TestWeeks(t *testing.T) {
	for day, want := range map[string]string{
		"2026-12-28": "2026-W53", "2027-01-03": "2026-W53", "2027-01-04": "2027-W01", "2027-12-31": "2027-W52",
		"2028-01-01": "2027-W52", "2028-01-03": "2028-W01", "2024-12-30": "2025-W01", "2005-01-01": "2004-W53",
	} {
		d, err := calendar.ParseDay(day)
		if err != nil || d.Week().String() != want {
			t.Errorf("%s is in %v (%v), want %s", day, d.Week(), err, want)
		}
	}
	for _, text := range []string{"2027-W53", "2027-W00", "2027W22", "27-W22", "2027-w22", "2027-W2a", "1999-W01", ""} {
		if w, err := calendar.ParseWeek(text); err == nil {
			t.Errorf("%q is read as %v", text, w)
		}
	}
	if _, err := calendar.ParseWeek("2026-W53"); err != nil {
		t.Error(err)
	}
}

func TestWeeksAddUp(t *testing.T) {
	first, _ := calendar.ParseWeek("2000-W01")
	rapid.Check(t, func(t *rapid.T) {
		w := first.Add(rapid.IntRange(0, 5200).Draw(t, "week"))
		n := rapid.IntRange(-500, 500).Draw(t, "weeks")
		back, err := calendar.ParseWeek(w.String())
		if err != nil || back != w {
			t.Fatalf("%v is read as %v (%v)", w, back, err)
		}
		if got := w.Add(n).Since(w); got != n {
			t.Fatalf("%v and %d weeks is %d later", w, n, got)
		}
		if d := w.Monday(); d.Week() != w || d.Add(6).Week() != w || d.Add(7).Week() == w {
			t.Fatalf("the Monday of %v is %v", w, d)
		}
	})
}
