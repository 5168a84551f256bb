package begin_test

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/goccy/go-yaml"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/publish"
)

// The examples of the README of the book are books: each is laid over a base book, and the whole is read and compiled.
// Before its block stands a comment of HTML, which no reader sees:
//
//	<!-- laid over new -->                                  the block is keys at the top of the book
//	<!-- laid over new, in slots/top/options/top-hard -->   the block is keys of that option
//
// new is the book that go run ./web new -yes writes; any other word names a folder of testdata/books. What is laid over
// takes the place of what is there: mappings key by key, entries of lists by their id:, hull: or word:; other entries
// are added, and lists of plain words are replaced.

const readme = "../../../rules/README.md"

// example is a block of the README with the line on which it begins.
type example struct {
	line     int
	base, in string
	text     string
}

var laid = regexp.MustCompile(`^<!-- laid over ([a-z-]+)(?:, in ([a-z0-9_/-]+))? -->$`)

// examples are the blocks of YAML in a page. One without its comment is a fault.
func examples(t *testing.T, page string) (list []example) {
	t.Helper()
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(string(text), "\n")
	for i := 0; i < len(lines); i++ {
		if strings.TrimSpace(lines[i]) != "```yaml" {
			continue
		}
		e := example{line: i + 1}
		if m := laid.FindStringSubmatch(lines[max(0, i-1)]); m != nil {
			e.base, e.in = m[1], m[2]
		} else {
			t.Errorf("%s:%d: nothing says where this example goes: write <!-- laid over new --> on the line above it, "+
				"or <!-- laid over new, in slots/top/options/top-hard --> for keys of something",
				path.Base(page), i+1)
		}
		for i++; i < len(lines) && lines[i] != "```"; i++ {
			e.text += lines[i] + "\n"
		}
		list = append(list, e)
	}
	return list
}

// base is a book as one mapping.
func base(t *testing.T, name string) yaml.MapSlice {
	t.Helper()
	var from fs.FS = folder(t, answered(t, nil))
	if name != "new" {
		from = os.DirFS("../../../testdata/books/" + name)
	}
	names, err := fs.Glob(from, "*.yaml")
	if err != nil || len(names) == 0 {
		t.Fatalf("the base book %s has no files: %v", name, err)
	}
	var whole yaml.MapSlice
	for _, n := range names {
		text, err := fs.ReadFile(from, n)
		if err != nil {
			t.Fatal(err)
		}
		whole = lay(whole, mapping(t, n, string(text)))
	}
	return whole
}

func mapping(t *testing.T, where, text string) (m yaml.MapSlice) {
	t.Helper()
	if err := yaml.UnmarshalWithOptions([]byte(text), &m, yaml.UseOrderedMap()); err != nil {
		t.Fatalf("%s is no mapping of YAML: %v", where, err)
	}
	return m
}

// lay lays keys over keys.
func lay(under, over yaml.MapSlice) yaml.MapSlice {
	out := slices.Clone(under)
	for _, item := range over {
		// one takes the place of the other
		if other := map[any]string{"margin": "markup", "markup": "margin"}[item.Key]; other != "" {
			out = slices.DeleteFunc(out, func(u yaml.MapItem) bool { return u.Key == other })
		}
		i := slices.IndexFunc(out, func(u yaml.MapItem) bool { return u.Key == item.Key })
		if i < 0 {
			out = append(out, item)
			continue
		}
		out[i].Value = layValue(out[i].Value, item.Value)
	}
	return out
}

func layValue(under, over any) any {
	u, uMap := under.(yaml.MapSlice)
	o, oMap := over.(yaml.MapSlice)
	if uMap && oMap {
		return lay(u, o)
	}
	ul, uList := under.([]any)
	ol, oList := over.([]any)
	plain := func(x any) bool { _, ok := x.(yaml.MapSlice); return !ok }
	if !uList || !oList || slices.ContainsFunc(ul, plain) || slices.ContainsFunc(ol, plain) {
		return over
	}
	out := slices.Clone(ul)
	for _, x := range ol {
		i := slices.IndexFunc(out, func(y any) bool { return name(x) != "" && name(x) == name(y) })
		if i < 0 {
			out = append(out, x)
		} else {
			out[i] = layValue(out[i], x)
		}
	}
	return out
}

// name is by what an entry of a list is known, with the key that says it; empty where nothing does.
func name(entry any) string {
	m, _ := entry.(yaml.MapSlice)
	for _, item := range m {
		switch item.Key {
		case "id", "hull", "word":
			return fmt.Sprint(item.Key, " ", item.Value)
		}
	}
	return ""
}

// whole is an example as keys at the top of a book.
func (e *example) whole(t *testing.T) yaml.MapSlice {
	t.Helper()
	m := mapping(t, fmt.Sprintf("the example at %d", e.line), e.text)
	words := strings.Split(e.in, "/")
	if e.in == "" {
		return m
	}
	for i := len(words) - 2; i >= 0; i -= 2 { // a list and the entry in it
		entry := append(yaml.MapSlice{{Key: "id", Value: words[i+1]}}, m...)
		m = yaml.MapSlice{{Key: words[i], Value: []any{entry}}}
	}
	return m
}

// written is a mapping as the one file of a book.
func written(t *testing.T, m yaml.MapSlice) fstest.MapFS {
	t.Helper()
	text, err := yaml.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	folder := fstest.MapFS{"book.yaml": {Data: text}}
	// an example may show the pictures of the demo
	demo := os.DirFS(path.Dir(readme))
	names, err := fs.Glob(demo, "pictures/*")
	if err != nil || len(names) == 0 {
		t.Fatalf("the demo has no pictures: %v", err)
	}
	for _, n := range names {
		if text, err = fs.ReadFile(demo, n); err != nil {
			t.Fatal(err)
		}
		folder[n] = &fstest.MapFile{Data: text}
	}
	return folder
}

// Every example can be typed into the book that it is laid over: it gives no error there.
func TestReadmeExamplesAreBooks(t *testing.T) {
	bases := map[string]yaml.MapSlice{}
	for _, e := range examples(t, readme) {
		if e.base == "" {
			continue // told already
		}
		if bases[e.base] == nil {
			bases[e.base] = base(t, e.base)
		}
		_, _, found, err := publish.Load(written(t, lay(bases[e.base], e.whole(t))))
		if err != nil {
			t.Errorf("README.md:%d: %v", e.line, err)
		}
		for _, d := range found {
			if d.Grade == book.Error {
				t.Errorf("README.md:%d: the example, laid over %s, gives an error: %s\n%s    %s", e.line, e.base,
					d.Message, d.Shown("  | "), d.Advice)
			}
		}
	}
}

// Every key of the grammar stands in an example, so that nobody has to guess how one is written.
func TestReadmeHasAnExampleOfEveryKey(t *testing.T) {
	shown := map[string]bool{}
	for _, e := range examples(t, readme) {
		b, _, err := source.Read(written(t, e.whole(t)))
		if err != nil {
			t.Fatal(err)
		}
		stated(reflect.ValueOf(b).Elem(), shown)
		// written out when the book was read
		shown["Slot.series"] = shown["Slot.series"] || strings.Contains(e.text, "series:")
	}
	all := map[string]bool{}
	keys(reflect.TypeFor[book.Book](), map[reflect.Type]bool{}, all)
	var lacking []string
	for key := range all {
		if !shown[key] {
			lacking = append(lacking, key)
		}
	}
	slices.Sort(lacking)
	if len(all) < 250 {
		t.Errorf("the grammar has %d keys, want more: the walk does not see them", len(all))
	}
	if len(lacking) > 0 {
		t.Errorf("%d of %d keys of the book stand in no example of rules/README.md; add each to a block of YAML there "+
			"that has what it belongs to, or write a block with <!-- laid over new --> above it, and a sentence that "+
			"says when an owner wants it:\n%s", len(lacking), len(all), strings.Join(lacking, "\n"))
	}
}

// keyOf is the key of a field; empty where it has none, as a position.
func keyOf(f reflect.StructField) string {
	key, _, _ := strings.Cut(f.Tag.Get("yaml"), ",")
	return key
}

// ours says whether a type is a structure of the book that has keys of its own.
func ours(t reflect.Type) bool {
	return t.Kind() == reflect.Struct && t.PkgPath() == reflect.TypeFor[book.Book]().PkgPath()
}

// keys are those of a type and of all that it reaches: the type, a point and the key.
func keys(t reflect.Type, seen map[reflect.Type]bool, all map[string]bool) {
	for t.Kind() == reflect.Slice || t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	if !ours(t) || seen[t] {
		return
	}
	seen[t] = true
	for f := range t.Fields() {
		if key := keyOf(f); key != "" {
			all[t.Name()+"."+key] = true
		}
		if f.IsExported() {
			keys(f.Type, seen, all)
		}
	}
}

// stated notes the keys that a value of the book gives.
func stated(v reflect.Value, shown map[string]bool) {
	switch v.Kind() {
	case reflect.Pointer:
		if !v.IsNil() {
			stated(v.Elem(), shown)
		}
	case reflect.Slice:
		for i := range v.Len() {
			stated(v.Index(i), shown)
		}
	case reflect.Struct:
		if !ours(v.Type()) {
			return
		}
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if !f.IsExported() || v.Field(i).IsZero() {
				continue
			}
			if key := keyOf(f); key != "" {
				shown[v.Type().Name()+"."+key] = true
			}
			stated(v.Field(i), shown)
		}
	}
}
