package source_test

import (
	"fmt"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"pgregory.net/rapid"

	"ribband/core/book"
	"ribband/core/book/source"
)

func digest(t interface{ Fatal(...any) }, folder fs.FS) string {
	b, list, err := source.Read(folder)
	if err != nil || len(list) > 0 {
		t.Fatal(err, list)
	}
	return b.Digest()
}

var topKey = regexp.MustCompile(`(?m)^[a-z_]+:`)

// parts divides the files of a book into its top-level keys.
func parts(folder fstest.MapFS) []string {
	var list []string
	for _, name := range slices.Sorted(maps.Keys(folder)) {
		text := string(folder[name].Data)
		starts := topKey.FindAllStringIndex(text, -1)
		for i, s := range starts {
			end := len(text)
			if i+1 < len(starts) {
				end = starts[i+1][0]
			}
			list = append(list, text[s[0]:end])
		}
	}
	return list
}

// The small book has each key once, so its keys may stand in any order, in any files, at any depth, with comments
// anywhere.
func TestDigestIgnoresFilesOrderAndComments(t *testing.T) {
	folder := overlay(t, smallBook)
	want := digest(t, folder)
	keys := parts(folder)
	if len(keys) < 15 {
		t.Fatalf("%d top-level keys in the small book", len(keys))
	}
	rapid.Check(t, func(t *rapid.T) {
		shuffled := fstest.MapFS{}
		for i, text := range rapid.Permutation(keys).Draw(t, "keys") {
			name := fmt.Sprintf("%s%d.yaml", rapid.SampledFrom([]string{"", "a/", "z/", "m/n/"}).Draw(t, "folder"),
				i/rapid.IntRange(1, 5).Draw(t, "a file"))
			before := ""
			if f, ok := shuffled[name]; ok {
				before = string(f.Data)
			}
			with(shuffled, name, before+commented(t, text))
		}
		if got := digest(t, shuffled); got != want {
			t.Fatalf("digest %s, want %s", got, want)
		}
	})
}

// commented puts comments and empty lines between the lines of a text.
func commented(t *rapid.T, text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		b.WriteString(rapid.SampledFrom([]string{"", "", "", "\n", "# a comment\n", "      # {an: [indented one\n",
			"\n\n"}).Draw(t, "between"))
		b.WriteString(line)
	}
	return b.String()
}

// The demo book has lists that go on in the next file, so the order of its files stays; their names and division may
// change.
func TestDigestIgnoresNamesOfFiles(t *testing.T) {
	folder := overlay(t, demoBook)
	want := digest(t, folder)
	// pictures stay where the book looks for them
	renamed, one, all := fstest.MapFS{}, fstest.MapFS{}, ""
	for name, f := range folder {
		if !strings.HasSuffix(name, ".yaml") {
			renamed[name], one[name] = f, f
		}
	}
	for i, name := range yamlNames(folder) {
		with(renamed, fmt.Sprintf("%03d/x.yml", i), "# moved\n\n"+string(folder[name].Data)+"\n# end\n")
		all += "---\n" + string(folder[name].Data)
	}
	if got := digest(t, renamed); got != want {
		t.Errorf("renamed: digest %s, want %s", got, want)
	}
	if got := digest(t, with(one, "all.yaml", all)); got != want {
		t.Errorf("in one file: digest %s, want %s", got, want)
	}
}

// yamlNames are the files of a book in the order in which they are read.
func yamlNames(folder fs.FS) []string {
	var names []string
	_ = fs.WalkDir(folder, ".", func(name string, entry fs.DirEntry, err error) error {
		if strings.HasSuffix(name, ".yaml") {
			names = append(names, name)
		}
		return err
	})
	return names
}

// The order within a list is part of the book: options are shown in it.
func TestDigestFollowsTheOrderOfLists(t *testing.T) {
	folder := overlay(t, smallBook)
	want := digest(t, folder)
	text := string(folder["yard.yaml"].Data)
	first, second := `  - {id: order, title: With the order, share: "0.40"}`+"\n",
		`  - {id: handover, title: At handover, share: "0.60"}`+"\n"
	swapped := strings.Replace(text, first+second, second+first, 1)
	if swapped == text || digest(t, with(folder, "yard.yaml", swapped)) == want {
		t.Error("two stages changed places, and the digest is the same")
	}
}

var scalar = regexp.MustCompile(`"[0-9][0-9.]*"|: [0-9][0-9.]*\b|title: [A-Z][a-z ]+|because: [A-Z][a-z ]+`)

// Whatever value is changed in the files, the digest follows, unless the book is no longer good.
func TestDigestFollowsValues(t *testing.T) {
	folder := overlay(t, smallBook)
	want := digest(t, folder)
	changed := 0
	for _, name := range yamlNames(folder) {
		text := string(folder[name].Data)
		for _, place := range scalar.FindAllStringIndex(text, -1) {
			end := place[1]
			if text[end-1] == '"' {
				end--
			}
			b, list, err := source.Read(with(overlay(t, smallBook), name, text[:end]+more(text[end-1])+text[end:]))
			if err != nil {
				t.Fatal(err)
			}
			if len(book.Errors(list)) > 0 {
				continue
			}
			changed++
			if b.Digest() == want {
				t.Errorf("%s: a change of %q leaves the digest", name, text[place[0]:place[1]])
			}
		}
	}
	if changed < 40 {
		t.Errorf("%d values were changed, want more", changed)
	}
}

// more is what may follow a character without ending its word.
func more(last byte) string {
	if last >= '0' && last <= '9' {
		return "1"
	}
	return "x"
}
