package main

import (
	"bufio"
	"context"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/book/source"
	"time"
)

// A save is told by what is new and what is gone; the proofs of a book come behind.
func TestCheckWatches(t *testing.T) {
	dir := copySmall(t)
	file := filepath.Join(dir, "boat.yaml")
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	r, w := io.Pipe()
	done := make(chan int, 1)
	go func() {
		done <- run(ctx, &console{strings.NewReader(""), w, io.Discard}, []string{"check", "-watch", "-book", dir})
		w.Close()
	}()
	lines := make(chan string)
	go func() {
		for s := bufio.NewScanner(r); s.Scan(); {
			lines <- s.Text()
		}
		close(lines)
	}()
	// until a line with some words, which come in some seconds or never
	until := func(words string) (all string) {
		for {
			select {
			case line := <-lines:
				if all += line + "\n"; strings.Contains(line, words) {
					return all
				}
			case <-time.After(time.Minute):
				t.Fatalf("%q is never said; it said %s", words, all)
			}
		}
	}
	until("operations: no errors.")
	until("proved over all boats: ")
	edit(t, file, `"top-fixed"`, `"top-fixt"`)
	if said := until("operations: "); !strings.Contains(said, file+":74:15: error: ") ||
		!strings.Contains(said, `did you mean "top-fixed"?`) || !strings.HasSuffix(said, ": 1 error.\n") {
		t.Errorf("a fault that was saved is told so:\n%s", said)
	}
	// another one, which moves the first
	edit(t, file, "sections:\n", "# moved\nsections:\n")
	if said := until("operations: "); strings.Contains(said, "top-fixt") {
		t.Errorf("what has moved is told as new:\n%s", said)
	}
	edit(t, file, `"top-fixt"`, `"top-fixed"`)
	if said := until("operations: "); !strings.Contains(said, ": gone: in ") ||
		!strings.HasSuffix(said, ": no errors.\n") {
		t.Errorf("a fault that was mended is told so:\n%s", said)
	}
	stop()
	for range lines {
	}
	if code := <-done; code != 0 {
		t.Errorf("exit code %d when it is stopped", code)
	}
}

// Files that are no part of a book are not looked at.
func TestStampsAreThoseOfTheBook(t *testing.T) {
	dir := copySmall(t)
	w := newBookWatch(dir, new(source.Cache))
	write(t, filepath.Join(dir, ".#boat.yaml"), "x")
	write(t, filepath.Join(dir, "notes.txt"), "x")
	if w.saved() {
		t.Error("a hidden file and notes are taken for the book")
	}
	write(t, filepath.Join(dir, "more.yml"), "terms: [a]\n")
	if !w.saved() || w.saved() {
		t.Error("a new file is told once")
	}
	if err := os.Remove(filepath.Join(dir, "more.yml")); err != nil || !w.saved() {
		t.Error("a file that is gone is not told", err)
	}
}

// BenchmarkWatch saves one file of the demo book and measures until its faults are told, and how that stands to a check
// from the start.
func BenchmarkWatch(b *testing.B) {
	dir := copyBook(b)
	file := filepath.Join(dir, "power", "options.yaml")
	text, err := os.ReadFile(file)
	if err != nil {
		b.Fatal(err)
	}
	w := newBookWatch(dir, new(source.Cache))
	whole := time.Now()
	if _, err := w.load(func(*CheckReport, bool) {}); err != nil {
		b.Fatal(err)
	}
	full := time.Since(whole)
	var told, all time.Duration
	for b.Loop() {
		text = append(text, "# saved\n"...)
		write(b, file, string(text))
		begin := time.Now()
		for !w.saved() {
		}
		if _, err := w.load(func(_ *CheckReport, last bool) {
			if last {
				all += time.Since(begin)
			} else {
				told += time.Since(begin)
			}
		}); err != nil {
			b.Fatal(err)
		}
	}
	n := float64(b.N)
	b.ReportMetric(told.Seconds()/n, "s/told")
	b.ReportMetric(all.Seconds()/n, "s/all")
	b.ReportMetric(told.Seconds()/n/full.Seconds(), "told/full")
}
