package main

import (
	"context"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path"
	"strings"
	"time"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/publish"
)

// lookEvery is how often the folder of a book is looked at: often enough that nobody waits for it, and seldom enough
// that it takes nothing from the machine.
const lookEvery = 200 * time.Millisecond

// settled is how long a file stays as it is before it counts as saved.
const settled = 20 * time.Millisecond

// stamp is what changes of a file when it is saved.
type stamp struct {
	changed time.Time
	size    int64
}

// A digest of the texts would be surer, and would read all of them five times a second. A save that keeps time and size
// is none that a program of an owner makes.

// stamps are those of the files of a book. A file that goes away meanwhile is none; a folder that does is seen when it
// is read.
func stamps(folder string) map[string]stamp {
	found := map[string]stamp{}
	_ = fs.WalkDir(os.DirFS(folder), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || name != "." && strings.HasPrefix(path.Base(name), ".") {
			if entry != nil && entry.IsDir() {
				return fs.SkipDir
			}
			return nil
		}
		// of what a link leads to, as the book is read; tables of options and pictures stand in files of their own
		if !entry.IsDir() && source.Names(name) {
			if info, err := os.Stat(path.Join(folder, name)); err == nil && info.Mode().IsRegular() {
				found[name] = stamp{info.ModTime(), info.Size()}
			}
		}
		return nil
	})
	return found
}

// bookWatch is a book that is read anew at each save.
type bookWatch struct {
	folder string
	files  *source.Cache
	seen   map[string]stamp
}

func newBookWatch(folder string, files *source.Cache) *bookWatch {
	return &bookWatch{folder, files, stamps(folder)}
}

// saved says whether a file of the book was saved, made or taken away since it was asked last.
func (w *bookWatch) saved() bool {
	now := stamps(w.folder)
	again := !maps.Equal(now, w.seen)
	// some programs empty a file before they write it: what is half written is no book
	for again {
		time.Sleep(settled)
		later := stamps(w.folder)
		if maps.Equal(later, now) {
			break
		}
		now = later
	}
	w.seen = now
	return again
}

// wait waits for the next save; false at the end.
func (w *bookWatch) wait(ctx context.Context) bool {
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return false
		case <-tick.C:
			if w.saved() {
				return true
			}
		}
	}
}

// load reads and checks the book, and tells twice: what is wrong with its texts, names and formulas, and everything
// once boats were built. A save in between ends it after the first.
func (w *bookWatch) load(tell func(r *CheckReport, all bool)) (publish.Packs, error) {
	// of a book that was saved meanwhile only the next check tells
	packs, counts, found, err := publish.LoadAgain(os.DirFS(w.folder), w.files, func(first []book.Diagnostic) bool {
		tell(reportOf(w.folder, publish.Counts{}, first), false)
		return maps.Equal(stamps(w.folder), w.seen)
	})
	if err == nil && maps.Equal(stamps(w.folder), w.seen) {
		tell(reportOf(w.folder, counts, found), true)
	}
	return packs, err
}

// watchBook checks a book at each save until it is stopped: what is new, what is gone, the verdict. The proofs come
// behind, and are dropped when the next save comes.
func watchBook(ctx context.Context, c *console, folder string, quick bool, cache string) error {
	w := newBookWatch(folder, new(source.Cache))
	t := &telling{console: c}
	// at most one proof runs, since it takes the whole machine; one that nobody waits for any more ends untold
	// what is owed waits for the proof before it, and only the last is
	proofs, running := make(chan func()), false
	var owed publish.Packs
	prove := func() {
		if packs := owed; packs != nil && !running {
			running, owed = true, nil
			round := t.round
			go func() {
				r, err := proofOf(folder, w.files, packs[pack.Yard], cache)
				proofs <- func() {
					if running = false; err == nil && round == t.round {
						t.proved(r)
					}
				}
			}()
		}
	}
	// all that is told is told here, one after the other: a proof that ends hands over what it found
	tick := time.NewTicker(lookEvery)
	defer tick.Stop()
	for again := true; ; again = w.saved() {
		if again {
			packs, err := w.load(t.tell)
			if err != nil {
				c.progress("checking %s: %v", folder, err)
			}
			// proofs of what was saved before are not told any more
			if t.round++; !quick {
				owed = packs
			}
		}
		prove()
		select {
		case <-ctx.Done():
			return nil
		case told := <-proofs:
			told()
		case <-tick.C:
		}
	}
}

// proofOf is what the proofs find in the book of a folder, behind whatever else is told meanwhile: soon, since somebody
// is at work on it.
func proofOf(folder string, files *source.Cache, yard *pack.Pack, cache string) (*CheckReport, error) {
	r := &CheckReport{}
	return r, r.prove(&console{out: io.Discard, err: io.Discard}, folder, files, yard, cache, true)
}

// telling says what has changed from one check to the next.
type telling struct {
	*console
	round int // of saves
	// what was told last
	last *CheckReport
}

// tell says what is new and gone against what was told last. The first part of a check tells no more than what is new:
// what it does not find yet may stand in the second.
func (t *telling) tell(r *CheckReport, all bool) {
	// at the start all is new, and the whole report says so
	if t.last == nil {
		if all {
			printReport(t.out, r)
			t.last = r
		}
		return
	}
	fresh := without(r.Diagnostics, t.last.Diagnostics)
	if !all {
		printDiagnostics(t.out, &CheckReport{Diagnostics: fresh})
		t.last.Diagnostics = append(t.last.Diagnostics, fresh...)
		return
	}
	printDiagnostics(t.out, &CheckReport{Diagnostics: fresh})
	// where it stood, since it stands nowhere now
	for _, d := range without(t.last.Diagnostics, r.Diagnostics) {
		fmt.Fprintf(t.out, "%s: gone: %s\n", d.Position, d.Message)
	}
	fmt.Fprintf(t.out, "%s: %s\n", sizeOf(r), verdict(r.of(book.Error), r.of(book.Warning)))
	t.last = r
}

// proved says what the proofs of a book found that has not changed since.
func (t *telling) proved(r *CheckReport) {
	printDiagnostics(t.out, r)
	fmt.Fprintf(t.out, "proved over all boats: %s\n", verdict(r.of(book.Error), r.of(book.Warning)))
}

// without are the diagnostics of a list that another one has not, wherever they stand in their file: a line that is put
// in moves all that follow.
func without(list, other []publish.Diagnostic) (rest []publish.Diagnostic) {
	// the text of the line tells two faults of one kind apart
	type key struct {
		file, message, advice, source string
		grade                         book.Grade
	}
	of := func(d publish.Diagnostic) key { return key{d.File, d.Message, d.Advice, d.Source, d.Grade} }
	had := map[key]int{}
	for _, d := range other {
		had[of(d)]++
	}
	// each of the other list stands for one of this: of three where two were, one is new
	for _, d := range list {
		if had[of(d)]--; had[of(d)] < 0 {
			rest = append(rest, d)
		}
	}
	return rest
}
