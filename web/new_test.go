package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ribband/core/pack"
)

// What an owner is promised of the first minute: a book that works, whatever was answered. Package begin tries answers
// by the hundred without proofs; here a few go the whole way, as a person would, since proofs take most of a second.

// A new book is checked without a warning, proved, and quoted from: over countries, currencies, sizes and odd answers.
func TestNewBookIsABook(t *testing.T) {
	for name, flags := range map[string][]string{
		"as suggested":  nil,
		"short British": {"-country", "GB", "-currency", "GBP", "-length", "4.5", "-hull", "Nº 1: \"Wren\" [blue]"},
		"long American": {"-currency", "USD", "-length", "10", "-beam", "4.1", "-motor", "12"},
		"narrow Norse":  {"-currency", "NOK", "-length", "6,4 m", "-beam", "1.76", "-depth", "0.84", "-language", "de"},
		"without tax":   {"-country", "XX", "-currency", "JPY", "-tax", "0", "-length", "8", "-language", "nl"},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			dir := filepath.Join(t.TempDir(), "book")
			o := worked(t, tool(t, "", append([]string{"new", "-yes", dir}, flags...)...))
			if !strings.Contains(o.out, "1 hull, 16 slots") || !strings.Contains(o.out, ": no errors.") {
				t.Errorf("it says %s", o.out)
			}
			// With warnings as errors: an owner who sees one at once would learn to pass over them.
			// Its rules rule something out, its guards hold, every option and every use has a boat.
			o = worked(t, tool(t, "", "check", "-strict", "-book", dir))
			if !strings.Contains(o.out, "rule something out") {
				t.Errorf("nothing was proved: %s", o.out)
			}
			// the identifier of the hull follows from its name, whatever that is
			read, err := os.ReadFile(filepath.Join(dir, "hull.yaml"))
			if err != nil {
				t.Fatal(err)
			}
			_, id, _ := strings.Cut(string(read), "  - id: ")
			id, _, _ = strings.Cut(id, "\n")
			// a roof with panels takes the sun of the region, and persons fewer than the standard leave room under it
			spec := write(t, filepath.Join(t.TempDir(), "spec.json"), `{"format": 1, "hull": "`+id+
				`", "choices": {"top": {"top-solar": 1}}, "use": {"persons": 2}}`)
			paper := worked(t, tool(t, "", "quote", "-book", dir, "-spec", spec, "-format", "text")).out
			for _, want := range []string{"My Yard", "48 V"} {
				if !strings.Contains(paper, want) {
					t.Errorf("the quotation lacks %q: %s", want, paper)
				}
			}
		})
	}
}

// The pages of all desks are built from a new book.
func TestNewBookHasItsPages(t *testing.T) {
	if testing.Short() {
		t.Skip("the engine takes some seconds to build")
	}
	dir := filepath.Join(t.TempDir(), "book")
	worked(t, tool(t, "", "new", "-yes", "-yard", "Alder Reach Boats", dir))
	packs, err := load(&console{err: os.Stderr}, dir)
	if err != nil {
		t.Fatal(err)
	}
	// engine and page are those that the other tests have: only what follows from the book is made here
	p, err := demoProgram()
	if err != nil {
		t.Fatal(err)
	}
	s, err := p.site(packs, pack.Desks, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, page := range []string{"index.html", "show.html", "yard.html"} {
		if !strings.Contains(string(s[page]), "Alder Reach Boats") {
			t.Errorf("%s does not name the yard", page)
		}
	}
}

// On the terminal a wrong answer is asked again, and Enter takes what stands in brackets.
func TestNewAsks(t *testing.T) {
	// currency, beam and nothing else are wrong at first; from the length on Enter is enough
	dir := filepath.Join(t.TempDir(), "book")
	o := worked(t, tool(t, "Alder Reach Boats\npounds\ngbp\n\n\nWren 52\n5.2\n9\n\n\n\n\n", "new", dir))
	for _, want := range []string{"Name of your yard [My Yard]: ", `"pounds" is no currency`,
		"Country (two letters of ISO 3166-1) [GB]: ", "Tax on a boat there, percent [20]: ", "Beam, m [1.89]: ",
		`the beam cannot be "9": write a number from 1.75 to 2.18`} {
		if !strings.Contains(o.err, want) {
			t.Errorf("it does not say %q: %s", want, o.err)
		}
	}
	// what was answered stands where it belongs, and what is invented says so in each file
	for file, wants := range map[string][]string{
		"yard.yaml": {"name: Alder Reach Boats", "currency: GBP", "country: GB", `rate: "0.20"`, "CHANGE FIRST"},
		"hull.yaml": {"id: wren-52", "title: Wren 52", "nvent"}, "materials.yaml": {"Every cost is invented"},
		"build.yaml": {"Everything here is invented"}, "options.yaml": {"are invented"},
	} {
		text, err := os.ReadFile(filepath.Join(dir, file))
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range wants {
			if !strings.Contains(string(text), want) {
				t.Errorf("%s lacks %q", file, want)
			}
		}
	}
	// the answers end: a script, or somebody who gave up
	refused(t, tool(t, "Alder Reach Boats\n", "new", filepath.Join(dir, "other")), 2, "nothing answers", "-currency",
		"-yes")
	if _, err := os.Stat(filepath.Join(dir, "other")); err == nil {
		t.Error("a folder was made without answers")
	}
}

// Nothing is overwritten: a folder with files is refused by the name of one, and left as it was.
func TestNewOverwritesNothing(t *testing.T) {
	dir := t.TempDir()
	mine := write(t, filepath.Join(dir, "mine.txt"), "my own")
	refused(t, tool(t, "", "new", "-yes", dir), 1, "mine.txt is there already", "empty or not there yet")
	refused(t, tool(t, "", "new", "-yes", mine), 1, "mine.txt")
	if left, err := os.ReadDir(dir); err != nil || len(left) != 1 {
		t.Errorf("%v, %v", left, err)
	}
	// folders on the way are made, and what was made a moment ago is not made again
	worked(t, tool(t, "", "new", "-yes", filepath.Join(dir, "a", "b")))
	refused(t, tool(t, "", "new", "-yes", filepath.Join(dir, "a", "b")), 1, "build.yaml is there already")
	refused(t, tool(t, "", "new", "-yes"), 2, "which folder")
	refused(t, tool(t, "", "new", "-yes", filepath.Join(dir, "c"), "d"), 2, `what is "d"`)
	refused(t, tool(t, "", "new", "-yes", filepath.Join(dir, "c"), "-length", "40"), 2, "-length", "from 4.50 to 10")
}
