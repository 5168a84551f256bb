package paper

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// textPaper lays out plain text in one column width.
type textPaper struct{ strings.Builder }

func (t *textPaper) line(s string) {
	t.WriteString(strings.TrimRight(s, " ") + "\n")
}

func (t *textPaper) rule() { t.line(strings.Repeat("-", textWidth)) }

func (t *textPaper) heading(s string, under rune) {
	t.line("")
	longest := 0
	for _, l := range wrap(s, textWidth) {
		t.line(l)
		longest = max(longest, utf8.RuneCountInString(l))
	}
	t.line(strings.Repeat(string(under), longest))
}

func (t *textPaper) list(title string, items []string) {
	if len(items) == 0 {
		return
	}
	t.heading(title, '-')
	for _, i := range items {
		t.indented("- ", i)
	}
}

// wrapped writes a paragraph; nothing for an empty one.
func (t *textPaper) wrapped(s string) {
	if s != "" {
		t.indented("", s)
	}
}

func (t *textPaper) indented(first, s string) {
	indent := first
	for i, l := range wrap(s, textWidth-utf8.RuneCountInString(first)) {
		if i > 0 {
			indent = strings.Repeat(" ", utf8.RuneCountInString(first))
		}
		t.line(indent + l)
	}
}

// pair writes a label and its value beside it; nothing where there is no value.
func (t *textPaper) pair(label, value string) {
	const column = 36
	if value == "" {
		return
	}
	switch n := utf8.RuneCountInString(label); {
	case n < column:
		label += strings.Repeat(" ", column-n)
	case n+1+utf8.RuneCountInString(value) <= textWidth:
		label += " "
	default: // the value stands below
		mark := label[:len(label)-len(strings.TrimLeft(label, " *"))]
		t.indented(mark, label[len(mark):])
		label = strings.Repeat(" ", column)
	}
	t.indented(label, value)
}

// amount writes a label with money at the right edge.
func (t *textPaper) amount(label, decimal string) { t.entry("", label, decimal) }

// entry writes an indented label with an amount at the right edge.
func (t *textPaper) entry(indent, label, decimal string) {
	money := amount(decimal)
	width := textWidth - utf8.RuneCountInString(indent) - max(16, utf8.RuneCountInString(money)+1)
	lines := wrap(label, width)
	for i, l := range lines {
		l = indent + l
		if i < len(lines)-1 {
			t.line(l)
			continue
		}
		pad := textWidth - utf8.RuneCountInString(l) - utf8.RuneCountInString(money)
		t.line(l + strings.Repeat(" ", max(1, pad)) + money)
	}
}

// wrap breaks text at spaces, but not at those that hold a number together; a longer word stands alone.
func wrap(s string, width int) []string {
	var lines []string
	line := ""
	for _, w := range strings.FieldsFunc(s, breaks) {
		switch {
		case line == "":
			line = w
		case utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) <= width:
			line += " " + w
		default:
			lines, line = append(lines, line), w
		}
	}
	return append(lines, line)
}

// breaks says where a line may be broken. Control characters are not for a reader.
func breaks(c rune) bool {
	const figureSpace, noBreak, narrowNoBreak = '\u2007', '\u00a0', '\u202f'
	return unicode.IsControl(c) || unicode.IsSpace(c) && c != figureSpace && c != noBreak && c != narrowNoBreak
}
