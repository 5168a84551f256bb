package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"

	"ribband/core/brief"
	"ribband/core/deals"
	"ribband/core/doc"
	"ribband/core/engine"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/spec"
)

// writePaper answers a spec with a paper. Flags are checked against each other before anything is computed; what desk
// may have which paper is the affair of the register.
func writePaper(ctx context.Context, c *console, args []string) error {
	f := newFlags(c, "quote", "quote -spec FILE [-book DIR] [-desk buyer|dealer|show|yard] [-dealer ID] "+
		"[-paper PAPER] [-shop SHOP] "+
		"[-format text|html|pdf|json|csv|ubl|ics|xlsx] [-size auto|A4|letter] [-language TAG] [-details FILE]")
	specFile := f.String("spec", "", "spec to answer, as JSON; - reads standard input")
	who := f.who(f.anyDesk())
	id := f.String("paper", "", "quotation, build-sheet or job-card; none: what the desk works with")
	shop := f.String("shop", "", "with -desk yard: the card of one shop by its id, as text or html; none: of the "+
		"whole boat")
	format := oneOf(f, "format", "of the paper; pdf is printed by Chromium, ubl is a UBL 2.4 Quotation, ics the "+
		"diary's "+
		"entries, xlsx the yard's materials, hours and prices", append(paper.Formats, asPDF)...)
	size := oneOf(f, "size", "of the printed pages; auto is what the printer has, and A4 for "+
		"pdf", autoSize, doc.A4, doc.Letter)
	language := f.String("language", "", "of the paper, one of the book's, such as nl; none: the first of the book")
	detailsFile := f.String("details", "", "number, date, customer and so on, as JSON; with it a quotation is frozen, "+
		"without it the paper is a draft")
	if err := f.parse(args); err != nil {
		return err
	}
	if *specFile == "" {
		return f.wrong("which spec? Give -spec FILE, or -spec - for standard input")
	}
	s, err := readSpec(c, *specFile)
	if err != nil {
		return err
	}
	packs, err := load(c, f.book)
	if err != nil {
		return err
	}
	p, err := who.pack(packs)
	if err != nil {
		return err
	}
	// Asked of the pack and not of the name of the desk: what a desk can do follows from its parts.
	if *shop != "" && (!p.Can(pack.Sheets) || !slices.Contains([]paper.Format{paper.AsText, paper.AsHTML,
		asPDF}, *format)) {
		return f.wrong("the card of a shop is the yard's, as text, html or pdf. Give -desk yard, and -format text, " +
			"html " +
			"or pdf")
	}
	e, err := engineIn(p, *language)
	if err != nil {
		return fmt.Errorf("writing a paper: %w", err)
	}
	a, err := boatOf(e, s, *specFile)
	if err != nil {
		return err
	}
	text, err := paperOf(ctx, e, a, *detailsFile, *id, *shop, *format, *size)
	if err != nil {
		return err
	}
	_, err = c.out.Write(text)
	return err
}

// asPDF is a paper as it is printed: the HTML of the paper, through a browser.
const asPDF paper.Format = "pdf"

// autoSize is the size of whatever the printer has.
const autoSize doc.Size = "auto"

// readSpec reads a spec. Whoever gives another of our files is told which it is and where it belongs: the error would
// otherwise speak of keys that nobody typed.
func readSpec(c *console, name string) (spec.Spec, error) {
	text, err := readFile(c, name)
	if err != nil {
		return spec.Spec{}, err
	}
	s, err := spec.Decode(text)
	if err == nil {
		return s, nil
	}
	if other := otherThanSpec(name, text); other != "" {
		return s, fmt.Errorf("reading the spec %s: it is %s", name, other)
	}
	return s, fmt.Errorf("%s: %w", name, err)
}

// All of these files lie beside each other in a folder of the office, and end in .json.

// otherThanSpec says what a file is that is no spec, and what to do with it; nothing where that is not known. A file
// says itself of which kind it is, or reads as one that has no kind.
func otherThanSpec(name string, text []byte) string {
	var of struct {
		Kind string `json:"kind"`
	}
	switch _ = json.Unmarshal(text, &of); of.Kind { // what is no JSON has no kind
	case quote.Kind:
		return "a saved quotation; open it on the quotation desk's page, or give -spec what stands under \"spec\" in it"
	case orders.Kind:
		return "an order; give -spec what stands under \"spec\" in its quotation, or ask plan, cards and change of it"
	case deals.Kind:
		return "the quotations of a device; take it in on the yard's desk, under \"Quotations on this device\""
	case brief.Kind:
		return "an answer to a brief; give -spec what stands under \"spec\" of one of its boats"
	case "":
	default:
		return fmt.Sprintf("of the kind %q; want a spec, which begins with {\"format\": %d, \"hull\": …", of.Kind,
			spec.Format)
	}
	// YAML is no JSON, and has no kind
	if slices.Contains([]string{".yaml", ".yml"}, filepath.Ext(name)) {
		return "a file of a book; give its folder as -book, and a spec as JSON"
	}
	// these two are written by hand and have no kind; a spec is neither, since their keys are others
	if _, err := brief.Decode(text); err == nil {
		return "a brief; give it to brief as -wishes"
	}
	if _, err := quote.DecodeDetails(text); err == nil {
		return "the details of a quotation; give it as -details, and a spec beside it"
	}
	return ""
}

// mostInput bounds what is read from a file or a pipe: the largest that a reader of core takes. A device such as
// /dev/zero has no end.
const mostInput = 64 << 20 // bytes

// readFile reads a file, or standard input for a name of "-".
func readFile(c *console, name string) ([]byte, error) {
	if name == "-" {
		text, err := readBounded(c.in)
		if err != nil {
			return nil, fmt.Errorf("reading standard input: %w", err)
		}
		return text, nil
	}
	return readNamed(name)
}

// readNamed reads a file by its name; an error names it, since a command may read several. What is wrong within the
// file is for its reader to say, with line and column.
func readNamed(name string) ([]byte, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	text, err := readBounded(file)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}
	return text, nil
}

// readBounded reads one byte more than is allowed, which tells a file of the greatest length from a longer one.
func readBounded(r io.Reader) ([]byte, error) {
	text, err := io.ReadAll(io.LimitReader(r, mostInput+1))
	if err == nil && len(text) > mostInput {
		err = fmt.Errorf("it has more than %d bytes, which no file of a boat has", mostInput)
	}
	return text, err
}

// boatOf answers the spec of a file. One that does not fit the book is an error: what the page shows as a note beside
// the boat would be lost on paper.
func boatOf(e *engine.Engine, s spec.Spec, name string) (*engine.Answer, error) {
	a, err := e.Answer(s)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if len(a.Notes) > 0 {
		return nil, fmt.Errorf("%s: answering the spec: %s", name, a.Notes[0].Message())
	}
	return a, nil
}

// paperOf writes a paper of the register by its ID; without one the customer's for the buyer and the show, for the yard
// its sheet or that of a shop.
func paperOf(ctx context.Context, e *engine.Engine, a *engine.Answer, detailsFile, id, shop string,
	format paper.Format, size doc.Size) (text []byte, err error) {
	// A paper needs the quotation that it is of; a draft says of itself that it is none.
	q := quote.Draft(e, a)
	if detailsFile != "" {
		if q, err = frozen(e, a, detailsFile); err != nil {
			return nil, err
		}
	}
	switch {
	// Whoever gives no paper gets what the desk works with, and a shop is always a sheet of it.
	case id != "":
	case shop != "":
		id = "job-card"
	case e.Can(pack.Sheets):
		id = "build-sheet"
	default:
		id = "quotation"
	}
	of, err := paper.Find(id, e)
	if err != nil {
		return nil, err
	}
	made, err := of.Of(e, a, q, shop)
	if err != nil {
		return nil, err
	}
	made.Size = size
	// a print of a draft bears the day of the price book
	day := q.Date
	if day == "" {
		day = e.Public().Edition.Date
	}
	return writeAs(ctx, of, made, format, day)
}

// frozen makes a quotation with number, date and customer. The date is one of the details: nothing asks a clock, so
// that the same files give the same paper.
func frozen(e *engine.Engine, a *engine.Answer, detailsFile string) (*quote.Quote, error) {
	text, err := readNamed(detailsFile)
	if err != nil {
		return nil, err
	}
	d, err := quote.DecodeDetails(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", detailsFile, err)
	}
	return quote.Freeze(e, a, d)
}
