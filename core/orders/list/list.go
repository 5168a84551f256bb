// Package list reads lists that people keep in a spreadsheet and save as CSV: a stock, hours that were booked. Columns
// are found by their names, in any order; values are parted by commas, semicolons or tabs, whichever the first line
// has; numbers have one decimal sign throughout the file, a point or a comma.
//
// A damaged row is a fault with its line and what to do; the good ones are kept and counted. Nothing is guessed: a file
// with both decimal signs is told where each stands, since 1,500 is a different stock from 1.500.
//
// Source: RFC 4180 (rows, quotes); semicolons with decimal commas: common practice of spreadsheets, no source.
package list

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"
)

// List is the rows of a file.
type List struct {
	Rows   []Row
	Faults []error // of rows that were left out, each with its line
	All    int     // rows that there were, but for the head

	comma, point int // the first lines with either decimal sign; 0 for none
	head         []string
}

// Row is one row.
type Row struct {
	Line   int // from 1
	values []string
	list   *List
}

// maxBytes bounds a file: a hundred thousand rows.
const maxBytes = 16 << 20

// Read reads a file that must have some columns. The error says why nothing of it can be read.
func Read(text []byte, columns ...string) (*List, error) {
	text = bytes.TrimPrefix(text, []byte("\ufeff")) // spreadsheets write one
	switch {
	case len(text) > maxBytes:
		return nil, fmt.Errorf("it has %d bytes; at most %d are read", len(text), maxBytes)
	case !utf8.Valid(text):
		return nil, fmt.Errorf("line %d: it is no UTF-8; save it as CSV UTF-8",
			1+bytes.Count(text[:invalid(text)], []byte("\n")))
	}
	// rows of any length are read, so that one that is too short is a fault of its own and not of the file
	r := csv.NewReader(bytes.NewReader(text))
	first, _, _ := bytes.Cut(text, []byte("\n"))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = separator(first), -1, true
	l := &List{}
	for {
		values, err := r.Read()
		line := 0
		if len(values) > 0 {
			line, _ = r.FieldPos(0)
		}
		var fault *csv.ParseError
		switch {
		case err == io.EOF:
			if l.head == nil {
				return nil, fmt.Errorf("it is empty; its first line names the columns %s", strings.Join(columns, ", "))
			}
			return l, nil
		case errors.As(err, &fault):
			// behind a quote that is not closed nobody knows where rows begin
			l.All++
			l.fault(fault.StartLine, "%v; a quote inside a quoted text is written twice", fault.Err)
		case err != nil:
			return nil, err
		case l.head == nil:
			if err := l.heads(values, columns); err != nil {
				return nil, fmt.Errorf("line %d: %w", line, err)
			}
		default:
			l.add(line, values)
		}
	}
}

// invalid is where a text ceases to be UTF-8.
func invalid(text []byte) (at int) {
	// rune by rune: a damaged one is as long as a byte
	for at < len(text) {
		r, size := utf8.DecodeRune(text[at:])
		if r == utf8.RuneError && size == 1 {
			break
		}
		at += size
	}
	return at
}

// separator is the sign between the values of a first line: the one of which there are most.
func separator(line []byte) rune {
	// of equally many the comma, which the standard has
	most, found := 0, ','
	for _, s := range ",;\t" {
		if n := bytes.Count(line, []byte(string(s))); n > most {
			most, found = n, s
		}
	}
	return found
}

// heads reads the names of the columns, whatever their case. Other columns may stand beside those that are wanted: a
// list has remarks, and they are nobody's business here.
func (l *List) heads(values, columns []string) error {
	for _, v := range values {
		l.head = append(l.head, strings.ToLower(strings.TrimSpace(v)))
	}
	for _, c := range columns {
		switch n := count(l.head, c); {
		case n == 0:
			return fmt.Errorf("there is no column %q; the first line names the columns %s", c,
				strings.Join(columns, ", "))
		case n > 1:
			return fmt.Errorf("the column %q stands there %d times; keep one", c, n)
		}
	}
	return nil
}

// count is how often a text is in a list.
func count(list []string, text string) (n int) {
	for _, s := range list {
		if s == text {
			n++
		}
	}
	return n
}

// add takes in a row, or notes why not. What has nothing in it is no row: spreadsheets save many below the last one.
func (l *List) add(line int, values []string) {
	if !slices.ContainsFunc(values, func(v string) bool { return strings.TrimSpace(v) != "" }) {
		return // a row without anything
	}
	l.All++
	if len(values) != len(l.head) {
		l.fault(line,
			"it has %d values and the first line %d; a value with the sign between values in it stands in quotes",
			len(values), len(l.head))
		return
	}
	l.Rows = append(l.Rows, Row{line, values, l})
}

// fault notes what is wrong with a row, which is left out.
func (l *List) fault(line int, format string, args ...any) {
	l.Faults = append(l.Faults, fmt.Errorf("line %d: %s", line, fmt.Sprintf(format, args...)))
}

// Text is the value of a column, "" where the list has no such column.
func (r *Row) Text(column string) string {
	i := slices.Index(r.list.head, column)
	if i < 0 {
		return ""
	}
	return strings.TrimSpace(r.values[i])
}

// Decimal is the number of a column as exact decimal text with a point, below zero where it is.
func (r *Row) Decimal(column string) (string, error) {
	text := r.Text(column)
	// a sign between thousands cannot be told from a decimal sign: neither is guessed
	whole, rest := text, ""
	signs := strings.Count(text, ",") + strings.Count(text, ".")
	if at := strings.IndexAny(text, ",."); at >= 0 {
		whole, rest = text[:at], text[at+1:]
	}
	digits := strings.TrimPrefix(whole, "-") + rest
	if signs > 1 || digits == "" || strings.Trim(digits, "0123456789") != "" || len(digits) > 15 {
		return "", fmt.Errorf("line %d: %s: %.40q is no number; write it with one decimal sign and nothing between "+
			"thousands", r.Line, column, text)
	}
	// a whole number is the same in both
	if signs == 0 {
		return text, nil
	}
	// the first row with a sign settles it for the file
	sign, mine, other := "point", &r.list.point, r.list.comma
	if strings.Contains(text, ",") {
		sign, mine, other = "comma", &r.list.comma, r.list.point
	}
	if other > 0 {
		return "", fmt.Errorf("line %d: %s: %q has a decimal %s, line %d has the other sign; use one throughout",
			r.Line, column, text, sign, other)
	}
	if *mine == 0 {
		*mine = r.Line
	}
	return whole + "." + rest, nil
}
