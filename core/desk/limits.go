package desk

import (
	"maps"
	"slices"

	"ribband/core/msg"
	"ribband/core/visible"
)

// Limits of a request, in bytes and pieces: far beyond what a page sends, and small enough that no request keeps the
// worker. What a file may hold is said where it is read, so mostText is that of the largest, the records of a device.
// A link that is too long is a damaged one.
const (
	mostText   = 64 << 20
	mostLink   = 2 << 20 // what a browser's address holds
	mostName   = 1000    // of an act, a slot and so on, and of what is typed on one line
	mostField  = 20_000  // of a field of a form
	mostFields = 500     // of a form, and panels in view
	mostGiven  = 10_000  // numbers that a device has given, as many as it may have records
	mostPast   = 200     // steps of a record
)

// bounded refuses a request that is larger than any that a page makes, with the part that is. The page itself makes no
// such request; it may come from a script that somebody else put into it, or of a file that was opened by mistake.
func (r *Request) bounded() error {
	type part struct {
		name     string
		is, most int
	}
	// what is measured in pieces first: only then are the pieces gone through
	parts := []part{{"text", len(r.Text), mostText}, {"link", len(r.Link), mostLink}, {"form", len(r.Form), mostFields},
		{"seen", len(r.Seen), mostFields}, {"given", len(r.Given), mostGiven}, {"past", len(r.Past), mostPast}}
	for _, line := range []part{{"act", len(r.Act), 0}, {"slot", len(r.Slot), 0}, {"option", len(r.Option), 0},
		{"field", len(r.Field), 0}, {"key", len(r.Key), 0}, {"value", len(r.Value), 0}, {"today", len(r.Today), 0},
		{"device", len(r.Device), 0}, {"unspoken", len(r.Unspoken), 0},
		{"units", len(r.Units), 0}} {
		parts = append(parts, part{line.name, line.is, mostName})
	}
	// in the order of names, so that the same request has the same error
	for _, name := range slices.Sorted(maps.Keys(r.Form)) {
		parts = append(parts, part{"form", len(name), mostName}, part{"form." + name, len(r.Form[name]), mostField})
	}
	for _, s := range r.Given {
		parts = append(parts, part{"given", len(s), mostName})
	}
	for _, s := range r.Seen {
		parts = append(parts, part{"seen", len(s), mostName})
	}
	for _, p := range r.Past {
		parts = append(parts, part{"past", len(p.Did.Act) + len(p.Did.Of), mostField},
			part{"past", len(p.Spec), mostText})
	}
	for _, p := range parts {
		if p.is > p.most {
			return msg.Fault("desk.too-large", quoted("part", p.name), msg.Count("is", p.is), msg.Count("most", p.most))
		}
	}
	return nil
}

// ofLines are the fields of a form that have several lines. In any other the end of a line becomes a blank, as where a
// name was copied from a letter.
var ofLines = []string{"address", "remarks"}

// legible leaves out of what was typed what cannot be seen, which mostly came with a text that was copied. Names that
// the page sends are not typed: one that is wrong is refused where it is used.
func (r *Request) legible() (changed bool) {
	clean := func(s string, lines bool) string {
		text, left := visible.Typed(s, lines)
		changed = changed || left
		return text
	}
	r.Value = clean(r.Value, false)
	form := make(map[string]string, len(r.Form)) // the caller's stays as it is
	for name, text := range r.Form {
		form[name] = clean(text, slices.Contains(ofLines, name))
	}
	if r.Form != nil {
		r.Form = form
	}
	return changed
}
