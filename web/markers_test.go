package main

import (
	"maps"
	"os"
	"slices"
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
	if frame.Hulls, err = s.addHulls(view); err != nil {
		t.Fatal(err)
	}
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

// What the book says in other languages of costs and work is in no file that a buyer loads, as its texts in the first
// language are not: neither in his pages nor in the words beside his pack.
func TestBuyersWordsArePublic(t *testing.T) {
	yard, s := packsOf(t)[pack.Yard], siteOf(t)
	for _, tag := range yard.Languages[1:] {
		public := strings.Join(slices.Collect(maps.Values(yard.Words[tag])), "\n")
		files := map[string]string{}
		for _, path := range s.paths() {
			if strings.HasPrefix(path, "index") || strings.HasPrefix(path, "assets/buyer") {
				files[path] = string(inflated(t, s[path]))
			}
		}
		if len(files) < 2+2*len(yard.Languages) {
			t.Fatalf("the buyer's files are %v", slices.Sorted(maps.Keys(files)))
		}
		private := 0
		for _, part := range []map[string]string{yard.Costs.Words[tag], yard.Work.Words[tag]} {
			for _, text := range part {
				if strings.Contains(public, text) {
					continue
				}
				private++
				for path, file := range files {
					if strings.Contains(file, `"`+text+`"`) || strings.Contains(file, ">"+text+"<") {
						t.Errorf("%s has %q, which is the yard's alone", path, text)
					}
				}
			}
		}
		if private < 100 {
			t.Errorf("only %d texts in %s are the yard's alone", private, tag)
		}
	}
}
