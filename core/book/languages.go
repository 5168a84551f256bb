package book

import (
	"encoding/json"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"ribband/core/suggest"
)

// WordKeys are the keys whose texts people read: they may be given by language, {en: …, nl: …}. All other texts are
// names within the book.
var WordKeys = []string{"about", "acceptance", "advice", "because", "cautions", "condition", "delivery", "exclusions",
	"forms", "from", "includes", "means", "name", "note", "short", "steps", "symbol", "terms", "title", "to",
	"warranty", "word"}

// Wording is a text in one language.
type Wording struct {
	// Tag of BCP 47: en, nl, pt-BR.
	Language string
	// What the text says in it.
	Value string
	// Where the language stands, or its translation.
	At Position `json:"-"`
}

// Wordings are the languages of a text, in the order of the file.
type Wordings []Wording

// in is the wording in a language.
func (w *Wordings) in(language string) (string, bool) {
	if w != nil {
		for _, x := range *w {
			if x.Language == language {
				return x.Value, true
			}
		}
	}
	return "", false
}

// MarshalJSON writes a text, or a text by language: all of them are in the digest.
func (t Text) MarshalJSON() ([]byte, error) {
	if t.Words == nil {
		return json.Marshal(t.Value)
	}
	return json.Marshal(*t.Words)
}

// In is the book in one of its languages: every text has that language's words where it has them, and the first
// language's where not. The identifiers, numbers and formulas are the same.
func (b *Book) In(language string) *Book {
	out := *b // with the lines kept for diagnostics
	clone(reflect.ValueOf(&out).Elem(), func(t *Text) {
		if words, ok := t.Words.in(language); ok {
			t.Value = words
		}
		t.Words = nil
	})
	return &out
}

// Copy is the book again: what is taken out of the one stays in the other.
func (b *Book) Copy() *Book {
	out := *b
	clone(reflect.ValueOf(&out).Elem(), func(*Text) {})
	// everything of it was read: what is said of a copy is said of what it has
	out.damage = damage{}
	return &out
}

// Settle lets every text that is given by language say what it does in the first language of the book, and gives every
// other text of a word key the words that the translations have for it.
func (b *Book) Settle() {
	if len(b.Languages) == 0 {
		return
	}
	translated := map[string]map[string]Text{}
	for _, l := range b.Languages[1:] {
		translated[l.Value] = b.translated(l.Value)
	}
	b.eachText(func(key string, t *Text) {
		if words, ok := t.Words.in(b.Languages[0].Value); ok {
			t.Value = words
		}
		if !slices.Contains(WordKeys, key) {
			return
		}
		for _, l := range b.Languages[1:] {
			words := translated[l.Value][t.Value]
			if _, ok := t.Words.in(l.Value); ok || words.Value == "" {
				continue
			}
			if t.Words == nil {
				t.Words = &Wordings{{b.Languages[0].Value, t.Value, t.At}}
			}
			*t.Words = append(*t.Words, Wording{l.Value, words.Value, words.At})
		}
	})
}

// clone makes the slices and pointers below v its own, and lets change alter each text.
func clone(v reflect.Value, change func(*Text)) {
	if !v.CanSet() || !v.CanInterface() {
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		if t, ok := v.Addr().Interface().(*Text); ok {
			change(t)
			return
		}
		for i := range v.NumField() {
			clone(v.Field(i), change)
		}
	case reflect.Slice:
		if !v.IsNil() {
			own := reflect.MakeSlice(v.Type(), v.Len(), v.Len())
			reflect.Copy(own, v)
			v.Set(own)
		}
		for i := range v.Len() {
			clone(v.Index(i), change)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			own := reflect.New(v.Type().Elem())
			own.Elem().Set(v.Elem())
			v.Set(own)
			clone(own.Elem(), change)
		}
	}
}

// eachText visits the texts of a book in the order of its fields, each with the key that it stands under.
func (b *Book) eachText(visit func(key string, t *Text)) { texts(reflect.ValueOf(b).Elem(), "", visit) }

func texts(v reflect.Value, key string, visit func(key string, t *Text)) {
	if !v.CanInterface() {
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		if t, ok := v.Addr().Interface().(*Text); ok {
			visit(key, t)
			return
		}
		for i := range v.NumField() {
			under, _, _ := strings.Cut(v.Type().Field(i).Tag.Get("yaml"), ",")
			texts(v.Field(i), under, visit)
		}
	case reflect.Slice:
		for i := range v.Len() {
			texts(v.Index(i), key, visit)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			texts(v.Elem(), key, visit)
		}
	}
}

// tagged is a language as BCP 47 writes it: a language and perhaps a script or region.
var tagged = regexp.MustCompile(`^[a-z]{2,3}(-[A-Z][A-Za-z]{1,3})?$`)

// languages checks the languages of the book, and that its texts are in all of them.
func (v *validation) languages() {
	var known []string
	for _, l := range v.book.Languages {
		switch {
		case !tagged.MatchString(l.Value):
			v.error(l.At, "write a tag of BCP 47, like en or nl", "%q is no language", suggest.Clip(l.Value, 40))
		case slices.Contains(known, l.Value):
			v.error(l.At, "name each language once", "the language %s is there twice", l)
		}
		known = append(known, l.Value)
	}
	v.book.eachText(func(_ string, t *Text) {
		if t.Words != nil {
			v.wordings(t, known)
		}
	})
	v.translations(known)
	for _, l := range v.book.Languages[min(1, len(known)):] {
		v.lacking(l.Value)
	}
}

// wordings checks a text that is given by language.
func (v *validation) wordings(t *Text, known []string) {
	if len(known) == 0 {
		v.error(t.At, "name them at the top of the book, the first language first, as in languages: [en, nl]",
			"a text is given by language, and the book names no languages")
		return
	}
	for _, w := range *t.Words {
		switch {
		case !slices.Contains(known, w.Language):
			v.error(w.At, suggest.Nearest(w.Language, known, "the languages are "+strings.Join(known, ", ")),
				"the book does not name the language %q", suggest.Clip(w.Language, 40))
		case w.Value == "":
			v.error(w.At, "write the words, or leave the language out", "the text is empty in %s", w.Language)
		}
	}
	if _, ok := t.Words.in(known[0]); !ok {
		v.error(t.At, "add "+known[0]+": to it", "the text lacks %s, the first language of the book", known[0])
	}
}
