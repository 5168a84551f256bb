package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A check says what its owner has changed since the last book that was proved without errors, with the place, and which
// option can no longer be had, with a boat that had it. The report is that of the book alone.
func TestSinceTheLastBook(t *testing.T) {
	dir, keep := t.TempDir(), t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(filepath.Join("..", "testdata", "books", "small"))); err != nil {
		t.Fatal(err)
	}
	check := func() outcome { return tool(t, "", "check", "-cache", keep, "-book", dir) }
	if first := worked(t, check()); strings.Contains(first.err, "since") {
		t.Errorf("the first check says %q", first.err)
	}
	boat := filepath.Join(dir, "boat.yaml")
	edit(t, boat, `price: "1450"`, `price: "1475"`)
	o := worked(t, check())
	if want := "boat.yaml:37:16: changed since the last book without errors: price top-fixed\n"; strings.Count(o.err,
		"changed since") != 1 || !strings.Contains(o.err, want) {
		t.Errorf("after a change of a price it says %q", o.err)
	}
	text := string(readAll(t, boat))
	write(t, boat, text+"\n  - id: no-heavy-cloth\n    need: not has(\"cloth-heavy\")\n    because: It is sold out.\n")
	o = check()
	for _, part := range []string{"changed since the last book without errors: rules no-heavy-cloth\n",
		"no longer to be had on teasel-48: cloth-heavy, by rule no-heavy-cloth (It is sold out.)\n",
		`    a boat that had it: {"format":1,"hull":"teasel-48","choices":{"cloth":{"cloth-heavy":1}`} {
		if o.code != 1 || !strings.Contains(o.err, part) {
			t.Errorf("%q is missing in %q, exit code %d", part, o.err, o.code)
		}
	}
	// It is told again until it is mended: a book with errors is not the last one without.
	if again := check(); again.out != o.out || !strings.Contains(again.err, "no longer to be had") {
		t.Errorf("the second time it says %q", again.err)
	}
	write(t, boat, text)
	if o = worked(t, check()); strings.Contains(o.err, "since") || !strings.Contains(o.err, " 0 questions anew") {
		t.Errorf("with the edit taken back it says %q", o.err)
	}
}

// What is changed is asked first, wherever it stands: also in the hours of an option, and as a value of the use.
func TestConcerns(t *testing.T) {
	for _, c := range []struct {
		subject, id string
		want        bool
	}{
		{"rule no-heavy-cloth", "no-heavy-cloth", true},
		{"rule no-heavy-cloth", "cloth", false},
		{"option cloth-heavy", "cloth-heavy", true},
		{"boats of teasel-48", "teasel-48", true},
		{"use persons 4", "persons", true},
		{"use persons-aft 4", "persons", false},
		{"formula hours of sew-canvas of option cloth-heavy", "sew-canvas", true},
		{"formula hours of sew-canvas of option cloth-heavy, 2", "cloth-heavy", true},
		{"formula quantity of cloth-acrylic of hull teasel-48", "cloth-acrylic", true},
		{"formula mass_kg of option cloth-heavy", "mass_kg", true},
		{"formula fuse of circuit bank-lead of option bank-10", "bank-lead", true},
		{"formula fuse of circuit bank-lead of option bank-10", "bank-10", true},
		{"formula need of rule no-heavy-cloth", "no-heavy-cloth", true},
		{"formula price of option cloth-heavy", "cloth", false},
	} {
		if got := concerns(c.subject, c.id); got != c.want {
			t.Errorf("%q concerns %s: %v", c.subject, c.id, got)
		}
	}
}

func readAll(t *testing.T, name string) []byte {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return text
}
