package enginetest

import (
	"encoding/json"
	"fmt"
	"html"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
)

// A page in a marked language shows which of its words come from where: those of the program stand between ⟦ and ⟧,
// those of the book between ⟪ and ⟫. What stands outside both was written into the code, and no file of a language
// could ever change it. Translators call this pseudo-localisation.

// Marked is English with every text of the program in its marks. Tag, percent sign and group mark are no words, and
// months are told apart by the spaces between them, so that each has marks of its own.
func Marked(t testing.TB) *msg.Language {
	t.Helper()
	file, err := os.ReadFile("../msg/en.json")
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{}
	if err := json.Unmarshal(file, &texts); err != nil {
		t.Fatal(err)
	}
	for code, text := range texts {
		switch code {
		// these say how numbers are written, and are no words
		case "language.tag", "language.percent", "language.group":
		// a date takes one of the twelve out by itself
		case "language.months":
			texts[code] = "⟦" + strings.ReplaceAll(text, " ", "⟧ ⟦") + "⟧"
		default:
			texts[code] = "⟦" + text + "⟧"
		}
	}
	if file, err = json.MarshalIndent(texts, "", "\t"); err != nil {
		t.Fatal(err)
	}
	l, err := msg.Read("marked.json", file)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// textKeys are the keys of a pack whose values people read. The rest are identifiers, addresses and words of the
// program.
var textKeys = strings.Fields("about acceptance address advice because bic cautions condition delivery exclusions " +
	"firm iban includes name note pieces register short steps supplier tax terms text title warranty " +
	"email phone tax_number from to word means forms")

// InMarks is an engine of the same edition that speaks the marked language, with the words of the book in marks too.
func InMarks(t testing.TB, e *engine.Engine) *engine.Engine {
	t.Helper()
	marked, err := Reworded(t, e, func(text string) string { return "⟪" + text + "⟫" }).In(Marked(t))
	if err != nil {
		t.Fatal(err)
	}
	return marked
}

// Reworded is an engine of the same edition with other words in every text of the book.
func Reworded(t testing.TB, e *engine.Engine, reword func(string) string) *engine.Engine {
	t.Helper()
	text, err := e.Pack.Encode()
	if err != nil {
		t.Fatal(err)
	}
	p, err := pack.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	p.Languages = []string{"en", "marked"}
	for _, part := range []struct {
		of    any
		words *map[string]map[string]string
	}{{&p.Public, &p.Words}, {p.Costs, wordsOf(p.Costs)}, {p.Work, wordsOf(p.Work)}} {
		if part.words == nil {
			continue
		}
		text, err := json.Marshal(part.of)
		if err != nil {
			t.Fatal(err)
		}
		var tree any
		if err := json.Unmarshal(text, &tree); err != nil {
			t.Fatal(err)
		}
		*part.words = map[string]map[string]string{"marked": {}}
		rewordTexts(tree, "", false, reword, (*part.words)["marked"])
	}
	// as a book of one language, which is all that it has
	bare, _ := p.In("marked").Apart()
	bare.Languages = nil
	reworded, err := engine.Compile(bare)
	if err != nil {
		t.Fatal(err)
	}
	return reworded
}

// wordsOf is where a part keeps its words by language; nil where the desk does not have the part.
func wordsOf(part any) *map[string]map[string]string {
	switch part := part.(type) {
	case *pack.Costs:
		if part != nil {
			return &part.Words
		}
	case *pack.Work:
		if part != nil {
			return &part.Words
		}
	}
	return nil
}

// rewordTexts enters the texts below v by their place, in other words.
func rewordTexts(v any, place string, read bool, reword func(string) string, words map[string]string) {
	switch v := v.(type) {
	case map[string]any:
		for key, value := range v {
			if key != "words" && key != "languages" {
				rewordTexts(value, strings.TrimPrefix(place+"."+key, "."), slices.Contains(textKeys, key), reword,
					words)
			}
		}
	case []any:
		for i, value := range v {
			rewordTexts(value, fmt.Sprintf("%s.%d", place, i), read, reword, words)
		}
	case string:
		if read && v != "" {
			words[place] = reword(v)
		}
	}
}

var (
	unseen    = regexp.MustCompile(`(?s)<(script|style)\b.*?</(script|style)>|<!--.*?-->`)
	perceived = regexp.MustCompile(`\b(?:aria-label|aria-description|title|placeholder|alt|content)="([^"]*)"`)
	tags      = regexp.MustCompile(`(?s)<[^>]*>`)
	letters   = regexp.MustCompile(`\p{L}{2,}`)
)

// Perceived is what a person sees or hears of HTML or SVG: its text, a line for each element, and the attributes that
// are read aloud or shown.
func Perceived(markup string) string {
	markup = unseen.ReplaceAllString(markup, "")
	var lines []string
	for _, m := range perceived.FindAllStringSubmatch(markup, -1) {
		lines = append(lines, m[1])
	}
	return html.UnescapeString(tags.ReplaceAllString(markup, "\n") + "\n" + strings.Join(lines, "\n"))
}

// Unmarked are the words of a text outside all marks, each with what stands around it. Symbols of units, currencies and
// own (names, numbers and what a person typed) are not counted. A line is told once, by its first such word: the whole
// line stands beside it.
func Unmarked(text string, own ...string) (found []string) {
	for _, u := range slices.Concat(measure.Units, measure.Shop) {
		own = append(own, u.Symbol, u.Ashore)
	}
	own = append(own, "mph", "mi", "ft", "EUR", "USD", "GBP")
	depth, outside := 0, []rune(text)
	for i, r := range outside {
		switch r {
		case '⟦', '⟪':
			depth++
		case '⟧', '⟫':
			depth--
			outside[i] = ' '
		}
		if depth > 0 && r != '\n' {
			outside[i] = ' '
		}
	}
	for _, line := range strings.Split(string(outside), "\n") {
		for _, w := range letters.FindAllString(line, -1) {
			if !slices.Contains(own, w) {
				found = append(found, fmt.Sprintf("%q in %q", w, strings.Join(strings.Fields(line), " ")))
				break
			}
		}
	}
	slices.Sort(found)
	return slices.Compact(found)
}
