package main

import (
	"context"
	"fmt"
	"io"
	"os"

	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/spec"
)

func writePaper(_ context.Context, c *console, args []string) error {
	f := flags(c, "quote", "quote -spec FILE [-book DIR] [-desk buyer|show|yard] [-paper PAPER] [-shop SHOP] "+
		"[-format text|html|json|csv] [-details FILE]")
	folder := f.String("book", "rules", "folder of the book")
	specFile := f.String("spec", "", "spec to answer, as JSON; - reads standard input")
	deskName := f.String("desk", "buyer", "who is looking: buyer, show or yard")
	id := f.String("paper", "", "quotation, build-sheet or shop-sheet; none: what the desk works with")
	shop := f.String("shop", "", "with -desk yard: the sheet of one shop by its id, as text or html; none: of the "+
		"whole boat")
	formatName := f.String("format", "text", "text, html, json or csv")
	detailsFile := f.String("details", "", "number, date, customer and so on, as JSON; with it a quotation is frozen, "+
		"without it the paper is a draft")
	if err := parse(f, args); err != nil {
		return err
	}
	desk, err := pack.DeskOf(*deskName)
	if err != nil {
		return usageError{err}
	}
	format, err := paper.FormatOf(*formatName)
	if err != nil {
		return usageError{err}
	}
	if *specFile == "" {
		return usageError{fmt.Errorf("quote: which spec? Give -spec FILE, or -spec - for standard input")}
	}
	s, err := readSpec(c, *specFile)
	if err != nil {
		return err
	}
	packs, err := load(c, *folder)
	if err != nil {
		return err
	}
	if *shop != "" && (!packs[desk].Can(pack.Sheets) || format != paper.AsText && format != paper.AsHTML) {
		return usageError{fmt.Errorf("quote: the sheet of a shop is the yard's, as text or html. Give -desk yard, " +
			"and -format text or html")}
	}
	text, err := paperOf(packs[desk], s, *detailsFile, *id, *shop, format)
	if err != nil {
		return err
	}
	_, err = c.out.Write(text)
	return err
}

func readSpec(c *console, name string) (spec.Spec, error) {
	text, err := readFile(c, name)
	if err != nil {
		return spec.Spec{}, err
	}
	s, err := spec.Decode(text)
	switch {
	case err == nil:
		return s, nil
	case quote.Is(text):
		return s, fmt.Errorf("reading the spec %s: it is a saved quotation; open it on the quotation desk's page, or "+
			"give -spec what stands under \"spec\" in it", name)
	}
	return s, fmt.Errorf("%s: %w", name, err)
}

func readFile(c *console, name string) ([]byte, error) {
	if name == "-" {
		text, err := io.ReadAll(c.in)
		if err != nil {
			return nil, fmt.Errorf("reading standard input: %w", err)
		}
		return text, nil
	}
	return os.ReadFile(name)
}

// paperOf writes a paper of the register by its ID; without one the customer's for the buyer and the show, for the yard
// its sheet or that of a shop.
func paperOf(p *pack.Pack, s spec.Spec, detailsFile, id, shop string, format paper.Format) ([]byte, error) {
	e, err := engine.Compile(p)
	if err != nil {
		return nil, err
	}
	a, err := e.Answer(s)
	if err != nil {
		return nil, err
	}
	if len(a.Notes) > 0 {
		return nil, fmt.Errorf("answering the spec: %s", a.Notes[0].Message())
	}
	q := quote.Draft(e, a)
	if detailsFile != "" {
		if q, err = frozen(e, a, detailsFile); err != nil {
			return nil, err
		}
	}
	switch {
	case id != "":
	case shop != "":
		id = "shop-sheet"
	case p.Can(pack.Sheets):
		id = "build-sheet"
	default:
		id = "quotation"
	}
	of, err := paper.Find(id, p)
	if err != nil {
		return nil, err
	}
	made, err := of.Of(e, a, q, shop)
	if err != nil {
		return nil, err
	}
	return of.Write(made, format)
}

func frozen(e *engine.Engine, a *engine.Answer, detailsFile string) (*quote.Quote, error) {
	text, err := os.ReadFile(detailsFile)
	if err != nil {
		return nil, err
	}
	d, err := quote.DecodeDetails(text)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", detailsFile, err)
	}
	return quote.Freeze(e, a, d)
}
