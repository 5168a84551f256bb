package engine

import "ribband/core/calendar"

// EarliestLaunch is the week before which no such boat is launched, by what everybody may know, and the day on which
// that was counted; not ok where the book tells nobody.
func (e *Engine) EarliestLaunch(a *Answer) (week calendar.Week, counted calendar.Day, ok bool) {
	l := e.Pack.LaunchWeeks
	if l == nil {
		return week, counted, false
	}
	counted, err := calendar.ParseDay(l.Day)
	if err != nil { // the pack was checked
		return week, counted, false
	}
	return counted.Week().Add(l.Weeks(a.Hull, a.Build.State.Counts)), counted, true
}
