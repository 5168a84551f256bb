package publish_test

import (
	"flag"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/book"
	"ribband/core/publish"
)

var update = flag.Bool("update", false, "write what is found into testdata/books, and draw what was measured")

const (
	smallBook  = "../../testdata/books/small"
	brokenBook = "../../testdata/books/broken"
	warnedBook = "../../testdata/books/warned"
	demoBook   = "../../rules"
	wantMarker = "-- want --"
)

// TestBroken plants one fault at a time in the small book and compares everything that is reported.
//
// A case is a text file. What stands before the first "-- FILE --" says which fault it is. Under "-- FILE --" stand
// changes to that file of the small book: lines beginning with - are replaced by the lines beginning with + that
// follow; they must be in the file exactly once. Lines with + and none with - before them go to the end of the file.
// Under "-- want --" stands what is reported: place, message and advice on a line, below it
// the line of the book with its caret.
func TestBroken(t *testing.T) {
	eachCase(t, brokenBook, 150, func(t *testing.T, packs publish.Packs, diagnostics []book.Diagnostic) {
		if len(book.Errors(diagnostics)) == 0 {
			t.Error("no error is reported")
		}
		if packs != nil {
			t.Error("the broken book is published all the same")
		}
	})
}

// TestWarned does the same with what is likely to be a slip: it is reported, and the book is published all the same.
func TestWarned(t *testing.T) {
	eachCase(t, warnedBook, 1, func(t *testing.T, packs publish.Packs, diagnostics []book.Diagnostic) {
		if len(diagnostics) == 0 || len(book.Errors(diagnostics)) > 0 {
			t.Error("want warnings alone")
		}
		if packs == nil || len(packs) != len(packs.Desks()) {
			t.Errorf("packs of %d desks", len(packs))
		}
	})
}

// eachCase loads every changed book of a folder, compares what is reported and has the rest checked.
func eachCase(t *testing.T, folder string, least int, check func(*testing.T, publish.Packs, []book.Diagnostic)) {
	names, err := filepath.Glob(filepath.Join(folder, "*.txt"))
	if err != nil {
		t.Fatal(err)
	}
	if len(names) < least {
		t.Fatalf("%d books in %s, want at least %d", len(names), folder, least)
	}
	for _, name := range names {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txt"), func(t *testing.T) {
			packs, diagnostics := testCase(t, name)
			check(t, packs, diagnostics)
		})
	}
}

func testCase(t *testing.T, name string) (publish.Packs, []book.Diagnostic) {
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	changes, want, found := strings.Cut(string(text), wantMarker+"\n")
	if !found && !*update {
		t.Fatalf("the case has no line %q", wantMarker)
	}
	folder := overlay(t, smallBook)
	if err := change(folder, changes); err != nil {
		t.Fatal(err)
	}
	packs, _, diagnostics, err := publish.Load(folder)
	if err != nil {
		t.Fatal(err)
	}
	got := reported(diagnostics)
	if *update {
		if err := os.WriteFile(name, []byte(strings.TrimRight(changes, "\n")+"\n"+wantMarker+"\n"+got),
			0o644); err != nil {
			t.Fatal(err)
		}
	} else if got != want {
		t.Errorf("got\n%swant\n%s", got, want)
	}
	return packs, diagnostics
}

func reported(diagnostics []book.Diagnostic) string {
	var b strings.Builder
	for _, p := range diagnostics {
		fmt.Fprintf(&b, "%s\n%s", p.Error(), p.Shown("    "))
	}
	return b.String()
}

// overlay copies a book so that a test may change it.
func overlay(t testing.TB, folder string) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	disk := os.DirFS(folder)
	err := fs.WalkDir(disk, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := fs.ReadFile(disk, name)
		out[name] = &fstest.MapFile{Data: text}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// change applies the changes of a case.
func change(folder fstest.MapFS, text string) error {
	file, changed := "", 0
	var old, put []string
	flush := func() error {
		if len(old)+len(put) == 0 {
			return nil
		}
		err := replace(folder, file, joined(old), joined(put))
		old, put, changed = nil, nil, changed+1
		return err
	}
	for _, line := range strings.Split(text, "\n") {
		var err error
		switch {
		case strings.HasPrefix(line, "-- ") && strings.HasSuffix(line, " --"):
			err = flush()
			file = strings.TrimSuffix(strings.TrimPrefix(line, "-- "), " --")
		case file == "" || line == "": // what the case says of itself
		case line[0] == '-':
			if len(put) > 0 {
				err = flush()
			}
			old = append(old, line[1:])
		case line[0] == '+':
			put = append(put, line[1:])
		default:
			err = fmt.Errorf("%q begins with neither - nor +", line)
		}
		if err != nil {
			return err
		}
	}
	if err := flush(); err != nil {
		return err
	}
	if changed == 0 {
		return fmt.Errorf("the case changes nothing")
	}
	return nil
}

func joined(lines []string) string {
	if len(lines) == 0 {
		return ""
	}
	return strings.Join(lines, "\n") + "\n"
}

func replace(folder fstest.MapFS, file, old, put string) error {
	before := ""
	if f, ok := folder[file]; ok {
		before = string(f.Data)
	}
	after := before + put
	if old != "" {
		if n := strings.Count("\n"+before, "\n"+old); n != 1 {
			return fmt.Errorf("%d times in %s, want once: %q", n, file, old)
		}
		after = strings.TrimPrefix(strings.Replace("\n"+before, "\n"+old, "\n"+put, 1), "\n")
	}
	folder[file] = &fstest.MapFile{Data: []byte(after)}
	return nil
}

// TestBrokenIsSmallOtherwise makes sure that the small book itself is sound, so that each case has only its own fault.
func TestBrokenIsSmallOtherwise(t *testing.T) {
	packs, counts, diagnostics, err := publish.Load(os.DirFS(smallBook))
	if err != nil || len(diagnostics) > 0 {
		t.Fatalf("%v\n%s", err, reported(diagnostics))
	}
	if want := (publish.Counts{Hulls: 1, Slots: 3, Options: 6, Rules: 2, Materials: 2, Operations: 2}); counts != want {
		t.Errorf("counts %+v, want %+v", counts, want)
	}
	if len(packs) != 3 {
		t.Errorf("packs of %d desks, want 3", len(packs))
	}
}
