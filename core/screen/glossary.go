package screen

import (
	"slices"
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/pack"
)

// Words of the trade explain themselves where they stand: each is a button that opens what it means. The explanations
// lie once in the page, outside of all panels, and browsers place and close them by themselves.

// meanings are the explanations, closed.
func (v *View) meanings() g.Node {
	return Div(ID("glossary"), g.Map(indexes(v.pack().Glossary), func(i int) g.Node {
		x := &v.pack().Glossary[i]
		return Div(Class("meaning"), ID(meaningID(i)), g.Attr("popover"), P(Dfn(g.Text(x.Word))), P(g.Text(x.Means)))
	}))
}

func meaningID(i int) string { return "meaning-" + strconv.Itoa(i) }

// word is a button that explains an entry; its text is the word as it stands there.
func (v *View) word(i int, text string) g.Node {
	return Button(Type("button"), Class("word"), g.Attr("popovertarget", meaningID(i)), g.Text(text))
}

// explained is a title whose word is in the glossary, as a button; else the bare title.
func (v *View) explained(title string) g.Node {
	if found := v.spoken(title); len(found) > 0 {
		return v.word(found[0], title)
	}
	return g.Text(title)
}

// words are those of some texts that the glossary has, each once; nothing where it has none of them. They stand in a
// row of their own: within a label or a line that unfolds a button could not be pressed by itself.
func (v *View) words(texts ...string) g.Node {
	found := v.spoken(texts...)
	if len(found) == 0 {
		return nil
	}
	return P(Class("words"), v.say("screen.words"), g.Map(found, func(i int) g.Node {
		return g.Group{g.Text(" "), v.word(i, v.pack().Glossary[i].Word)}
	}))
}

// spoken are the entries whose word, or another form of it, is in one of some texts, in the order of the book.
func (v *View) spoken(texts ...string) (entries []int) {
	said := make([][]string, len(texts))
	for i, t := range texts {
		said[i] = wordsOf(t)
	}
	for i := range v.pack().Glossary {
		forms := formsOf(&v.pack().Glossary[i])
		if slices.ContainsFunc(said, func(words []string) bool {
			return slices.ContainsFunc(forms, func(form []string) bool { return contains(words, form) })
		}) {
			entries = append(entries, i)
		}
	}
	return entries
}

// formsOf are all that an entry is written like, as words that can be compared.
func formsOf(x *pack.Entry) [][]string {
	forms := [][]string{wordsOf(x.Word)}
	for _, f := range x.Forms {
		forms = append(forms, wordsOf(f))
	}
	return forms
}

// contains says that some words follow each other in a text. Whole words count: a boot is no boot top.
func contains(text, words []string) bool {
	for i := 0; len(words) > 0 && i+len(words) <= len(text); i++ {
		if slices.Equal(text[i:i+len(words)], words) {
			return true
		}
	}
	return false
}
