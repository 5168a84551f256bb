package paper_test

import (
	"encoding/json"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/paper"
	"ribband/core/quote"
)

// mark puts a stroke (U+0335) behind every letter of a text in the syntax of messages, and leaves arguments as they
// are.
func mark(text string, inArm bool) (marked, rest string) {
	var b strings.Builder
	for text != "" {
		switch r := []rune(text)[0]; {
		case r == '}' && inArm:
			return b.String(), text
		case r == '{':
			end := strings.IndexAny(text[1:], "{}") + 1
			b.WriteString(text[:end])
			for text = text[end:]; text[0] == '{'; { // the arms of a plural or select
				arm, after := mark(text[1:], true)
				next := strings.IndexAny(after[1:], "{}") + 1
				b.WriteString("{" + arm + "}" + after[1:next])
				text = after[next:]
			}
			b.WriteString("}")
			text = text[1:]
		default:
			b.WriteRune(r)
			if unicode.IsLetter(r) {
				b.WriteRune('\u0335')
			}
			text = text[len(string(r)):]
		}
	}
	return b.String(), ""
}

// marked is a language that nobody speaks: English with every letter struck through, from a file like that of any
// other.
func marked(t *testing.T) *msg.Language {
	t.Helper()
	data, err := os.ReadFile("../msg/en.json")
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	if err := json.Unmarshal(data, &texts); err != nil {
		t.Fatal(err)
	}
	for code, text := range texts {
		if !slices.Contains([]string{"language.tag", "language.group", "language.percent", "language.name"}, code) {
			texts[code], _ = mark(text, false)
		}
	}
	file, err := json.Marshal(texts)
	if err != nil {
		t.Fatal(err)
	}
	l, err := msg.Read("marked.json", file)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

var unmarked = regexp.MustCompile(`\pL\x{0335}?(\pL\x{0335}?)*`)

// A language is one file: a quotation is written in a made-up one without a change of the code, and no word of it is
// left but those of the book, of the quotation and of units.
func TestQuotationInAMadeUpLanguage(t *testing.T) {
	e := yardEngine()
	p, err := paper.Find("quotation", e.Pack)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"export", "extras-and-discount"} {
		a, err := e.Answer(readSpec(t, name))
		if err != nil {
			t.Fatal(err)
		}
		q := frozen(t, e, a)
		s, err := p.Of(e, a, q, "")
		if err != nil {
			t.Fatal(err)
		}
		s.Language = marked(t)
		own, err := json.Marshal([]any{q, e.Pack})
		if err != nil {
			t.Fatal(err)
		}
		text, err := p.Write(s, paper.AsText)
		if err != nil {
			t.Fatal(err)
		}
		struck, escaped := 0, map[string]bool{}
		for _, w := range unmarked.FindAllString(string(text), -1) {
			if strings.Contains(w, "\u0335") {
				struck++
			} else if len(w) > 2 && !strings.Contains(string(own), w) {
				escaped[w] = true
			}
		}
		if struck < 100 {
			t.Errorf("%s: %d words are in the language, want more:\n%s", name, struck, text)
		}
		for w := range escaped {
			t.Errorf("%s: %q is in English", name, w)
		}
	}
}

func frozen(t *testing.T, e *engine.Engine, a *engine.Answer) *quote.Quote {
	t.Helper()
	q, err := quote.Freeze(e, a, readDetails(t))
	if err != nil {
		t.Fatal(err)
	}
	return q
}
