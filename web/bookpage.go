package main

import (
	"bytes"
	"context"
	"fmt"
	"html/template"
	"net/http"
	"net/url"
	"os"
	"path"
	"path/filepath"
	"strconv"
	"strings"
	"sync"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/publish"
)

// bookPage is what the owner's own machine serves beside the desks, and what no published site has: what is wrong with
// the price book as it is in its folder now, each with a link to its line. Below bookFiles stand the texts themselves,
// to be read; under bookRound the page asks whether something has changed. What the proofs left open comes when
// somebody looks: they take the machine for half a minute.
// All of them are names that no site has: what publish writes never takes their place.
const (
	bookPage  = "book.html"
	bookFiles = "book/"
	bookRound = "book.round"
)

// bookFrame and textFrame stand by themselves: the style of the desks has another name with each change. They are
// plain: what is wrong with a book must be readable when the page is broken too. They escape whatever the book holds.
var (
	bookFrame = template.Must(template.ParseFS(frames, "page/book.html"))
	textFrame = template.Must(template.New("booktext.html").Funcs(template.FuncMap{
		"inc": func(i int) int { return i + 1 }}).ParseFS(frames, "page/booktext.html"))
)

// liveBook serves the desks of the last sound book, and beside them what is found in the book as it is now.
type liveBook struct {
	console *console
	folder  string
	files   source.Cache
	// makes the desks of packs, with a line on each that says what was found
	desks func(packs publish.Packs, line string) (site, error)
	// tells new packs of the orders of the yard
	orders func(packs publish.Packs) error

	lock sync.Mutex
	// of the last sound book
	packs publish.Packs
	site  site
	// of the book as it is now; the round counts what has changed on the page
	found *CheckReport
	round int
	// what the proofs found in a book of some round of saves, and whether they are under way
	proved []publish.Diagnostic
	proofs int
	saves  int
}

// The proofs of a book begin once, when somebody looks, and are those of the book that was looked at. A save takes them
// back to the begin.
const (
	unproved = iota
	proving
	provedNow
)

// serving makes the desks of a sound book.
func (b *liveBook) serving(packs publish.Packs, found *CheckReport) (err error) {
	b.packs, b.found = packs, found
	if err = b.orders(packs); err == nil {
		b.site, err = b.desks(packs, found.verdict())
	}
	return err
}

// verdict is that of what a report holds.
func (r *CheckReport) verdict() string { return verdict(r.of(book.Error), r.of(book.Warning)) }

// watch checks the book at each save until it is stopped. Of a book with errors nothing but what is wrong is shown, and
// the desks stay as they were, but for the line that says so.
func (b *liveBook) watch(ctx context.Context) {
	w := newBookWatch(b.folder, &b.files)
	for w.wait(ctx) {
		b.change(func() { b.saves, b.proofs, b.proved = b.saves+1, unproved, nil })
		packs, err := w.load(func(r *CheckReport, all bool) {
			b.change(func() {
				// how large the book is stays on the page until it is known anew
				if b.found != nil && !all {
					r.Counts = b.found.Counts
				}
				b.found = r
			})
		})
		if err != nil {
			b.console.progress("%v", err)
			continue
		}
		b.renew(packs)
	}
}

// change changes what the page shows.
func (b *liveBook) change(how func()) {
	b.lock.Lock()
	defer b.lock.Unlock()
	how()
	b.round++
}

// renew makes the desks anew: of other packs, or of those of before with another line.
func (b *liveBook) renew(packs publish.Packs) {
	// orders are told to packs once: told again they would take their weeks twice
	var err error
	if packs == nil {
		packs = b.packs
	} else {
		err = b.orders(packs)
	}
	var s site
	if err == nil {
		s, err = b.desks(packs, b.found.verdict())
	}
	if err != nil {
		b.console.progress("making the desks of %s: %v", b.folder, err)
		return
	}
	b.change(func() { b.packs, b.site = packs, s })
}

// prove proves the book as it is, once; what was saved meanwhile was not proved, and is not told.
func (b *liveBook) prove() {
	// asked for each second by every page that is open
	b.lock.Lock()
	defer b.lock.Unlock()
	if b.proofs != unproved || b.found.of(book.Error) > 0 {
		return
	}
	b.proofs = proving
	yard, saves := b.packs[pack.Yard], b.saves
	// nobody waits for it: the page asks again, and gets it when it is there
	go func() {
		r, err := proofOf(b.folder, &b.files, yard, "")
		b.change(func() {
			if err != nil || saves != b.saves {
				return
			}
			b.proofs, b.proved = provedNow, r.Diagnostics
		})
	}()
}

// ServeHTTP serves the desks, the page of the book and the texts of its files.
func (b *liveBook) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
	var text []byte
	var err error
	switch {
	case name == bookPage:
		text, err = b.page()
	case name == bookRound:
		// a browser that shows the page asks: somebody looks
		b.prove()
		b.lock.Lock()
		text = strconv.AppendInt(nil, int64(b.round), 10)
		b.lock.Unlock()
	case strings.HasPrefix(name, bookFiles):
		text, err = b.text(strings.TrimPrefix(name, bookFiles))
	// a site is never changed once it is made: the lock is for which of them is served
	default:
		b.lock.Lock()
		s := b.site
		b.lock.Unlock()
		s.ServeHTTP(w, r)
		return
	}
	// what is no file of the book is not found, whatever else it may be on this machine
	if err != nil {
		http.NotFound(w, r)
		return
	}
	// never kept: a page of a minute ago would tell of faults that are mended
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.Header().Set("Cache-Control", "no-store")
	_, _ = w.Write(text) // a reader that is gone needs no answer
}

// mostPlaces is how many places of one fault are links.
const mostPlaces = 12

// toldFault is a fault on the page with its places.
type toldFault struct {
	publish.Diagnostic
	Also []publish.Diagnostic
	More int    // places beyond those
	Boat string // a spec that shows it, as JSON; "" where there is none
	book *liveBook
}

// Link is the line of a place in the text of its file.
func (t toldFault) Link(at book.Position) string {
	// escaped as a path: a file may have any name
	file := t.book.within(at.File)
	return bookFiles + (&url.URL{Path: file}).EscapedPath() + "#L" + strconv.Itoa(at.Line)
}

// within is a file of the book within its folder.
func (b *liveBook) within(file string) string {
	// a report has the folder before each file, so that a terminal opens it
	rel, err := filepath.Rel(b.folder, filepath.FromSlash(file))
	if err != nil {
		return file
	}
	return filepath.ToSlash(rel)
}

// heading is one of the page with what stands below it.
type heading struct {
	Title string
	Told  []toldFault
}

// parts are errors, warnings and what the proofs found, each with the same fault told once.
func (b *liveBook) parts() (list []heading) {
	of := func(title string, all []publish.Diagnostic, wanted func(publish.Diagnostic) bool) {
		p := heading{Title: title}
		var some []publish.Diagnostic
		for _, d := range all {
			if wanted(d) {
				some = append(some, d)
			}
		}
		for _, same := range book.Grouped(some) {
			t := toldFault{Diagnostic: same[0], Also: same[1:min(len(same), mostPlaces)], More: max(0,
				len(same)-mostPlaces), book: b}
			if t.Witness != nil {
				t.Boat = witness(t.Diagnostic)
			}
			// in the order of the report: by file, then by line
			p.Told = append(p.Told, t)
		}
		if len(p.Told) > 0 {
			list = append(list, p)
		}
	}
	// of proofs an error is refuted by a boat, and a warning is open
	grade := func(g book.Grade) func(publish.Diagnostic) bool {
		return func(d publish.Diagnostic) bool { return d.Grade == g }
	}
	of("Errors", b.found.Diagnostics, grade(book.Error))
	of("Warnings", b.found.Diagnostics, grade(book.Warning))
	of("Refuted by a boat", b.proved, grade(book.Error))
	of("Neither proved nor refuted", b.proved, grade(book.Warning))
	return list
}

// deskLink leads from the page of the book to a desk.
type deskLink struct{ Page, Title string }

// deskLinks are those to the desks of a book, the dealers' by their names.
func deskLinks(packs publish.Packs) []deskLink {
	list := []deskLink{{"/", "Buyer"}, {mainPage(pack.Show), "Quotation desk"}, {mainPage(pack.Yard), "Yard"}}
	for _, d := range packs[pack.Yard].Costs.Dealers {
		list = append(list, deskLink{mainPage(pack.DeskOfDealer(d.ID)), d.Firm})
	}
	return list
}

// page renders what is found in the book now.
func (b *liveBook) page() ([]byte, error) {
	b.lock.Lock()
	defer b.lock.Unlock()
	proofs := []string{"The proofs over all boats begin when a browser shows this page.",
		"The proofs over all boats are under way.",
		fmt.Sprintf("Proved over all boats: %d open or refuted.", len(b.proved))}[b.proofs]
	if b.found.of(book.Error) > 0 {
		proofs = "The desks are those of the last book without errors; it is proved once there are none."
	}
	// as it is at this moment: the lock is held, so that counts and list are of one check
	var out bytes.Buffer
	err := bookFrame.Execute(&out, struct {
		Folder, Edition, Size, Verdict, Proofs string
		Round                                  int
		Parts                                  []heading
		Desks                                  []deskLink
	}{b.folder, b.packs[pack.Yard].Edition.Name, sizeOf(b.found), b.found.verdict(), proofs, b.round, b.parts(),
		deskLinks(b.packs)})
	if err != nil {
		return nil, fmt.Errorf("rendering what was found in the book: %w", err)
	}
	return out.Bytes(), nil
}

// text renders a file of the book, line by line. Only what the book is read from is shown: the name is looked up among
// its files, so that no other path leads anywhere.
func (b *liveBook) text(name string) ([]byte, error) {
	if _, ok := stamps(b.folder)[name]; !ok {
		return nil, fmt.Errorf("showing a file of the book: %q is none of its files", name)
	}
	text, err := os.ReadFile(filepath.Join(b.folder, filepath.FromSlash(name)))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = textFrame.Execute(&out, struct {
		Name, Back string
		Lines      []string
	}{name, strings.Repeat("../", 1+strings.Count(name, "/")) + bookPage, strings.Split(string(text), "\n")})
	return out.Bytes(), err
}
