package main

import (
	"fmt"
	"go/scanner"
	"go/token"
	"io/fs"
	"os"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"
)

// What every source file keeps: lines that fit on a screen, and comments in proportion. Both are measured here by
// tokens, so that text between quotes is never taken for a comment.

const (
	maxColumns = 120 // a tab counts as four
	tabColumns = 4
)

// sources are the files of the tree that people write by hand, with one of the endings, by path from its root.
func sources(t *testing.T, endings ...string) map[string]string {
	t.Helper()
	found := map[string]string{}
	tree := os.DirFS("..")
	for _, top := range []string{"core", "wasm", "web", "rules", "testdata"} {
		err := fs.WalkDir(tree, top, func(name string, entry fs.DirEntry, err error) error {
			if err != nil || entry.IsDir() || !slices.Contains(endings, path.Ext(name)) {
				return err
			}
			text, err := fs.ReadFile(tree, name)
			found[name] = string(text)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return found
}

// address is what no line can be broken in.
var address = regexp.MustCompile(`https?://\S+`)

// columns is how wide a line stands on the screen, without the addresses in it.
func columns(line string) int {
	line = address.ReplaceAllString(line, "")
	return utf8.RuneCountInString(line) + (tabColumns-1)*strings.Count(line, "\t")
}

// goLines is what stands on each line of a Go file: code, or a comment alone. Of raw strings, among them struct tags,
// unbroken has the columns: they cannot be broken, so that they do not count in the length of a line.
type goLines struct {
	code, comment []bool // by line, from 1
	unbroken      []int
}

func scanGo(text string) goLines {
	lines := strings.Split(text, "\n")
	g := goLines{make([]bool, len(lines)+2), make([]bool, len(lines)+2), make([]int, len(lines)+2)}
	set := token.NewFileSet()
	file := set.AddFile("", set.Base(), len(text))
	var s scanner.Scanner
	s.Init(file, []byte(text), nil, scanner.ScanComments)
	for {
		pos, tok, literal := s.Scan()
		if tok == token.EOF {
			return g
		}
		if tok == token.SEMICOLON && literal == "\n" {
			continue
		}
		first := file.Line(pos)
		for i, part := range strings.Split(literal, "\n") {
			switch {
			case tok == token.COMMENT:
				g.comment[first+i] = true
			case tok == token.STRING && literal[0] == '`':
				g.unbroken[first+i] += columns(part)
				fallthrough
			default:
				g.code[first+i] = true
			}
		}
	}
}

// longGoLines are the lines of a Go file beyond the columns, by number. What an example prints stands below "Output:"
// as it is printed.
func longGoLines(text string) (long []int) {
	g, output := scanGo(text), false
	for i, line := range strings.Split(text, "\n") {
		comment := g.comment[i+1] && !g.code[i+1]
		output = comment && (output || exampleOutput.MatchString(line))
		if columns(line)-g.unbroken[i+1] > maxColumns && !output {
			long = append(long, i+1)
		}
	}
	return long
}

var exampleOutput = regexp.MustCompile(`^\s*// (Unordered output|Output):`)

// yamlComment is a comment of YAML: at the begin of a line, or behind a blank.
var yamlComment = regexp.MustCompile(`(^|\s)#\s`)

// TestLinesFitOnAScreen holds 120 columns in Go, TypeScript and CSS, and in YAML lines with a comment. What is exempt
// is so for a reason that stands here: a raw string of Go cannot be broken, nor can an address; a text of the book is
// one line in its file, however long; Markdown has tables; test data is what it is.
func TestLinesFitOnAScreen(t *testing.T) {
	long := map[string][]string{}
	for name, text := range sources(t, ".go", ".ts", ".css", ".yaml") {
		note := func(line int) {
			long[path.Dir(name)] = append(long[path.Dir(name)], fmt.Sprintf("%s:%d", name, line))
		}
		switch path.Ext(name) {
		case ".go":
			for _, line := range longGoLines(text) {
				note(line)
			}
		case ".yaml":
			for i, line := range strings.Split(text, "\n") {
				if columns(line) > maxColumns && yamlComment.MatchString(line) {
					note(i + 1)
				}
			}
		default:
			for i, line := range strings.Split(text, "\n") {
				if columns(line) > maxColumns {
					note(i + 1)
				}
			}
		}
	}
	for dir, places := range long {
		slices.Sort(places)
		t.Errorf("%d lines of %s are beyond %d columns:\n%s", len(places), dir, maxColumns, strings.Join(places, "\n"))
	}
}

// Comments make 15 to 25 % of the lines of a package: less does not say why, more repeats the code.
const (
	leastComments = 0.15
	mostComments  = 0.25
	leastPackage  = 20 // lines
)

// commentShare is how many of the lines of some files with code or comment are comment alone: all, and without the
// comments that state the formula and the source of an estimate. Those are as long as their formula.
func commentShare(texts []string) (all, plain float64) {
	code, comment, sourced := 0, 0, 0
	for _, text := range texts {
		g, lines := scanGo(text), strings.Split(text, "\n")
		for i, block := 1, 0; i < len(g.code); i++ {
			switch {
			case g.code[i]:
				code++
			case g.comment[i]:
				comment++
				block++
				continue
			}
			if strings.Contains(strings.Join(lines[max(0, i-1-block):min(i-1, len(lines))], "\n"), "// Source:") {
				sourced += block
			}
			block = 0
		}
	}
	of := func(n int) float64 { return float64(n) / float64(max(1, code+n)) }
	return of(comment), of(comment - sourced)
}

// TestCommentsInProportion holds the share of comments in each package, tests apart.
func TestCommentsInProportion(t *testing.T) {
	packages := map[string][]string{}
	for name, text := range sources(t, ".go") {
		if !strings.HasSuffix(name, "_test.go") {
			packages[path.Dir(name)] = append(packages[path.Dir(name)], text)
		}
	}
	for dir, texts := range packages {
		// a package of a function or two says what it is in as many lines as it has
		if strings.Count(strings.Join(texts, ""), "\n") < leastPackage {
			continue
		}
		all, plain := commentShare(texts)
		t.Logf("%4.1f %% %4.1f %% %s", 100*all, 100*plain, dir)
		if all < leastComments || plain > mostComments {
			t.Errorf("%s: comments make %.1f %% of the lines, %.1f %% without formulas and sources; want %.0f to %.0f "+
				"%%",
				dir, 100*all, 100*plain, 100*leastComments, 100*mostComments)
		}
	}
}

// The measures themselves: what is code, what is a comment, and how wide a line is.
func TestMeasuresOfSource(t *testing.T) {
	text := "// A comment.\npackage x\n\nvar s = `// code\n# code` // code\n\n/* two\nlines */\nvar u = \"// code\"\n"
	if got, _ := commentShare([]string{text}); got != 3.0/7 {
		t.Errorf("the share of comments is %v, want 3 of 7", got)
	}
	sourced := "// Says.\npackage x\n\n// Formula: a + b.\n// Source: Euclid.\nvar a = b\n"
	if got, plain := commentShare([]string{sourced}); got != 3.0/5 || plain != 1.0/3 {
		t.Errorf("the shares of comments are %v and %v, want 3 of 5 and 1 of 3", got, plain)
	}
	if got := columns("\t\té https://example.org/a#b"); got != 10 {
		t.Errorf("the line has %d columns, want 10", got)
	}
	wide := "var s = \"" + strings.Repeat("x", 111) + "\"\n"
	raw := "var s = `" + strings.Repeat("x", 200) + "`\n"
	if got := longGoLines("package x\n" + wide + raw); !slices.Equal(got, []int{2}) {
		t.Errorf("long lines are %v, want the second", got)
	}
}
