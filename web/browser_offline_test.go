package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"net/http"
	"net/http/httptest"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"

	"ribband/core/pack"
)

// host is a static host of some sites, by the path where each lies; the longest path is asked first. It can be made to
// take every question and never answer, as the network of a full hall does, and to lose single files.
type host struct {
	*httptest.Server
	mu     sync.Mutex
	sites  map[string]site
	hangs  bool
	asked  []string
	closed chan struct{}
}

func newHost(t *testing.T, sites map[string]site) *host {
	t.Helper()
	h := &host{sites: sites, closed: make(chan struct{})}
	h.Server = serveHandler(t, h)
	t.Cleanup(func() { close(h.closed) }) // before the server is closed, which waits for its answers
	return h
}

func (h *host) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h.mu.Lock()
	h.asked = append(h.asked, r.URL.Path)
	hangs, root, found := h.hangs, "", site(nil)
	for path, s := range h.sites {
		if strings.HasPrefix(r.URL.Path, path) && len(path) > len(root) {
			root, found = path, s
		}
	}
	h.mu.Unlock()
	if hangs {
		select {
		case <-h.closed:
		case <-r.Context().Done():
		}
		return
	}
	http.StripPrefix(strings.TrimSuffix(root, "/"), found).ServeHTTP(w, r)
}

// hang makes the host take every question without an answer, also on connections that are open already.
func (h *host) hang(hangs bool) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.hangs = hangs
}

func (h *host) publish(path string, s site) {
	h.mu.Lock()
	defer h.mu.Unlock()
	h.sites[path] = s
}

// die closes the host for good.
func (h *host) die(t *testing.T) {
	t.Helper()
	h.CloseClientConnections()
	h.Listener.Close()
	if _, err := http.Get(h.URL); err == nil {
		t.Fatal("the host is still there")
	}
}

// otherEdition is a site of the demo's program with another price book: all is dearer by a tenth or so.
var otherEdition = sync.OnceValues(func() (site, error) {
	p, err := demoProgram()
	if err != nil {
		return nil, err
	}
	packs, err := load(&console{err: new(bytes.Buffer)}, otherBook)
	if err != nil {
		return nil, err
	}
	return p.site(packs, pack.Desks, nil)
})

var otherBook string

func otherEditionOf(t *testing.T) site {
	t.Helper()
	siteOf(t) // or skip
	otherBook = copyBook(t)
	edit(t, filepath.Join(otherBook, "yard.yaml"), `edition:\n  name: [^\n]*\n  date: [^\n]*`,
		"edition:\n  name: \"2029.7\"\n  date: \"2029-07-01\"")
	edit(t, filepath.Join(otherBook, "yard.yaml"), `margin: "[^"]*"`, `margin: "0.4"`)
	s, err := otherEdition()
	if err != nil {
		t.Fatal(err)
	}
	return s
}

const isKept = `document.getElementById("kept").dataset.kept === "true"`

// keeps opens a page and waits until it is kept on the device.
func (p *tab) keeps(address string) {
	p.Helper()
	p.open(address)
	p.await(isKept)
	p.await(`navigator.serviceWorker.controller?.state === "activated"`)
}

// lookAgain has the page look for a new edition, as it does when a person comes back to it.
func (p *tab) lookAgain() {
	p.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](`void document.dispatchEvent(new Event("visibilitychange"))`))
}

const isOffered = `!document.getElementById("edition").hidden && !document.getElementById("edition-load").hidden`

// Each desk that was visited opens without a network, with its drawings, papers and sheets; one that was not visited
// does not, and its prices are not on the device.
func TestVisitedDesksWorkWithoutANetwork(t *testing.T) {
	t.Parallel()
	h := newHost(t, map[string]site{"/": siteOf(t)})
	p := newTab(t, "net::ERR")
	const keys = `caches.keys().then(async (n) => (await (await caches.open(n[0])).keys())
		.map((r) => new URL(r.url).pathname).join(" "))`
	p.keeps(h.URL + "/")
	// a buyer keeps the pictures that he has looked at, a salesperson all of them
	var pictures []string
	if err := json.Unmarshal(siteOf(t)[picturesOf(t, siteOf(t), "show.html")], &pictures); err != nil {
		t.Fatal(err)
	}
	if kept := of[string](p, keys); strings.Contains(kept, "picture") {
		t.Errorf("a buyer who looked at no picture keeps %s", kept)
	}
	// shown says how wide a picture is
	shown := func(p *tab, file string) int {
		return of[int](p, fmt.Sprintf(`new Promise((done) => { const i = new Image();
			i.onload = () => done(i.naturalWidth); i.onerror = () => done(0); i.src = %q })`, file))
	}
	if w := shown(p, pictures[0]); w == 0 {
		t.Errorf("%s is not shown", pictures[0])
	}
	if kept := of[string](p, keys); !strings.Contains(kept, pictures[0]) || strings.Contains(kept, pictures[1]) {
		t.Errorf("a buyer who looked at %s keeps %s", pictures[0], kept)
	}
	p.keeps(h.URL + "/show.html")
	kept := of[string](p, keys)
	if strings.Contains(kept, "yard") || !strings.Contains(kept, "/show.html") || !strings.Contains(kept,
		"/index.html") {
		t.Errorf("kept are %s", kept)
	}
	h.die(t)
	for i, desk := range []string{"/index.html", "/", "/show.html"} {
		p = p.second()
		p.allowed = []string{"net::ERR"}
		p.open(h.URL + desk)
		p.answers(chromedp.Click(chromedp.ID([]string{"hull-osier-76", "hull-reed-65", "hull-osier-76"}[i])))
		if !of[bool](p, `document.querySelector("#profile svg") !== null`) {
			t.Errorf("%s has no drawing", desk)
		}
		p.answers(chromedp.Click(chromedp.CSS(`[data-do="specification"]`)))
		if text := p.paperText(); !strings.Contains(text, "Osier 76") && !strings.Contains(text, "Reed 65") {
			t.Errorf("%s prints %.200q", desk, text)
		}
		if !of[bool](p, `document.getElementById("paper-frame").contentDocument.querySelector("svg") !== null`) {
			t.Errorf("the paper of %s has no drawing", desk)
		}
		for _, file := range pictures {
			if shown(p, file) == 0 {
				t.Errorf("%s does not show %s", desk, file)
			}
		}
	}
}

// A network that takes every question and answers none holds nothing up.
func TestPageOpensOnAHangingNetwork(t *testing.T) {
	t.Parallel()
	h := newHost(t, map[string]site{"/": siteOf(t)})
	p := newTab(t)
	p.keeps(h.URL + "/show.html")
	p.hull("reed-65")
	total := p.total()
	h.hang(true)
	p.do(chromedp.Reload())
	p.await(answered)
	if p.total() != total {
		t.Errorf("it shows %s, want %s", p.total(), total)
	}
	p.lookAgain()
	p.choose("bank", "bank-lfp-20")
}

// Two sites of one origin, one below the other: each keeps its own, a new edition of one leaves the other's alone, and
// neither shows the other's boat.
func TestTwoSitesOfOneOrigin(t *testing.T) {
	t.Parallel()
	demo, other := siteOf(t), otherEditionOf(t)
	h := newHost(t, map[string]site{"/": demo, "/boats/": other})
	p := newTab(t, "net::ERR")
	p.keeps(h.URL + "/")
	p.hull("reed-65")
	root := p.total()
	below := p.second()
	below.allowed = p.allowed
	below.keeps(h.URL + "/boats/")
	if below.total() == root || of[bool](below, `document.getElementById("hull-reed-65").checked`) {
		t.Error("the site below shows the boat of the other")
	}
	names := func() []string { return of[[]string](p, `caches.keys()`) }
	before := names()
	if len(before) != 2 || !strings.HasPrefix(before[0], "ribband / ") || !strings.HasPrefix(before[1],
		"ribband /boats/ ") {
		t.Fatalf("the caches are %q", before)
	}
	h.publish("/boats/", demo)
	below.lookAgain()
	below.await(isOffered)
	below.do(chromedp.Click(chromedp.ID("edition-load")))
	eventually(below, fmt.Sprintf(`document.body.dataset.siteEdition === %q && Boolean(%s)`, pageEdition(t, demo), answered))
	eventually(below, `caches.keys().then((n) => n.length === 2)`)
	if after := names(); after[0] != before[0] || after[1] == before[1] {
		t.Errorf("the caches are %q, and were %q", after, before)
	}
	if of[bool](p, isOffered) {
		t.Error("the other site's edition is offered at the root")
	}
	h.die(t)
	for at, want := range map[*tab]string{p: "/", below: "/boats/"} {
		at.do(chromedp.Reload())
		at.await(answered)
		if got := of[string](at, `location.pathname`); got != want {
			t.Errorf("without a network %s opens, want %s", got, want)
		}
	}
}

// pageEdition is the edition of a site's public page.
func pageEdition(t *testing.T, s site) string {
	t.Helper()
	_, rest, ok := strings.Cut(string(s["index.html"]), `data-site-edition="`)
	edition, _, _ := strings.Cut(rest, `"`)
	if !ok || edition == "" {
		t.Fatal("the page has no edition")
	}
	return edition
}

// A new edition comes while a deal is at work: it is offered, the page stays as it is until it is asked for, also by a
// reload, and then the deal is there, with what the new price book makes of it. Another tab goes on with the old
// edition, its files are kept for it, and it is offered the new one too.
func TestNewEditionIsOffered(t *testing.T) {
	t.Parallel()
	demo, other := siteOf(t), otherEditionOf(t)
	h := newHost(t, map[string]site{"/": demo})
	p := newTab(t)
	p.keeps(h.URL + "/show.html")
	p.dealAtTheShow()
	total, edition := p.total(), of[string](p, `document.body.dataset.siteEdition`)
	tab := p.second()
	tab.open(h.URL + "/show.html")
	tab.hull("osier-76")
	h.publish("/", other)
	p.lookAgain()
	p.await(isOffered)
	if s := p.text("edition-text"); !strings.Contains(s, "2029.7") {
		t.Errorf("it says %q", s)
	}
	p.hasDeal("when it is offered", total)
	p.do(chromedp.Reload())
	p.await(answered)
	p.hasDeal("reloaded while it is offered", total)
	if got := of[string](p, `document.body.dataset.siteEdition`); got != edition {
		t.Errorf("a reload loads edition %s over %s", got, edition)
	}
	p.await(isOffered)
	if !of[bool](p, `(r => r.top >= 0 && r.bottom <= innerHeight)(document.getElementById("edition-load").getBoundingClientRect())`) {
		t.Error("the offer is out of view")
	}
	p.do(chromedp.Click(chromedp.ID("edition-load")))
	eventually(p, fmt.Sprintf(`document.body.dataset.siteEdition !== %q && Boolean(%s)`, edition, answered))
	if p.total() == total {
		t.Errorf("the new edition shows the old price, %s", total)
	}
	p.hasDeal("in the new edition", p.total())
	p.await(`!document.getElementById("edition").hidden`)
	sums := regexp.MustCompile(`came to (.*) then and comes to (.*) now`).FindStringSubmatch(p.text("edition-text"))
	if sums == nil || sums[1] == sums[2] || !strings.HasSuffix(sums[1], "EUR") || !strings.HasSuffix(sums[2], "EUR") {
		t.Errorf("of the change it says %q", p.text("edition-text"))
	}
	// the other tab
	tab.await(isOffered)
	tab.hull("reed-65")
	if got := of[string](tab, `document.body.dataset.siteEdition`); got != edition {
		t.Errorf("the other tab has edition %s, want %s", got, edition)
	}
	if n := of[int](tab, `caches.keys().then((n) => n.length)`); n != 2 {
		t.Errorf("%d editions are kept, want both", n)
	}
	tab.do(chromedp.Click(chromedp.ID("edition-load")))
	eventually(tab, fmt.Sprintf(`document.body.dataset.siteEdition !== %q && Boolean(%s)`, edition, answered))
	eventually(tab, `caches.keys().then((n) => n.length === 1)`)
}

// A host that hands out a part of another edition, stale or half uploaded, gives nothing to keep: what is kept stays
// whole, and says nothing until all of the new edition is there.
func TestHalfAnEditionIsNotKept(t *testing.T) {
	t.Parallel()
	demo, other := siteOf(t), otherEditionOf(t)
	h := newHost(t, map[string]site{"/": demo})
	p := newTab(t, "404", "net::ERR")
	p.keeps(h.URL + "/")
	edition := of[string](p, `document.body.dataset.siteEdition`)
	half := maps.Clone(other)
	half["index.html"] = demo["index.html"]
	h.publish("/", half)
	p.lookAgain()
	p.await(`document.getElementById("kept").dataset.kept === "false"`)
	if s := p.text("kept"); !strings.Contains(s, "index.html") {
		t.Errorf("it does not say what is of another edition: %q", s)
	}
	p.do(chromedp.Reload())
	p.await(answered)
	if got := of[string](p, `document.body.dataset.siteEdition`); got != edition || of[bool](p, isOffered) {
		t.Errorf("the page is of edition %s, want %s: %s", got, edition, p.text("edition"))
	}
	h.publish("/", other)
	p.lookAgain()
	p.await(isOffered)
}
