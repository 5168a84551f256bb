package source_test

import (
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"ribband/core/book"
	"ribband/core/book/source"
)

// ladenKg is the formula of laden_kg in the small book, written some way, with the lines of the file.
func ladenKg(t interface{ Fatal(...any) }, written string) (book.Formula, []string) {
	const old = "  - {id: laden_kg, title: Mass with persons, unit: kg, formula: \"figures.mass_kg + 80 * " +
		"use.persons\"}\n"
	file, err := os.ReadFile(smallBook + "/boat.yaml")
	if err != nil {
		t.Fatal(err)
	}
	text := string(file)
	if strings.Count(text, old) != 1 {
		t.Fatal("the small book has changed")
	}
	text = strings.Replace(text, old, "  - id: laden_kg\n    title: Größe mit Personen\n    unit: kg\n    formula: "+
		written+"\n", 1)
	b, _, err := source.Read(fstest.MapFS{"boat.yaml": {Data: []byte(text)}})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range b.Figures {
		if f.ID.Value == "laden_kg" {
			return f.Formula, strings.Split(text, "\n")
		}
	}
	t.Fatal("the figure was not read: " + written)
	return book.Formula{}, nil
}

// stands is the text of the file at a place.
func stands(lines []string, at book.Position) string {
	if at.Line < 1 || at.Line > len(lines) {
		return ""
	}
	r := []rune(lines[at.Line-1])
	if at.Column < 1 || at.Column > len(r)+1 {
		return ""
	}
	return string(r[at.Column-1:])
}

// Each word of a formula is found where it stands in the file, however YAML writes the formula.
func TestFormulaPositions(t *testing.T) {
	for _, written := range []string{
		"figures.mass_kg + 80 * use.persons",
		"figures.mass_kg\n      + 80\n\n      * use.persons",
		`"figures.mass_kg + 80 * use.persons"`,
		"\"figures.mass_kg\n        +\n   80 * use.persons\"",
		`"figures.mass\u005fkg \t+ 80\x20* use.p\x65rsons"`,
		"\"figures.mass_kg + \\\n      80 * use.persons\"",
		"'figures.mass_kg + 80\n\n      * use.persons'",
		">\n      figures.mass_kg\n      + 80\n      * use.persons",
		">-\n      figures.mass_kg\n\n        + 80\n      * use.persons\n",
		"|\n      figures.mass_kg\n        + 80\n      * use.persons",
		"|2\n        figures.mass_kg\n        + 80\n      * use.persons",
		"| # as a list\r\n      figures.mass_kg +\r\n      80 * use.persons\r",
	} {
		f, lines := ladenKg(t, written)
		for _, word := range []string{"figures", "mass", "kg", "+", "80", "*", "use", "persons"} {
			offset := strings.Index(f.Value, word)
			if offset < 0 {
				t.Errorf("%q is read as %q", written, f.Value)
				continue
			}
			got := stands(lines, f.Position(offset))
			if word == "persons" && strings.Contains(written, `\x65`) {
				word = "p"
			}
			if !strings.HasPrefix(got, word) {
				t.Errorf("%q: %s stands at %s, where the file says %q", written, word, f.Position(offset), got)
			}
		}
		if end := f.Position(len(f.Value) + 9); end.Line < 9 || end.Column < 1 {
			t.Errorf("%q: the end is at %s", written, end)
		}
	}
}

// Quotes within quotes stand for one character each.
func TestFormulaPositionsBehindQuotes(t *testing.T) {
	for _, written := range []string{`"has(\"top-fixed\") ? 1 : persons"`, `'has("top-fixed") or ''x'' ? 1 : persons'`,
		"\"has(\\\"é\\\") and has(\\\"b\\\") ?\n       1 : persons\""} {
		f, lines := ladenKg(t, written)
		for _, word := range []string{"top-fixed", "? ", "1", ": p", "persons"} {
			if offset := strings.Index(f.Value, word); offset >= 0 {
				if got := stands(lines, f.Position(offset)); !strings.HasPrefix(got, strings.TrimSpace(word)) {
					t.Errorf("%q: %s stands at %s, where the file says %q", written, word, f.Position(offset), got)
				}
			}
		}
	}
}

// Random words laid out at random over lines, in every style, are found again: each is another one.
func TestFormulaPositionsAnywhere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		style := rapid.SampledFrom([]string{">", "|", ">-", "|-", `"`, "'", ""}).Draw(t, "style")
		n := rapid.IntRange(1, 12).Draw(t, "words")
		words := make([]string, n)
		body := ""
		for i := range words {
			words[i] = string(rune('a'+i)) + rapid.StringMatching(`[a-zé]{0,4}`).Draw(t, "word")
			between := " "
			if rapid.Bool().Draw(t, "new line") {
				between = "\n      " + rapid.SampledFrom([]string{"", " ", "   "}).Draw(t, "indent")
			}
			if i == 0 {
				between = ""
				if len(style) > 0 && strings.Contains(">|", style[:1]) {
					between = "\n      "
				}
			}
			body += between + words[i]
		}
		written := style + body
		if style == `"` || style == "'" {
			written += style
		}
		f, lines := ladenKg(t, written)
		at := 0
		for _, w := range words {
			offset := strings.Index(f.Value[at:], w)
			if offset < 0 {
				t.Fatalf("%q is read as %q", written, f.Value)
			}
			at += offset
			if got := stands(lines, f.Position(at)); !strings.HasPrefix(got, w) {
				t.Fatalf("%q: %s stands at %s, where the file says %q", written, w, f.Position(at), got)
			}
			at += len(w)
		}
	})
}
