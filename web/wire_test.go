package main

import (
	"bytes"
	"net/http"
	"os"
	"path"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"ribband/core/pack"
	"ribband/web/wire"
)

// What a first visit of the buyer's page may take on the line, bytes. Hosts send texts as gzip. At 1.6 Mbit/s 1.15 MB
// take six seconds.
const (
	mostOfEngine = 1_000_000
	mostInAll    = 1_150_000
)

// demoPacked is the buyer's page with the engine packed for the line, which takes some seconds.
var demoPacked = sync.OnceValues(func() (site, error) {
	p, err := demoProgram()
	if err != nil {
		return nil, err
	}
	packs, err := demoPacks()
	if err != nil {
		return nil, err
	}
	p.buyers = p.buyers.pack(&console{err: os.Stderr})
	return p.site(packs, []pack.Desk{pack.Buyer}, nil)
})

func packedSite(t testing.TB) site {
	t.Helper()
	siteOf(t) // or skip
	if version, err := goEnv(t.Context(), "GOVERSION"); err != nil || !wire.Known(version) {
		t.Skip("the engine is made small with ", wire.KnownGo, " alone; this is ", version, err)
	}
	s, err := demoPacked()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// damaging serves a site whose packed engine comes with a bit that has turned over.
func damaging(s site) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if path.Ext(r.URL.Path) != ".rwp" {
			s.ServeHTTP(w, r)
			return
		}
		text := bytes.Clone(s[strings.TrimPrefix(r.URL.Path, "/")])
		text[len(text)/3] ^= 1
		_, _ = w.Write(text)
	})
}

// The engine and the whole of a first visit fit a slow line.
func TestFirstVisitFitsItsBudget(t *testing.T) {
	s := packedSite(t)
	total := 0
	for _, file := range append(s.needs("index.html"), "index.html", "sw.js") {
		if strings.Contains(file, "-nl-") || strings.Contains(file, "-de-") {
			continue // of other readers: an English one loads none of them
		}
		n := len(s[file])
		if !strings.HasSuffix(file, ".gz") && !strings.HasSuffix(file, ".rwp") && !strings.HasSuffix(file, ".png") {
			n = len(compress(s[file]))
		}
		t.Logf("%8d %s", n, file)
		if total += n; strings.HasSuffix(file, ".rwp") && n > mostOfEngine {
			t.Errorf("the engine has %d bytes on the line, more than %d", n, mostOfEngine)
		}
	}
	if total > mostInAll || total < mostOfEngine/2 {
		t.Errorf("a first visit takes %d bytes, more than %d", total, mostInAll)
	}
}

// The page works with the packed engine, asks for it once, and takes the plain one where it comes damaged.
func TestPackedEngineInThePage(t *testing.T) {
	t.Parallel()
	s := packedSite(t)
	var mu sync.Mutex
	asked, damaged := map[string]int{}, false
	server := serveHandler(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		defer mu.Unlock()
		kind := path.Ext(r.URL.Path)
		asked[kind]++
		if damaged {
			damaging(s).ServeHTTP(w, r)
			return
		}
		s.ServeHTTP(w, r)
	}))
	times := func(kind string) int {
		mu.Lock()
		defer mu.Unlock()
		return asked[kind]
	}
	p := newTab(t)
	p.do(chromedp.Navigate(server.URL + "/"))
	eventuallyIn(p, 2*time.Minute, "Boolean("+answered+")")
	total := p.total()
	if times(".gz") != 5 { // the pack, and what the device keeps of two other languages
		t.Errorf("%d files came as gzip beside the packed engine, want 5", times(".gz"))
	}
	eventuallyIn(p, time.Minute,
		`caches.open("ribband-engine /assets/engine").then((c) => c.keys()).then((k) => k.length === 1)`)
	before := times(".rwp")
	second := p.second()
	second.do(chromedp.Navigate(server.URL + "/"))
	eventuallyIn(second, 2*time.Minute, "Boolean("+answered+")")
	if now := times(".rwp"); now > before+1 { // the service worker may keep it meanwhile
		t.Errorf("a second page asked %d times more for the engine", now-before)
	}
	mu.Lock()
	damaged = true
	mu.Unlock()
	other := newTab(t)
	other.do(chromedp.Navigate(server.URL + "/"))
	eventuallyIn(other, 2*time.Minute, "Boolean("+answered+")")
	if got := other.total(); got != total || times(".gz") < 3 {
		t.Errorf("with a damaged engine the total is %s, want %s; %d files came as gzip", got, total, times(".gz"))
	}
}

// With a Go whose tables are not known, and where an engine cannot be packed, the owner is told, and the site has the
// plain file: the page works as well with it.
func TestPlainEngineWithAWarning(t *testing.T) {
	var said bytes.Buffer
	c := &console{err: &said}
	if !c.knows(wire.KnownGo+".3") || said.Len() > 0 {
		t.Errorf("of a known version is said %q", &said)
	}
	if c.knows("go1.99.1") || !strings.Contains(said.String(), "WARNING: this is go1.99.1") {
		t.Errorf("of an unknown version is said %q", &said)
	}
	said.Reset()
	p := program{buyers: &built{name: "engine", code: []byte("GIF89a"), compressed: compress([]byte("GIF89a"))},
		assets: map[string][]byte{"worker.js": nil, "main.js": nil, "style.css": nil, "sw.js": nil}}
	p.buyers = p.buyers.pack(c)
	if !strings.Contains(said.String(), "WARNING: packing the engine") {
		t.Errorf("of an engine that cannot be packed is said %q", &said)
	}
	s, err := p.site(packsOf(t), []pack.Desk{pack.Buyer}, nil)
	if err != nil {
		t.Fatal(err)
	}
	engines := 0
	for _, file := range s.needs("index.html") {
		if strings.Contains(file, "/engine-") {
			engines++
			if !strings.HasSuffix(file, ".wasm.gz") {
				t.Errorf("the page names %s", file)
			}
		}
	}
	if engines != 1 {
		t.Errorf("the page names %d engines", engines)
	}
}
