package calendar

import (
	"fmt"
	"time"
)

// Week is a week of ISO 8601, as 2027-W22: it begins on a Monday and belongs to the year that its Thursday is in.
type Week struct{ Year, Week int }

// ParseWeek reads a week, and refuses one that its year does not have: most years have 52, and some 53.
//
// Source: ISO 8601-1:2019, 5.2.3.
func ParseWeek(text string) (Week, error) {
	var w Week
	digits := func(part string) (n int, ok bool) {
		for _, c := range []byte(part) {
			if c < '0' || c > '9' {
				return 0, false
			}
			n = 10*n + int(c-'0')
		}
		return n, true
	}
	ok := len(text) == len("2027-W22") && text[4:6] == "-W"
	if ok {
		var year, week bool
		w.Year, year = digits(text[:4])
		w.Week, week = digits(text[6:])
		ok = year && week
	}
	if !ok {
		return Week{}, fmt.Errorf("%.40q is no week; write it as 2027-W22", text)
	}
	if w.Year < firstYear {
		return Week{}, fmt.Errorf("%s is before %d-W01, with which this program begins", text, firstYear)
	}
	if most := weeksIn(w.Year); w.Week < 1 || w.Week > most {
		return Week{}, fmt.Errorf("there is no week %s: %d has the weeks W01 to W%d", text, w.Year, most)
	}
	return w, nil
}

// firstYear is the first that is read: it keeps slips of the keyboard out, such as a year of two digits.
const firstYear = 2000

// weeksIn is how many weeks a year has: the 28th of December is always in its last one.
func weeksIn(year int) int {
	_, n := time.Date(year, time.December, 28, 0, 0, 0, 0, time.UTC).ISOWeek()
	return n
}

// WeekOf is the week in which a day lies.
func WeekOf(day Day) Week {
	year, week := day.midnight.ISOWeek()
	return Week{year, week}
}

// Monday is the day with which the week begins.
func (w Week) Monday() Day {
	fourth := time.Date(w.Year, time.January, 4, 0, 0, 0, 0, time.UTC) // always in the first week
	return Day{fourth.AddDate(0, 0, 7*(w.Week-1)-(int(fourth.Weekday())+6)%7)}
}

// Add is the week so many later.
func (w Week) Add(weeks int) Week { return WeekOf(w.Monday().Add(7 * weeks)) }

// Since is how many weeks a week is later than another one.
func (w Week) Since(other Week) int { return w.Monday().Since(other.Monday()) / 7 }

func (w Week) String() string { return fmt.Sprintf("%04d-W%02d", w.Year, w.Week) }

// MarshalText and UnmarshalText write and read a week in a file.
func (w Week) MarshalText() ([]byte, error) { return []byte(w.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (w *Week) UnmarshalText(text []byte) (err error) {
	*w, err = ParseWeek(string(text))
	return err
}
