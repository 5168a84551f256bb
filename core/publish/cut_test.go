package publish_test

import (
	"bytes"
	"flag"
	"fmt"
	"io/fs"
	"maps"
	"math/rand/v2"
	"runtime/debug"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"github.com/goccy/go-yaml"

	"ribband/core/book"
	"ribband/core/book/source"
	"ribband/core/pack"
	"ribband/core/proof"
	"ribband/core/publish"
)

var cuts = flag.Int("cuts", 0, "how many cut, shuffled and spliced books to check instead of the usual number")

// patience is how long a book may take: many times what the demo book takes on a slow machine.
const patience = 5 * time.Minute

// TestCutBooks checks books of which something was taken away, put elsewhere, doubled or mixed with another, as whole
// entries and as text. Whatever follows, nothing panics or hangs, and every diagnostic has a place and a remedy.
func TestCutBooks(t *testing.T) {
	for _, x := range []struct {
		name, folder string
		books        int
		prove        int // every how many books are proved
	}{{"small", smallBook, 1500, 1}, {"demo", demoBook, 10, 10}} {
		t.Run(x.name, func(t *testing.T) {
			if *cuts > 0 {
				x.books = *cuts
			}
			before := overlay(t, x.folder)
			good, wrong := 0, 0
			for i := range x.books {
				r := rand.New(rand.NewPCG(uint64(i), 7))
				folder := cut(r, before)
				if check(t, folder, i%x.prove == 0) {
					good++
				} else {
					wrong++
				}
				if t.Failed() {
					t.Fatalf("in the %d. book of %s:\n%s", i, x.name, difference(before, folder))
				}
			}
			t.Logf("%d good books, %d wrong ones", good, wrong)
			if wrong < x.books/3 || x.books > 1000 && good < x.books/20 {
				t.Errorf("%d good books and %d wrong ones make no test", good, wrong)
			}
		})
	}
}

// FuzzCutBooks does the same, led by the fuzzer.
func FuzzCutBooks(f *testing.F) {
	before := overlay(f, smallBook)
	f.Add(uint64(1), uint64(2))
	f.Fuzz(func(t *testing.T, a, b uint64) {
		folder := cut(rand.New(rand.NewPCG(a, b)), before)
		if check(t, folder, true); t.Failed() {
			t.Log(difference(before, folder))
		}
	})
}

// check loads and proves a book, and says whether it has no errors. It fails the test where that panics or hangs, or
// something has no place or remedy.
func check(t *testing.T, folder fstest.MapFS, proved bool) bool {
	type outcome struct {
		diagnostics []book.Diagnostic
		failure     string
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		defer func() {
			if p := recover(); p != nil {
				o.failure = fmt.Sprintf("panic: %v\n%s", p, debug.Stack())
			}
			done <- o
		}()
		packs, _, diagnostics, err := publish.Load(folder)
		o.diagnostics = diagnostics
		if err == nil && packs != nil && proved {
			var refuted []publish.Diagnostic
			_, refuted, err = publish.Prove(folder, new(source.Cache), packs[pack.Yard], proof.How{})
			for _, r := range refuted {
				o.diagnostics = append(o.diagnostics, r.Diagnostic)
			}
		}
		if err != nil && !strings.Contains(err.Error(), "is it the right one?") {
			o.failure = err.Error()
		}
	}()
	select {
	case o := <-done:
		if o.failure != "" {
			t.Error(o.failure)
		}
		for _, p := range o.diagnostics {
			if p.File == "" || p.Line < 1 || p.Column < 1 || p.Message == "" || p.Advice == "" {
				t.Errorf("a diagnostic without place or remedy: %q", p.Error())
			}
		}
		return len(book.Errors(o.diagnostics)) == 0
	case <-time.After(patience):
		t.Fatalf("it hangs, at least for %v", patience)
	}
	return false
}

// difference lists the files of a book that were changed.
func difference(before, after fstest.MapFS) string {
	var b strings.Builder
	for _, name := range slices.Sorted(maps.Keys(after)) {
		if f, ok := before[name]; !ok || !bytes.Equal(f.Data, after[name].Data) {
			fmt.Fprintf(&b, "-- %s --\n%s\n", name, after[name].Data)
		}
	}
	return b.String()
}

// cut changes a copy of a book in one to three places.
func cut(r *rand.Rand, before fstest.MapFS) fstest.MapFS {
	folder := maps.Clone(before)
	names := slices.Sorted(maps.Keys(folder))
	names = slices.DeleteFunc(names, func(name string) bool { return !strings.HasSuffix(name, ".yaml") })
	for range 1 + max(0, r.IntN(5)-2) {
		name, other := names[r.IntN(len(names))], names[r.IntN(len(names))]
		text, from := folder[name].Data, folder[other].Data
		var changed []byte
		if r.IntN(3) == 0 {
			changed = cutText(r, text, from)
		} else {
			changed = cutEntries(r, text, from)
		}
		folder[name] = &fstest.MapFile{Data: changed, Mode: fs.ModePerm &^ 0o111}
	}
	return folder
}

// marks are bytes that mean something in YAML, and one that is no UTF-8.
const marks = " \t:-[]{}\"'#&*!|>%@,0\xff"

// cutText works on lines and bytes.
func cutText(r *rand.Rand, text, other []byte) []byte {
	lines, from := bytes.SplitAfter(text, []byte("\n")), bytes.SplitAfter(other, []byte("\n"))
	at, end := span(r, len(lines))
	switch r.IntN(7) {
	case 0: // the file ends early
		return bytes.Clone(text[:r.IntN(len(text)+1)])
	case 1: // lines are missing
		return bytes.Join(slices.Delete(slices.Clone(lines), at, end), nil)
	case 2: // lines are there twice
		return bytes.Join(slices.Insert(slices.Clone(lines), end, lines[at:end]...), nil)
	case 3: // lines of another file
		a, b := span(r, len(from))
		return bytes.Join(slices.Insert(slices.Clone(lines), at, from[a:b]...), nil)
	case 4: // two lines change places
		out := slices.Clone(lines)
		out[at], out[end-1] = out[end-1], out[at]
		return bytes.Join(out, nil)
	case 5: // indented otherwise
		out := slices.Clone(lines)
		out[at] = append([]byte(" "), out[at]...)
		return bytes.Join(out, nil)
	}
	out := bytes.Clone(text)
	if len(out) > 0 {
		out[r.IntN(len(out))] = marks[r.IntN(len(marks))]
	}
	return out
}

// span is a short stretch of a list of n, which is not empty.
func span(r *rand.Rand, n int) (from, to int) {
	from = r.IntN(n)
	return from, min(n, from+1+r.IntN(8))
}

// cutEntries works on what the file says: it takes an entry away, puts one in the place of another, doubles or shuffles
// a list. A file that is no YAML stays as it is.
func cutEntries(r *rand.Rand, text, other []byte) []byte {
	var tree, from any
	if yaml.UnmarshalWithOptions(text, &tree, yaml.UseOrderedMap()) != nil ||
		yaml.UnmarshalWithOptions(other, &from, yaml.UseOrderedMap()) != nil {
		return text
	}
	all, strange := nodes(&tree), nodes(&from)
	if len(all) == 0 || len(strange) == 0 {
		return text
	}
	x := all[r.IntN(len(all))]
	switch r.IntN(8) {
	case 0, 1:
		x.remove()
	case 6, 7: // by what stands under the same key elsewhere
		if like := slices.DeleteFunc(all, func(y node) bool { return y.key != x.key }); len(like) > 0 {
			x.set(copied(like[r.IntN(len(like))].get()))
		}
	case 2:
		x.set(copied(strange[r.IntN(len(strange))].get()))
	case 3:
		y := all[r.IntN(len(all))]
		a, b := copied(x.get()), copied(y.get())
		x.set(b)
		y.set(a)
	case 4:
		x.set([]any{nil, 0, -1, 1e9, 0.001, "", "1,5", []any{}, yaml.MapSlice{}, true, "hull.length_m",
			"1 / 0"}[r.IntN(12)])
	case 5:
		if list, ok := x.get().([]any); ok && len(list) > 0 {
			list = append(slices.Clone(list), list[r.IntN(len(list))])
			r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
			x.set(list)
		} else {
			x.remove()
		}
	}
	out, err := yaml.Marshal(tree)
	if err != nil {
		return text
	}
	return out
}

// copied is a value of its own, so that no tree comes to hold itself.
func copied(v any) any {
	switch v := v.(type) {
	case yaml.MapSlice:
		out := slices.Clone(v)
		for i := range out {
			out[i].Value = copied(out[i].Value)
		}
		return out
	case []any:
		out := slices.Clone(v)
		for i := range out {
			out[i] = copied(out[i])
		}
		return out
	}
	return v
}

// node is a value in a tree, to be taken out or set.
type node struct {
	key    any // nil of a list's entry
	get    func() any
	set    func(any)
	remove func()
}

// nodes are all values below a root, repeated so that each level is about as likely as the others.
func nodes(root *any) []node {
	var levels [][]node
	var visit func(depth int, get func() any, set func(any))
	add := func(depth int, n node) {
		for len(levels) <= depth {
			levels = append(levels, nil)
		}
		levels[depth] = append(levels[depth], n)
		visit(depth+1, n.get, n.set)
	}
	visit = func(depth int, get func() any, set func(any)) {
		switch v := get().(type) {
		case yaml.MapSlice:
			for i := range v {
				add(depth, node{v[i].Key, func() any { return v[i].Value }, func(x any) { v[i].Value = x },
					func() { set(slices.Delete(slices.Clone(v), i, i+1)) }})
			}
		case []any:
			for i := range v {
				add(depth, node{nil, func() any { return v[i] }, func(x any) { v[i] = x },
					func() { set(slices.Delete(slices.Clone(v), i, i+1)) }})
			}
		}
	}
	visit(0, func() any { return *root }, func(x any) { *root = x })
	most := 0
	for _, l := range levels {
		most = max(most, len(l))
	}
	var out []node
	for _, l := range levels {
		for range most / max(1, len(l)) {
			out = append(out, l...)
		}
	}
	return out
}
