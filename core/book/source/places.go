package source

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/token"

	"ribband/core/book"
)

// Where the characters of a value stand in the file. A value in quotes, folded (>), literal (|) or of several plain
// lines is not the text of the file: lines are joined, indentation is taken off, escapes are replaced. Blanks apart,
// its characters stand in the file in their order, so they are found again one by one.
//
// Source: YAML 1.2, chapters 7.3 (quoted and plain) and 8.1 (block scalars).

// scan walks through the lines of a file. It goes forward only, so that a value costs as many steps as it has
// characters.
type scan struct {
	lines        []string
	line, column int    // from 0; columns in runes
	rest         string // of the line
	style        token.Type
}

// newScan begins at a position: a value in quotes behind its quote, a block at the first line below its indicator.
func newScan(lines []string, at book.Position, style token.Type) *scan {
	s := &scan{lines: lines, line: at.Line - 1, style: style}
	if s.line >= 0 && s.line < len(lines) {
		s.rest = lines[s.line]
		for s.column < at.Column-1 && s.rest != "" {
			s.skip(1)
		}
	}
	return s
}

// skip passes so many runes of the line.
func (s *scan) skip(runes int) {
	for range runes {
		_, n := utf8.DecodeRuneInString(s.rest)
		s.rest = s.rest[n:]
		s.column++
	}
}

// blanks passes blanks, written or escaped, and ends of lines; false at the end of the file.
func (s *scan) blanks() bool {
	for {
		c, width := s.character()
		switch {
		case s.rest == "":
			if s.line++; s.line >= len(s.lines) {
				return false
			}
			s.rest, s.column = s.lines[s.line], 0
		// blanks at the begin of a line are indentation, between words they may be folded: neither is compared
		case unicode.IsSpace(c):
			s.skip(width)
		default:
			return true
		}
	}
}

// escapes are those of one letter; an escaped end of line stands for nothing.
var escapes = map[byte]rune{'"': '"', '\\': '\\', '/': '/', 'n': '\n', 't': '\t', 'r': '\r', 'v': '\v', 'f': '\f',
	' ': ' ', '\t': '\t', 'N': '\u0085', '_': '\u00a0', 'L': '\u2028', 'P': '\u2029'}

// character is what stands next, and how many runes write it; one that is no escape of YAML stands for no character of
// a value.
func (s *scan) character() (c rune, runes int) {
	c, _ = utf8.DecodeRuneInString(s.rest)
	switch {
	case s.style == token.SingleQuoteType && strings.HasPrefix(s.rest, "''"):
		return c, 2
	// only double quotes know escapes
	case s.style != token.DoubleQuoteType || c != '\\':
		return c, 1
	// the line goes on below, without a blank between
	case strings.TrimSpace(s.rest) == `\`:
		return ' ', 1
	}
	digits := map[byte]int{'x': 2, 'u': 4, 'U': 8}[s.rest[1]]
	if digits == 0 {
		return escapes[s.rest[1]], 2
	}
	// cut off: the parser has refused it
	if len(s.rest) < 2+digits {
		return utf8.RuneError, 1
	}
	n, err := strconv.ParseUint(s.rest[2:2+digits], 16, 32)
	if err != nil {
		return utf8.RuneError, 1
	}
	return rune(n), 2 + digits
}

// takes passes what stands for a character of the value; false where something else stands there.
func (s *scan) takes(c rune) bool {
	is, runes := s.character()
	if is == c {
		s.skip(runes)
	}
	return is == c
}

// marks finds the characters of a value; none where the file does not hold them as was thought.
func (s *scan) marks(value string) (list []book.Mark) {
	// where the next character stands if it follows on the line; nowhere before the first
	predicted := book.Mark{Line: -1}
	for offset, c := range value {
		// a blank of the value may be the end of a line in the file
		if unicode.IsSpace(c) {
			predicted.Column++
			continue
		}
		// the value goes on behind the end of the file: it is not what was thought
		if !s.blanks() {
			return nil
		}
		// a mark is needed only where the next character is not just behind the last: at ends of lines and escapes
		if at := (book.Mark{Line: s.line + 1, Column: s.column + 1}); at != predicted {
			list = append(list, book.Mark{Offset: offset, Line: at.Line, Column: at.Column})
			predicted = at
		}
		if !s.takes(c) {
			return nil
		}
		predicted.Column++
	}
	return list
}

// marks are where the characters of a node's value stand.
func (d *decoder) marks(n ast.Node, value string) []book.Mark {
	if _, ok := d.made[n]; ok {
		return nil // words of a table lie in another place than those around them
	}
	at, style := d.at(n), token.StringType
	switch n := n.(type) {
	case *ast.StringNode:
		style = n.Token.Type
		if quoted(n) {
			at.Column++
		}
	case *ast.LiteralNode:
		at.Line, at.Column = at.Line+1, 1 // below the indicator
	default:
		return nil
	}
	return newScan(d.lines, at, style).marks(value)
}
