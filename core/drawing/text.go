package drawing

import (
	"strings"
	"unicode/utf8"
)

// textWidth estimates the width of text of a size in a sans-serif face; it errs to the wide side.
//
// Source: common practice, no source: shares of the size of usual faces.
func textWidth(s string, size float64) float64 {
	w := 0.0
	for _, r := range s {
		switch {
		case strings.ContainsRune("ijlI.,:;'|! \u00a0′″", r):
			w += 0.29
		case strings.ContainsRune("frt()-/", r):
			w += 0.37
		case strings.ContainsRune("mMW%@", r):
			w += 0.92
		case r >= 'A' && r <= 'Z' || r == 'w':
			w += 0.73
		case r >= 0x2e80:
			w += 1.05
		default:
			w += 0.565
		}
	}
	return w * size
}

// wrap breaks text at spaces that may break, and in the middle of a word that has no room. The width is an estimate,
// since a drawing is made where no face is at hand; it errs to the wide side.
func wrap(s string, width, size float64) []string {
	var lines []string
	line := ""
	for _, word := range strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == '\t' || r == '\n' }) {
		for textWidth(word, size) > width && utf8.RuneCountInString(word) > 1 {
			head := shorten(word, width, size)
			lines, word = flush(lines, line), word[len(head):]
			lines, line = append(lines, head), ""
		}
		if line == "" {
			line = word
		} else if textWidth(line+" "+word, size) <= width {
			line += " " + word
		} else {
			lines, line = append(lines, line), word
		}
	}
	return flush(lines, line)
}

// flush ends a line, unless it is empty.
func flush(lines []string, line string) []string {
	if line == "" {
		return lines
	}
	return append(lines, line)
}

// shorten cuts text to a width, between characters and not within one; at least one character stays, so that wrapping
// comes to an end.
func shorten(s string, width, size float64) string {
	_, least := utf8.DecodeRuneInString(s)
	for len(s) > least && textWidth(s, size) > width {
		_, n := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-n]
	}
	return s
}

// fit gives text as it is where there is room, else its beginning with an ellipsis. The whole stands in the
// description of the drawing.
func fit(s string, width, size float64) string {
	if textWidth(s, size) <= width {
		return s
	}
	return strings.TrimRight(shorten(s, width-textWidth("…", size), size), " ") + "…"
}
