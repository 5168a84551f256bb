package quote

import (
	"bytes"
	"encoding/json"
	"fmt"

	"ribband/core/msg"
	"ribband/core/spec"
)

// Encode writes the quote as indented JSON; the same answer and details give the same bytes.
func (q *Quote) Encode() []byte {
	// indented, since people look into such a file, and the line of a damage is named to them
	text, err := json.MarshalIndent(q, "", "  ")
	if err != nil { // every type here marshals
		panic(fmt.Sprintf("writing a quote: %v", err))
	}
	return append(text, '\n')
}

// Unsigned is the file without its signature: what a signature covers, once it is in its canonical form.
func (q *Quote) Unsigned() []byte {
	c := *q
	c.Signature = ""
	return c.Encode()
}

// claim is what a file says of itself. It is read before the rest and without regard to it.
type claim struct {
	Kind   string `json:"kind"`
	Format int    `json:"format"`
}

// Is says whether a text claims to be a quote, sound or not.
func Is(text []byte) bool {
	var c claim
	return json.Unmarshal(text, &c) == nil && c.Kind != ""
}

// Readable says whether a text is a quote of the version that this package reads, sound or not.
func Readable(text []byte) bool {
	var c claim
	return json.Unmarshal(text, &c) == nil && c.fault() == nil
}

// maxBytes bounds a quote read from outside.
const maxBytes = 4 << 20

// Decode reads what Encode writes. The error names the place and the remedy, and is a [msg.Error]; nothing is dropped
// silently.
func Decode(text []byte) (*Quote, error) {
	q, err := spec.Strictly[Quote](text, maxBytes)
	// A file of another format has keys that are not known here. To be told of those would help nobody.
	var c claim
	if json.Unmarshal(text, &c) == nil {
		if fault := c.fault(); fault != nil && (err == nil || c.Kind != "") {
			err = fault
		}
	}
	if err == nil {
		err = q.check()
	}
	if err != nil {
		return nil, caused("quote.reading", err)
	}
	// kept as it was, so that [Reopen] can name a line that no part of the comparison sees
	q.text = bytes.Clone(text)
	return &q, nil
}

// fault says why a file is none that this program reads.
func (c *claim) fault() error {
	switch {
	case c.Kind == "":
		return msg.Fault("quote.no-kind")
	case c.Kind != Kind:
		return msg.Fault("quote.another-kind", cut("kind", c.Kind))
	case c.Format > Format:
		return msg.Fault("quote.newer", msg.Count("format", c.Format), msg.Count("known", Format))
	case c.Format < Format:
		return msg.Fault("quote.older", msg.Count("format", c.Format), msg.Count("known", Format))
	}
	return nil
}

// check says what in a quote could not have been written by [Freeze] or [Draft].
func (q *Quote) check() error {
	if err := checkText("language", q.Language, maxLine); err != nil {
		return err
	}
	if err := q.Details.check(); err != nil {
		return err
	}
	if err := q.Spec.Check(); err != nil {
		return caused("quote.in-the-spec", err)
	}
	if n := len(q.Encode()); n > maxBytes {
		return msg.Fault("quote.too-long", msg.Count("bytes", n), msg.Count("most", maxBytes))
	}
	return nil
}
