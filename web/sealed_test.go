package main

import (
	"io"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"testing"

	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/seal"
)

// The phrases of the tests, as nobody should choose them.
const (
	showPhrase = "four oak ribs and a keel"
	yardPhrase = "varnish épaisse on a wet day"

	dealerPhrase = "seven swans below the lock"
)

var testPhrases = phrases{pack.Show: showPhrase, pack.Yard: yardPhrase, dealersDesk: dealerPhrase}

// dealersDesk is that of the demo's dealer.
const dealersDesk pack.Desk = "dealer-tarnwick-quay"

// demoSealed is the demo site with its private desks sealed.
var demoSealed = sync.OnceValues(func() (site, error) { return sealDemo(nil) })

// sealedSite is the demo site with its private desks sealed, of packs that a test may change first.
func sealedSite(t testing.TB, change func(publish.Packs)) site {
	t.Helper()
	siteOf(t)
	build := demoSealed
	if change != nil {
		build = func() (site, error) { return sealDemo(change) }
	}
	s, err := build()
	if err != nil {
		t.Fatal(err)
	}
	return maps.Clone(s)
}

// sealDemo seals copies of the demo's packs, changed where there is a change.
func sealDemo(change func(publish.Packs)) (site, error) {
	demo, err := demoPacks()
	if err != nil {
		return nil, err
	}
	packs := publish.Packs{}
	for d, p := range demo {
		copied := *p
		packs[d] = &copied
	}
	if change != nil {
		change(packs)
	}
	p, err := demoProgram()
	if err != nil {
		return nil, err
	}
	return p.site(packs, pack.Desks, testPhrases)
}

// secretFile writes a secret that the test alone can read.
func secretFile(t *testing.T, text string) string {
	t.Helper()
	name := filepath.Join(t.TempDir(), "secret")
	if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
	return name
}

// What is sealed stands nowhere in a published site, under no name, and comes out with the phrase of its desk alone.
func TestSealedSiteHoldsNothingOfTheYards(t *testing.T) {
	if testing.Short() {
		t.Skip("the site takes some seconds to build")
	}
	dir, out := markedBook(t), t.TempDir()
	o := worked(t, tool(t, "", "publish", "-book", dir, "-desks", "all", "-out", out, "-show-phrase",
		secretFile(t, showPhrase+"\n"), "-yard-phrase", secretFile(t, yardPhrase), "-dealer-phrase",
		"tarnwick-quay="+secretFile(t, dealerPhrase)))
	if strings.Contains(o.err, "SEALED") {
		t.Errorf("it warns: %s", o.err)
	}
	s := published(t, out)
	packs, err := load(&console{err: io.Discard}, dir)
	if err != nil {
		t.Fatal(err)
	}
	names := append(append(tradeNames(packs), markers...), "Tarnwick Quay Boat Sales")
	if found := search(t, s, names); len(found) > 0 {
		t.Errorf("the sealed site holds %q", found)
	}
	opened := site{}
	for d, phrase := range testPhrases {
		named := sealedFile.FindSubmatch(s[mainPage(d)])
		if named == nil {
			t.Fatalf("%s names no sealed file", mainPage(d))
		}
		text := string(s[string(named[1])])
		content, err := seal.Open(text, phrase, packs[d].Edition.Digest)
		if err != nil {
			t.Fatal(d, err)
		}
		opened[string(d)] = content
		for other, phrase := range testPhrases {
			if _, err := seal.Open(text, phrase, ""); other != d && !seal.Is(err, seal.WrongPhrase) {
				t.Errorf("the %s's file and the %s's phrase: %v", d, other, err)
			}
		}
	}
	// the same search finds it in what was sealed, so that it can fail
	if found := search(t, opened, []string{"7919.377", "0.4243", "Marker Supplier Quokka"}); len(found) != 3 {
		t.Errorf("opened, the desks hold %q", found)
	}
	if regexp.MustCompile(`Quokka|supplier`).Match(opened["show"]) {
		t.Error("the show's desk knows suppliers")
	}
	if regexp.MustCompile(`Quokka|supplier|margin_floor|7919\.377`).Match(opened[string(dealersDesk)]) {
		t.Error("the dealer's desk knows suppliers, costs or margins")
	}
}

// A phrase comes from a prompt or from a file of one's own, and is long enough.
func TestPublishAsksForPhrases(t *testing.T) {
	out := filepath.Join(t.TempDir(), "site")
	try := func(show, yard string) outcome {
		args := []string{"publish", "-book", rulesFolder, "-desks", "all", "-out", out}
		if show != "" {
			args = append(args, "-show-phrase", show)
		}
		return tool(t, "typed\ntyped\n", append(args, "-yard-phrase", yard)...)
	}
	good := secretFile(t, yardPhrase)
	loose := secretFile(t, showPhrase)
	if err := os.Chmod(loose, 0o640); err != nil {
		t.Fatal(err)
	}
	if runtime.GOOS != "windows" {
		refused(t, try(loose, good), 1, "show.html", "can be read by others", "mode 640", "chmod 600 "+loose)
	}
	refused(t, try("", good), 1, "no terminal to ask on", "-show-phrase FILE")
	refused(t, try(secretFile(t, "too short"), good), 1, "9 characters are too few", "at least 15")
	refused(t, try(secretFile(t, ""), good), 1, "it is empty")
	refused(t, try(secretFile(t, "several lines\nof some length"), good), 1, "several lines")
	refused(t, try(secretFile(t, "sixteen bytes \xff\xff"), good), 1, "not UTF-8")
	refused(t, try(secretFile(t, strings.Repeat("x", 5000)), good), 1, "5000 bytes")
	refused(t, try(t.TempDir(), good), 1, "is no file")
	refused(t, try(filepath.Join(out, "none"), good), 1, "no such file")
	if _, err := os.Stat(out); err == nil {
		t.Error("something was written")
	}
}

// Typed on whatever keyboard, a phrase is the same.
func TestPhraseIsComposed(t *testing.T) {
	for _, text := range []string{"\u00e9paisse", "e\u0301paisse", "e\u0301paisse\r\n"} {
		if got, err := normal(text); err != nil || got != "\u00e9paisse" {
			t.Errorf("%q is %q (%v)", text, got, err)
		}
	}
}

// Changing a phrase leaves one file behind, which opens with the new phrase alone; page and service worker name it.
func TestChangeOfAPhrase(t *testing.T) {
	s, dir := sealedSite(t, nil), t.TempDir()
	mustPublish(t, s, dir)
	before := string(sealedFile.FindSubmatch(s["yard.html"])[1])
	const fresh = "a new one, and longer"
	old, next := secretFile(t, yardPhrase), secretFile(t, fresh)
	args := []string{"seal", "-dir", dir, "-desk", "yard", "-phrase", next, "-old-phrase"}
	refused(t, tool(t, "", append(args, secretFile(t, "another phrase"))...), 1, "pass phrase is wrong")
	if got := published(t, dir); len(got) != len(s) || got[before] == nil {
		t.Error("after a wrong phrase the site is another")
	}
	o := worked(t, tool(t, "", append(args, old)...))
	got := published(t, dir)
	after := string(sealedFile.FindSubmatch(got["yard.html"])[1])
	if !strings.Contains(o.out, before) || got[before] != nil || len(got) != len(s) {
		t.Errorf("it says %q, and leaves %v", o.out, got.paths())
	}
	if worker := string(got["sw.js"]); !strings.Contains(worker, after) || strings.Contains(worker, before) ||
		strings.Count(worker, "const SITE") != 1 {
		t.Errorf("the service worker is %.300s", worker)
	}
	packs := packsOf(t)
	if _, err := seal.Open(string(got[after]), yardPhrase, ""); !seal.Is(err, seal.WrongPhrase) {
		t.Errorf("with the old phrase: %v", err)
	}
	if _, err := seal.Open(string(got[after]), fresh, packs[pack.Yard].Edition.Digest); err != nil {
		t.Errorf("with the new phrase: %v", err)
	}
	for _, path := range s.paths() { // nothing else has changed
		if path != before && !strings.HasPrefix(path, "yard.") && path != "sw.js" && path != listName &&
			string(got[path]) != string(s[path]) {
			t.Errorf("%s is another", path)
		}
	}
	refused(t, tool(t, "", "seal", "-dir", t.TempDir(), "-desk", "yard", "-old-phrase", old, "-phrase", next), 1,
		"no published site")
	refused(t, tool(t, "", "seal", "-dir", dir, "-desk", "buyer"), 2,
		"-desk show, -desk yard or -desk dealer")
}

// A page that is sealed says nothing that the buyer's does not.
func TestLockedPageIsEmpty(t *testing.T) {
	s := sealedSite(t, func(packs publish.Packs) { packs[pack.Show].LockMinutes = 7 })
	for name, idle := range map[string]string{"show.html": `data-idle="420"`, "yard.html": `data-idle="900"`} {
		page := string(s[name])
		if !strings.Contains(page, idle) || !strings.Contains(page, `id="unlock"`) || strings.Contains(page, "ledger") ||
			strings.Contains(page, "data-pack") || len(page) > 8500 {
			t.Errorf("%s, %d bytes: %.1500s", name, len(page), page)
		}
	}
	for path := range s {
		if strings.Contains(path, ".json.gz") && !strings.Contains(path, "buyer") &&
			!strings.HasPrefix(path, "assets/words-") { // the program's own words are everybody's
			t.Errorf("%s lies open", path)
		}
	}
}

// The machine's own server is not sealed, says so, and cannot be reached by others.
func TestServeIsForThisMachine(t *testing.T) {
	if !strings.Contains(greeting, "Not sealed: for this machine alone") {
		t.Error("the greeting does not say it")
	}
	for _, addr := range []string{"0.0.0.0:8642", ":8642", "192.0.2.7:80", "[::]:0", "yard.example:80"} {
		refused(t, tool(t, "", "serve", "-addr", addr), 1, addr, "not sealed", "127.0.0.1")
	}
	for _, addr := range []string{"127.0.0.1:0", "[::1]:0", "localhost:80", "127.1.2.3:9"} {
		if err := onThisMachine(newFlags(&console{}, "serve", ""), addr); err != nil {
			t.Error(err)
		}
	}
	refused(t, tool(t, "", "serve", "-addr", "8642"), 2, "HOST:PORT")
}

// What comes out of a seal is the pack itself, which an engine takes.
func TestSealedPackIsWhole(t *testing.T) {
	packs := packsOf(t)
	s := site{}
	if err := s.addSealed(pageParts{Desk: pack.Show}, packs[pack.Show], showPhrase); err != nil {
		t.Fatal(err)
	}
	content, err := seal.Open(string(s[string(sealedFile.FindSubmatch(s["show.html"])[1])]), showPhrase, "")
	if err != nil {
		t.Fatal(err)
	}
	var opened sealedContent
	decode(t, string(content), &opened)
	p, err := pack.Decode([]byte(opened.Pack))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := engine.Compile(p); err != nil || p.Edition != packs[pack.Show].Edition ||
		!strings.Contains(opened.Pages["en"], "ledger") {
		t.Errorf("%+v (%v)", p.Edition, err)
	}
}
