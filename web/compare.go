package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"ribband/core/book/source"
	"ribband/core/doc"
	"ribband/core/editions"
	"ribband/core/engine"
	"ribband/core/engine/sample"
	"ribband/core/pack"
	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/render"
)

// Two things are compared: two versions of a quotation, for the customer, or two states of the book, for the owner. The
// flags say which. What a book costs and leaves stands in the second alone, and no page that is published has it.

// Two editions may be days apart or a year. The owner reads it before he publishes: whatever is on it that he did not
// mean is a slip in the book. So what was tried is said, too: silence about a boat means little where it was not tried.

// sampled is how many random boats are tried on the newer book unless somebody wants more: a few seconds.
const sampled = 40

// compareTwo writes two versions of a quotation, or two states of a book, side by side.
func compareTwo(ctx context.Context, c *console, args []string) error {
	f := newBookless(c, "compare", "compare (-was FILE -now FILE | -with DIR [-book DIR] [-specs DIR] [-sample N]) "+
		"[-format text|html|pdf|csv|json] [-size auto|A4|letter]")
	was := f.String("was", "", "the file of the earlier quotation; - reads standard input")
	now := f.String("now", "", "the file of the later one")
	with := f.String("with", "", "folder of the older book")
	f.StringVar(&f.book, "book", demoBook, "folder of the newer book")
	specs := f.String("specs", "", "folder of specs or quotations, each tried on the newer book")
	count := f.Int("sample", sampled, "random boats of the older book that are tried on the newer one")
	format := oneOf(f, "format", "of the paper; pdf is printed by Chromium, json is of books alone",
		append(append([]paper.Format{}, paper.Comparison.Formats...), asPDF, paper.AsJSON)...)
	size := oneOf(f, "size", "of the printed pages; auto is what the printer has, and A4 for pdf", autoSize, doc.A4,
		doc.Letter)
	f.about = "Compares two versions of a quotation, from their files alone (-was and -now), or two states of a book " +
		"(-book and -with): prices, costs, margins, hours, weights, rules, and boats that can no longer be had."
	if err := f.parse(args); err != nil {
		return err
	}
	// which of the two is meant has to be plain: a paper with costs must not come of a slip
	switch {
	case *with != "" && *was+*now != "":
		return f.wrong("-was and -now compare quotations, -book and -with books; give one of the two")
	case *with == "" && (*was == "" || *now == ""):
		return f.wrong("which two? Give -was FILE and -now FILE, each a quotation that was saved, or -book NEW and " +
			"-with OLD, each the folder of a book")
	case *with == "" && *format == paper.AsJSON:
		return f.wrong("-format json is of books; a quotation is JSON already")
	case *count < 0 || *count > 10_000:
		return f.wrong("-sample %d: want 0 to 10000", *count)
	case *with != "":
		return compareBooks(ctx, c, f, *with, *specs, *count, *format, *size)
	}
	return compareQuotations(ctx, c, *was, *now, *format, *size)
}

// compareQuotations writes two versions of a quotation side by side. It needs no book: all that a quotation says is in
// its file.
func compareQuotations(ctx context.Context, c *console, was, now string, format paper.Format, size doc.Size) error {
	// in English, as all that this tool writes; the texts of the quotations are in their own language
	s := &paper.Source{Size: size}
	for _, file := range []struct {
		name string
		to   **quote.Quote
	}{{was, &s.Earlier}, {now, &s.Quote}} {
		text, err := readFile(c, file.name)
		if err != nil {
			return err
		}
		// the reader refuses what is damaged or of another program, and says where
		if *file.to, err = quote.Decode(text); err != nil {
			return fmt.Errorf("%s: %w", file.name, err)
		}
	}
	text, err := writeAs(ctx, &paper.Comparison, s, format, s.Quote.Date)
	if err != nil {
		return err
	}
	_, err = c.out.Write(text)
	return err
}

// The older book is named by -with, and never taken for granted: the folder that is published has no history.

// compareBooks writes two states of a book side by side.
func compareBooks(ctx context.Context, c *console, f *flags, with, specs string, count int, format paper.Format,
	size doc.Size) error {
	was, err := openEdition(c, with)
	if err != nil {
		return err
	}
	now, err := openEdition(c, f.book)
	if err != nil {
		return err
	}
	trials, err := trialsOf(specs, was.Engine, count)
	if err != nil {
		return err
	}
	// nothing here is written to disk: whoever keeps the page knows that costs are on it
	r, err := editions.Compare(was, now, trials)
	if err != nil {
		return err
	}
	d := editions.Paper(r, was.Engine, now.Engine)
	if format != asPDF {
		return writeListing(c, d, now.Engine.Language(), "Comparison", format, r)
	}
	// what is printed is the page, so that there is one layout
	if d.Size = size; size == autoSize {
		d.Size = doc.A4
	}
	page, err := render.HTML(d, now.Engine.Language())
	if err != nil {
		return err
	}
	text, err := printed(ctx, page, now.Engine.Public().Edition.Date)
	if err == nil {
		_, err = c.out.Write(text)
	}
	return err
}

// Both books have to be without errors: one that has some is told, and mended first.

// openEdition reads a book as it is written and as the yard's desk computes it.
func openEdition(c *console, dir string) (e editions.Edition, err error) {
	packs, err := load(c, dir)
	if err != nil {
		return e, err
	}
	if e.Engine, err = engine.Compile(packs[pack.Yard]); err != nil {
		return e, err
	}
	// the book is read twice, as an engine and as a text: rules in their own words, and what a pack has no name for
	e.Book, _, err = source.Read(os.DirFS(dir))
	return e, err
}

// A sample is random and always the same: the numbers that lead it are fixed, and are of no meaning.

// trialsOf are the boats that are tried: those of a folder, and a sample that is the same each time.
func trialsOf(specs string, was *engine.Engine, count int) (list []editions.Trial, err error) {
	names := []string{}
	if specs != "" {
		if names, err = filepath.Glob(filepath.Join(specs, "*.json")); err != nil || len(names) == 0 {
			return nil, fmt.Errorf("reading %s: %w", specs, editions.ErrEmpty)
		}
	}
	// quotations by the boat that they are of: what they cost is the matter of requote
	for _, name := range names {
		text, err := readNamed(name)
		if err != nil {
			return nil, err
		}
		_, s, err := editions.Read(text)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		list = append(list, editions.Trial{Name: strings.TrimSuffix(filepath.Base(name), ".json"), Spec: s})
	}
	for s := range sample.Boats(was, count, rand.New(rand.NewPCG(2027, 1))) {
		list = append(list, editions.Trial{Spec: s})
	}
	return list, nil
}

// writeAs writes a paper of a day, of ISO 8601, through the browser where it is printed.
func writeAs(ctx context.Context, p *paper.Paper, s *paper.Source, format paper.Format, day string) ([]byte, error) {
	// all other formats are written here
	if format != asPDF {
		return p.Write(s, format)
	}
	if s.Size == autoSize {
		s.Size = doc.A4
	}
	// what is printed is the HTML of the paper, so that there is one layout
	page, err := p.Write(s, paper.AsHTML)
	if err != nil {
		return nil, err
	}
	return printed(ctx, page, day)
}
