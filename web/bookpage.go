package main

import (
	"bytes"
	"fmt"
	"html/template"

	"ribband/core/book"
	"ribband/core/pack"
)

// bookPage is what the owner's own machine serves beside the desks, and what no published site has: what was found in
// the price book when it was read. The proofs over all boats take longer than a page may; the command check has them.
// It is made once at the start like the packs, so that it never speaks of another book than the desks show.
const bookPage = "book.html"

// bookFrame stands by itself: the style of the desks has another name with each change. It is plain and has no script:
// what is wrong with a book must be readable when the page is broken too. It escapes whatever the book holds.
var bookFrame = template.Must(template.ParseFS(frames, "page/book.html"))

// renderBookPage renders what was found in a book. It shows what check would print, but for the proofs.
func renderBookPage(folder string, p *pack.Pack, r *CheckReport) ([]byte, error) {
	var b bytes.Buffer
	err := bookFrame.Execute(&b, struct {
		*CheckReport
		Folder, Edition, Size, Verdict string
	}{r, folder, p.Edition.Name, sizeOf(r), verdict(r.of(book.Error), r.of(book.Warning))})
	if err != nil {
		return nil, fmt.Errorf("rendering what was found in the book: %w", err)
	}
	return b.Bytes(), nil
}
