package doc_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/doc"
)

// marked is a cell with the words that differ in brackets.
func marked(c doc.Cell) string {
	var b strings.Builder
	for _, s := range c.Spans() {
		if s.Differ {
			b.WriteString("[" + s.Text + "]")
		} else {
			b.WriteString(s.Text)
		}
	}
	return b.String()
}

func TestWordsThatDiffer(t *testing.T) {
	for _, c := range [][3]string{
		{"the boat is green", "the boat is green", "the boat is green"},
		{"the boat is green now", "the boat is blue now", "the boat is [green ]now"},
		{"valid for 30 days", "valid for 60 days from today", "valid for [30 ]days"},
		{"", "some", ""}, {"some words", "", "[some words]"}, {"a b c", "c a b", "a b [c]"},
	} {
		if got := marked(doc.Against(c[0], c[1])); got != c[2] {
			t.Errorf("%q against %q: %q, want %q", c[0], c[1], got, c[2])
		}
	}
	if got := marked(doc.Text("as it is")); got != "as it is" {
		t.Errorf("compared with nothing: %q", got)
	}
}

// Whatever two texts are, nothing of them is lost, and both have as many words without a mark.
func TestWordsInCommonAreTheSame(t *testing.T) {
	text := rapid.SliceOfN(rapid.SampledFrom([]string{"a", "b", "c", "dd", "e,"}), 0, 8)
	rapid.Check(t, func(r *rapid.T) {
		a, b := strings.Join(text.Draw(r, "a"), " "), strings.Join(text.Draw(r, "b"), " ")
		common := func(of, other string) (all string, words []string) {
			for _, s := range doc.Against(of, other).Spans() {
				all += s.Text
				if !s.Differ {
					words = append(words, strings.Fields(s.Text)...)
				}
			}
			return all, words
		}
		all, of := common(a, b)
		_, other := common(b, a)
		if all != a {
			r.Fatalf("%q became %q", a, all)
		}
		if len(of) != len(other) && a != b {
			r.Fatalf("%q and %q have in common %q and %q", a, b, of, other)
		}
	})
}
