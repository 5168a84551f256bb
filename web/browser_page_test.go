package main

import (
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"ribband/core/spec"
)

// late serves a site whose engine comes only when it is let go.
func late(t *testing.T) (address string, letGo func()) {
	t.Helper()
	s := siteOf(t)
	gate := make(chan struct{})
	server := serveHandler(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, ".wasm.gz") {
			select {
			case <-gate:
			case <-r.Context().Done():
				return
			}
		}
		s.ServeHTTP(w, r)
	}))
	letGo = sync.OnceFunc(func() { close(gate) })
	t.Cleanup(letGo) // before the server is closed, which waits for it
	return server.URL, letGo
}

func TestFirstPaintIsTheBoat(t *testing.T) {
	t.Parallel()
	address, letGo := late(t)
	p := newTab(t)
	p.do(chromedp.Navigate(address))
	standard := p.total()
	if !strings.HasSuffix(plain(standard), " EUR") || p.text("line-bank") == "" {
		t.Errorf("before the engine the page shows %q and %q", standard, p.text("line-bank"))
	}
	if !strings.Contains(p.text("state"), "You can start choosing now") {
		t.Errorf("it says %q", p.text("state"))
	}
	p.unfold("slot-bank")
	p.do(chromedp.Click(chromedp.ID("option-bank-lfp-10")))
	if of[string](p, answered) != "" || p.total() != standard {
		t.Error("it was answered without an engine")
	}
	letGo()
	p.await(answered)
	p.await(`location.hash.includes("bank=bank-lfp-10")`)
	if p.status("bank-lfp-10") != "chosen" || p.total() == standard ||
		!strings.Contains(p.text("state"), "nothing is sent") {
		t.Errorf("the choice is %s, the total %s, and it says %q", p.status("bank-lfp-10"), p.total(), p.text("state"))
	}
}

// An answer that comes while somebody types in the next field must not take away what is typed, nor forget to answer
// it.
func TestTypingGoesOnWhileAnAnswerComes(t *testing.T) {
	t.Parallel()
	address, letGo := late(t)
	p := newTab(t)
	p.do(chromedp.Navigate(address))
	p.unfold("panel-use")
	p.do(chromedp.Click(chromedp.ID("use-persons")),
		chromedp.KeyEvent("a", chromedp.KeyModifiers(chromedp.ModifierCtrl)), chromedp.KeyEvent("3"),
		chromedp.KeyEvent(kb.Tab))
	p.await(`document.activeElement.id === "use-speed_kn"`)
	p.do(chromedp.KeyEvent("6"))
	letGo()
	p.await(answered)
	p.await(`location.hash.includes("persons:3")`)
	if of[string](p, "document.activeElement.id + document.activeElement.value") != "use-speed_kn6" {
		t.Errorf("typing went on in %s", of[string](p,
			"document.activeElement.outerHTML + document.activeElement.value"))
	}
	p.do(chromedp.KeyEvent(kb.Tab))
	p.await(`location.hash.includes("speed_kn:6")`)
	p.await(answered + ` !== "1"`)              // all that is out of view followed
	if n := of[string](p, answered); n != "3" { // one to open, and one for each field
		t.Errorf("%s requests, want 3", n)
	}
}

// Walking over controls with Tab changes nothing.
func TestPassingOverControlsChangesNothing(t *testing.T) {
	t.Parallel()
	p := visit(t, "")
	p.unfold("panel-use")
	p.do(chromedp.Focus(chromedp.CSS("#hulls input:checked")))
	before := of[string](p, "location.hash")
	p.tabTo("#panel-use select")
	p.unfold("slot-gelcoat-hull")
	p.do(chromedp.Focus(chromedp.ID("summary-gelcoat-hull")))
	p.tabTo("#choices-gelcoat-hull input")
	p.tabTo("#summary-gelcoat-deck")
	p.answers(chromedp.Click(chromedp.CSS(`[data-do="specification"]`))) // the second request, if nothing else was sent
	if n := of[string](p, answered); n != "2" || of[string](p, "location.hash") != before {
		t.Errorf("passing over controls sent something: %s requests, now at %s", n, of[string](p, "location.hash"))
	}
}

func TestVisitGoesOnWhereItWasLeft(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL)
	p.hull("reed-65")
	p.choose("bank", "bank-lfp-20")
	want := p.total()
	p.stores()
	p.do(chromedp.Navigate("about:blank"))
	again := p.second()
	again.open(server.URL + "/index.html")
	if again.total() != want || again.status("bank-lfp-20") != "chosen" {
		t.Errorf("the next visit shows %s, want %s", again.total(), want)
	}
}

func TestLinksThatAreNotWhole(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	sound := spec.Spec{Format: spec.Format, Hull: "reed-65",
		Choices: map[string]map[string]int{"bank": {"bank-lfp-20": 1}}}
	future := sound.Clone()
	future.Choices["top"] = map[string]int{"awning-electric": 1}
	foreign := spec.Spec{Format: spec.Format, Hull: "pike-88", Choices: sound.Choices}
	for _, c := range []struct {
		name, link string
		says       []string
		bank       string
	}{
		{"cut off", strings.TrimSuffix(sound.Link(), sound.Link()[len(sound.Link())-9:]),
			[]string{"damaged", "checksum"}, "chosen"},
		{"changed", strings.Replace(sound.Link(), "1/reed-65/", "1/reed-65/%7Bx%7D/", 1),
			[]string{"damaged", "could not be read"}, "chosen"},
		{"broken escape", "%E0%A4%A", []string{"no link"}, "open"},
		{"of a future edition", future.Link(), []string{"awning-electric", "unknown option", "edition"}, "chosen"},
		{"with a hull of another edition", foreign.Link(), []string{"pike-88"}, "chosen"},
		{"of a future form", "9/reed-65/" + sound.Link()[10:], []string{"begins with"}, "open"},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := newTab(t)
			p.open(server.URL + "/#" + c.link)
			for _, w := range c.says {
				if !strings.Contains(p.text("remarks"), w) {
					t.Errorf("it does not say %q but %q", w, p.text("remarks"))
				}
			}
			if s := p.status("bank-lfp-20"); s != c.bank {
				t.Errorf("the bank is %s, want %s", s, c.bank)
			}
		})
	}
}

func TestAddressChangedByHand(t *testing.T) {
	t.Parallel()
	p := visit(t, "")
	sound := spec.Spec{Format: spec.Format, Hull: "reed-65"}
	p.answers(chromedp.Evaluate[chromedp.Void](`void (location.hash = "` + sound.Link() + `")`))
	if !of[bool](p, `document.getElementById("hull-reed-65").checked`) {
		t.Error("the page does not follow its address")
	}
}

func TestBuyerByTouch(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.do(chromedp.EmulateViewport(390, 844, chromedp.EmulateMobile, chromedp.EmulateTouch))
	p.open(server.URL)
	start := p.total()
	p.do(chromedp.Tap(chromedp.CSS(`#nav a[href="#section-power"]`)))
	p.await(`!document.getElementById("section-power").hidden`)
	p.do(chromedp.Tap(chromedp.ID("summary-bank")))
	p.await(`document.getElementById("slot-bank").open`)
	p.answers(chromedp.Tap(chromedp.ID("option-bank-lfp-10")))
	if p.total() == start || p.status("bank-lfp-10") != "chosen" {
		t.Errorf("the tap chose nothing: %s", p.status("bank-lfp-10"))
	}
	if !of[bool](p, `document.getElementById("bar").checkVisibility()`) ||
		!strings.Contains(plain(p.text("bar")), amountOf(p.total())) {
		t.Errorf("the bar says %q", p.text("bar"))
	}
	p.do(chromedp.Tap(chromedp.CSS("#bar a")))
	p.await(`(r => r.top >= -1 && r.top <= innerHeight)(document.getElementById("ledger").getBoundingClientRect())`)
	if of[string](p, "document.activeElement.id") != "page-price" {
		t.Errorf("the focus is on %q, not on the ledger", of[string](p, "document.activeElement.id"))
	}
}

// Nothing is wider than the screen, whatever is unfolded, and on a small screen everything that is touched is large
// enough: 24 CSS pixels at least (WCAG 2.2, 2.5.8).
func TestPageFitsItsScreen(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	for _, desk := range []string{"index.html", "show.html", "yard.html"} {
		t.Run(desk, func(t *testing.T) {
			p := newTab(t)
			p.open(server.URL + "/" + desk)
			p.hull("reed-65") // there is something to undo
			p.choose("top", "top-canopy")
			p.answers(chromedp.Click(chromedp.ID("keep-top")))
			p.answers(chromedp.Evaluate[chromedp.Void](`document.getElementById("ask-option-cover-full").click()`))
			for _, width := range []int64{320, 390, 768, 1024, 1200, 1440} {
				p.do(chromedp.EmulateViewport(width, 844))
				for _, open := range []string{"false", "true"} {
					p.do(chromedp.Evaluate[chromedp.Void](`document.querySelectorAll("main details, aside details").forEach(d => { d.open = ` + open + ` })`))
					if wide := of[int64](p, "document.documentElement.scrollWidth"); wide > width {
						t.Errorf("at %d, unfolded %s, it is %d wide: %v", width, open, wide,
							of[[]string](p, `[...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > innerWidth + 1).slice(0, 4).map(e => e.outerHTML.slice(0, 120))`))
					}
				}
				small := of[[]string](p, `[...document.querySelectorAll("button, summary, .choices label, .hull, input:not([type=radio], [type=checkbox]), select")].filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 24).slice(0, 4).map(e => e.outerHTML.slice(0, 120))`)
				if len(small) > 0 {
					t.Errorf("at %d too small to be touched: %q", width, small)
				}
			}
		})
	}
}

// throwing is put before the worker's script: the engine dies at the first request with some text in it.
const throwing = `{ let engine; let fail = true; Object.defineProperty(self, "ribbandEngine", {
  set: (f) => { engine = f; },
  get: () => engine && ((message) => {
    if (fail && typeof message === "string" && message.includes('"act":"units"')) { fail = false; throw new WebAssembly.RuntimeError("planted fault"); }
    return engine(message);
  }),
}); }
`

func TestPageOutlivesItsEngine(t *testing.T) {
	t.Parallel()
	s := siteOf(t)
	server := serveHandler(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasPrefix(r.URL.Path, "/assets/worker-") {
			w.Header().Set("Content-Type", "text/javascript")
			_, _ = w.Write([]byte(throwing))
		}
		s.ServeHTTP(w, r)
	}))
	p := newTab(t)
	p.open(server.URL)
	p.hull("reed-65")
	p.choose("bank", "bank-lfp-20")
	total := p.total()
	p.unfold("panel-use")
	p.answers(chromedp.Evaluate[chromedp.Void](`(u => { u.value = "us"; u.dispatchEvent(new Event("change", {bubbles: true})); })(document.getElementById("units"))`))
	if s := p.text("state"); !strings.Contains(s, "started again") || !strings.Contains(s, "planted fault") ||
		!of[bool](p, `document.getElementById("state").dataset.kind === "error"`) {
		t.Errorf("it says %q", s)
	}
	if p.total() != total || p.status("bank-lfp-20") != "chosen" {
		t.Errorf("the boat before it was lost: %s, want %s", p.total(), total)
	}
	p.choose("bank", "bank-lfp-15")
	if p.total() == total || of[bool](p, `document.getElementById("state").dataset.kind === "error"`) {
		t.Errorf("it does not go on: %s", p.state())
	}
}

// A panic in Go under WebAssembly is tested where it happens: the bridge's own tests, run here under node.
func TestBridgeUnderNode(t *testing.T) {
	t.Parallel()
	if testing.Short() {
		t.Skip("the bridge's tests take some seconds to build")
	}
	if _, err := exec.LookPath("node"); err != nil {
		t.Skip("no node to run the engine in: ", err)
	}
	goroot, err := goEnv(t.Context(), "GOROOT")
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.CommandContext(t.Context(), "go", "test", "-exec",
		filepath.Join(goroot, "lib", "wasm", "go_js_wasm_exec"), "./wasm")
	cmd.Dir = ".."
	cmd.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

func TestPageWithoutItsEngine(t *testing.T) {
	t.Parallel()
	s := siteOf(t)
	for _, missing := range []string{".wasm.gz", ".json.gz"} {
		t.Run(missing, func(t *testing.T) {
			server := serveHandler(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
				if strings.HasSuffix(r.URL.Path, missing) {
					http.NotFound(w, r)
					return
				}
				s.ServeHTTP(w, r)
			}))
			p := newTab(t, "404")
			p.do(chromedp.Navigate(server.URL))
			p.await(`document.getElementById("state").dataset.kind === "error"`)
			if s := p.text("state"); !strings.Contains(s,
				"The prices could not be loaded. Check the connection and reload the page.") {
				t.Errorf("it says %q", s)
			}
			if !strings.HasSuffix(plain(p.total()), " EUR") || p.text("line-bank") == "" {
				t.Error("the sheet is gone")
			}
		})
	}
}

func TestShowDeskOpensWithoutANetwork(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t, "net::ERR") // the page itself and the service worker's own file are asked for in vain
	p.open(server.URL + "/show.html")
	p.hull("reed-65")
	total := p.total()
	p.await(`navigator.serviceWorker.controller?.state === "activated"`)
	server.CloseClientConnections()
	server.Close()
	if _, err := http.Get(server.URL); err == nil {
		t.Fatal("the server is still there")
	}
	p.do(chromedp.Reload())
	p.await(answered)
	if p.total() != total || of[string](p, "document.body.dataset.desk") != "show" {
		t.Errorf("without a network it shows %s, want %s", p.total(), total)
	}
	p.choose("bank", "bank-lfp-20")
	if p.total() == total {
		t.Error("it does not answer without a network")
	}
}
