package main

import (
	"os"
	"strings"
	"testing"

	"ribband/core/book/source"
	"ribband/core/book/synthetic"
	"ribband/core/pack"
	"ribband/core/publish"
)

// What the site publishes for buyers, page and pack, holds no value of the book that goes to another part: every value
// has a marker of its own, and testdata/parts/book.txt names the part.
func TestBuyersSiteHasNoPrivateMarker(t *testing.T) {
	list, err := os.ReadFile("../testdata/parts/book.txt")
	if err != nil {
		t.Fatal(err)
	}
	parts, unmarked := map[string]string{}, map[string]bool{}
	for line := range strings.Lines(string(list)) {
		if words := strings.Fields(line); len(words) > 1 && words[0] != "#" {
			parts[words[1]], unmarked[words[1]] = words[0], len(words) > 2
		}
	}
	b, _, err := source.Read(os.DirFS(rulesFolder))
	if err != nil {
		t.Fatal(err)
	}
	markers := synthetic.Mark(b, func(path string) bool { return !unmarked[path] })
	yard, diagnostics := publish.Compile(b)
	if len(diagnostics) == 0 {
		diagnostics = publish.Tabulate(yard)
	}
	if len(diagnostics) > 0 {
		t.Fatal(diagnostics)
	}
	s, buyer := site{}, publish.For(yard, pack.Buyer)
	text, err := buyer.Encode()
	if err != nil {
		t.Fatal(err)
	}
	file := s.addCompressed("buyer.json", text)
	view, err := viewIn(buyer, "en")
	if err != nil {
		t.Fatal(err)
	}
	frame := pageParts{Desk: pack.Buyer, Pack: file, Title: view.Title()}
	if s["index.html"], err = renderPage(frame, view.Tag(), view.Page()); err != nil {
		t.Fatal(err)
	}
	if err := addSchemas(s); err != nil {
		t.Fatal(err)
	}
	public := 0
	for _, path := range s.paths() {
		found := synthetic.Found(string(inflated(t, s[path])), markers)
		for m := range found {
			if parts[m.Path] != "public" {
				t.Errorf("%s has %s of %s, which is %s", path, m.Text, m.Path, parts[m.Path])
			} else {
				public++
			}
		}
	}
	if public < 1000 {
		t.Errorf("%d public markers are in the site: the marks themselves are wrong", public)
	}
}
