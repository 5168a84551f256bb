package book_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"pgregory.net/rapid"

	"ribband/core/book"
)

// lineOf is what a diagnostic at a column of a line shows, with what width is known of it.
func lineOf(line string, column, width int) string {
	var b book.Book
	b.Keep("a.yaml", []string{line})
	return b.Excerpted(book.Diagnostic{Position: book.Position{File: "a.yaml", Line: 1, Column: column},
		Width: width}).Shown("")
}

// The caret stands below each character of what is wrong: a key, a value, text in quotes, a list; as wide as the
// characters are on a terminal (UAX 11: 船 and fullwidth letters take two cells, a combining diaeresis none), and behind
// the same tabs.
func TestExcerpt(t *testing.T) {
	for name, c := range map[string]struct {
		line          string
		column, width int
		caret         string
	}{
		"key":              {"  titel: Folding hood", 3, 0, "  ^^^^^"},
		"plain value":      {"  choose: at most two   # or one", 11, 0, "          ^^^^^^^^^^^"},
		"in a list":        {"  hulls: [reed 65, rush-45]", 11, 0, "          ^^^^^^^"},
		"in double quotes": {`  cost: "1 \"or\" 2" # each`, 9, 0, "        ^^^^^^^^^^^^"},
		"in single quotes": {`  cost: 'it''s 2', more`, 9, 0, "        ^^^^^^^^^"},
		"behind a quote":   {`  need: "has('top')"`, 10, 0, "         ^^^^^^^^^^"},
		"a whole mapping":  {`  - {id: a, when: "b } c"} # d`, 5, 0, "    ^^^^^^^^^^^^^^^^^^^^^^"},
		"an open bracket":  {"  hulls: [reed-65,", 10, 0, "         ^"},
		"a known width":    {"  need: figures.mas_kg < 400", 17, 6, "                ^^^^^^"},
		"tabs":             {"\t\tcost:\t33,60", 9, 0, "\t\t     \t^^^^^"},
		"wide before":      {"  title: 船船 ｘ, y", 13, 0, "              ^^^^^"},
		"wide itself":      {"  船: 1", 3, 0, "  ^^"},
		"combining before": {"  title: u\u0308ber x: 1", 16, 0, "              ^"},
		"beyond the end":   {"  need: has(", 13, 0, "            ^"},
		"web address":      {"  note: see https://example.org/a # or not", 9, 0, "        ^^^^^^^^^^^^^^^^^^^^^^^^^"},
	} {
		source, caret, _ := strings.Cut(strings.TrimSuffix(lineOf(c.line, c.column, c.width), "\n"), "\n")
		if source != c.line || caret != c.caret {
			t.Errorf("%s:\n%s\n%s, want\n%s", name, source, caret, c.caret)
		}
	}
	if got := lineOf("   ", 1, 0); got != "" {
		t.Errorf("of an empty line is shown %q", got)
	}
	if got := lineOf("a: \x1b[31mred", 4, 0); strings.Contains(got, "\x1b") {
		t.Errorf("a control character reaches the terminal: %q", got)
	}
}

// Of a long line the part around the place is shown.
func TestExcerptOfALongLine(t *testing.T) {
	line := "note: " + strings.Repeat("wood ", 1000) + "wod " + strings.Repeat("oil ", 1000)
	source, caret, _ := strings.Cut(strings.TrimSuffix(lineOf(line, 5007, 3), "\n"), "\n")
	if utf8.RuneCountInString(source) != 102 || !strings.HasPrefix(source, "…") || !strings.HasSuffix(source, "…") {
		t.Errorf("shown is %q", source)
	}
	at := strings.Index(caret, "^")
	if strings.Count(caret, "^") != 3 || string([]rune(source)[at:at+3]) != "wod" {
		t.Errorf("the caret is wrong:\n%s\n%s", source, caret)
	}
}

// Whatever a line holds and wherever the place is: there is a caret, and where no character has another width it stands
// below the place.
func TestPropertyExcerptHasItsCaret(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		line := "k" + rapid.StringMatching(`[a-z"'\[\]{}:#, \\]{0,150}`).Draw(t, "line")
		column := rapid.IntRange(-1, 160).Draw(t, "column")
		shown := lineOf(line, column, rapid.IntRange(0, 200).Draw(t, "width"))
		source, caret, _ := strings.Cut(strings.TrimSuffix(shown, "\n"), "\n")
		from := strings.Index(caret, "^")
		if from < 0 || strings.Trim(caret, " ^") != "" {
			t.Fatalf("no caret:\n%s", shown)
		}
		trimmed := strings.TrimRight(line, " ")
		if column >= 1 && column <= len(trimmed) && []rune(source)[from] != rune(trimmed[column-1]) {
			t.Fatalf("the caret stands below %q, want %q:\n%s", []rune(source)[from], trimmed[column-1], shown)
		}
	})
}

// A name, number, text or operator of a formula is shown whole.
func TestToken(t *testing.T) {
	f := book.Formula{Value: `figures.mass_kg >= 1.5 and has("top") ? 'é' : -1`}
	for at, want := range map[int]int{0: 15, 8: 7, 16: 2, 19: 3, 23: 3, 27: 3, 30: 1, 31: 5, 38: 1, 40: 3, 46: 1,
		99: 1} {
		if got := f.Token(at); got != want {
			t.Errorf("at %d the token has %d characters, want %d", at, got, want)
		}
	}
}
