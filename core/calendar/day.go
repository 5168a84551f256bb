// Package calendar has the days and weeks of a yard as its files have them. It knows no time of day and no zone, and
// reads no clock.
package calendar

import (
	"fmt"
	"time"
)

// Day is a day of the calendar, as 2027-03-31. It has no zone: it is the yard's. The zero Day is none.
type Day struct{ midnight time.Time }

// ParseDay reads a day, and refuses one that the calendar does not have.
//
// Source: ISO 8601-1:2019, 5.2.2.1.
func ParseDay(text string) (Day, error) {
	t, err := time.Parse(time.DateOnly, text)
	if err != nil || t.Year() < firstYear {
		return Day{}, fmt.Errorf("%.40q is no day; write it as 2027-03-31", text)
	}
	return Day{t}, nil
}

// IsZero says that it is no day.
func (d Day) IsZero() bool { return d.midnight.IsZero() }

// Before says whether a day is earlier than another one. No day at all is earlier than every day.
func (d Day) Before(other Day) bool { return d.midnight.Before(other.midnight) }

// Week is the week in which the day lies; of the days around New Year it may be one of the other year.
func (d Day) Week() Week { return WeekOf(d) }

// Add is the day so many later.
func (d Day) Add(days int) Day { return Day{d.midnight.AddDate(0, 0, days)} }

// Since is how many days a day is later than another one; less than none where it is earlier.
func (d Day) Since(other Day) int { return int(d.midnight.Sub(other.midnight).Hours()) / 24 }

func (d Day) String() string {
	if d.IsZero() {
		return ""
	}
	return d.midnight.Format(time.DateOnly)
}

// MarshalText writes a day in a file.
func (d Day) MarshalText() ([]byte, error) { return []byte(d.String()), nil }

// UnmarshalText reads what MarshalText writes; "" is no day.
func (d *Day) UnmarshalText(text []byte) (err error) {
	*d = Day{}
	if len(text) > 0 {
		*d, err = ParseDay(string(text))
	}
	return err
}
