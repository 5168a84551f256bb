package export

import (
	"fmt"
	"strconv"
	"strings"

	"ribband/core/orders"
)

// Launches writes the launches of a plan for a diary: of each boat the day, and its promise as the end of a week. A
// plan that is made later has a higher sequence, so that the entries move where the launches do.
//
// Source: RFC 5545, as for [Calendar].
func Launches(p *orders.Plan, yard string) []byte {
	c := &contents{}
	c.begin("plan")
	// days since a day before any plan: later plans count on
	first, _ := orders.ParseDay("2000-01-01")
	sequence, stamp := strconv.Itoa(p.Day.Since(first)), compact(p.Day)+"T000000Z"
	entry := func(b *orders.Planned, what, summary, note string, begin, end orders.Day) {
		c.line("BEGIN", "VEVENT")
		c.line("UID", identifier("plan", yard, b.Number, what))
		c.line("SEQUENCE", sequence)
		c.line("DTSTAMP", stamp)
		c.line("DTSTART;VALUE=DATE", compact(begin))
		c.line("DTEND;VALUE=DATE", compact(end)) // the day after
		c.line("TRANSP", "TRANSPARENT")          // it keeps nobody busy
		c.line("SUMMARY", textValue(summary))
		c.line("DESCRIPTION", textValue(note))
		c.line("END", "VEVENT")
	}
	for i := range p.Boats {
		b := &p.Boats[i]
		name := fmt.Sprintf("%s, %s, %s", b.Number, b.Hull, b.Customer)
		entry(b, "launch", "Launch of "+name, fmt.Sprintf("Promised for %s. Half of the simulated builds are done by %s, "+
			"four of five by %s.", b.Promised, b.P50, b.P80), b.Launch, b.Launch.Add(1))
		monday := b.Promised.Monday()
		entry(b, "promise", "Promised: "+name, fmt.Sprintf("Planned for %s.", b.Launch), monday, monday.Add(7))
	}
	c.line("END", "VCALENDAR")
	return []byte(c.String())
}

// compact is a day as a calendar has it.
func compact(d orders.Day) string { return strings.ReplaceAll(d.String(), "-", "") }
