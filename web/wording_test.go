package main

import (
	"io/fs"
	"os"
	"path"
	"regexp"
	"testing"

	"ribband/testdata/wording"
)

// identifiers are what the book says to the program and not to people: units, keys, names joined by underscores.
var identifiers = regexp.MustCompile(`\b(unit|id|material): [\w-]+|\b\w+:|\w+_\w+`)

// The demo book, comments too, is in plain British trade English; its words in other languages stand in a folder of
// their own. The papers and pages made of it are read in core/paper and core/screen.
func TestWordingOfTheBook(t *testing.T) {
	files := 0
	book := os.DirFS(rulesFolder)
	err := fs.WalkDir(book, ".", func(name string, _ fs.DirEntry, err error) error {
		if err != nil || path.Ext(name) != ".yaml" || path.Dir(name) == "words" {
			return err
		}
		files++
		text, err := fs.ReadFile(book, name)
		for _, fault := range wording.Faults(identifiers.ReplaceAllString(string(text), "")) {
			t.Errorf("%s: %s", name, fault)
		}
		return err
	})
	if err != nil || files < 20 {
		t.Fatal(files, "files:", err)
	}
}

// Every pattern and phrase is found where it stands, so that the tests of the wording cannot pass by looking for
// nothing.
func TestWordingFindsFaults(t *testing.T) {
	for _, text := range []string{"She floats.", "hers", "600 x 450 mm", "1.8 m x 1.8 m", "70 mm2", "80 kg/m3",
		"1,100 mm", "Draft aft", "a gray hull", "scalloped", "AGM blocs",
		"twist-lock plug", "Fine-line tape", "They do not ring.", "What must she do?", "Yard sheet", "Home waters"} {
		if len(wording.Faults(text)) == 0 {
			t.Errorf("nothing is found in %q", text)
		}
	}
	for _, text := range []string{"Shelter, heritage and usher", "600 × 450 mm", "70 mm²", "figures.main_mm2",
		"hull.draft_m", "1\u202f100 mm", "3,5 kg, 10, 200", "Draught aft", "Others do."} {
		if faults := wording.Faults(text); len(faults) > 0 {
			t.Errorf("in %q is found: %v", text, faults)
		}
	}
}
