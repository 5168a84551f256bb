package source_test

import (
	"os"
	"path/filepath"
	"testing"
	"testing/fstest"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
)

// FuzzRead reads a file that may be anything. Every diagnostic has a place; a book without diagnostics is published,
// and its packs are read again and answer. Run it with -fuzzminimizetime 10x: the seeds are long.
func FuzzRead(f *testing.F) {
	var all []byte
	for _, name := range []string{"yard.yaml", "boat.yaml"} {
		text, err := os.ReadFile(filepath.Join(smallBook, name))
		if err != nil {
			f.Fatal(err)
		}
		all = append(all, text...)
	}
	f.Add(all)
	for _, seed := range []string{
		"", "#", "---", "- a", "yard: {name: &x y}\nterms: [*x]", "terms: [a, b]\nterms: [c]", "hulls:\n  - {}\n  -\n",
		"slots: [[]]",
		"rules: |\n  text\n", "? a\n: b\n", "{a: 1", "!!str a: b", "a: !x\n", "yard:\n\tname: x", "\xff",
		"use: [{choices: [regions]}]", "\"", "a: 'b",
		"slots: [{standard: {a: {option: b, count: 1e9}}}]", "hulls: [{price: [{amount: 1}]}]", "<<: *a",
		"a: &a\n  *a : 1",
	} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		folder := fstest.MapFS{"book.yaml": {Data: text}}
		_, list, err := source.Read(folder)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range list {
			if p.File != "book.yaml" || p.Line < 1 || p.Column < 1 || p.Message == "" || p.Advice == "" {
				t.Errorf("a diagnostic without place or remedy: %q", p.Error())
			}
		}
		if len(book.Errors(list)) == 0 {
			publishAndAnswer(t, folder)
		}
	})
}

// publishAndAnswer takes a good book all the way.
func publishAndAnswer(t *testing.T, folder fstest.MapFS) {
	packs, _, list, err := publish.Load(folder)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range list {
		if p.Line < 1 || p.Message == "" || p.Advice == "" {
			t.Errorf("a diagnostic without place or remedy: %q", p.Error())
		}
	}
	for desk, p := range packs {
		text, err := p.Encode()
		if err != nil {
			t.Fatalf("%s: %v", desk, err)
		}
		decoded, err := pack.Decode(text)
		if err != nil {
			t.Fatalf("%s: what was published is not read: %v", desk, err)
		}
		e, err := engine.Compile(decoded)
		if err != nil {
			t.Fatalf("%s: %v", desk, err)
		}
		for h := range decoded.Hulls {
			if _, err := e.AnswerStandard(h, ""); err != nil {
				t.Fatalf("%s: %v", desk, err)
			}
		}
	}
}
