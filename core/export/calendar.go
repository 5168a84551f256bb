package export

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"ribband/core/msg"
	"ribband/core/quote"
)

// Calendar writes an issued quotation for a diary: the last day on which it holds, and its stages as things to do.
// A stage hangs on the work and has no date of its own, so it is a to-do without one. Another revision of the same
// number takes the place of the one before in the diary.
//
// Source: RFC 5545: 3.1 (lines of 75 octets), 3.3.11 (text), 3.6.1 and 3.6.2 (events and to-dos), 3.8.7 (identifier,
// sequence and stamp).
func Calendar(of *quote.Quote, l *msg.Language) ([]byte, error) {
	q := of.ForCustomer()
	if err := issued(q); err != nil {
		return nil, err
	}
	day, err := time.Parse(time.DateOnly, q.ValidUntil)
	if err != nil {
		return nil, msg.Fault("export.no-validity", msg.Text("date", q.ValidUntil))
	}
	c := &calendar{q: q, Language: l}
	c.begin("quotation")
	name := l.Say("export.quotation", msg.Text("number", q.Number), msg.Count("revision", q.Revision))
	c.entry("VEVENT", "validity", l.Say("export.valid-until", msg.Text("quotation", name), msg.Text("boat", q.Hull)),
		"DTSTART;VALUE=DATE", day.Format("20060102"), "TRANSP", "TRANSPARENT") // it keeps nobody busy
	for i, s := range q.Price.Stages {
		c.entry("VTODO", "stage-"+strconv.Itoa(i+1), l.Say("export.pay", msg.Text("quotation", name),
			msg.Words("stage", stage(&q.Price, s))))
	}
	c.line("END", "VCALENDAR")
	return []byte(c.String()), nil
}

// contents are the content lines of a file.
type contents struct{ strings.Builder }

// begin opens the calendar; what it is of names the program's part that wrote it.
func (c *contents) begin(of string) {
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", "-//ribband//"+of+"//EN")
}

// calendar is that of a quotation.
type calendar struct {
	contents
	*msg.Language
	q *quote.Quote
}

// entry is an event or a to-do with more properties, name and value by turns. Its stamp is the day of the quotation:
// no clock is read here, and a later revision has a later or the same day and a higher sequence.
func (c *calendar) entry(kind, what, summary string, properties ...string) {
	y := &c.q.Yard
	c.line("BEGIN", kind)
	// the yard and the number, not the digest, so that a revision finds the entry that it replaces
	c.line("UID", identifier("calendar", y.Name, c.q.Number, what))
	c.line("SEQUENCE", strconv.Itoa(max(0, c.q.Revision-1)))
	c.line("DTSTAMP", strings.ReplaceAll(c.q.Date, "-", "")+"T000000Z")
	for i := 0; i+1 < len(properties); i += 2 {
		c.line(properties[i], properties[i+1])
	}
	c.line("SUMMARY", textValue(summary))
	c.line("DESCRIPTION", textValue(c.List(msg.Commas, said(y.Name, y.Email, y.Phone))))
	if link := c.q.Link(); link != "" {
		c.line("URL", link)
	}
	c.line("END", kind)
}

// said are the texts that say something.
func said(texts ...string) (list []string) {
	for _, t := range texts {
		if t != "" {
			list = append(list, t)
		}
	}
	return list
}

// line writes a content line, folded between characters so that none of its parts is longer than 75 octets.
func (c *contents) line(name, value string) {
	const most = 75
	left := most
	for _, r := range name + ":" + value {
		n := utf8.RuneLen(r)
		if n > left {
			c.WriteString("\r\n ")
			left = most - 1 // the space counts
		}
		c.WriteRune(r)
		left -= n
	}
	c.WriteString("\r\n")
}

// textValue is a text as a value: marks of the format and line breaks escaped, other controls left out.
func textValue(s string) string {
	s = strings.NewReplacer("\\", `\\`, ";", `\;`, ",", `\,`, "\r\n", `\n`, "\n", `\n`, "\r", `\n`).Replace(s)
	return strings.Map(func(c rune) rune {
		if c < ' ' && c != '\t' || c == 0x7f {
			return -1
		}
		return c
	}, strings.ToValidUTF8(s, "\ufffd"))
}
