package orders

import "ribband/core/calendar"

// The files of orders have days and weeks, and whoever reads orders names them as often as orders.

// Day and Week are those of package calendar.
type (
	Day  = calendar.Day
	Week = calendar.Week
)

// ParseDay and ParseWeek are those of package calendar.
var (
	ParseDay  = calendar.ParseDay
	ParseWeek = calendar.ParseWeek
)
