package quote

import (
	"time"

	"ribband/core/measure"
	"ribband/core/money"
)

// Shown writes a value for a reader: a number grouped, with its unit behind the space given, and its note; words as
// they are.
func (v Value) Shown(space string) string {
	if _, err := money.Parse(v.Value); err != nil {
		return v.Value
	}
	text := measure.Joined(money.Grouped(v.Value), space, v.Unit)
	if v.Note != "" {
		text += ", " + v.Note
	}
	return text
}

// Day writes a date of ISO 8601 for a reader: 6 February 2027. What is no date stays as it is.
func Day(iso string) string {
	day, err := time.Parse(time.DateOnly, iso)
	if err != nil {
		return iso
	}
	return day.Format("2\u00a0January\u00a02006")
}
