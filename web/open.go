package main

import (
	"context"
	"fmt"
	"strings"

	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/seal"
)

// open is for the day on which somebody comes back with a quotation: whether the yard wrote it is asked of the
// signature, whether it adds up of the engine. One does not stand for the other: what was signed may be of an old
// edition, and what the book gives today anybody can have computed.

// OpenReport is what open -json prints.
type OpenReport struct {
	Number    string           `json:"number"`
	Customer  string           `json:"customer"`
	Signature quote.Verdict    `json:"signature"`
	Edition   pack.Edition     `json:"edition"`         // that it was made from
	Book      pack.Edition     `json:"book"`            // that it was recomputed against
	AsQuoted  bool             `json:"as_quoted"`       // the book gives exactly the same
	Fault     string           `json:"fault,omitempty"` // why it could not be recomputed
	Different []OpenDifference `json:"differences"`     // none where it is as quoted
	Sound     bool             `json:"sound"`           // as quoted, and nothing is wrong with its signature
}

// OpenDifference is a [quote.Difference] in English.
type OpenDifference struct {
	Place string `json:"place"` // where it stands on the paper
	Was   string `json:"was"`   // in the file; "" where it was not there
	Now   string `json:"now"`   // by the book; "" where it is no more
}

// openFile says what it found in any case, and its exit code whether that is enough.
func openFile(_ context.Context, c *console, args []string) error {
	f := newFlags(c, "open", "open [-book DIR] [-json] [-unsigned] FILE")
	asJSON := f.Bool("json", false, "print the findings as JSON")
	unsigned := f.Bool("unsigned", false, "take a file that nobody has signed yet, such as one fresh from a desk")
	f.about = "Says whether a quotation is what the yard issued: by its signature, and by computing price and boat " +
		"anew. " +
		"Exit code: 0 signed and as quoted; 1 it differs, or its signature is missing or wrong; 2 it is no quotation " +
		"that this program reads. Where the book has no signing_keys, a file without a signature is taken as it is."
	name, err := f.parseFile(args)
	if err != nil {
		return err
	}
	o, err := openQuotation(c, name, f.book)
	if err != nil {
		return err
	}
	r := o.report(*unsigned)
	if *asJSON {
		err = printJSON(c.out, r)
	} else {
		o.print(c, r)
	}
	if err == nil && !r.Sound {
		return errFaults
	}
	return err
}

// openedQuotation is a quotation from a file beside what a book gives for it.
type openedQuotation struct {
	quote       *quote.Quote
	pack        *pack.Pack // the yard's
	engine      *engine.Engine
	answer      *engine.Answer
	differences []quote.Difference
	fault       error // why there is no answer
	verdict     quote.Verdict
}

// notUnderstood is a file that is none of ours, or of another version. It has an exit code of its own, as a command has
// that was not understood: a script that looks through a folder can tell what is none of its business from what was
// tampered with.
type notUnderstood struct{ error }

// openQuotation reads a quotation and answers it by a book. A file that is no quotation is not understood; one that
// claims to be a quotation and is damaged is an error.
func openQuotation(c *console, name, folder string) (*openedQuotation, error) {
	text, err := readFile(c, name)
	if err != nil {
		return nil, err
	}
	if !quote.Readable(text) {
		return nil, notUnderstood{fmt.Errorf("opening %s: it is no quotation that this program reads: a JSON text of "+
			"kind %q and format %d", name, quote.Kind, quote.Format)}
	}
	o := &openedQuotation{}
	if o.quote, err = quote.Decode(text); err != nil {
		return nil, fmt.Errorf("opening %s: %w", name, err)
	}
	// after the file, which is read in no time, since loading takes a second; a book that has errors gives no answer:
	// what it said of a quotation would be as wrong as it is
	packs, err := load(c, folder)
	if err != nil {
		return nil, err
	}
	// the yard's desk: it computes what every other one does, and names costs where they differ
	o.pack = packs[pack.Yard]
	if o.engine, err = engine.Compile(o.pack); err != nil {
		return nil, err
	}
	if o.verdict, err = verdictOf(o.quote, keysOf(o.pack)); err != nil {
		return nil, fmt.Errorf("opening %s: %w", name, err)
	}
	_, o.answer, o.differences, o.fault = quote.Reopen(o.engine, o.quote)
	return o, nil
}

// verdictOf verifies the signature over the quotation as it would be written: what differs from that in the file
// itself, an indentation, is found by [quote.Reopen].
func verdictOf(q *quote.Quote, keys []seal.Key) (quote.Verdict, error) {
	payload, err := seal.Canonical(q.Unsigned())
	if err != nil {
		return "", err
	}
	err = seal.Verify(keys, q.Signature, payload)
	switch {
	case err == nil:
		return quote.Signed, nil
	case seal.Is(err, seal.NotSigned):
		return quote.NotSigned, nil
	case seal.Is(err, seal.OtherKey) && len(keys) == 0:
		return quote.Unchecked, nil
	case seal.Is(err, seal.OtherKey):
		return quote.OtherKey, nil
	case seal.Is(err, seal.Mismatch):
		return quote.Mismatch, nil
	}
	return "", err
}

// report says what was found. Where the book has keys a file without a signature proves nothing: whoever wants to
// pass off a price takes the signature out.
func (o *openedQuotation) report(unsigned bool) *OpenReport {
	q := o.quote
	r := &OpenReport{Number: q.Number, Customer: q.Customer.Name, Signature: o.verdict, Edition: q.Edition,
		Book: o.pack.Edition, Different: []OpenDifference{}, AsQuoted: o.fault == nil && len(o.differences) == 0}
	if o.fault != nil {
		r.Fault = o.fault.Error()
	}
	for _, d := range o.differences {
		r.Different = append(r.Different, OpenDifference{d.Place.String(), d.Was.String(), d.Now.String()})
	}
	// a signature that nobody can verify is no better than none where one is expected
	proved := o.verdict == quote.Signed ||
		o.verdict == quote.NotSigned && (unsigned || len(o.pack.SigningKeys) == 0)
	r.Sound = r.AsQuoted && proved
	return r
}

// print writes for a person, in the order of the questions: what is it, who wrote it, does it still hold.
func (o *openedQuotation) print(c *console, r *OpenReport) {
	fmt.Fprintf(c.out, "Quotation %s of %s, %s\nEdition:   %s\nBook:      %s\nSignature: %s\n", r.Number,
		o.quote.Date, r.Customer, editionOf(r.Edition), editionOf(r.Book), o.verdict.Message())
	switch {
	case r.Fault != "":
		fmt.Fprintf(c.out, "This book cannot compute it: %s\n", r.Fault)
	case r.AsQuoted:
		fmt.Fprintln(c.out, "As quoted: this book gives exactly the same.")
	default:
		fmt.Fprintf(c.out, "This book gives something else:\n%s", differenceLines(o.differences))
	}
}

// differenceLines are the differences as an owner reads them, one a line.
func differenceLines(list []quote.Difference) string {
	var b strings.Builder
	for _, d := range list {
		fmt.Fprintf(&b, "  %s: %s -> %s\n", d.Place, orNothing(d.Was.String()), orNothing(d.Now.String()))
	}
	return b.String()
}

func orNothing(s string) string {
	if s == "" {
		return "nothing"
	}
	return s
}
