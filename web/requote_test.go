package main

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/editions"
)

// What a boat comes to by two books has its tests in core/editions; here it is the forms, the parts and the flags.

// Parts that are joined, in whatever order, are to the byte what one run writes; a set that is not whole is refused.
func TestRequoteInParts(t *testing.T) {
	const line = "requote -book " + rulesFolder + " -quotations " + specsFolder
	want := worked(t, commanded(t, line+" -format json")).out
	validate(t, schemaNamed(t, "requote"), "the whole", want)
	invalid(t, schemaNamed(t, "requote"), strings.Replace(want, `"boats"`, `"quotations"`, 1))
	// the second part first: the order of the files says nothing
	dir := t.TempDir()
	var files []string
	for _, p := range []string{"2/3", "1/3", "3/3"} {
		file := filepath.Join(dir, strings.Replace(p, "/", "-", 1)+".json")
		files = append(files, write(t, file, worked(t, commanded(t, line+" -part "+p)).out))
	}
	// an empty part is one, too: there are fewer files than parts
	schema := schemaNamed(t, "requote-part")
	validate(t, schema, "no file", worked(t, commanded(t, line+" -part 900/900")).out)
	for _, file := range files {
		validate(t, schema, file, textOf(t, file))
	}
	invalid(t, schema, strings.Replace(textOf(t, files[0]), `"kind": "requote"`, `"kind": "check"`, 1))
	if got := worked(t, commanded(t, "merge "+strings.Join(files, " "))); got.out != want {
		t.Errorf("the parts joined are\n%s\nwant\n%s", got.out, want)
	}
	refused(t, commanded(t, "merge "+files[0]+" "+files[1]), 1, "missing 3")
	other := write(t, filepath.Join(dir, "other.json"), strings.Replace(textOf(t, files[2]), `"book": "`,
		`"book": "0`, 1))
	refused(t, commanded(t, "merge "+files[0]+" "+files[1]+" "+other), 1, "are of different books")
}

// The same book on both sides moves no price, so that all that differs between two rounds is what a test plants.

// A round against the older book has every boat, what no longer fits with its reason, and sums by hull and in all.
func TestRequoteText(t *testing.T) {
	o := worked(t, commanded(t, "requote -book "+rulesFolder+" -with "+rulesFolder+" -quotations "+specsFolder))
	for _, want := range []string{"clash-us-without-foam.json cannot be had: In the United States", "kept",
		"reed-65-fullest.json", "all       13"} {
		if !strings.Contains(o.out, want) {
			t.Errorf("it lacks %q:\n%s", want, o.out)
		}
	}
	csv := worked(t, commanded(t, "requote -book "+rulesFolder+" -quotations "+specsFolder+" -format csv"))
	if n := strings.Count(csv.out, "\n"); n != 14 {
		t.Errorf("%d lines:\n%s", n, csv.out)
	}
	refused(t, commanded(t, "requote -book "+rulesFolder), 2, "which quotations?")
	refused(t, commanded(t, "requote -quotations x -part 4/3"), 2, "write 3/16")
}

// The flags say which of the two is compared, and what is of neither is refused before a book is read.
func TestCompareBooks(t *testing.T) {
	// one figure of the book that every cost has in it, and no rule
	dir := copyBook(t)
	edit(t, filepath.Join(dir, "yard.yaml"), `contingency: "[^"]*"`, `contingency: "0.05"`)
	o := worked(t, commanded(t, "compare -with "+rulesFolder+" -book "+dir+" -sample 2 -format json"))
	validate(t, schemaNamed(t, "compare"), "another contingency", o.out)
	var got editions.Comparison
	if err := json.Unmarshal([]byte(o.out), &got); err != nil {
		t.Fatal(err)
	}
	if len(got.Standards) != 4 || len(got.Options) < 500 || len(got.Added)+len(got.Removed)+len(got.Keys) > 0 ||
		len(got.Lost) > 0 || got.Tried.Sample != 2 {
		t.Errorf("%d standard builds, %d options, the rest %.500s", len(got.Standards), len(got.Options), o.out)
	}
	// the small book in both forms, with what a table of differences has in all its columns
	small := filepath.Join("..", "testdata", "books", "small")
	small2 := t.TempDir()
	if err := os.CopyFS(small2, os.DirFS(small)); err != nil {
		t.Fatal(err)
	}
	edit(t, filepath.Join(small2, "boat.yaml"), `most: 4`, `most: 2`)
	edit(t, filepath.Join(small2, "boat.yaml"), `need: has\("top-fixed"\)`, `need: has("top-folding")`)
	edit(t, filepath.Join(small2, "yard.yaml"), `cost: "24.80"`, `cost: "26.80"`)
	edit(t, filepath.Join(small2, "yard.yaml"), "id: abroad", "id: overseas")
	line := "compare -with " + small + " -book " + small2 + " -format "
	validate(t, schemaNamed(t, "compare"), "the small book", worked(t, commanded(t, line+"json")).out)
	o = worked(t, commanded(t, line+"csv"))
	for _, want := range []string{"kind,hull,id,title,what,was,is", "\nstandard,teasel-48,", ",cost,", "\nlost,",
		"region,,abroad,Abroad,removed,,yes"} {
		if !strings.Contains(o.out, want) {
			t.Errorf("it lacks %q:\n%.2000s", want, o.out)
		}
	}
	refused(t, commanded(t, "compare -with a -was b"), 2, "give one of the two")
	refused(t, commanded(t, "compare"), 2, "which two?")
	refused(t, commanded(t, "compare -was a -now b -format json"), 2, "json is of books")
}
