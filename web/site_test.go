package main

import (
	"bufio"
	"bytes"
	"compress/gzip"
	"context"
	"fmt"
	"index/suffixarray"
	"io"
	"io/fs"
	"maps"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"ribband/core/pack"
	"ribband/core/publish"
)

// published reads what a publication wrote.
func published(t *testing.T, dir string) site {
	t.Helper()
	s := site{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		name, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		s[filepath.ToSlash(name)], err = os.ReadFile(path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// inflated gives the text of a file, out of gzip where it is in it.
func inflated(t testing.TB, text []byte) []byte {
	t.Helper()
	if !bytes.HasPrefix(text, []byte{0x1f, 0x8b}) {
		return text
	}
	r, err := gzip.NewReader(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	out, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Publishing twice gives the same bytes, from whatever folder and at whatever time.
func TestPublishAllWritesTheSameSiteTwice(t *testing.T) {
	before := filepath.Join(t.TempDir(), "before")
	worked(t, tool(t, "", "publish", "-book", rulesFolder, "-desks", "all", "-unsealed", "-out", before))
	want := published(t, before)
	dir := filepath.Join(t.TempDir(), "not", "there", "yet")
	o := worked(t, tool(t, "", "publish", "-book", rulesFolder, "-desks", "all", "-unsealed", "-out", dir))
	got := published(t, dir)
	if g, w := strings.Join(got.paths(), " "), strings.Join(want.paths(), " "); g != w {
		t.Fatalf("wrote %s\nwant %s", g, w)
	}
	for _, path := range want.paths() {
		if !bytes.Equal(got[path], want[path]) {
			t.Errorf("%s has other bytes the second time", path)
		}
	}
	if !strings.Contains(o.err, "NOT SEALED. show.html and yard.html hold costs") {
		t.Errorf("no warning: %s", o.err)
	}
	if !strings.Contains(o.out, fmt.Sprintf("Wrote %d files", len(want))) || !strings.Contains(o.out, dir) {
		t.Errorf("it says %q", o.out)
	}
	// The same folder again, for the buyer alone: nothing from which costs can be read may stay there.
	o = worked(t, tool(t, "", "publish", "-book", rulesFolder, "-out", dir))
	for _, path := range published(t, dir).paths() {
		if strings.Contains(path, "show") || strings.Contains(path, "yard") {
			t.Errorf("%s stays", path)
		}
	}
	if !strings.Contains(o.out, fmt.Sprintf("%d files made room", len(want))) {
		t.Errorf("it says %q", o.out)
	}
}

// Engines and scripts that are built again are the same to the byte: their names are their digests.
func TestBuiltTwice(t *testing.T) {
	siteOf(t) // or skip
	first, err := demoProgram()
	if err != nil {
		t.Fatal(err)
	}
	again, err := buildProgram(t.Context(), &console{err: io.Discard})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first.buyers.code, again.buyers.code) || !bytes.Equal(first.own.code, again.own.code) {
		t.Error("an engine has other bytes the second time")
	}
	if len(again.buyers.code) >= len(again.own.code) {
		t.Errorf("the public engine has %d bytes, that of the yard %d", len(again.buyers.code), len(again.own.code))
	}
	for name, text := range first.assets {
		if !bytes.Equal(text, again.assets[name]) {
			t.Errorf("%s has other bytes the second time", name)
		}
	}
}

func TestSiteIsWhole(t *testing.T) {
	s := siteOf(t)
	named := regexp.MustCompile(`(?:src|href|data-(?:engine|pack|hulls|pictures|sealed|worker|` +
		`(?:words|book)-\w+))="([^"#:?]+)"`)
	for _, page := range s.pages() {
		for _, m := range named.FindAllSubmatch(s[page], -1) {
			if s[string(m[1])] == nil {
				t.Errorf("%s names %s, which is not there", page, m[1])
			}
		}
	}
	for path := range s {
		if strings.HasPrefix(path, "schema/") || path == "sw.js" || path == listName {
			continue // what only programmers fetch, the service worker itself, and the list
		}
		if strings.HasPrefix(path, "assets/slots-") {
			continue // for who unfolds a slot before the engine is there, which a device that keeps files has
		}
		if strings.HasPrefix(path, "assets/picture-") {
			continue // see TestPicturesOfABook
		}
		if !bytes.Contains(s["sw.js"], []byte(`"`+path+`"`)) {
			t.Errorf("the service worker does not keep %s", path)
		}
	}
	if size := len(s["index.html"]) / 1000; size > 400 {
		t.Errorf("the buyer's page is %d kB", size)
	}
}

// elsewhere are the addresses in the site's own files that name another origin, with the reason why they may.
var elsewhere = map[string]string{
	"https://json-schema.org/":            "the name of the dialect in a schema; nobody fetches it",
	"https://schema.org":                  "names of a vocabulary, for search engines; nobody fetches them",
	"https://heronmere.example/launches/": "the page's own address, in the pack for papers, and in its offer",
	"http://www.w3.org/2000/svg":          "the name of a drawing's namespace; nobody fetches it",
}

func TestSiteAsksNothingOfOtherOrigins(t *testing.T) {
	s := siteOf(t)
	address := regexp.MustCompile(`(?:https?:)?//[a-z0-9-]+(\.[a-z0-9-]+)+[^\s"')]*`)
	for _, path := range s.paths() {
		// Go's own packages name addresses in their comments on errors; the policy of the page keeps them from being
		// asked
		if strings.HasSuffix(path, ".wasm.gz") {
			continue
		}
		for _, found := range address.FindAll(inflated(t, s[path]), -1) {
			if !excused(string(found), elsewhere) {
				t.Errorf("%s refers to %s", path, found)
			}
		}
	}
	for _, page := range s.pages() {
		if !bytes.Contains(s[page], []byte(`content="default-src &#39;self&#39;; script-src &#39;self&#39; &#39;wasm-unsafe-eval&#39; `)) {
			t.Errorf("%s has no policy against other origins", page)
		}
	}
}

func excused(text string, reasons map[string]string) bool {
	for start := range reasons {
		if strings.HasPrefix(text, start) {
			return true
		}
	}
	return false
}

// markers are what stands only in the marked book, as it would be written in a file of the site. The yard's page has
// the text of the first kind in its pack; suppliers and lead times are in the yard's pack alone.
var markers = []string{"7919.377", "5501.77", "0.4243", "0.3391", "0.7717", "0.0531", "Marker Supplier Quokka",
	`"lead_days":973`}

// markedBook is the demo book with a mark in what is the yard's alone.
func markedBook(t *testing.T) string {
	t.Helper()
	dir := copyBook(t)
	edit(t, filepath.Join(dir, "yard.yaml"), `on_labour: "[^"]*"`, `on_labour: "0.4243"`)
	edit(t, filepath.Join(dir, "yard.yaml"), `margin: "[^"]*"`, `margin: "0.3391"`)
	edit(t, filepath.Join(dir, "yard.yaml"), `authority: "[^"]*"`, `authority: "0.0531"`)
	edit(t, filepath.Join(dir, "build.yaml"), `rate: "[^"]*"`, `rate: "5501.77"`)
	edit(t, filepath.Join(dir, "power", "materials.yaml"), `cost: "[^"]*", supplier: [^,}]*, lead_days: \d+`,
		`cost: "7919.377", waste: 0.7717, supplier: Marker Supplier Quokka, lead_days: 973`)
	return dir
}

func TestPublicSiteHoldsNothingOfTheYards(t *testing.T) {
	if testing.Short() {
		t.Skip("the site takes some seconds to build")
	}
	dir := markedBook(t)
	out := t.TempDir()
	o := worked(t, tool(t, "", "publish", "-book", dir, "-out", out))
	public := published(t, out)
	if public["show.html"] != nil || public["yard.html"] != nil || strings.Contains(o.err, "Warning") {
		t.Errorf("wrote %v and said %s", public.paths(), o.err)
	}
	packs, err := load(&console{err: io.Discard}, dir)
	if err != nil {
		t.Fatal(err)
	}
	names := tradeNames(packs)
	if len(names) < 300 {
		t.Fatalf("only %d names to look for", len(names))
	}
	if found := search(t, public, append(names, markers...)); len(found) > 0 {
		t.Errorf("the public site holds %q", found)
	}
	// The same search finds them where they are, so that it can fail.
	all, err := buildSite(t.Context(), &console{err: io.Discard}, packs, packs.Desks(), nil, false)
	if err != nil {
		t.Fatal(err)
	}
	if found := search(t, all, append(names, markers...)); len(found) != len(names)+len(markers) {
		t.Errorf("the site of all desks should hold every mark, and holds %d of %d", len(found),
			len(names)+len(markers))
	}
}

// tradeNames are the names of materials, shops, operations and suppliers: identifiers and titles as strings in a pack,
// and titles of several words however they stand. Those that something public bears as well (a stage of payment, an
// option) are left out.
func tradeNames(packs publish.Packs) []string {
	yard := packs[pack.Yard]
	// an operation is called like a key of the book, whose schema is published
	public := map[string]bool{yard.Yard.Name: true, "commission": true}
	for _, s := range yard.Slots {
		public[s.ID], public[s.Title] = true, true
	}
	for _, o := range yard.Options {
		public[o.ID], public[o.Title] = true, true
	}
	for _, s := range yard.Stages {
		public[s.ID] = true
	}
	names := map[string]bool{}
	add := func(id, title string) {
		for _, n := range []string{id, title} {
			if n != "" && !public[n] {
				names[`"`+n+`"`] = true
			}
		}
		if strings.Contains(title, " ") && !public[title] {
			names[title] = true
		}
	}
	for _, m := range yard.Costs.Materials {
		add(m.ID, m.Title)
	}
	for _, s := range yard.Work.Supplies {
		add("", s.Supplier)
	}
	for _, s := range yard.Costs.Shops {
		add(s.ID, s.Title)
	}
	for _, o := range yard.Costs.Operations {
		add(o.ID, o.Title)
	}
	return slices.Sorted(maps.Keys(names))
}

// search gives those of the words that stand in any file of a site.
func search(t *testing.T, s site, words []string) (found []string) {
	t.Helper()
	var everything []byte
	for _, path := range s.paths() {
		everything = append(everything, inflated(t, s[path])...)
		everything = append(everything, '\n')
	}
	all := suffixarray.New(everything) // a thousand words in fifteen megabytes
	for _, w := range words {
		if len(all.Lookup([]byte(w), 1)) > 0 {
			found = append(found, w)
		}
	}
	return found
}

func TestSiteIsServedAsAStaticHostWould(t *testing.T) {
	s := siteOf(t)
	engine := ""
	for path := range s {
		if strings.HasSuffix(path, ".wasm.gz") {
			engine = path
		}
	}
	for _, c := range []struct {
		path   string
		status int
		kind   string
		cache  string
	}{
		{"/", 200, "text/html; charset=utf-8", "no-cache"},
		{"/show.html", 200, "text/html; charset=utf-8", "no-cache"},
		{"/sw.js", 200, "text/javascript; charset=utf-8", "no-cache"},
		{"/schema/spec.json", 200, "application/json", "no-cache"},
		{"/" + engine, 200, "application/octet-stream", "public, max-age=31536000, immutable"},
		{"/assets/../index.html", 200, "text/html; charset=utf-8", "no-cache"},
		{"/none.html", 404, "text/plain; charset=utf-8", ""},
		{"/assets/", 404, "text/plain; charset=utf-8", ""},
		{"/../../go.mod", 404, "text/plain; charset=utf-8", ""},
	} {
		w := httptest.NewRecorder()
		s.ServeHTTP(w, httptest.NewRequestWithContext(t.Context(), http.MethodGet, c.path, nil))
		h := w.Result().Header
		if w.Code != c.status || h.Get("Content-Type") != c.kind || h.Get("Cache-Control") != c.cache {
			t.Errorf("%s: %d %q %q, want %d %q %q", c.path, w.Code, h.Get("Content-Type"), h.Get("Cache-Control"),
				c.status, c.kind, c.cache)
		}
	}
}

func TestServeNamesItsAddresses(t *testing.T) {
	if testing.Short() {
		t.Skip("the site takes some seconds to build")
	}
	ctx, stop := context.WithTimeout(t.Context(), time.Minute)
	defer stop()
	r, w := io.Pipe()
	var fault bytes.Buffer
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, &console{strings.NewReader(""), w, &fault},
			[]string{"-addr", "127.0.0.1:0", "-book", rulesFolder})
		w.Close()
	}()
	// the addresses come line by line, the book's last
	greeting, lines := "", bufio.NewReader(r)
	for !strings.Contains(greeting, bookPage) {
		line, err := lines.ReadString('\n')
		if err != nil {
			t.Fatalf("%v: %s", err, fault.String())
		}
		greeting += line
	}
	found := regexp.MustCompile(`http://(\S+)/show\.html`).FindStringSubmatch(greeting)
	if found == nil || !strings.Contains(greeting, "Heronmere Launch Yard") ||
		!strings.Contains(greeting, "/"+string(dealersDesk)+".html") {
		t.Fatalf("it says %s", greeting)
	}
	response, err := http.Get(found[0])
	if err != nil {
		t.Fatal(err)
	}
	response.Body.Close()
	if response.StatusCode != 200 {
		t.Errorf("%s: %s", found[0], response.Status)
	}
	if text := fetch(t, "http://"+found[1]+"/"+bookPage); !strings.Contains(text, "no errors.") {
		t.Errorf("the page of the book says %s", text)
	}
	refused(t, tool(t, "", "serve", "-addr", found[1], "-book", rulesFolder), 1, found[1], "choose another with -addr")
	stop()
	if c := <-code; c != 0 {
		t.Errorf("exit code %d when it is stopped: %s", c, fault.String())
	}
}

func fetch(t *testing.T, address string) string {
	t.Helper()
	response, err := http.Get(address)
	if err != nil {
		t.Fatal(err)
	}
	defer response.Body.Close()
	text, err := io.ReadAll(response.Body)
	if err != nil || response.StatusCode != 200 {
		t.Fatalf("%s: %s, %v", address, response.Status, err)
	}
	return string(text)
}
