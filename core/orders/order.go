// Package orders is what becomes of a quotation that a customer has accepted: the orders of a yard as files in a
// folder, the load that they are for the shops, the plan of their launches, what has to be bought for them by when,
// what a change comes to while a boat is being built, what is due and paid, and what is known of a boat that is there.
//
// An order holds its quotation as it was issued, and of the work only what happened: what is left to do follows from
// the book of today each time. Nothing here opens a file or reads a clock; package web does the one, and the day of a
// plan comes from outside or from the orders.
//
// It does not schedule: that is package plan, which knows no book. It states nothing of money but what the quotation
// and the engine do. A plan is an expectation; what is promised to a customer is promised by a person.
package orders

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"ribband/core/measure"
	"ribband/core/money"
	"ribband/core/quote"
	"ribband/core/spec"
)

// Order is a quotation that was accepted, and how far its boat is. It is one file of the folder of orders; what was
// done and paid is entered by commands of package web, or by hand.
type Order struct {
	Kind   string `json:"kind"`
	Format int    `json:"format"`
	Number string `json:"number"` // of the yard's own counting, as 2027-014; the name of the file without its ending

	// on which the customer said yes; its material is ordered on that day
	Accepted Day  `json:"accepted"`
	Promised Week `json:"promised"` // in which the boat is to be launched

	// as it was issued, with its signature
	Quotation json.RawMessage `json:"quotation"`
	// in the order in which they were accepted; the last one says what is built and for when it is promised
	Changes []Change `json:"changes,omitempty"`

	// Operations that are done or begun, each once, in any order. What is not here is still to do, whatever day it is.
	Done []Step `json:"done,omitempty"`
	// What came in. When a stage is due follows from the work; the yard asks for it, and enters here what it got.
	Paid []Payment `json:"paid,omitempty"`
	// What is known of the boat itself, for its file; nothing before it is there.
	Built *Built `json:"built,omitempty"`

	quotes []*quote.Quote // of Quotation and of each change, in this order

	// a change that is asked for and not accepted yet, and the day on which it would be
	pending *spec.Spec
	asked   Day
}

// Change is a change order that was accepted: another revision of the quotation, with what the change itself costs
// among its extra items.
type Change struct {
	Accepted  Day             `json:"accepted"`
	Promised  Week            `json:"promised"` // from then on
	Quotation json.RawMessage `json:"quotation"`
}

// Step is an operation that was worked on, as the card of its shop says it. One without a day of its end is under way:
// its hours are those until now, and the rest follows from the book. Days are whole; who needs hours of the day in a
// yard has a clock on the wall.
type Step struct {
	Operation string        `json:"operation"`
	Begun     Day           `json:"begun"`
	Done      Day           `json:"done,omitzero"`
	Hours     measure.Hours `json:"hours"` // of all hands, until now
}

// Payment is what came in for a stage. Several may come in for one, and less than is due.
type Payment struct {
	Stage  string       `json:"stage"` // as the quotation calls it
	On     Day          `json:"on"`
	Amount money.Amount `json:"amount"`
}

// Kind and Format are those of the file of an order.
const (
	Kind   = "order of a launch"
	Format = 1
)

// maxBytes bounds a file read from outside: an order has a quotation of at most 4 MB, and as many for its changes as
// anybody has patience for.
const maxBytes = 32 << 20

// Decode reads the file of an order and checks what can be checked without the book. The error names the place and the
// remedy.
func Decode(text []byte) (*Order, error) {
	o, err := decode(text)
	if err != nil {
		return nil, fmt.Errorf("reading an order: %w", err)
	}
	return o, nil
}

// decode is [Decode] without the word of what was attempted: an order that is made anew is no file that is read.
func decode(text []byte) (*Order, error) {
	o, err := spec.Strictly[Order](text, maxBytes)
	if err == nil {
		err = o.check()
	}
	return &o, err
}

// Encode writes the order as indented JSON; the same order gives the same bytes. Quotations keep their own, up to the
// indentation, over which a signature does not go.
func (o *Order) Encode() ([]byte, error) {
	text, err := json.MarshalIndent(o, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("writing the order %s: %w", o.Number, err)
	}
	return append(text, '\n'), nil
}

// Quote is what is built: the quotation of the last change, or the first one.
func (o *Order) Quote() *quote.Quote { return o.quotes[len(o.quotes)-1] }

// Quotes are the quotation and those of the changes, in the order in which they were accepted.
func (o *Order) Quotes() []*quote.Quote { return o.quotes }

// spec is what is built, or would be with a change that is asked for.
func (o *Order) spec() spec.Spec {
	if o.pending != nil {
		return *o.pending
	}
	return o.Quote().Spec
}

// Promise is the week in which the boat is to be launched.
func (o *Order) Promise() Week {
	if len(o.Changes) > 0 {
		return o.Changes[len(o.Changes)-1].Promised
	}
	return o.Promised
}

// check says what cannot stand in an order. Whether the book knows what was done, only a plan can say.
func (o *Order) check() error {
	switch {
	case o.Kind != Kind:
		return fmt.Errorf("kind: want %q, not %.40q", Kind, o.Kind)
	case o.Format != Format:
		return fmt.Errorf("format: it is %d, this program reads %d", o.Format, Format)
	case !validNumber(o.Number):
		return fmt.Errorf("number: give one of 1 to %d letters, digits, hyphens and underscores, as 2027-014",
			maxNumber)
	case o.Accepted.IsZero():
		return fmt.Errorf("accepted: give the day on which the order was taken, as 2027-01-18")
	case o.Promised == Week{}:
		return fmt.Errorf("promised: give the week of the launch, as 2027-W22")
	}
	if err := o.readQuotes(); err != nil {
		return err
	}
	if err := o.checkSteps(); err != nil {
		return err
	}
	if err := o.checkPaid(); err != nil {
		return err
	}
	return o.checkBuilt()
}

// maxNumber is the most characters of a number: it is the name of a file, and stands in narrow columns.
const maxNumber = 40

// validNumber says whether a number can be the name of a file on any machine, and leads out of no folder.
func validNumber(text string) bool {
	const marks = "-_"
	plain := strings.Trim(text, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"+marks) == ""
	return plain && len(text) > 0 && len(text) <= maxNumber && !strings.ContainsAny(text[:1], marks)
}

// readQuotes reads the quotation and those of the changes. They are of one number, and each revision is a later one.
func (o *Order) readQuotes() error {
	// a quotation that was changed by hand is refused by its own reader, with the place in it
	read := func(place string, text json.RawMessage) error {
		if len(bytes.TrimSpace(text)) == 0 {
			return fmt.Errorf("%s: put the quotation here that was accepted, as its file has it", place)
		}
		q, err := quote.Decode(text)
		if err != nil {
			return fmt.Errorf("%s: %w", place, err)
		}
		if q.Number == "" {
			return fmt.Errorf("%s: it is a draft, which has no number; order what was issued", place)
		}
		o.quotes = append(o.quotes, q)
		return nil
	}
	if err := read("quotation", o.Quotation); err != nil {
		return err
	}
	// each change is of the boat that the one before left
	last := o.Accepted
	for i, c := range o.Changes {
		place := fmt.Sprintf("changes[%d]", i)
		if err := read(place+".quotation", c.Quotation); err != nil {
			return err
		}
		was, now := o.quotes[i], o.quotes[i+1]
		switch {
		case now.Number != was.Number || now.Revision <= was.Revision:
			return fmt.Errorf("%s.quotation: want a later revision of %s than %d, not %s revision %d", place,
				was.Number, was.Revision, now.Number, now.Revision)
		case c.Accepted.Before(last):
			return fmt.Errorf("%s.accepted: %s is before %s, on which it changes an order", place, c.Accepted, last)
		case c.Promised == Week{}:
			return fmt.Errorf("%s.promised: give the week of the launch, as 2027-W22", place)
		}
		last = c.Accepted
	}
	return nil
}

// maxHours bounds what one operation may have taken: it is more than a boat takes in all, so that a slip of the
// keyboard is seen.
const maxHours = measure.Hours(10_000 * 1_000_000)

// checkSteps looks at what was done, as far as that does not need the book.
func (o *Order) checkSteps() error {
	for i, s := range o.Done {
		place := fmt.Sprintf("done[%d]", i)
		earlier := slices.IndexFunc(o.Done[:i], func(t Step) bool { return t.Operation == s.Operation })
		switch {
		case s.Operation == "":
			return fmt.Errorf("%s.operation: name one of the book", place)
		case earlier >= 0:
			return fmt.Errorf("%s.operation: %q stands in done[%d] already; put their hours together", place,
				s.Operation, earlier)
		case s.Begun.IsZero():
			return fmt.Errorf("%s.begun: give the day on which %q was begun, as 2027-02-01", place, s.Operation)
		case !s.Done.IsZero() && s.Done.Before(s.Begun):
			return fmt.Errorf("%s.done: %s is before %s, on which %q was begun", place, s.Done, s.Begun, s.Operation)
		case s.Hours < 0 || s.Hours > maxHours:
			return fmt.Errorf("%s.hours: %s h for %q; want 0 to %s h", place, s.Hours, s.Operation, maxHours)
		}
	}
	return nil
}

// checkPaid looks at what came in. A payment may be below zero: it was paid back.
func (o *Order) checkPaid() error {
	for i, p := range o.Paid {
		place := fmt.Sprintf("paid[%d]", i)
		stages := o.Quote().Price.Stages
		known := make([]string, len(stages))
		for k, s := range stages {
			known[k] = s.Title
		}
		switch {
		case !slices.Contains(known, p.Stage):
			return fmt.Errorf("%s.stage: the quotation has no %.60q; its stages are %q", place, p.Stage, known)
		case p.On.IsZero():
			return fmt.Errorf("%s.on: give the day on which it came in, as 2027-02-01", place)
		}
	}
	return nil
}
