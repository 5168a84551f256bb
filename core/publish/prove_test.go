package publish_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

const (
	unprovedBook = "../../testdata/books/unproved"
	hardBook     = "../../testdata/books/hard"
)

// TestUnproved plants one fault at a time that only shows over all boats, and compares what the proof finds, with its
// place and the boat that shows it. The cases are written like those of [TestBroken].
func TestUnproved(t *testing.T) {
	eachUnproved(t, unprovedBook, 12, func(testing.TB) fstest.MapFS { return overlay(t, smallBook) })
}

// TestUnprovedBesideAHardRule plants what few slots or fields decide into a book with a rule that no search settles: it
// is decided all the same, and what that rule keeps open is a warning.
func TestUnprovedBesideAHardRule(t *testing.T) {
	eachUnproved(t, filepath.Join(unprovedBook, "hard"), 7, func(testing.TB) fstest.MapFS {
		folder := overlay(t, smallBook)
		folder["boat.yaml"] = overlay(t, hardBook)["boat.yaml"]
		return folder
	})
}

func eachUnproved(t *testing.T, cases string, least int, base func(testing.TB) fstest.MapFS) {
	names, err := filepath.Glob(filepath.Join(cases, "*.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if len(names) < least {
		t.Fatalf("%d books in %s, want at least %d", len(names), cases, least)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(t *testing.T) { testUnproved(t, base(t), name) })
	}
}

func testUnproved(t *testing.T, folder fstest.MapFS, name string) {
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	changes, want, found := strings.Cut(string(text), wantMarker+"\n")
	if !found && !*update {
		t.Fatalf("the case has no line %q", wantMarker)
	}
	if err := change(folder, changes); err != nil {
		t.Fatal(err)
	}
	_, refuted := proved(t, folder)
	if len(refuted) == 0 {
		t.Error("the proof finds nothing wrong")
	}
	var b strings.Builder
	for _, r := range refuted {
		fmt.Fprintln(&b, r.Error())
		if r.Witness != nil {
			text, err := json.Marshal(r.Witness)
			if err != nil {
				t.Fatal(err)
			}
			fmt.Fprintf(&b, "    see %s\n", text)
		}
	}
	if *update {
		if err := os.WriteFile(name, []byte(strings.TrimRight(changes, "\n")+"\n"+wantMarker+"\n"+b.String()),
			0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got := b.String(); got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
}

// proved is the proof of a book that is sound to load.
func proved(t *testing.T, folder fstest.MapFS) (*proof.Proof, []publish.Diagnostic) {
	t.Helper()
	packs, _, diagnostics, err := publish.Load(folder)
	if err != nil || len(book.Errors(diagnostics)) > 0 {
		t.Fatalf("%v\n%s", err, reported(diagnostics))
	}
	p, refuted, err := publish.Prove(folder, new(source.Cache), packs[pack.Yard], proof.How{})
	if err != nil {
		t.Fatal(err)
	}
	return p, refuted
}

// TestSmallIsProved makes sure that the small book itself has none of the faults.
func TestSmallIsProved(t *testing.T) {
	p, refuted := proved(t, overlay(t, smallBook))
	for _, r := range refuted {
		t.Error(r.Error())
	}
	if p.Open > 0 || len(p.Hulls[0].Options) != 6 || len(p.Rules.Effective) != 2 {
		t.Errorf("%d options can be had, %d rules have an effect, open: %d", len(p.Hulls[0].Options),
			len(p.Rules.Effective), p.Open)
	}
}

// TestDemoIsProved makes sure that nothing is wrong with the demo book over all its boats, and that no more than five
// questions stay open.
func TestDemoIsProved(t *testing.T) {
	if testing.Short() {
		t.Skip("the proof of the demo book takes half a minute")
	}
	folder := os.DirFS(demoBook)
	packs, _, diagnostics, err := publish.Load(folder)
	if err != nil || packs == nil {
		t.Fatal(err, diagnostics)
	}
	p, refuted, err := publish.Prove(folder, new(source.Cache), packs[pack.Yard], proof.How{})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range refuted {
		if r.Grade == book.Error {
			t.Error(r.Error())
		}
		t.Log(r.Error())
	}
	if p.Open > 5 || p.Formulas.Open > 0 || len(p.Rules.Effective) < 150 {
		t.Errorf("%d questions stay open, %d formulas among them; %d rules have an effect", p.Open, p.Formulas.Open,
			len(p.Rules.Effective))
	}
	for _, h := range p.Hulls {
		if len(h.Options) < 200 || h.Boats == "" {
			t.Errorf("%s: %d options can be had, of %s boats", h.ID, len(h.Options), h.Boats)
		}
	}
}
