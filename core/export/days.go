package export

import (
	"strconv"
	"strings"
)

// DayEntry is something in a diary that takes whole days and keeps nobody busy.
type DayEntry struct {
	ID            []string // texts that together are its own for good: an entry that is written again takes its place
	Begin, End    string   // days of ISO 8601, the second being the first that is not in it
	Summary, Note string
}

// Days writes entries for a diary. They are of a day, by which they are stamped: no clock is read here. Of two versions
// of an entry the one with the higher sequence is the later one.
//
// Source: RFC 5545, as for [Calendar].
func Days(of, day string, sequence int, list []DayEntry) []byte {
	c := &contents{}
	c.begin(of)
	for _, e := range list {
		c.line("BEGIN", "VEVENT")
		c.line("UID", identifier(append([]string{of}, e.ID...)...))
		c.line("SEQUENCE", strconv.Itoa(sequence))
		c.line("DTSTAMP", compact(day)+"T000000Z")
		c.line("DTSTART;VALUE=DATE", compact(e.Begin))
		c.line("DTEND;VALUE=DATE", compact(e.End))
		c.line("TRANSP", "TRANSPARENT")
		c.line("SUMMARY", textValue(e.Summary))
		c.line("DESCRIPTION", textValue(e.Note))
		c.line("END", "VEVENT")
	}
	c.line("END", "VCALENDAR")
	return []byte(c.String())
}

// compact is a day as a calendar has it.
func compact(day string) string { return strings.ReplaceAll(day, "-", "") }
