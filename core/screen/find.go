package screen

import (
	"maps"
	"slices"
	"strings"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
	"ribband/core/suggest"
)

// Finding something by its name: people know the word, and not in which of seven chapters the yard put it.

// search is the field in which a word is typed. It is no panel, so that an answer never takes away what is typed.
func (v *View) search() g.Node {
	return g.El("search", FormEl(ID("find"), Label(For("find-text"), v.say("screen.find")),
		Input(Type("search"), ID("find-text"), AutoComplete("off"), MaxLength("60"),
			g.Attr("data-live"), act("find"))))
}

// match is something with that name: where it is, and how well the name agrees.
type match struct {
	rank int // the best first, see ranks
	key  string
	then string // what is looked at once the place is open; "" for the place itself
	mark string // its number in the specification
	name msg.Message
	note msg.Message // empty for nothing to say
}

// The ranks of a match: what is called so comes before what is only said to be.
const (
	byWhole = iota // it is called just that
	byBegin        // it begins so
	byTitle
	byPlace // an option by the title of its slot
	byNote
)

// mostFound is how many matches are shown; whoever gets more types another letter.
const mostFound = 12

// found are the matches of what was typed.
func (v *View) found() []g.Node {
	words := wordsOf(v.Find)
	if len(words) == 0 {
		return nil
	}
	list := v.matches(words)
	// a word of the trade is explained on the spot: there is nothing to go to
	meant := v.explains(words)
	if len(list)+len(meant) == 0 {
		return []g.Node{P(v.unfound(words))}
	}
	// Links and no buttons: each is a place of this page, and can be opened or copied as one.
	shown := list[:min(len(list), mostFound)]
	return []g.Node{
		g.Group(meant),
		Ul(Class("found"), g.Map(shown, func(m match) g.Node {
			return Li(A(Href("#"+m.key), g.Attr("data-do", "go"), g.Attr("data-key", m.key),
				g.If(m.then != "", g.Attr("data-then", m.then)),
				g.If(m.mark != "", Span(Class("item"), g.Text(m.mark))), Span(v.text(m.name))),
				noted(v.Engine.Text(m.note)))
		})),
		g.If(len(list) > len(shown), note(v.say("screen.found-more", msg.Count("n", len(list)-len(shown))))),
	}
}

// explains are the entries of the glossary that begin with what was typed.
func (v *View) explains(words []string) (list []g.Node) {
	compounds := v.Engine.Language().Compounds()
	for i := range v.pack().Glossary {
		x := &v.pack().Glossary[i]
		if slices.ContainsFunc(formsOf(x), func(form []string) bool { return hits(words, form, compounds) }) {
			list = append(list, P(Class("meant"), Dfn(g.Text(x.Word)), g.Text(" "+x.Means)))
		}
	}
	return list
}

// Found is how many matches there are, for who listens.
func (v *View) Found() int { return len(v.matches(wordsOf(v.Find))) }

// matches are all that have every word in their title, their place or their note, the best first, else in the order of
// the book.
func (v *View) matches(words []string) (list []match) {
	if len(words) == 0 {
		return nil
	}
	p := v.pack()
	hits := func(words []string, title, place, more string) bool {
		return hits(words, wordsOf(title+" "+place+" "+more), v.Engine.Language().Compounds())
	}
	for s := range p.Slots {
		def, key := &p.Slots[s], "slot-"+p.Slots[s].ID
		slot := hits(words, def.Title, "", "")
		if slot {
			list = append(list, match{rankOf(words, def.Title), key, "", v.itemOf(def.ID), msg.Plain(def.Title),
				msg.Plain(v.stands(s))})
		}
		for o := def.First; o < def.End; o++ {
			opt := &p.Options[o]
			rank := byNote
			switch {
			case v.ended(o):
				continue
			case hits(words, opt.Title, "", ""):
				rank = rankOf(words, opt.Title)
			case slot: // its slot stands there already, and opens to all of them
				continue
			case hits(words, opt.Title, def.Title, ""):
				rank = byPlace
			case !hits(words, opt.Title, def.Title, opt.Note+" "+strings.Join(opt.About, " ")):
				continue
			}
			list = append(list, match{rank, key, "option-" + opt.ID, v.itemOf(def.ID), msg.New("screen.in-slot",
				msg.Text("slot", def.Title), msg.Text("option", opt.Title)), v.standing(s, o)})
		}
	}
	// Figures and the use after the choices: more people look for something to have than for a number.
	for i := range v.Engine.FigureList() {
		if f := &v.Engine.FigureList()[i]; !f.Hidden && hits(words, f.Title, f.Short, "") {
			list = append(list, match{rankOf(words, f.Title), "figure-" + f.ID, "", "", msg.Plain(f.Title),
				msg.Message{}})
		}
	}
	for i := range p.Use {
		if hits(words, p.Use[i].Title, "", "") {
			list = append(list, match{rankOf(words, p.Use[i].Title), "use-" + p.Use[i].ID, "", "",
				msg.Plain(p.Use[i].Title), msg.Message{}})
		}
	}
	slices.SortStableFunc(list, func(a, b match) int { return a.rank - b.rank })
	return list
}

// standing is how an option stands to the boat, in a word; what can simply be chosen needs none.
func (v *View) standing(slot, option int) msg.Message {
	switch {
	case v.Answer.Build.State.Counts[option] > 0:
		return msg.New("screen.selected")
	case !v.Engine.Made(option, v.Answer.Hull) || !v.Engine.Exists(slot, v.Answer.Hull):
		return msg.New("screen.not-on-hull")
	case v.off(option):
		return msg.New("screen.not-sold")
	}
	return msg.Message{}
}

// stands is what stands in a slot, or why nothing does.
func (v *View) stands(slot int) string {
	if c := v.content(slot); c != "" {
		return c
	}
	return v.empty(slot)
}

// unfound says that nothing is called so, with the word of the book that was probably meant.
func (v *View) unfound(words []string) g.Node {
	// by how they are compared, as the book writes them: with a small letter where it ever does
	written := map[string]string{}
	note := func(title string) {
		for _, w := range strings.FieldsFunc(title, between) {
			key := compared(w)
			written[key] = max(written[key], w)
		}
	}
	p := v.pack()
	for i := range p.Options {
		note(p.Options[i].Title)
	}
	for i := range p.Slots {
		note(p.Slots[i].Title)
	}
	// sorted: of two words that are equally near the same one is always named
	list := slices.Sorted(maps.Keys(written))
	for _, w := range words {
		if meant, ok := suggest.Meant(w, list); ok && meant != w {
			return v.say("screen.found-meant", msg.Text("word", written[meant]))
		}
	}
	return v.say("screen.found-nothing")
}

// hits says that every word begins one of those of a text; in a language of compounds it may also stand within one,
// which ends with what it is: a Klappverdeck is a Verdeck.
func hits(words, in []string, compounds bool) bool {
	// By beginnings: who types has not finished. Short words stand within too many.
	for _, w := range words {
		if !slices.ContainsFunc(in, func(x string) bool {
			return strings.HasPrefix(x, w) || compounds && len(w) >= 4 && strings.Contains(x, w)
		}) {
			return false
		}
	}
	return true
}

// rankOf is how well a title agrees that has all the words.
func rankOf(words []string, title string) int {
	in := wordsOf(title)
	switch {
	case slices.Equal(words, in):
		return byWhole
	case len(in) > 0 && strings.HasPrefix(in[0], words[0]):
		return byBegin
	}
	return byTitle
}

// folds takes from letters what somebody leaves out who types on a foreign keyboard.
var folds = strings.NewReplacer("ä", "a", "à", "a", "á", "a", "â", "a", "ç", "c", "è", "e", "é", "e", "ê", "e", "ë",
	"e", "ï", "i", "í", "i", "ñ", "n", "ö", "o", "ó", "o", "ô", "o", "ü", "u", "ú", "u", "û", "u", "ß", "ss")

// compared is a text as it is compared.
func compared(s string) string { return folds.Replace(strings.ToLower(s)) }

// wordsOf are the words of a text as they are compared.
func wordsOf(s string) []string { return strings.FieldsFunc(compared(s), between) }

// between says that a character stands between words. What is beyond ASCII counts as a letter, but for the spaces that
// keep a number and its unit together.
func between(r rune) bool {
	letter := r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r > 0x7f && r != 0xa0 && r != 0x202f
	return !letter && (r < '0' || r > '9')
}
