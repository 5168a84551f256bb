package plan

import (
	"fmt"
	"slices"
	"sort"
)

// Calendar says when a shop is open: the same hours every week, but for days on which it is closed.
type Calendar struct {
	Title  string
	Week   [7][]Hours // by weekday, Monday first; in order
	Closed []int      // days from the load's Monday on
}

// Hours are a time of day in which a shop is open, in quarter-hours from midnight: from 0 until 96.
type Hours struct{ From, Until Time }

// Always is the calendar of what needs no people: it is never closed.
func Always() Calendar {
	c := Calendar{Title: "always"}
	for i := range c.Week {
		c.Week[i] = []Hours{{0, Day}}
	}
	return c
}

// Weekdays is a calendar of the same hours on Monday to Friday.
func Weekdays(title string, closed []int, hours ...Hours) Calendar {
	c := Calendar{Title: title, Closed: closed}
	for i := range 5 {
		c.Week[i] = hours
	}
	return c
}

// Clock is a calendar made ready to convert clock to worked time and back: the first in constant time, the second in
// the logarithm of the days up to the last that is closed.
type Clock struct {
	always bool // worked time is clock time
	week   [7][]Hours
	before [8]Time // worked in a week before each weekday; at 7 the whole week
	closed []bool  // by day, as far as days are listed: whole weeks; every later week is like the other
	sums   []Time  // worked before each listed day, and before the first that is not
}

// maxClosedDay bounds the table of days: some 55 years.
const maxClosedDay = 20_000

// Clock makes a calendar ready. It fails where its hours are not in order within the day, or where it is never open.
func (c *Calendar) Clock() (*Clock, error) {
	k := &Clock{week: c.Week, always: len(c.Closed) == 0}
	for d, hours := range c.Week {
		last, open := Time(0), Time(0)
		for i, h := range hours {
			if h.From < last || h.Until <= h.From || h.Until > Day {
				return nil,
					fmt.Errorf("reading calendar %.60q: hours %d of weekday %d are from %d until %d quarter-hours; "+
						"give them in order, from 0 until 96", c.Title, i+1, d+1, h.From, h.Until)
			}
			open += h.Until - h.From
			last = h.Until
		}
		k.before[d+1] = k.before[d] + open
		k.always = k.always && open == Day
	}
	if k.before[7] == 0 {
		return nil, fmt.Errorf("reading calendar %.60q: it is never open; give hours for a weekday", c.Title)
	}
	return k, k.list(c)
}

// list makes the table of days up to the week of the last that is closed.
func (k *Clock) list(c *Calendar) error {
	last := -1
	for _, d := range c.Closed {
		if d < 0 || d > maxClosedDay {
			return fmt.Errorf("reading calendar %.60q: day %d is closed; give days from 0 to %d", c.Title, d,
				maxClosedDay)
		}
		last = max(last, d)
	}
	k.closed = make([]bool, (last+7)/7*7)
	for _, d := range c.Closed {
		k.closed[d] = true
	}
	k.sums = make([]Time, len(k.closed)+1)
	for d, closed := range k.closed {
		k.sums[d+1] = k.sums[d]
		if !closed {
			k.sums[d+1] += k.before[d%7+1] - k.before[d%7]
		}
	}
	return nil
}

// Worked is how much is worked from the load's begin until a moment; nothing before it.
func (k *Clock) Worked(t Time) Time {
	if k.always || t <= 0 {
		return max(t, 0)
	}
	day := int(t / Day)
	sum := Time(0)
	if listed := len(k.closed); day < listed {
		sum = k.sums[day]
		if k.closed[day] {
			return sum
		}
	} else {
		later := day - listed
		sum = k.sums[listed] + Time(later/7)*k.before[7] + k.before[later%7]
	}
	// the hours of a day are two or three: no table of them would be faster
	rest := t % Day
	for _, h := range k.week[day%7] {
		if rest <= h.From {
			break
		}
		sum += min(rest, h.Until) - h.From
	}
	return sum
}

// Begin is the moment at which the quarter-hour of work begins before which so many were worked. Work that cannot begin
// before a moment t begins at Begin(Worked(t)).
func (k *Clock) Begin(worked Time) Time {
	if k.always || worked < 0 {
		return worked // before the load's begin, where latest times may lie, it counts on as if always open
	}
	day, rest := 0, Time(0) // rest is what is worked on that day before
	if listed := len(k.closed); worked < k.sums[listed] {
		day = sort.Search(listed, func(d int) bool { return k.sums[d+1] > worked })
		rest = worked - k.sums[day]
	} else {
		rest = worked - k.sums[listed]
		weeks := rest / k.before[7]
		rest -= weeks * k.before[7]
		weekday := 0
		for k.before[weekday+1] <= rest {
			weekday++
		}
		rest -= k.before[weekday]
		day = listed + int(weeks)*7 + weekday
	}
	at := Time(day) * Day
	for _, h := range k.week[day%7] {
		if rest < h.Until-h.From {
			return at + h.From + rest
		}
		rest -= h.Until - h.From
	}
	return at + Day // not reached: the day has as much as the sums say
}

// End is the moment at which so many quarter-hours have been worked: the end of the last of them.
func (k *Clock) End(worked Time) Time {
	if worked <= 0 {
		return worked
	}
	return k.Begin(worked-1) + 1
}

// longestDay is the most that is worked on one day.
func (k *Clock) longestDay() (longest Time) {
	for d := range 7 {
		longest = max(longest, k.before[d+1]-k.before[d])
	}
	return longest
}

// day is what has been worked when the day of a quarter-hour of work begins and when it ends.
func (k *Clock) day(worked Time) (from, until Time) {
	at := k.Begin(worked)
	at -= at % Day
	return k.Worked(at), k.Worked(at + Day)
}

// sameDay is the first quarter-hour of work from one on with which so much can be worked on one day. What takes longer
// than the longest day begins with one, and goes on: so the finish is never earlier for more work.
func (k *Clock) sameDay(worked, length Time) Time {
	length = min(length, k.longestDay())
	for {
		// a day that is closed has no quarter-hour of work, and so is never looked at
		_, until := k.day(worked)
		if worked+length <= until {
			return worked
		}
		worked = until
	}
}

// sameDayBefore is the last quarter-hour of work up to one with which so much can be worked on one day.
func (k *Clock) sameDayBefore(worked, length Time) Time {
	length = min(length, k.longestDay())
	for worked >= 0 {
		from, until := k.day(worked)
		if worked = min(worked, until-length); worked >= from {
			break
		}
		worked = from - 1
	}
	return worked
}

// mirrored is the calendar with time running backwards from the end of so many days, which are whole weeks.
func (c *Calendar) mirrored(days int) *Calendar {
	m := &Calendar{Title: c.Title}
	// the last hours of Sunday are the first of the mirror's Monday
	for d, hours := range c.Week {
		for _, h := range slices.Backward(hours) {
			m.Week[6-d] = append(m.Week[6-d], Hours{Day - h.Until, Day - h.From})
		}
	}
	for _, d := range c.Closed {
		if d < days {
			m.Closed = append(m.Closed, days-1-d)
		}
	}
	return m
}
