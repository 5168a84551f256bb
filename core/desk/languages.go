package desk

import (
	"encoding/json"
	"slices"

	"ribband/core/deals"
	"ribband/core/engine"
	"ribband/core/msg"
	"ribband/core/quote"
	"ribband/core/screen"
)

// The page speaks the language of whoever works at it; a quotation that of its customer. The engine begins with the
// words of one language, and the worker brings those of others when a request is the first to need them: then the reply
// names the language, nothing has changed, and the request is asked once more.

// Frame is the page around its panels in another language. The panels follow as they always do.
type Frame struct {
	Language string `json:"language"` // its tag, as BCP 47 writes it
	Title    string `json:"title"`
	HTML     string `json:"html"` // of the body, with panels that are empty
}

// lacking is the first language that a request needs and whose words are not here; "" where there is none. Of a
// language that the book does not have nobody could bring the words.
func (d *Desk) lacking(r *Request) string {
	// Asked before anything is done, so that a request which waits for words has changed nothing.
	for _, tag := range needed(r) {
		if !slices.Contains(d.engine.Public().Languages, tag) {
			continue
		}
		if _, known := msg.Named(tag); !known {
			return tag
		}
	}
	return ""
}

// needed are the languages of what a request asks for: that of the page, of a paper, or of quotations in files.
func needed(r *Request) []string {
	switch r.Act {
	case "language", "specification":
		return []string{r.Value}
	case "freeze":
		return []string{r.Form["language"]}
	case "file":
		return []string{languageOf(r.Text)}
	case "deals-compare":
		records, err := deals.DecodeRecords([]byte(r.Text))
		if err != nil {
			return nil // the act says what is wrong
		}
		var tags []string
		for i := range records {
			tags = append(tags, languageOf(records[i].Quote))
		}
		return tags
	}
	return nil
}

// languageOf is the language that the file of a quotation states; "" of another file.
func languageOf(file string) string {
	// a spec, or a file of records, has no language
	if !quote.Is([]byte(file)) {
		return ""
	}
	var q struct {
		Language string `json:"language"`
	}
	_ = json.Unmarshal([]byte(file), &q) // what is wrong with it is said by whoever reads all of it
	return q.Language
}

// missing says that the words of a language could not be had; the reason is the browser's.
func missing(tag, reason string) error {
	return msg.Fault("desk.language-missing", msg.Text("language", msg.NameOf(tag)), quoted("reason", reason))
}

// language goes on in another language. The boat, its steps back and what was typed stay.
func (d *Desk) language(r *Request, reply *Reply) error {
	// Answered anew and not translated: the same numbers come out, since words take part in none of them, and every
	// word is looked up once more.
	e, err := d.speaking(r.Value)
	if err != nil {
		return err
	}
	a, err := e.Answer(d.answer.Spec)
	if err != nil {
		return err
	}
	// An answer to why, and its repairs, are in the words of before: they are asked for again, or not missed.
	d.engine, d.answer, d.asked = e, a, nil
	d.cards = screen.Cards{}
	if err := d.searchAgain(reply); err != nil {
		return err
	}
	// Every panel has other words, also where its numbers are the same; those in view come with this reply.
	d.panels, d.shown = screen.Panels(e), map[string]string{}
	d.stale = make([]bool, len(d.panels))
	for i := range d.stale {
		d.stale[i] = true
	}
	d.look()
	reply.Frame = &Frame{d.view.Tag(), d.view.Title(), d.view.Frame()}
	return nil
}

// speaking is the desk's engine in a language of the book.
func (d *Desk) speaking(tag string) (*engine.Engine, error) {
	if tag == "" || tag == d.engine.Language().Tag() {
		return d.engine, nil
	}
	if slices.Contains(d.engine.Public().Languages, tag) {
		// made anew each time: it takes some milliseconds, and an engine that lies about takes megabytes
		if e, ok, err := d.engine.Speaking(tag); ok || err != nil {
			return e, err
		}
	}
	return nil, msg.Fault("desk.no-language", quoted("language", tag))
}

// inLanguage is the boat as an engine in another language answers it, for a paper.
func (d *Desk) inLanguage(tag string) (*engine.Engine, *engine.Answer, error) {
	// the price is the same in every language, so that the paper agrees with the page that it is made on
	e, err := d.speaking(tag)
	if err != nil || e == d.engine {
		return e, d.answer, err
	}
	a, err := e.Answer(d.answer.Spec)
	return e, a, err
}
