package orders

import "ribband/core/calendar"

// Day and Week are those of package calendar.
type (
	Day  = calendar.Day
	Week = calendar.Week
)

// ParseDay, ParseWeek and WeekOf are those of package calendar.
var (
	ParseDay  = calendar.ParseDay
	ParseWeek = calendar.ParseWeek
	WeekOf    = calendar.WeekOf
)
