package source

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"ribband/core/book"
)

// yamlFiles are the files of a book, in the order of their paths. What begins with a point is hidden: editors and
// version control keep their own there. What is no regular file, such as a pipe, is passed over: reading it may never
// end.
func yamlFiles(fsys fs.FS) ([]string, error) {
	var files []string
	err := fs.WalkDir(fsys, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		// the folder itself may be named so
		if base := path.Base(name); strings.HasPrefix(base, ".") && name != "." {
			if entry.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		// both endings are in use for YAML
		if ext := path.Ext(name); entry.IsDir() || ext != ".yaml" && ext != ".yml" {
			return nil
		}
		info, err := fs.Stat(fsys, name) // of what a link leads to
		if err == nil && info.Mode().IsRegular() {
			files = append(files, name)
		}
		return err
	})
	if err != nil {
		return nil, fmt.Errorf("reading book: %w", err)
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("reading book: no file named *.yaml in the folder; is it the right one?")
	}
	return files, nil
}

const byteOrderMark = "\ufeff"

// plain is the text of a file without a byte-order mark and without what no book has in it, each of which it reports;
// false where there is no text to read.
func (d *decoder) plain(name string, text []byte) (string, bool) {
	start := book.Position{File: name, Line: 1, Column: 1}
	// before anything else is done with it
	if len(text) > maxFile {
		d.error(start, fmt.Sprintf("the file is larger than %d MiB", maxFile>>20), "divide it")
		return "", false
	}
	s := string(text)
	if wide, ok := utf16Text(text); ok {
		d.error(start, "the file is UTF-16: it begins with its byte-order mark", "save it as UTF-8")
		s = wide
	} else if after, ok := strings.CutPrefix(s, byteOrderMark); ok {
		d.diagnostics = append(d.diagnostics, book.Diagnostic{Position: start, Grade: book.Warning,
			Message: "the file begins with a byte-order mark",
			Advice:  "save it as UTF-8 without one: other programs may stumble over it"})
		s = after
	}
	d.lines = strings.Split(s, "\n")
	return d.withoutStrange(name, s), true
}

// utf16Text is the text of a file that a byte-order mark says to be UTF-16.
//
// Source: The Unicode Standard, chapter 3.10, D98: FF FE is little-endian, FE FF big-endian.
func utf16Text(text []byte) (string, bool) {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(text, []byte("\xff\xfe")):
		order = binary.LittleEndian
	case bytes.HasPrefix(text, []byte("\xfe\xff")):
		order = binary.BigEndian
	default:
		return "", false
	}
	var units []uint16
	for text = text[2:]; len(text) >= 2; text = text[2:] {
		units = append(units, order.Uint16(text))
	}
	return string(utf16.Decode(units)), true
}

// withoutStrange is a text with a blank in place of each character that no book has, so that it is read all the same.
// Of each kind the first is reported: a file that was saved wrongly has hundreds of them.
func (d *decoder) withoutStrange(name, s string) string {
	told := map[string]bool{}
	for line, text := range lines(s) {
		if column, _, what, advice := strange(text); column > 0 && !told[advice] {
			told[advice] = true
			d.error(book.Position{File: name, Line: line, Column: column}, what, advice)
		}
	}
	if len(told) == 0 {
		return s
	}
	var b strings.Builder
	for _, text := range lines(s) {
		for {
			column, at, _, _ := strange(text)
			if column == 0 {
				break
			}
			_, width := utf8.DecodeRuneInString(text[at:])
			blank := " "
			// before the first character of a line a blank would indent it
			if at == 0 {
				blank = ""
			}
			text = text[:at] + blank + text[at+width:]
		}
		b.WriteString(text)
	}
	return b.String()
}

// lines yields the lines of a text with their numbers, from 1.
func lines(s string) func(func(int, string) bool) {
	return func(yield func(int, string) bool) {
		n := 0
		for line := range strings.Lines(s) {
			if n++; !yield(n, line) {
				return
			}
		}
	}
}

// strange finds the first character of a line that no book has: bytes that are no UTF-8, control characters, a
// byte-order mark within the text; column counts characters from 1, and is 0 where there is none, at counts bytes from
// 0.
func strange(line string) (column, at int, what, advice string) {
	for i, r := range line {
		column++
		switch {
		case r == utf8.RuneError && !strings.HasPrefix(line[i:], "\ufffd"):
			return column, i, fmt.Sprintf("the byte 0x%02x is not UTF-8", line[i]),
				"save the file as UTF-8; it may be Latin-1 or Windows-1252 now"
		case r == '\ufeff':
			return column, i, "a byte-order mark stands within the file", "delete this invisible character"
		case r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0x7f:
			return column, i, fmt.Sprintf("the control character 0x%02x stands in the file", r),
				"delete this invisible character"
		}
	}
	return 0, 0, "", ""
}

// tabbed is a tab that indents the line of an error or the line after it, or else the first one from a line up to
// another; nil where there is none. The parser names one of the two lines, and a person looks at both.
func (d *decoder) tabbed(at book.Position, from, to int) *book.Diagnostic {
	look := func(from, to int) *book.Diagnostic {
		for i := max(1, from); i <= min(len(d.lines), to); i++ {
			// a tab behind the first word is a blank like any other
			line := d.lines[i-1]
			indent := line[:len(line)-len(strings.TrimLeft(line, " \t"))]
			if n := strings.Index(indent, "\t"); n >= 0 && strings.TrimSpace(line) != "" {
				return &book.Diagnostic{Position: book.Position{File: at.File, Line: i, Column: n + 1},
					Message: "the line is indented with a tab", Advice: "indent with spaces: YAML forbids tabs there"}
			}
		}
		return nil
	}
	if tab := look(at.Line, at.Line+1); tab != nil {
		return tab
	}
	return look(from, to)
}

var decimalComma = regexp.MustCompile(`^\s*(-?[0-9]+),([0-9]+)\s*$`)

// pointed reports a number that is written with a decimal comma, and says how it is written with a point. Thousands
// with commas look the same, so that the advice says how both are written.
func (d *decoder) pointed(at book.Position, text, what string) bool {
	m := decimalComma.FindStringSubmatch(text)
	if m != nil {
		d.error(at, fmt.Sprintf("%s is written with a decimal comma: %s,%s", what, m[1], m[2]),
			fmt.Sprintf("write %s.%s, with a point; thousands are not divided", m[1], m[2]))
	}
	return m != nil
}
