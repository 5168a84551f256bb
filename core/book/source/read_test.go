package source_test

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"
	"testing/fstest"

	"ribband/core/book"
	"ribband/core/book/source"
)

const (
	smallBook = "../../../testdata/books/small"
	demoBook  = "../../../rules"
)

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

// with puts a file into a book.
func with(folder fstest.MapFS, name, text string) fstest.MapFS {
	folder[name] = &fstest.MapFile{Data: []byte(text)}
	return folder
}

// diagnostics reads a book that can be read.
func diagnostics(t testing.TB, folder fs.FS) []book.Diagnostic {
	t.Helper()
	_, list, err := source.Read(folder)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func TestReadPositions(t *testing.T) {
	b, list, err := source.Read(os.DirFS(smallBook))
	if err != nil || len(list) > 0 {
		t.Fatal(err, list)
	}
	text, err := os.ReadFile(smallBook + "/boat.yaml")
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(text), "\n")
	for _, want := range []struct {
		at    book.Position
		value string
	}{
		{b.Hulls[0].ID.At, "teasel-48"},
		{b.Hulls[0].Dimensions[1].Key.At, "top_m2"},
		{b.Hulls[0].Dimensions[1].Value.At, "4.5"},
		{b.Slots[1].When.At, `chosen("top")`},                           // no quotes
		{b.Hulls[0].Operations[0].Hours.At, "20 + 6 * hull.length_m"},   // behind the quote
		{b.Slots[2].Options[0].Price.Terms[0].Amount.At, `"85"`},        // at the quote
		{b.Slots[2].Options[1].Price.Terms[1].Per.At, "hull.length_m"},  // in a list in a list
		{b.Slots[2].Options[0].Requires[0].AnyOf[0].At, "top-folding]"}, // in brackets
		{b.Rules[0].At, "id: heavy-cloth"},
	} {
		if want.at.File != "boat.yaml" || !strings.HasPrefix(lines[want.at.Line-1][want.at.Column-1:], want.value) {
			t.Errorf("%s is not where %s stands", want.at, want.value)
		}
	}
}

// Both ways to end the name of a file are good, at any depth; other files are nobody's business.
func TestReadFindsFiles(t *testing.T) {
	folder := overlay(t, smallBook)
	folder["deep/er/boat.yml"] = folder["boat.yaml"]
	delete(folder, "boat.yaml")
	with(folder, "notes.txt", "{[")
	with(folder, "yaml", "{[")
	with(folder, "empty.yaml", "")
	with(folder, "comment.yaml", "# nothing yet\n")
	if list := diagnostics(t, folder); len(list) > 0 {
		t.Error(list)
	}
}

func TestReadEmptyFolder(t *testing.T) {
	for _, folder := range []fstest.MapFS{{}, {"notes.txt": {Data: []byte("yard: {}")}}} {
		if _, _, err := source.Read(folder); err == nil || !strings.Contains(err.Error(), "is it the right one?") {
			t.Errorf("error %v", err)
		}
	}
	if _, _, err := source.Read(os.DirFS(smallBook + "/nowhere")); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("error %v, want that it does not exist", err)
	}
}

func TestReadHugeFile(t *testing.T) {
	huge := strings.Repeat("# nothing but a comment\n", 200_000)
	list := diagnostics(t, with(overlay(t, smallBook), "huge.yaml", huge))
	if len(list) != 1 || list[0].Error() != "huge.yaml:1:1: the file is larger than 4 MiB; divide it" {
		t.Error(list)
	}
}

// A file that cannot be read says nothing about the keys that may be in it.
func TestReadUnreadableFileHidesNoKeys(t *testing.T) {
	list := diagnostics(t, with(overlay(t, smallBook), "yard.yaml", "yard: {name: Teasel\n"))
	if len(list) != 1 || !strings.Contains(list[0].Message, "not YAML") || list[0].File != "yard.yaml" {
		t.Error(list)
	}
}

// Everything that is wrong is reported at once: what was read, then what was checked.
func TestReadReportsAllFaults(t *testing.T) {
	folder := overlay(t, smallBook)
	with(folder, "more.yaml", `materials:
  - {id: bolt-6, title: Bolt, unit: each, cost: "0,40", colour: grey}
  - {id: bolt-8, title: Bolt, cost: "0.60", stock: perhaps}
shops: none
`)
	var got strings.Builder
	for _, p := range diagnostics(t, folder) {
		fmt.Fprintf(&got, "%s %s\n", p.Position, p.Message)
	}
	want := `more.yaml:2:49 cost is written with a decimal comma: 0,40
more.yaml:2:57 unknown key "colour"
more.yaml:3:5 the key unit: is missing
more.yaml:3:52 stock wants true or false
more.yaml:4:8 shops wants a list
more.yaml:3:25 the material bolt-8 is called "Bolt", and so is bolt-6
`
	if got.String() != want {
		t.Errorf("got\n%swant\n%s", got.String(), want)
	}
}

func TestReadReportsAtMostAHundred(t *testing.T) {
	var text strings.Builder
	text.WriteString("materials:\n")
	for i := range 150 {
		fmt.Fprintf(&text, "  - {id: bolt-%d, title: Bolt, unit: furlong%d, cost: \"1\"}\n", i, i)
	}
	list := diagnostics(t, with(overlay(t, smallBook), "more.yaml", text.String()))
	if len(list) != book.MaxDiagnostics {
		t.Fatalf("%d diagnostics, want %d", len(list), book.MaxDiagnostics)
	}
	for i, p := range list {
		if p.Line != i+2 || p.Message != fmt.Sprintf(`unknown unit "furlong%d"`, i) {
			t.Fatalf("diagnostic %d is %v", i, p)
		}
	}
}

// What is long in a book is cut short in a message.
func TestReadClipsWhatItQuotes(t *testing.T) {
	list := diagnostics(t, with(overlay(t, smallBook), "more.yaml", strings.Repeat("k", 10_000)+": 1\n"))
	if len(list) != 1 || len(list[0].Message) > 200 {
		t.Error(list)
	}
}

// Brackets within brackets without end once took minutes to parse, by the square of their number.
func TestReadDeepNesting(t *testing.T) {
	for _, opening := range []string{"[", "{a: ", "- ", "a: [", "? ", "- [", "[{"} {
		text := strings.Repeat(opening, 50_000)
		list := diagnostics(t, with(overlay(t, smallBook), "more.yaml", text))
		if len(list) != 1 || !strings.Contains(list[0].Message, "deep") || list[0].Line != 1 {
			t.Errorf("%.20q: %v", text, list)
		}
	}
	for _, other := range []string{"&a ", "!a ", "a: ", "'", "*a ", "<<: "} {
		if len(diagnostics(t, with(overlay(t, smallBook), "more.yaml", strings.Repeat(other, 3_000)))) == 0 {
			t.Errorf("nothing in many of %q", other)
		}
	}
}
