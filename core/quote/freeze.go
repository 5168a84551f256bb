package quote

import (
	"crypto/sha256"
	"encoding/hex"
	"strconv"
	"strings"
	"time"

	"ribband/core/engine"
	"ribband/core/msg"
)

// Freeze makes a quote of an answer. It refuses a boat that clashes, a spec that was not wholly understood, a price
// beyond the salesperson's authority without an approval, details without number or date, what cannot stand on the
// boat's plates, and what [Decode] would not read. What a salesperson has to do about it is in the error, a
// [msg.Error].
func Freeze(e *engine.Engine, a *engine.Answer, d Details) (*Quote, error) {
	err := settled(a, d.Approval)
	if err == nil {
		err = d.dated(e.Pack.ValidityDays)
	}
	if err == nil {
		err = d.check()
	}
	if err == nil {
		err = checkPlates(e, a.Build, d)
	}
	if err == nil {
		err = a.Spec.Check()
	}
	if err != nil {
		return nil, caused("quote.freezing", err)
	}
	// the same way as a draft, so that what was shown and what is issued cannot differ
	q := DraftIn(e, a, d.Units)
	q.Details = d
	q.Digest = q.sum()
	if _, err := Decode(q.Encode()); err != nil { // a quotation that cannot be opened is none
		return nil, caused("quote.freezing", caused("quote.not-opened-again", err))
	}
	return q, nil
}

// settled says what is still open of an answer that is to be quoted. Warnings are of what a salesperson may not give
// by himself, so somebody has to answer for it by name.
func settled(a *engine.Answer, approval string) error {
	switch {
	case len(a.Build.Clashes) > 0:
		return msg.Fault("quote.cannot-be-built", msg.Words("reason", engine.Because(a.Build.Clashes[0])))
	case len(a.Notes) > 0:
		return msg.Fault("quote.not-understood", msg.Words("note", a.Notes[0].Message()))
	case len(a.Warnings) > 0 && strings.TrimSpace(approval) == "":
		return msg.Fault("quote.no-approval", msg.Words("warnings", msg.Sentences(a.Warnings...)))
	}
	return nil
}

// dated says what is missing for a document that binds somebody: its number and its day. Until when it is valid follows
// from the day and the days of the book, where it is not given.
func (d *Details) dated(validDays int) error {
	if strings.TrimSpace(d.Number) == "" {
		return msg.Fault("quote.no-number")
	}
	day, err := time.Parse(time.DateOnly, d.Date)
	if err != nil {
		return msg.Fault("quote.no-date", cut("date", d.Date))
	}
	if d.ValidUntil == "" {
		d.ValidUntil = day.AddDate(0, 0, validDays).Format(time.DateOnly)
	}
	if until, err := time.Parse(time.DateOnly, d.ValidUntil); err != nil || until.Before(day) {
		return msg.Fault("quote.not-valid-until", cut("date", d.ValidUntil))
	}
	return nil
}

// sum is the digest of the quote as it would be written without one, and without what was put on it afterwards.
func (q *Quote) sum() string {
	c := *q
	c.Digest, c.Signature = "", ""
	sum := sha256.Sum256(c.Encode())
	return hex.EncodeToString(sum[:])
}

// caused is a message about an error below it, which is its argument "problem".
func caused(code msg.Code, err error, args ...msg.Arg) error {
	return &msg.Error{Message: msg.New(code, append(args, msg.Words("problem", msg.Of(err)))...), Cause: err}
}

// cut is a text from outside within an error: what does not fit on a line helps nobody, and what cannot be seen is
// written as an escape.
func cut(name, text string) msg.Arg {
	const most = 40 // characters
	if runes := []rune(text); len(runes) > most {
		text = string(runes[:most]) + "…"
	}
	quoted := strconv.Quote(text)
	return msg.Text(name, strings.ReplaceAll(quoted[1:len(quoted)-1], `\"`, `"`))
}
