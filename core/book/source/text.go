package source

import (
	"bytes"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strings"
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

// plain is the text of a file without a byte-order mark, or false where it is no text. The lines of a text that it
// refuses are kept all the same, to show what is wrong.
func (d *decoder) plain(name string, text []byte) (string, bool) {
	start := book.Position{File: name, Line: 1, Column: 1}
	// before anything else is done with it
	if len(text) > maxFile {
		d.error(start, fmt.Sprintf("the file is larger than %d MiB", maxFile>>20), "divide it")
		return "", false
	}
	if bytes.HasPrefix(text, []byte("\xff\xfe")) || bytes.HasPrefix(text, []byte("\xfe\xff")) {
		d.error(start, "the file is UTF-16: it begins with its byte-order mark", "save it as UTF-8")
		return "", false
	}
	s := string(text)
	if after, ok := strings.CutPrefix(s, byteOrderMark); ok {
		d.diagnostics = append(d.diagnostics, book.Diagnostic{Position: start, Grade: book.Warning,
			Message: "the file begins with a byte-order mark",
			Advice:  "save it as UTF-8 without one: other programs may stumble over it"})
		s = after
	}
	d.lines = strings.Split(s, "\n")
	for line, text := range lines(s) {
		if column, what, advice := strange(text); column > 0 {
			d.error(book.Position{File: name, Line: line, Column: column}, what, advice)
			return "", false
		}
	}
	return s, true
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
// byte-order mark within the text.
func strange(line string) (column int, what, advice string) {
	for i, r := range line {
		column++
		switch {
		case r == utf8.RuneError && !strings.HasPrefix(line[i:], "\ufffd"):
			return column, fmt.Sprintf("the byte 0x%02x is not UTF-8", line[i]),
				"save the file as UTF-8; it may be Latin-1 or Windows-1252 now"
		case r == '\ufeff':
			return column, "a byte-order mark stands within the file", "delete this invisible character"
		case r < ' ' && r != '\t' && r != '\n' && r != '\r' || r == 0x7f:
			return column, fmt.Sprintf("the control character 0x%02x stands in the file", r),
				"delete this invisible character"
		}
	}
	return 0, "", ""
}

// tabbed reports a tab that indents the line of an error, or the line after it. The parser names one of the two lines,
// and a person looks at both.
func (d *decoder) tabbed(at book.Position) bool {
	for i := max(0, at.Line-1); i < min(len(d.lines), at.Line+1); i++ {
		// a tab behind the first word is a blank like any other
		indent := d.lines[i][:len(d.lines[i])-len(strings.TrimLeft(d.lines[i], " \t"))]
		if n := strings.Index(indent, "\t"); n >= 0 {
			d.error(book.Position{File: at.File, Line: i + 1, Column: n + 1}, "the line is indented with a tab",
				"indent with spaces: YAML forbids tabs there")
			return true
		}
	}
	return false
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
