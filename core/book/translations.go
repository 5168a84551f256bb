package book

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"ribband/core/suggest"
)

// Translations are the texts of a book in its other languages, in files of their own: by language, then by the text of
// the first language as it stands in the book, letter by letter.
type Translations = Pairs[Pairs[Text]]

// translated are the words of a language by text of the first one. Of a text that is there twice the first holds; the
// other is reported.
func (b *Book) translated(language string) map[string]Text {
	found := map[string]Text{}
	for _, l := range b.Translations {
		if l.Key.Value != language {
			continue
		}
		for _, t := range l.Value {
			if _, ok := found[t.Key.Value]; !ok {
				found[t.Key.Value] = t.Value
			}
		}
	}
	return found
}

// translations checks that every translation is of a text that the book has, into a language that it names: a text that
// was changed leaves its translations behind, and nobody would see that they are no longer shown.
func (v *validation) translations(known []string) {
	if len(v.book.Translations) == 0 {
		return
	}
	said := map[string]bool{}
	v.book.eachText(func(key string, t *Text) {
		if slices.Contains(WordKeys, key) {
			said[t.Value] = true
		}
	})
	var all []string // for advice: what a changed text may have become
	for text := range said {
		all = append(all, text)
	}
	slices.Sort(all)
	seen := map[[2]string]Position{} // by language and text
	for _, l := range v.book.Translations {
		switch at := slices.Index(known, l.Key.Value); {
		case at == 0:
			v.warn(l.Key.At, "change the texts themselves",
				"%s is the first language of the book, which its texts are in", l.Key)
		case at < 0:
			v.warn(l.Key.At, "add it to languages:, the first language first, as in languages: [en, nl]",
				"the book does not name the language %q, so that these words are not used",
				suggest.Clip(l.Key.Value, 40))
		}
		for _, t := range l.Value {
			key := [2]string{l.Key.Value, t.Key.Value}
			before, twice := seen[key]
			if !twice {
				seen[key] = t.Key.At
			}
			switch {
			case t.Value.Value == "":
				v.error(t.Key.At, "write the words, or leave the text out", "the text is empty in %s", l.Key)
			case twice:
				v.error(t.Key.At, "keep one of them", "the text is translated twice, first at %s", before)
			case !said[t.Key.Value]:
				const otherwise = "take it out, or write the text as the book has it now"
				v.warn(t.Key.At, suggest.Nearest(t.Key.Value, all, otherwise), "no text of the book is %q",
					suggest.Clip(t.Key.Value, 60))
			}
		}
	}
}

// shownLacking is how many of the texts that lack a language are named; a book that begins with one lacks hundreds.
const shownLacking = 3

// lacking says how many texts have no words in a language and which come first. Names of the yard and of suppliers are
// the same in all languages, and so is what has no letters.
func (v *validation) lacking(language string) {
	var first *Text
	var named []string
	lacking := map[string]bool{}
	v.book.eachText(func(key string, t *Text) {
		_, has := t.Words.in(language)
		if has || key == "name" || !slices.Contains(WordKeys, key) || lacking[t.Value] ||
			!strings.ContainsFunc(t.Value, unicode.IsLetter) {
			return
		}
		lacking[t.Value] = true
		if first == nil {
			first = t
		} else if len(named) < shownLacking-1 {
			named = append(named, fmt.Sprintf("%q at %s", suggest.Clip(t.Value, 60), t.At))
		}
	})
	if first == nil {
		return
	}
	message := "the text lacks " + language
	if n := len(lacking); n > 1 {
		message = fmt.Sprintf("%d texts lack %s, this is the first of them; then %s", n, language,
			strings.Join(named, ", "))
		if n > shownLacking {
			message += " …"
		}
	}
	v.warn(first.At, fmt.Sprintf("add them below translations: %s: as the text, a colon and its words; "+
		"until then they are shown in %s", language, v.book.Languages[0]), "%s", message)
}
