package screen_test

import (
	"regexp"
	"testing"

	"ribband/testdata/wording"
)

// isoDate is how files write a date, and not people.
var isoDate = regexp.MustCompile(`\b20[0-9]{2}-[0-9]{2}-[0-9]{2}\b`)

// What a person reads on the desks is in plain British trade English.
func TestWordingOfThePages(t *testing.T) {
	for name, v := range pages() {
		text := wording.Visible(v.markup)
		for _, fault := range append(wording.Faults(text), wording.Faults(v.Announcement())...) {
			t.Errorf("%s: %s", name, fault)
		}
		if date := isoDate.FindString(text); date != "" {
			t.Errorf("%s: the date %s is not as people write it", name, date)
		}
	}
}
