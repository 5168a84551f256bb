package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"ribband/core/doc"
	"ribband/core/export"
	"ribband/core/msg"
	"ribband/core/paper"
	"ribband/core/render"
)

// What the office makes is a document, and how it is written is asked here: as a list on the screen, a page, a table
// for a spreadsheet, a workbook, or as what is behind it for a program. Papers that are sent or filed go into a folder,
// each under a name that says what it is.

// writeListing writes a document in a form. A workbook has its table under a name; JSON is what the document was made
// of.
func writeListing(c *console, d *doc.Doc, l *msg.Language, name string, format paper.Format, behind any) error {
	// one document for all forms; only a program gets what is behind it
	var text []byte
	var err error
	switch format {
	case paper.AsJSON:
		return printJSON(c.out, behind)
	// numbers as numbers, so that a spreadsheet adds them up
	case paper.AsWorkbook:
		text = export.Workbook([]export.Sheet{{Name: name, Table: *d.Data}})
	case paper.AsCSV:
		text, err = render.CSV(d)
	case paper.AsHTML:
		text, err = render.HTML(d, l)
	default:
		text = render.Text(d, l)
	}
	if err == nil {
		_, err = c.out.Write(text)
	}
	return err
}

// outFolder is a folder into which a command writes papers.
type outFolder struct {
	ctx    context.Context
	dir    string
	format paper.Format
	day    string // of the papers, for their print
	again  bool   // papers are written over: they stay in the house and grow
}

// outFormats are the forms of papers that are sent.
var outFormats = []paper.Format{paper.AsHTML, paper.AsText, asPDF}

// write writes a paper. One that is there with the same words stays; another one under its name was sent to somebody,
// perhaps, and is not written over.
func (o *outFolder) write(c *console, name string, d *doc.Doc, l *msg.Language) error {
	// a folder for each boat, or one for all: whoever files papers knows which
	if err := os.MkdirAll(o.dir, 0o755); err != nil {
		return err
	}
	var text []byte
	var err error
	ending, _ := o.format.File()
	switch o.format {
	case paper.AsText:
		text = render.Text(d, l)
	case asPDF:
		ending, d.Size = ".pdf", doc.A4
		if text, err = render.HTML(d, l); err == nil {
			text, err = printed(o.ctx, text, o.day)
		}
	default:
		text, err = render.HTML(d, l)
	}
	if err != nil {
		return err
	}
	// compared by its words, so that a command that is given twice does no harm
	file := filepath.Join(o.dir, name+ending)
	was, err := os.ReadFile(file)
	switch {
	case err == nil && string(was) == string(text):
		fmt.Fprintf(c.out, "%s is there already.\n", file)
		return nil
	// in one step, as an order is: the old paper or the new one
	case err == nil && o.again:
		if err := replaceFile(file, text); err != nil {
			return fmt.Errorf("writing %s: %w", file, err)
		}
		fmt.Fprintf(c.out, "Wrote %s anew.\n", file)
		return nil
	case err == nil:
		return fmt.Errorf("writing a paper: %s is there and says something else; move it away, or give another -out",
			file)
	case !errors.Is(err, fs.ErrNotExist):
		return err
	}
	if err := writeNew(file, text, 0o644); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "Wrote %s.\n", file)
	return nil
}
