package desk

import (
	"encoding/json"
	"fmt"
	"reflect"

	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/quote"
	"ribband/core/spec"
)

// A session is what a desk knows beyond the book: the boat, the customer, the quotation that was opened, and the boats
// that undo goes back to. The page holds it, told piece by piece in the replies ([Reply.Spec], [Reply.Now],
// [Reply.Back], [Reply.Steps]), so that an engine that dies or hangs is followed by another that goes on where it was.
// What is only shown is left behind: a reason that was asked for, a search for a boat.

// kept is a step, or the present, as the page holds it: text that only a desk reads.
type kept struct {
	What        string             `json:"what,omitempty"`
	Spec        json.RawMessage    `json:"spec,omitempty"` // none of the present: the reply has it already
	Quote       json.RawMessage    `json:"quote,omitempty"`
	Differences []quote.Difference `json:"differences,omitempty"`
	Customer    bool               `json:"customer,omitempty"`
	Details     *quote.Details     `json:"details,omitempty"`
	Quoted      string             `json:"quoted,omitempty"`
	System      measure.System     `json:"system,omitempty"` // of the present alone: undo leaves the units
}

// text writes what is kept of a step. Quotation and spec go in as their packages write them, so that what comes back is
// read by the same checks as a file.
func (s step) text(withSpec bool, system measure.System) string {
	k := kept{What: s.what, Differences: s.differences, Customer: s.customer, Quoted: s.quoted, System: system}
	if withSpec {
		k.Spec = s.spec.Encode()
	}
	if s.reopened != nil {
		k.Quote = s.reopened.Encode()
	}
	// Also of a quotation that was refused: what a person typed is there again to be corrected.
	if !reflect.ValueOf(s.details).IsZero() {
		k.Details = &s.details
	}
	text, err := json.Marshal(k)
	if err != nil { // every type here marshals
		panic(fmt.Sprintf("writing a step: %v", err))
	}
	return string(text)
}

// readStep reads a step that [step.text] wrote; the present's spec comes beside it.
func readStep(text, present string) (s step, system measure.System, err error) {
	k, err := spec.Strictly[kept]([]byte(text), mostKept)
	if err != nil {
		return s, "", err
	}
	if present == "" {
		present = string(k.Spec)
	}
	if s.spec, err = spec.Decode([]byte(present)); err != nil {
		return s, "", err
	}
	s.what, s.differences, s.customer, s.quoted = k.What, k.Differences, k.Customer, k.Quoted
	if k.Details != nil {
		s.details = *k.Details
	}
	if len(k.Quote) > 0 {
		s.reopened, err = quote.Decode(k.Quote)
	}
	return s, k.System, err
}

// mostKept bounds a step in bytes: the spec and the quotation in it have bounds of their own below it.
const mostKept = 4 << 20

// tell puts into a reply what the page holds of the session.
func (d *Desk) tell(pushed bool, reply *Reply) {
	reply.Steps = len(d.past)
	if pushed {
		reply.Back = d.past[len(d.past)-1].text(true, "")
	}
	// The step that is added is told once; the page keeps the row of them.
	present := step{reopened: d.reopened, differences: d.differences, details: d.details, quoted: d.quoted}
	reply.Now = present.text(false, d.system)
}

// restore takes up a session where another desk left it: Text is the spec, Now and Past are as the replies told them. A
// step that cannot be read ends how far undo goes back; the boat is never given up for it.
func (d *Desk) restore(r *Request, _ *Reply) error {
	now, system, err := readStep(r.Now, r.Text)
	if err != nil {
		return msg.Fault("desk.not-restored", msg.Words("reason", msg.Of(err)))
	}
	if err := d.openSpec(now.spec); err != nil {
		return msg.Fault("desk.not-restored", msg.Words("reason", msg.Of(err)))
	}
	if system != "" {
		d.system = system
	}
	d.details, d.quoted, d.reopened, d.differences = now.details, now.quoted, now.reopened, now.differences
	d.past = nil
	for i := len(r.Past) - 1; i >= 0 && len(d.past) < mostSteps; i-- { // newest first
		s, _, err := readStep(r.Past[i], "")
		if err != nil {
			break
		}
		d.past = append([]step{s}, d.past...)
	}
	return nil
}
