package visible_test

import (
	"strings"
	"testing"
	"unicode/utf8"

	"ribband/core/visible"
)

// The characters are those of Unicode Technical Report 36 (direction, zero width) and of the C0 and C1 controls.
func TestWhatCannotBeSeen(t *testing.T) {
	for _, c := range []struct{ text, show, typed string }{
		{"Ada Example", "Ada Example", "Ada Example"},
		{"Åse Ødegård, 雪, ניר", "Åse Ødegård, 雪, ניר", "Åse Ødegård, 雪, ניר"},
		{"a\u00a0b\u202fc", "a\u00a0b\u202fc", "a\u00a0b\u202fc"}, // blanks with a width
		{"e\u0301", "e\u0301", "e\u0301"},
		{"Ada\u202eelpmaxE", "Ada‹U+202E›elpmaxE", "AdaelpmaxE"},
		{"\u2066x\u2069", "‹U+2066›x‹U+2069›", "x"},
		{"A\u200bda\u200d\ufeff", "A‹U+200B›da‹U+200D›‹U+FEFF›", "Ada"},
		{"soft\u00adhyphen", "soft‹U+00AD›hyphen", "softhyphen"},
		{"\x00\x1b[2J\x7f\u009b", "‹U+0000›‹U+001B›[2J‹U+007F›‹U+009B›", "[2J"},
		{"a\u3164\U000e0041", "a‹U+3164›‹U+E0041›", "a"},
		{"a\tb\u2028c", "a‹U+0009›b‹U+2028›c", "a b c"},
	} {
		if got := visible.Show(c.text); got != c.show {
			t.Errorf("%q is shown as %q, want %q", c.text, got, c.show)
		}
		got, changed := visible.Typed(c.text, false)
		if want := utf8.RuneCountInString(c.typed) < utf8.RuneCountInString(c.text); got != c.typed || changed != want {
			t.Errorf("%q as typed is %q (%v), want %q (%v)", c.text, got, changed, c.typed, want)
		}
	}
}

func TestLinesAreSeenWhereThereAreLines(t *testing.T) {
	text := "one\r\ntwo\nthree"
	if got, changed := visible.Typed(text, true); got != "one\ntwo\nthree" || changed {
		t.Errorf("got %q, %v", got, changed)
	}
	if got, changed := visible.Typed(text, false); got != "one two three" || changed {
		t.Errorf("on one line: %q, %v", got, changed)
	}
	if _, at, ok := visible.Hidden(text, true); !ok || at != 3 {
		t.Errorf("the carriage return: %d, %v", at, ok)
	}
}

// FuzzTyped: what is left can be seen, and nothing is left out that could be.
func FuzzTyped(f *testing.F) {
	f.Add("Ada\u202e\r\n\u200bExample", true)
	f.Fuzz(func(t *testing.T, text string, lines bool) {
		got, _ := visible.Typed(text, lines)
		if r, _, ok := visible.Hidden(got, lines); ok {
			t.Fatalf("%q keeps %s", text, visible.Name(r))
		}
		if shown := visible.Show(text); strings.ContainsAny(shown, "\x00\u200b\u202e") {
			t.Fatalf("%q is shown as %q", text, shown)
		}
		if again, changed := visible.Typed(got, lines); again != got || changed {
			t.Fatalf("%q changes again, to %q", got, again)
		}
	})
}
