// Package amend changes single places of a book's files and leaves everything else as its owner wrote it: comments,
// layout, order. What comes of it is a unified diff to look at and apply, or the files themselves.
//
// It works by lines and knows no YAML beyond how a value stands in its line; where one goes on in other lines, the
// change is left to a person. It writes no file.
//
// Source: POSIX.1-2017, diff, "Diff -u Output Format"; YAML 1.2.2, 7.3 (how a value is quoted).
package amend

import (
	"fmt"
	"io/fs"
	"path"
	"strings"

	"ribband/core/pack"
)

// Edit is what to change in the book, for the owner to look at and apply.
type Edit struct {
	Changes []Change `json:"changes"`
	// what to change by hand, since it stands in a way that this program does not rewrite
	ByHand []string `json:"by_hand,omitempty"`

	// A line that stays and gets others behind it is kept as itself, a line feed, and those; so a spread is inserted
	// without a second list.
	folder fs.FS
	was    map[string][]string       // lines of files that are changed
	now    map[string]map[int]string // lines in their place, by number from 0; may be several
}

// Change is a figure of the book and what it becomes.
type Change struct {
	Place string `json:"place"` // file:line:column
	What  string `json:"what"`
	Was   string `json:"was"`
	Now   string `json:"now"`
}

// New begins an edit of the book in a folder.
func New(folder fs.FS) *Edit {
	return &Edit{Changes: []Change{}, folder: folder, was: map[string][]string{}, now: map[string]map[int]string{}}
}

// Moved is the error of a file that is not that of the pack.
func Moved(at pack.Source) error {
	return fmt.Errorf("%s: the book has changed since it was read; begin anew", at)
}

// Lines are those of a file of the book as it was; what follows its last line feed is the last of them.
func (e *Edit) Lines(name string) ([]string, error) {
	if lines, ok := e.was[name]; ok {
		return lines, nil
	}
	text, err := fs.ReadFile(e.folder, name)
	if err != nil {
		return nil, err
	}
	e.was[name], e.now[name] = strings.Split(string(text), "\n"), map[int]string{}
	return e.was[name], nil
}

// Note notes what was changed, for a report.
func (e *Edit) Note(place, what, was, now string) {
	e.Changes = append(e.Changes, Change{place, what, was, now})
}

// Line is a line as it is now, by its number from 0, of a file whose [Edit.Lines] were asked for.
func (e *Edit) Line(name string, i int) string {
	if s, ok := e.now[name][i]; ok {
		return s
	}
	return e.was[name][i]
}

// Set puts a line in the place of another. What begins with the old one and a line feed comes behind it.
func (e *Edit) Set(name string, i int, s string) { e.now[name][i] = s }

// Files are the files of a book, by their paths.
func (e *Edit) Files() (names []string, err error) {
	err = fs.WalkDir(e.folder, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() && path.Ext(name) == ".yaml" {
			names = append(names, name)
		}
		return err
	})
	return names, err
}

// Scalar finds a value in its line, as it is written there, between what stands before and behind it. It is not found
// where it goes on in other lines.
func Scalar(line string, at pack.Source) (before, raw, behind string, ok bool) {
	runes := []rune(line)
	if at.Text == "" || at.Column < 1 || at.Column > len(runes) {
		return "", "", "", false
	}
	before, rest := string(runes[:at.Column-1]), string(runes[at.Column-1:])
	// positions are of the first character of the text or of the quote before it, as the reader of YAML gives them
	quote := rest[0]
	if n := len(before); quote != '"' && quote != '\'' && n > 0 && (before[n-1] == '"' || before[n-1] == '\'') {
		quote = before[n-1]
	} else if quote == '"' || quote == '\'' {
		before, rest = before+rest[:1], rest[1:]
	} else {
		// without quotes it stands as it reads
		if !strings.HasPrefix(rest, at.Text) {
			return "", "", "", false
		}
		return before, at.Text, rest[len(at.Text):], true
	}
	// in double quotes a backslash escapes, in single ones a quote is written twice: YAML 1.2.2, 7.3.1 and 7.3.2
	for i := 0; i < len(rest); i++ {
		switch {
		case quote == '"' && rest[i] == '\\', rest[i] == quote && quote == '\'' && strings.HasPrefix(rest[i:], "''"):
			i++
		case rest[i] == quote:
			return before, rest[:i], rest[i:], i > 0
		}
	}
	return "", "", "", false
}

// Value is a value in its line, by where it stands, as [Scalar] finds it. One without quotes ends at the sign that ends
// a plain value within a list or mapping in brackets, or at a comment.
func (e *Edit) Value(file string, line, column int) (before, raw, behind string, ok bool) {
	lines, err := e.Lines(file)
	if err != nil || line < 1 || line > len(lines) {
		return "", "", "", false
	}
	text := e.Line(file, line-1)
	runes := []rune(text)
	if column < 1 || column > len(runes) {
		return "", "", "", false
	}
	rest := string(runes[column-1:])
	plain := rest
	// YAML 1.2.2, 7.3.3: plain values
	for _, end := range []string{",", "}", "]", " #"} {
		plain, _, _ = strings.Cut(plain, end)
	}
	return Scalar(text, pack.Source{File: file, Line: line, Column: column, Text: strings.TrimRight(plain, " ")})
}
