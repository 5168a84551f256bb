package main

import (
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"ribband/core/pack"
	"ribband/core/publish"
)

// liveOf serves a book with desks that say no more than what was found.
func liveOf(t *testing.T, dir string) *liveBook {
	t.Helper()
	packs, found, err := loadAll(&console{err: io.Discard}, dir)
	if err != nil {
		t.Fatal(err)
	}
	b := &liveBook{console: &console{err: io.Discard}, folder: dir,
		desks: func(packs publish.Packs, line string) (site, error) {
			return site{"index.html": []byte(packs[pack.Yard].Edition.Name + ": " + line)}, nil
		}, orders: func(publish.Packs) error { return nil }}
	if err := b.serving(packs, found); err != nil {
		t.Fatal(err)
	}
	return b
}

// got is what a path of a server gives.
func got(h http.Handler, path string) (int, string) {
	w := httptest.NewRecorder()
	h.ServeHTTP(w, httptest.NewRequest(http.MethodGet, path, nil))
	return w.Code, w.Body.String()
}

// The owner's own machine shows what was found in the book with its grade, place and remedy, and each place leads to
// its line. Text of the book is escaped.
func TestPageOfTheBook(t *testing.T) {
	dir := copySmall(t)
	if err := os.Mkdir(filepath.Join(dir, "a b"), 0o755); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "a b", "more.yaml"),
		"materials:\n  - {id: spare, title: \"A <b>spare</b>\", unit: each, cost: \"1\"}\n")
	b := liveOf(t, dir)
	_, page := got(b, "/book.html")
	for _, want := range []string{"1 warning", `<strong class="warning">warning</strong>`,
		`<a href="book/a%20b/more.yaml#L2">`, "more.yaml:2:10", "material spare",
		"  - {id: spare, title: &#34;A &lt;b&gt;spare&lt;/b&gt;&#34;", "^^^^^\n</pre>",
		"take it out of the book, or use it", "begin when a browser shows this page"} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q: %s", want, page)
		}
	}
	code, text := got(b, "/book/a%20b/more.yaml")
	if code != 200 || !strings.Contains(text, `<li id="L2">  - {id: spare, title: &#34;A &lt;b&gt;spare`) ||
		!strings.Contains(text, `<a href="../../book.html">`) {
		t.Errorf("%d: the text of the file is shown as %s", code, text)
	}
	if strings.Contains(page+text, "<b>") {
		t.Error("text of the book is markup on the page")
	}
}

// Nothing but the files of the book is shown.
func TestTextsAreThoseOfTheBookAlone(t *testing.T) {
	dir := copySmall(t)
	write(t, filepath.Join(dir, ".hidden.yaml"), "secret: 1\n")
	write(t, filepath.Join(dir, "notes.txt"), "secret\n")
	write(t, filepath.Join(filepath.Dir(dir), "outside.yaml"), "secret: 1\n")
	b := liveOf(t, dir)
	for _, path := range []string{"/book/", "/book/.hidden.yaml", "/book/notes.txt", "/book/../outside.yaml",
		"/book/%2e%2e/outside.yaml", "/book/..%2foutside.yaml", "/book//etc/passwd", "/book/nothing.yaml"} {
		if code, text := got(b, path); code != http.StatusNotFound || strings.Contains(text, "secret") {
			t.Errorf("%s gives %d: %.100s", path, code, text)
		}
	}
	if code, _ := got(b, "/book/boat.yaml"); code != 200 {
		t.Errorf("a file of the book gives %d", code)
	}
}

// A save is on the page at once; the desks stay those of the last sound book, and say what is found now.
func TestPageOfTheBookFollowsIt(t *testing.T) {
	dir := copySmall(t)
	b := liveOf(t, dir)
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	go b.watch(ctx)
	time.Sleep(2 * lookEvery)
	until := func(path, words string) {
		t.Helper()
		for end := time.Now().Add(time.Minute); time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
			if _, text := got(b, path); strings.Contains(text, words) {
				return
			}
		}
		t.Fatalf("%s never says %q", path, words)
	}
	_, before := got(b, "/"+bookRound)
	edit(t, filepath.Join(dir, "boat.yaml"), `"top-fixed"`, `"top-fixt"`)
	until("/book.html", "did you mean &#34;top-fixed&#34;?")
	until("/", "Test: 1 error.")
	if _, after := got(b, "/"+bookRound); after == before {
		t.Error("the page is not told that something has changed")
	}
	edit(t, filepath.Join(dir, "boat.yaml"), `"top-fixt"`, `"top-fixed"`)
	edit(t, filepath.Join(dir, "yard.yaml"), `name: Test`, `name: Spring`)
	until("/", "Spring: no errors.")
	got(b, "/"+bookRound)
	until("/book.html", "Proved over all boats: ")
}

// Each desk of the owner's own machine says in a line what was found, and no site that is published does.
func TestDesksSayWhatWasFound(t *testing.T) {
	packs, err := load(&console{err: io.Discard}, copySmall(t))
	if err != nil {
		t.Fatal(err)
	}
	p, err := demoProgram()
	if err != nil {
		t.Fatal(err)
	}
	published, err := p.site(packs, pack.Desks, nil)
	if err != nil {
		t.Fatal(err)
	}
	p.found = "no errors, 3 warnings."
	served, err := p.site(packs, pack.Desks, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range published.pages() {
		if !strings.Contains(string(served[name]), `<a href="book.html">Price book: no errors, 3 warnings.</a>`) {
			t.Errorf("%s does not say what was found", name)
		}
	}
	for name, text := range published {
		if strings.Contains(string(text), bookPage) || name == bookPage || strings.HasPrefix(name, bookFiles) {
			t.Errorf("%s of a published site leads to the page of the book", name)
		}
	}
}

// The page of the book leads to every desk that is served beside it, the dealers' too.
func TestBookPageLeadsToEveryDesk(t *testing.T) {
	packs := packsOf(t)
	var got, want []string
	for _, l := range deskLinks(packs) {
		got = append(got, l.Page)
	}
	for _, d := range packs.Desks() {
		want = append(want, strings.Replace(mainPage(d), "index.html", "/", 1))
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) || len(want) < 4 {
		t.Errorf("it leads to %v, served are %v", got, want)
	}
}
