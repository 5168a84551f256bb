package quote

import (
	"time"
)

// Day writes a date of ISO 8601 for a reader: 6 February 2027. What is no date stays as it is.
func Day(iso string) string {
	day, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return day.Format("2\u00a0January\u00a02006")
}
