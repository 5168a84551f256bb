package main

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"maps"
	"net/http"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"

	"ribband/core/pack"
)

// watched has the page list its workers in window.workers, so that a test can kill one as the system would.
const watched = `window.workers = []; window.Worker = class extends Worker {
  constructor(...a) { super(...a); window.workers.push(this); }
};`

// watchWorkers is to be called before a page is opened.
func (p *tab) watchWorkers() {
	p.Helper()
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument,
		page.AddScriptToEvaluateOnNewDocumentParams{Source: watched}); err != nil {
		p.Fatal(err)
	}
}

// dealWithQuotation makes a deal, issues its quotation, and changes the boat once more; it gives the total before that.
func (p *tab) dealWithQuotation() (before string) {
	p.Helper()
	p.dealAtTheShow()
	p.answers(chromedp.Evaluate[chromedp.Void](`document.getElementById("detail-date").form.requestSubmit()`))
	p.paperText()
	p.do(chromedp.Click(chromedp.CSS(`[data-do="close"]`)))
	before = p.total()
	p.choose("bank", "bank-lfp-20")
	return before
}

// goesOn fails the test unless the page has the whole deal, works, and takes the last change back.
func (p *tab) goesOn(when, total, before string) {
	p.Helper()
	p.hasDeal(when, total)
	if p.status("bank-lfp-20") != "chosen" {
		p.Errorf("%s the bank is %s", when, p.status("bank-lfp-20"))
	}
	p.answers(chromedp.Evaluate[chromedp.Void](`document.getElementById("undo-button").click()`))
	p.hasDeal(when+" and undone", before)
	p.choose("bank", "bank-lfp-20")
	p.hasDeal(when+" and done again", total)
}

// A worker that the system kills is followed by another with the same deal. Nobody has to do anything for it.
func TestKilledWorkerStartsAgain(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.watchWorkers()
	p.open(server.URL + "/show.html")
	before := p.dealWithQuotation()
	total := p.total()
	p.do(chromedp.Evaluate[chromedp.Void](`void workers[0].terminate()`))
	server.CloseClientConnections()
	server.Listener.Close() // it starts again without the network
	eventuallyIn(p, 40*time.Second, `workers.length === 2 && document.getElementById("state").textContent.includes("Nothing of this boat is lost")`)
	p.goesOn("after the worker was killed", total, before)
}

// hanging makes a worker that never answers a change of units again, as one whose engine runs in a circle.
const hanging = `{ let engine; Object.defineProperty(globalThis, "ribbandEngine", {
  set: (f) => { engine = f; },
  get: () => engine && ((message) => {
    while (typeof message === "string" && message.includes('"act":"units"')) {}
    return engine(message);
  }),
}); }
`

// A worker that hangs in a change is put away; the change is not made, and that is said.
func TestHungWorkerStartsAgain(t *testing.T) {
	t.Parallel()
	s := siteOf(t)
	server := serveHandler(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, "/assets/worker-") {
			w.Header().Set("Content-Type", "text/javascript")
			_, _ = w.Write([]byte(hanging))
		}
		s.ServeHTTP(w, r)
	}))
	p := newTab(t)
	p.open(server.URL + "/show.html")
	before := p.dealWithQuotation()
	total, count := p.total(), of[string](p, answered)
	p.do(chromedp.Evaluate[chromedp.Void](`(u => { u.value = "us"; u.dispatchEvent(new Event("change", {bubbles: true})); })(document.getElementById("units"))`))
	eventuallyIn(p, 40*time.Second, fmt.Sprintf("%s !== %q", answered, count))
	if s := p.text("state"); !strings.Contains(s, "started again before this "+
		"change") || !strings.Contains(s, "no answer in 20 s") {
		t.Errorf("it says %q", s)
	}
	p.goesOn("after the worker hung", total, before)
}

// An engine that runs out of memory starts again; where it never has enough, that is said, and it is not tried for
// ever.
func TestEngineOutOfMemory(t *testing.T) {
	t.Parallel()
	s := siteOf(t)
	t.Run("in a change", func(t *testing.T) {
		p := newTab(t)
		p.watchWorkers()
		p.open(serveHandler(t, withMemory(t, s, pack.Show, 400)).URL + "/show.html")
		before := p.dealWithQuotation()
		total := p.total()
		p.answers(chromedp.Evaluate[chromedp.Void](`void (i => {
			const d = new DataTransfer();
			d.items.add(new File(["x".repeat(2e8)], "large.json"));
			i.files = d.files;
			i.dispatchEvent(new Event("change", {bubbles: true}));
		})(document.getElementById("open-file"))`))
		if s := p.text("state"); !strings.Contains(s, "out of memory") || !strings.Contains(s, "before this change") {
			t.Errorf("it says %q", s)
		}
		if n := of[int](p, "workers.length"); n != 2 {
			t.Errorf("%d workers, want a second", n)
		}
		p.goesOn("after memory ran out", total, before)
	})
	t.Run("at the start", func(t *testing.T) {
		p := newTab(t)
		p.watchWorkers()
		p.do(chromedp.Navigate(serveHandler(t, withMemory(t, s, pack.Buyer, 1)).URL + "/"))
		eventually(p, `document.getElementById("state").dataset.kind === "error"`)
		if s := p.text("state"); !strings.Contains(s, "stopped several times") || !strings.Contains(s, "memory") {
			t.Errorf("it says %q", s)
		}
		if n := of[int](p, "workers.length"); n > 3 {
			t.Errorf("it was tried %d times", n)
		}
	})
}

// withMemory is a site whose engine for a desk may take at most so many MB of memory beyond what it starts with: the
// section of the memory in its code says so (WebAssembly Core Specification 2.0, 5.5.8).
func withMemory(t *testing.T, s site, desk pack.Desk, mb uint64) site {
	t.Helper()
	p, err := demoProgram()
	if err != nil {
		t.Fatal(err)
	}
	b := p.engineOf(desk)
	code := b.code
	for at := 8; at < len(code); {
		id := code[at]
		size, n := binary.Uvarint(code[at+1:])
		start := at + 1 + n
		end := start + int(size)
		if id != 5 {
			at = end
			continue
		}
		if code[start] != 1 || code[start+1] != 0 {
			t.Fatalf("the section of memory is % x", code[start:end])
		}
		least, _ := binary.Uvarint(code[start+2:])
		section := binary.AppendUvarint(binary.AppendUvarint([]byte{1, 1}, least), least+mb*16) // of 64 kB
		changed := append(bytes.Clone(code[:at]), 5)
		changed = append(binary.AppendUvarint(changed, uint64(len(section))), section...)
		changed = append(changed, code[end:]...)
		return withEngine(s, b, changed)
	}
	t.Fatal("the engine has no memory")
	return nil
}

// withEngine is a site with another engine, under the name that it has by its digest.
func withEngine(s site, old *built, engine []byte) site {
	name := func(code []byte) string { return fmt.Sprintf("assets/%s-%s.wasm.gz", old.name, digest(code)[:12]) }
	changed := maps.Clone(s)
	changed[name(engine)] = engine // as a host that inflates hands it out
	for _, file := range s.pages() {
		changed[file] = bytes.ReplaceAll(s[file], []byte(name(old.code)), []byte(name(engine)))
	}
	return changed
}

// A file of the page that the host does not have, or not as it was published, is named on the page, also where it is
// the page's own script.
func TestMissingFilesAreNamed(t *testing.T) {
	t.Parallel()
	s := siteOf(t)
	for _, kind := range []string{"app-", "style-", "worker-", "engine-", "buyer-"} {
		for _, damaged := range []bool{false, true} {
			if damaged && kind != "engine-" && kind != "buyer-" {
				continue // the browser's own parsers take what they are given
			}
			t.Run(fmt.Sprintf("%s %v", kind, damaged), func(t *testing.T) {
				server := serveHandler(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
					if !strings.HasPrefix(r.URL.Path, "/assets/"+kind) {
						s.ServeHTTP(w, r)
					} else if damaged {
						_, _ = w.Write([]byte("not what was published"))
					} else {
						http.NotFound(w, r)
					}
				}))
				p := newTab(t, "404", "MIME")
				p.do(chromedp.Navigate(server.URL))
				if kind == "style-" {
					p.await(answered) // the page works, and says it all the same
				}
				eventually(p, fmt.Sprintf(`document.getElementById("state").textContent.includes("/assets/%s")`, kind))
				if s := p.text("state"); strings.Contains(s, "{") || of[string](p, `document.getElementById("state").dataset.kind`) != "error" {
					t.Errorf("it says %q", s)
				}
			})
		}
	}
}

// eventuallyIn is eventually with a limit of its own.
func eventuallyIn(p *tab, limit time.Duration, js string) {
	p.Helper()
	for end := time.Now().Add(limit); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if of[bool](p, js) {
			return
		}
	}
	p.Fatalf("waiting for %s; the page says %s", js, p.state())
}
