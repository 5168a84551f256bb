// Package visible finds characters that a reader cannot see: controls, marks of zero width, and those that turn the
// direction of what follows. A name with one of them can look like another name, or turn round the digits of an amount
// beside it; so identifiers with one are refused, texts in files too, and what a person typed loses it and is told.
//
// It knows nothing of scripts that need such marks: zero-width joiners, which Persian and Hindi names can have, go too.
// A name without its joiner is still read as the name.
//
// Source: Unicode Standard Annex 44, general categories Cc, Cf, Zl and Zp; Unicode Technical Report 36, 2 (spoofing).
package visible

import (
	"fmt"
	"strings"
	"unicode"
)

// blanks are letters and symbols by category that have no ink: fillers of Hangul, and the empty pattern of Braille.
const blanks = "\u115f\u1160\u2800\u3164\uffa0"

// hidden says that a character cannot be seen. A blank that has a width is seen by what it parts.
func hidden(r rune) bool {
	if r < 0x7f { // most of what is typed
		return r < ' '
	}
	return unicode.In(r, unicode.Cc, unicode.Cf, unicode.Zl, unicode.Zp) || strings.ContainsRune(blanks, r)
}

// Hidden is the first character of a text that cannot be seen, with its place in bytes; ok is false where there is
// none. Line feeds are seen in a text of several lines.
func Hidden(s string, lines bool) (r rune, at int, ok bool) {
	for at, r := range s {
		if hidden(r) && (!lines || r != '\n') {
			return r, at, true
		}
	}
	return 0, 0, false
}

// Name is how a character is named to who has to find it: U+202E.
func Name(r rune) string { return fmt.Sprintf("U+%04X", r) }

// Show writes every character that cannot be seen by its name, as ‹U+202E›. A text without one comes back as it is.
func Show(s string) string {
	if _, _, ok := Hidden(s, false); !ok {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if hidden(r) {
			b.WriteString("‹" + Name(r) + "›")
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Typed is what a person typed, without what cannot be seen; changed says that something was left out. A tabulator
// becomes a blank, and so do the ends of lines where the text has one line; both are no change that anybody must be
// told of, no more than another way to end a line.
func Typed(s string, lines bool) (text string, changed bool) {
	s = strings.ReplaceAll(s, "\r\n", "\n")
	if _, _, ok := Hidden(s, lines); !ok {
		return s, false
	}
	text = strings.Map(func(r rune) rune {
		switch {
		case r == '\n' && lines || !hidden(r):
			return r
		case r == '\n' || r == '\t' || r == '\r' || r == '\u2028' || r == '\u2029':
			return ' '
		}
		changed = true
		return -1
	}, s)
	return text, changed
}
