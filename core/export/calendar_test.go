package export_test

import (
	"strings"
	"testing"
	"time"

	"github.com/emersion/go-ical"

	"ribband/core/engine/enginetest"
	"ribband/core/export"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// read is a calendar as a reader of another hand (emersion/go-ical) has it.
func read(t *testing.T, text []byte) *ical.Calendar {
	t.Helper()
	c, err := ical.NewDecoder(strings.NewReader(string(text))).Decode()
	if err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	return c
}

// property is the text of a property of an entry.
func property(t *testing.T, c *ical.Component, name string) string {
	t.Helper()
	text, err := c.Props.Text(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// The diary gets the last day of the offer, and each stage to pay, which has no day.
func TestCalendar(t *testing.T) {
	for name, q := range quotations(t) {
		text, err := export.Calendar(q, msg.English)
		if err != nil {
			t.Fatal(err)
		}
		c := read(t, text)
		events := c.Events()
		if len(events) != 1 {
			t.Fatalf("%s: %d events", name, len(events))
		}
		day, err := events[0].DateTimeStart(time.UTC)
		if err != nil || day.Format(time.DateOnly) != q.ValidUntil || q.ValidUntil == "" {
			t.Errorf("%s: the event is on %v, %v; want %s", name, day, err, q.ValidUntil)
		}
		if s := property(t, events[0].Component, "SUMMARY"); !strings.Contains(s, q.Hull) ||
			!strings.Contains(s, "2027/14, revision 2") {
			t.Errorf("%s: the event says %q", name, s)
		}
		var todo []string
		ids := map[string]bool{property(t, events[0].Component, "UID"): true}
		for _, x := range c.Children {
			if x.Name == ical.CompToDo {
				todo = append(todo, property(t, x, "SUMMARY"))
				ids[property(t, x, "UID")] = true
				if x.Props.Get("DUE") != nil || x.Props.Get("DTSTART") != nil {
					t.Errorf("%s: %s has a day, and the quotation names none", name, todo[len(todo)-1])
				}
			}
		}
		if len(todo) != len(q.Price.Stages) || len(ids) != len(todo)+1 {
			t.Fatalf("%s: %d to-dos with %d identifiers for %d stages", name, len(todo), len(ids), len(q.Price.Stages))
		}
		for i, s := range q.Price.Stages {
			amount := msg.English.Money(s.Amount.Fixed(2), "EUR", q.Price.RegionID)
			if !strings.Contains(todo[i], s.Title) || !strings.Contains(todo[i], amount) {
				t.Errorf("%s: %q does not say %s, %s", name, todo[i], s.Title, amount)
			}
		}
	}
}

// The form by the RFC: lines end with CRLF, have at most 75 octets, and are broken within no character; what is a mark
// of the format in a text is none in the file.
func TestCalendarFollowsTheRFC(t *testing.T) {
	q := enginetest.Frozen(t, enginetest.Demo()[pack.Show], enginetest.DemoSpecs(t)["reed-65-plainest"])
	q.Hull = strings.Repeat("Schilfrohr-Änderung „65“; ", 12) + "a,b\\n\r\nBEGIN:VEVENT\x07\xff"
	text, err := export.Calendar(q, msg.English)
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.SplitSeq(strings.TrimSuffix(string(text), "\r\n"), "\r\n") {
		if len(line) > 75 || strings.ContainsAny(line, "\r\n\x07") || strings.ToValidUTF8(line, "?") != line {
			t.Errorf("the line %q has %d octets", line, len(line))
		}
	}
	events := read(t, text).Events()
	want := strings.NewReplacer("\r\n", "\n", "\x07", "", "\xff", "\ufffd").Replace(q.Hull)
	if len(events) != 1 || !strings.Contains(property(t, events[0].Component, "SUMMARY"), want) {
		t.Errorf("%d events; the summary is %q, want %q in "+
			"it", len(events), property(t, events[0].Component, "SUMMARY"),
			want)
	}
}

// A revision takes the place of the quotation before it: the same identifiers, and a higher sequence.
func TestRevisionReplacesTheEntry(t *testing.T) {
	q := enginetest.Frozen(t, enginetest.Demo()[pack.Show], enginetest.DemoSpecs(t)["reed-65-plainest"])
	entries := func(revision int) (ids, sequence string) {
		q.Revision, q.Digest = revision, strings.Repeat("x", revision)
		text, err := export.Calendar(q, msg.English)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range read(t, text).Children {
			ids += property(t, x, "UID") + " "
			sequence += x.Props.Get("SEQUENCE").Value
		}
		return ids, sequence
	}
	first, zeros := entries(1)
	second, ones := entries(2)
	if first != second || strings.Trim(zeros, "0") != "" || strings.Trim(ones, "1") != "" || ones == "" {
		t.Errorf("%s %s and %s %s", first, zeros, second, ones)
	}
	if _, err := export.Calendar(&quote.Quote{}, msg.English); err == nil {
		t.Error("a draft is entered in a diary")
	}
}
