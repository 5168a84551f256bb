package quote

import (
	"bytes"
	"fmt"
	"strings"

	"ribband/core/engine"
	"ribband/core/msg"
)

// Difference is one thing that a quote says and a fresh answer to its spec does not. All three are messages, so that
// who opened the quote reads them in his own language, whatever the quotation was written in.
type Difference struct {
	Place msg.Message // where it stands on the paper
	Was   msg.Message // in the quote; empty where it was not there
	Now   msg.Message // in the fresh answer; empty where it is no more
	Part  string      // PartPrice or PartFigures; "" for all else
}

// Parts of a quotation that a paper sets side by side line by line.
const (
	PartPrice   = "price"
	PartFigures = "figures"
)

// Reopen answers the spec of a quote anew and freezes it with the same details. Against the edition that the quote was
// made from, the fresh quote is the same byte for byte, and there are no differences unless the file was changed by
// hand: the details, with which nothing can be compared, are under the digest of the file. Against another edition the
// differences name each change of price, specification and figures. A boat that the edition no longer builds is a draft
// with its clashes.
//
// The fresh quote is in the language of the other, or every word would be a difference. One that the program does not
// speak is compared in English; then its language is the first difference, which says why the rest differs.
func Reopen(e *engine.Engine, q *Quote) (fresh *Quote, a *engine.Answer, differences []Difference, err error) {
	e, err = inLanguage(e, q.Language)
	if err == nil {
		a, err = e.Answer(q.Spec)
	}
	if err != nil {
		return nil, nil, nil, caused("quote.reopening", err, cut("number", q.Number))
	}
	fresh = DraftIn(e, a, q.Units)
	fresh.Details = q.Details
	if q.Spec.Dealer == "" { // a customer's file names his firm alone
		fresh.Dealer = q.Dealer
	}
	// a draft has no digest to compare; a number without one is a file that somebody made
	if q.Digest != "" || q.Number != "" {
		fresh.Digest = fresh.sum()
	}
	// what the edition does not know any more comes first: most of the rest follows from it
	for _, n := range a.Notes {
		differences = append(differences, Difference{Place: msg.Plain(n.Place),
			Was: msg.New("quote.in-the-quote"), Now: msg.Of(n.Fault())})
	}
	return fresh, a, append(append(differences, q.damage()...), Compare(q, fresh)...), nil
}

// inLanguage is the engine in the language of a quote, or in English, the one that every program has.
func inLanguage(e *engine.Engine, tag string) (*engine.Engine, error) {
	in, ok, err := e.Speaking(tag)
	if ok || err != nil {
		return in, err
	}
	return e.In(msg.English)
}

// Intact says that a quotation is as it was issued, by its digest; of a draft, which has none, nothing can be said.
// How its file is indented does not matter.
func (q *Quote) Intact() bool { return q.Number == "" || q.Digest == q.sum() }

// damage says where the file of a quote is not as it was written, whatever the edition.
func (q *Quote) damage() (list []Difference) {
	if !q.Intact() {
		list = append(list, Difference{Place: msg.New("quote.digest"), Was: msg.Plain(q.Digest),
			Now: msg.Plain(q.sum())})
	}
	if q.text != nil {
		if d, differ := firstLine(q.text, q.Encode()); differ {
			list = append(list, d)
		}
	}
	return list
}

// firstLine finds the first line in which two files differ; every further one follows from it as often as not, and a
// person looks there anyway.
func firstLine(was, now []byte) (d Difference, differ bool) {
	if bytes.Equal(was, now) {
		return d, false
	}
	old, fresh := strings.Split(string(was), "\n"), strings.Split(string(now), "\n")
	i := 0
	for i < min(len(old), len(fresh)) && old[i] == fresh[i] {
		i++
	}
	// in quotes, or nobody would see a blank that is too many
	line := func(list []string) msg.Message {
		if i >= len(list) {
			return msg.Message{}
		}
		return msg.Plain(fmt.Sprintf("%.120q", list[i]))
	}
	return Difference{Place: msg.New("quote.line", msg.Count("n", i+1)), Was: line(old), Now: line(fresh)}, true
}
