package msg

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// Sentence is a text as a sentence by itself: it begins with a capital and ends with a full stop, unless it ends with
// another mark. Messages that also stand within others, such as reasons and errors, have neither.
func Sentence(text string) string {
	text = Capital(text)
	if text == "" || strings.ContainsAny(text[len(text)-1:], "?!:") {
		return text
	}
	return strings.TrimSuffix(text, ".") + "."
}

// Capital makes the first letter of a text a capital.
func Capital(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	if size == 0 {
		return ""
	}
	return string(unicode.ToUpper(first)) + text[size:]
}

// Inside is a title within a sentence. An abbreviation keeps its capitals, as does every title in a language whose file
// says "language.titles-inside": "as-written", such as German with its nouns.
func (l *Language) Inside(title string) string {
	first, size := utf8.DecodeRuneInString(title)
	second, _ := utf8.DecodeRuneInString(title[size:])
	if size == 0 || unicode.IsUpper(second) || l.keepsCapitals() {
		return title
	}
	return string(unicode.ToLower(first)) + title[size:]
}

func (l *Language) keepsCapitals() bool {
	whole()
	return l.own("language.titles-inside") == "as-written"
}
