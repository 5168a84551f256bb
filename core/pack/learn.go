package pack

import (
	"encoding/json"
	"fmt"
	"slices"
)

// Words are what a book says in one of its other languages, apart from its pack: a page that is read in one language
// loads the words of that one. They are by part, and by the place of the text in the part, see [Pack.In].
type Words struct {
	Language string `json:"language"`
	// The edition's digest: places are of one edition alone.
	Edition string            `json:"edition"`
	Public  map[string]string `json:"public"`
	Costs   map[string]string `json:"costs,omitempty"`
	Work    map[string]string `json:"work,omitempty"`
}

// Encode writes the words; the same words give the same bytes.
func (w *Words) Encode() ([]byte, error) { return json.Marshal(w) }

// Apart is the pack without the words of its other languages, and these. Digests stay those of the whole.
func (p *Pack) Apart() (bare *Pack, words []Words) {
	own := *p
	own.first, own.Words = nil, nil
	for _, language := range p.Languages[min(1, len(p.Languages)):] {
		words = append(words, Words{Language: language, Edition: p.Edition.Digest, Public: p.Words[language]})
	}
	if p.Costs != nil {
		costs := *p.Costs
		own.Costs, costs.Words = &costs, nil
		for i := range words {
			words[i].Costs = p.Costs.Words[words[i].Language]
		}
	}
	if p.Work != nil {
		work := *p.Work
		own.Work, work.Words = &work, nil
		for i := range words {
			words[i].Work = p.Work.Words[words[i].Language]
		}
	}
	own.Assemble()
	return &own, words
}

// Learn takes in words that [Words.Encode] wrote, and checks that each has its place in this pack and that the pack is
// sound in them. Packs that [Pack.In] gave before do not know them.
func (p *Pack) Learn(text []byte) error {
	if p.first != nil {
		p = p.first
	}
	var w Words
	if err := json.Unmarshal(text, &w); err != nil {
		return fmt.Errorf("reading the words of a book: %w", err)
	}
	switch {
	case slices.Index(p.Languages, w.Language) < 1:
		return fmt.Errorf("reading the words of a book: it has no words of the language %.20q", w.Language)
	case w.Edition != p.Edition.Digest:
		return fmt.Errorf("reading the words of a book: they are of the edition %.12s, the book is of %.12s", w.Edition,
			p.Edition.Digest)
	case p.Costs == nil && w.Costs != nil || p.Work == nil && w.Work != nil:
		return fmt.Errorf("reading the words of a book: they are of parts that it does not have")
	}
	// tried on a copy: what is refused leaves the pack as it was
	tried, _ := p.Apart()
	tried.Languages = []string{p.Languages[0], w.Language}
	tried.Words = map[string]map[string]string{w.Language: w.Public}
	if w.Costs != nil {
		tried.Costs.Words = map[string]map[string]string{w.Language: w.Costs}
	}
	if w.Work != nil {
		tried.Work.Words = map[string]map[string]string{w.Language: w.Work}
	}
	c := &checker{pack: tried}
	if c.words(); c.err != nil {
		return fmt.Errorf("reading the words of a book: %w", c.err)
	}
	learn(&p.Words, w.Language, w.Public)
	if w.Costs != nil {
		learn(&p.Costs.Words, w.Language, w.Costs)
	}
	if w.Work != nil {
		learn(&p.Work.Words, w.Language, w.Work)
	}
	return nil
}

// learn puts words in a map of their own: parts are shared among packs.
func learn(of *map[string]map[string]string, language string, words map[string]string) {
	own := map[string]map[string]string{language: words}
	for l, w := range *of {
		if l != language {
			own[l] = w
		}
	}
	*of = own
}
