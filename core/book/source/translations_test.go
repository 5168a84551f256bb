package source_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"ribband/core/book/source"
)

const twoLanguages = "../../../testdata/books/two-languages"

// inPlace is a text by language within a line: {en: With the order, nl: Bij de bestelling}.
var inPlace = regexp.MustCompile(`\{en: ([^{}]*?), nl: ([^{}]*?)\}`)

// A book whose words stand in a file of their own is the book that has them in place: the same digest, whatever the
// order of the translations, and another as soon as a word is another.
func TestTranslationsAreTheWordsInPlace(t *testing.T) {
	folder := overlay(t, twoLanguages)
	want := digest(t, folder)
	var lines []string
	for _, name := range yamlNames(folder) {
		text := string(folder[name].Data)
		for _, m := range inPlace.FindAllStringSubmatch(text, -1) {
			if line := "    " + m[1] + ": " + m[2] + "\n"; !slices.Contains(lines, line) {
				lines = append(lines, line)
			}
		}
		with(folder, name, inPlace.ReplaceAllString(text, "$1"))
	}
	if len(lines) < 20 {
		t.Fatalf("%d texts in two languages, want more", len(lines))
	}
	for range 2 {
		slices.Reverse(lines)
		with(folder, "words/nl.yaml", "translations:\n  nl:\n"+strings.Join(lines, ""))
		if got := digest(t, folder); got != want {
			t.Errorf("digest %s, want %s", got, want)
		}
	}
	with(folder, "words/nl.yaml", "translations:\n  nl:\n"+strings.Replace(strings.Join(lines, ""), "Zeilmakerij",
		"Zeilmaker", 1))
	if got := digest(t, folder); got == want {
		t.Error("another word has the same digest")
	}
	b, _, err := source.Read(folder)
	if err != nil {
		t.Fatal(err)
	}
	if got := b.In("nl").Shops[0].Title.Value; got != "Zeilmaker" {
		t.Errorf("in Dutch the shop is %q", got)
	}
	if got := b.In("en").Shops[0].Title.Value; got != "Canvas shop" {
		t.Errorf("in English the shop is %q", got)
	}
}

// Where comments stand and how lines are divided is no part of an edition, of texts by language no more than of others.
func TestDigestIgnoresWhereALanguageStands(t *testing.T) {
	folder := overlay(t, twoLanguages)
	want := digest(t, folder)
	for _, name := range yamlNames(folder) {
		with(folder, name, "# moved\n\n"+strings.ReplaceAll(string(folder[name].Data), "{en: ", "{  en: "))
	}
	if got := digest(t, folder); got != want {
		t.Errorf("digest %s, want %s", got, want)
	}
}
