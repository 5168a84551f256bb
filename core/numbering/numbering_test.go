package numbering_test

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/numbering"
)

func TestNumbersCountByDeviceAndYear(t *testing.T) {
	s := numbering.Default
	given := []string{"2026-A099", "2027-A001", "2027-A014", "2027-B200", "of old", "2027-A13"}
	for _, c := range []struct{ day, device, want string }{
		{"2027-03-31", "A", "2027-A015"}, {"2028-01-02", "A", "2028-A001"}, {"2027-03-31", "C", "2027-C001"},
	} {
		if got := s.Next(c.day, c.device, given); got != c.want {
			t.Errorf("on %s device %s gives %s, want %s", c.day, c.device, got, c.want)
		}
	}
	rapid.Check(t, func(r *rapid.T) {
		n := rapid.IntRange(1, 999_999_999).Draw(r, "count")
		if got := s.Count(s.Number("2027-01-01", "AB", n), "2027-05-05", "AB"); got != n {
			t.Fatalf("the count of %s is %d", s.Number("2027-01-01", "AB", n), got)
		}
	})
	for _, bad := range []numbering.Scheme{"{year}", "{count}{count}", "{count} {month}", ""} {
		if bad.Check() == nil {
			t.Errorf("the scheme %q is taken", bad)
		}
	}
	if err := s.Check(); err != nil {
		t.Error(err)
	}
}

func ExampleScheme_Next() {
	fmt.Println(numbering.Scheme("HL {year}/{device}-{count}").Next("2027-03-31", "B", []string{"HL 2027/B-041"}))
	// Output: HL 2027/B-042
}
