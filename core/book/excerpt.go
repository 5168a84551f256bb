package book

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/width"
)

// Excerpts. A diagnostic shows the line that it is about, and a caret below each character of what is wrong there, so
// that its place is seen before it is counted. The caret stands right for tabs, which are copied to its line, and for
// characters that take two cells of a terminal or none: Unicode Standard Annex 11, East Asian Width.

// shownCells is how much of a line is shown: a line of a book may be as long as a file.
const shownCells = 100

// Keep keeps the lines of a file of the book, so that its diagnostics can show them.
func (b *Book) Keep(file string, lines []string) {
	if b.lines == nil {
		b.lines = map[string][]string{}
	}
	b.lines[file] = lines
}

// Excerpted is a diagnostic with the line that it is about and the caret below it; without them where the book does not
// have that line, or nothing stands on it.
func (b *Book) Excerpted(d Diagnostic) Diagnostic {
	lines := b.lines[d.File]
	if d.Line < 1 || d.Line > len(lines) || strings.TrimSpace(lines[d.Line-1]) == "" {
		return d
	}
	line := []rune(strings.TrimRight(lines[d.Line-1], " \t\r"))
	from := min(max(d.Column-1, 0), len(line))
	to := from + d.Width
	if d.Width == 0 {
		to = from + extent(line, from)
	}
	d.Source, d.Caret = excerpt(line, from, max(min(to, len(line)), from+1))
	return d
}

// excerpt is a line, or what is near the place on a long one, and the carets below the characters from and up to to.
func excerpt(line []rune, from, to int) (source, caret string) {
	first, last := 0, len(line)
	if len(line) > shownCells {
		first = max(0, min(from-shownCells/3, len(line)-shownCells))
		last = first + shownCells
	}
	var s, c strings.Builder
	if first > 0 {
		s.WriteRune('…')
		c.WriteRune(' ')
	}
	for i := first; i < last; i++ {
		r, cells := line[i], cellsOf(line[i])
		if r != '\t' && !unicode.IsGraphic(r) {
			r, cells = unicode.ReplacementChar, 1 // what would move a terminal's cursor is not shown
		}
		s.WriteRune(r)
		switch {
		case i >= from && i < to:
			c.WriteString(strings.Repeat("^", max(cells, 1)))
		case i < from && r == '\t':
			c.WriteRune('\t')
		case i < from:
			c.WriteString(strings.Repeat(" ", cells))
		}
	}
	if last < len(line) {
		s.WriteRune('…')
	}
	if from >= last { // beyond the end: something is missing there
		c.WriteRune('^')
	}
	return s.String(), c.String()
}

// cellsOf is how many cells of a terminal a character takes.
func cellsOf(r rune) int {
	if unicode.In(r, unicode.Mn, unicode.Me) {
		return 0
	}
	if k := width.LookupRune(r).Kind(); k == width.EastAsianWide || k == width.EastAsianFullwidth {
		return 2
	}
	return 1
}

// extent is how many characters the value or key has that begins on a line of YAML, as far as the line shows it: text
// in quotes with them, or up to its end where it begins just behind the first; brackets with what is between them; a
// plain value up to a comment, or within brackets to the next comma.
func extent(line []rune, from int) int {
	if from >= len(line) {
		return 1
	}
	rest := line[from:]
	switch c := rest[0]; {
	case from > 0 && isQuote(line[from-1]) && (from < 2 || line[from-2] == ' '):
		return quotedLength(rest, line[from-1])
	case isQuote(c):
		return 1 + quotedLength(rest[1:], c) + 1
	case c == '[' || c == '{':
		return bracketed(rest)
	}
	inFlow := strings.Count(string(line[:from]), "{")+strings.Count(string(line[:from]), "[") >
		strings.Count(string(line[:from]), "}")+strings.Count(string(line[:from]), "]")
	for i, c := range rest {
		ends := i+1 == len(rest) || rest[i+1] == ' '
		switch {
		case c == ':' && ends, c == ' ' && i+1 < len(rest) && rest[i+1] == '#',
			inFlow && (c == ',' || c == ']' || c == '}'):
			return len([]rune(strings.TrimRight(string(rest[:i]), " ")))
		}
	}
	return len(rest)
}

func isQuote(r rune) bool { return r == '"' || r == '\'' }

// quotedLength is how many characters stand before the closing quote, or to the end of the line.
func quotedLength(rest []rune, quote rune) int {
	for i := 0; i < len(rest); i++ {
		switch {
		case rest[i] == '\\' && quote == '"':
			i++
		case rest[i] == quote && quote == '\'' && i+1 < len(rest) && rest[i+1] == quote:
			i++
		case rest[i] == quote:
			return i
		}
	}
	return len(rest)
}

// bracketed is how many characters a mapping or list in brackets has; the bracket alone where it is not closed on the
// line.
func bracketed(rest []rune) int {
	depth := 0
	for i := 0; i < len(rest); i++ {
		switch c := rest[i]; {
		case isQuote(c) && i > 0 && slices.Contains([]rune(" [{,:"), rest[i-1]):
			i += 1 + quotedLength(rest[i+1:], c)
		case c == '[' || c == '{':
			depth++
		case c == ']' || c == '}':
			if depth--; depth == 0 {
				return i + 1
			}
		}
	}
	return 1
}

// Token is how many characters the name, number, text or operator has that begins at a byte of the formula.
func (f Formula) Token(offset int) int {
	rest := []rune(f.Value[max(0, min(offset, len(f.Value))):])
	if len(rest) == 0 {
		return 1
	}
	isWord := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) || r == '_' || r == '.' }
	isOperator := func(r rune) bool { return strings.ContainsRune("=<>!&|*?", r) }
	same := isWord
	switch {
	case isQuote(rest[0]):
		return min(1+quotedLength(rest[1:], rest[0])+1, len(rest))
	case isOperator(rest[0]):
		same = isOperator
	case !isWord(rest[0]):
		return 1
	}
	for i, r := range rest {
		if !same(r) {
			return i
		}
	}
	return len(rest)
}
