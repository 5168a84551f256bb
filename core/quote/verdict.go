package quote

import "ribband/core/msg"

// Verdict is what became of verifying a quote's signature with the yard's keys. Whoever can compute it does: core/seal
// on the command line, the browser in the page. It says who issued the file; [Reopen] says whether it adds up.
type Verdict string

// The page sends them by these words.
const (
	Signed    Verdict = "signed"    // by this yard, and unchanged since
	NotSigned Verdict = "unsigned"  // nobody signed it
	OtherKey  Verdict = "other-key" // signed, but not by this yard
	Mismatch  Verdict = "mismatch"  // changed since it was signed
	Unchecked Verdict = "unchecked" // the browser verifies nothing here, or the book has no keys
)

// Message says it to a person; nothing for a verdict that is not known.
func (v Verdict) Message() msg.Message {
	switch v {
	case Signed:
		return msg.New("quote.signed")
	case NotSigned:
		return msg.New("seal.not-signed")
	case OtherKey:
		return msg.New("seal.other-key")
	case Mismatch:
		return msg.New("seal.mismatch")
	case Unchecked:
		return msg.New("quote.unchecked")
	}
	return msg.Message{}
}

// Bad says that somebody made or changed the file who is not the yard. A file that nobody signed proves nothing either
// way.
func (v Verdict) Bad() bool { return v == OtherKey || v == Mismatch }
