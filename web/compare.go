package main

import (
	"context"
	"fmt"

	"ribband/core/doc"
	"ribband/core/paper"
	"ribband/core/quote"
)

// compareQuotations writes two versions of a quotation side by side. It needs no book: all that a quotation says is in
// its file.
func compareQuotations(ctx context.Context, c *console, args []string) error {
	f := newBookless(c, "compare", "compare -was FILE -now FILE [-format text|html|pdf|csv] [-size auto|A4|letter]")
	was := f.String("was", "", "the file of the earlier quotation; - reads standard input")
	now := f.String("now", "", "the file of the later one")
	format := oneOf(f, "format", "of the paper; pdf is printed by Chromium",
		append(append([]paper.Format{}, paper.Comparison.Formats...), asPDF)...)
	size := oneOf(f, "size", "of the printed pages; auto is what the printer has, and A4 for pdf", autoSize, doc.A4,
		doc.Letter)
	if err := f.parse(args); err != nil {
		return err
	}
	if *was == "" || *now == "" {
		return f.wrong("which two? Give -was FILE and -now FILE, each a quotation that was saved")
	}
	// in English, as all that this tool writes; the texts of the quotations are in their own language
	s := &paper.Source{Size: *size}
	for _, file := range []struct {
		name string
		to   **quote.Quote
	}{{*was, &s.Earlier}, {*now, &s.Quote}} {
		text, err := readFile(c, file.name)
		if err != nil {
			return err
		}
		// the reader refuses what is damaged or of another program, and says where
		if *file.to, err = quote.Decode(text); err != nil {
			return fmt.Errorf("%s: %w", file.name, err)
		}
	}
	text, err := writeAs(ctx, &paper.Comparison, s, *format, s.Quote.Date)
	if err != nil {
		return err
	}
	_, err = c.out.Write(text)
	return err
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
