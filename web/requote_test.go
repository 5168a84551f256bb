package main

import (
	"path/filepath"
	"strings"
	"testing"
)

// What a boat comes to by two books has its tests in core/editions; here it is the forms, the parts and the flags.

// Parts that are joined, in whatever order, are to the byte what one run writes; a set that is not whole is refused.
func TestRequoteInParts(t *testing.T) {
	const line = "requote -book " + rulesFolder + " -quotations " + specsFolder
	want := worked(t, commanded(t, line+" -format json")).out
	// the second part first: the order of the files says nothing
	dir := t.TempDir()
	var files []string
	for _, p := range []string{"2/3", "1/3", "3/3"} {
		file := filepath.Join(dir, strings.Replace(p, "/", "-", 1)+".json")
		files = append(files, write(t, file, worked(t, commanded(t, line+" -part "+p)).out))
	}
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
	o := worked(t, commanded(t, "compare -with "+rulesFolder+" -book "+dir+" -sample 2 -format csv"))
	for _, want := range []string{"kind,hull,id,title,what,was,is", "\nstandard,reed-65,", ",cost,"} {
		if !strings.Contains(o.out, want) {
			t.Errorf("it lacks %q:\n%.2000s", want, o.out)
		}
	}
	if strings.Contains(o.out, "\nlost,") || strings.Contains(o.out, ",removed,") {
		t.Errorf("another contingency loses a boat:\n%.2000s", o.out)
	}
	refused(t, commanded(t, "compare -with a -was b"), 2, "give one of the two")
	refused(t, commanded(t, "compare"), 2, "which two?")
	refused(t, commanded(t, "compare -was a -now b -format json"), 2, "json is of books")
}
