package main

import (
	"net/http"
	"path/filepath"
	"strings"
	"sync/atomic"
	"testing"

	"ribband/core/pack"
	"ribband/core/quote"
)

// The jobs of the three people who use the page, in another browser than Chromium. One after the other: they leave the
// machine's other core to the rest.
func TestFirefox(t *testing.T) {
	t.Parallel()
	needFirefox(t)
	server := serveSite(t)
	t.Run("the buyer's page", func(t *testing.T) {
		p := newWindow(t)
		p.open(server.URL + "/")
		p.take("first")
		choosesByKeyboard(p) // first: the focus begins at the top
		showsTheBoat(p)
		waysOut(p)
		choosesByMouse(p)
		p.take("changed")
		linkIsKept(p)
		changesLanguageAndUnits(p)
	})
	t.Run("the packed engine, whole and damaged", func(t *testing.T) {
		s := packedSite(t)
		whole := unpacks(t, s)
		if damaged := unpacks(t, damaging(s)); damaged != whole {
			t.Errorf("with a damaged engine the total is %s, want %s", damaged, whole)
		}
	})
	key := testKey(t, "ours")
	sealed := sealedSite(t, withKey(key))
	var quotation *quote.Quote
	t.Run("a quotation without a network", func(t *testing.T) { quotation = quotesOffline(t, sealed) })
	t.Run("the yard opens the quotation", func(t *testing.T) {
		if quotation == nil {
			t.Skip("there is no quotation")
		}
		sign(t, quotation, key)
		opensTheFile(t, sealed, write(t, filepath.Join(t.TempDir(), "quotation.json"), string(quotation.Encode())))
	})
}

// unpacks waits for the first answer of an engine that came packed, and gives the total. A device keeps what it has put
// together, never what came damaged: that comes again as gzip.
func unpacks(t *testing.T, h http.Handler) (total string) {
	var gzip atomic.Int32
	server := serveHandler(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.HasSuffix(r.URL.Path, ".wasm.gz") {
			gzip.Add(1)
		}
		h.ServeHTTP(w, r)
	}))
	p := newWindow(t)
	p.open(server.URL + "/")
	_, whole := h.(site)
	if whole {
		p.await(`caches.open("ribband-engine /assets/engine").then((c) => c.keys()).then((k) => k.length === 1)`)
	}
	if whole != (gzip.Load() == 0) {
		t.Errorf("the engine came %d times as gzip, where the packed one was whole: %v", gzip.Load(), whole)
	}
	return p.total()
}

// showsTheBoat checks that the boat can be turned, or that its still is there where nothing can be drawn.
func showsTheBoat(p *window) {
	p.Helper()
	if !in[bool](p, `Boolean(document.createElement("canvas").getContext("webgl2"))`) {
		p.Log("no WebGL2 here: the boat is a still")
		p.await(`document.querySelector("#still svg").checkVisibility()`)
		return
	}
	p.await(`document.getElementById("solid-canvas")`)
	before := in[string](p, picture)
	if len(before) < 3000 {
		p.Errorf("the canvas is empty: %d characters", len(before))
	}
	p.drag("#solid-canvas", 150)
	if in[string](p, picture) == before {
		p.Error("turned, the boat looks the same")
	}
	if in[bool](p, `document.getElementById("still").checkVisibility()`) {
		p.Error("the still picture stands beside the canvas")
	}
}

// choosesByMouse takes a hull and an option, and takes the option back.
func choosesByMouse(p *window) {
	p.Helper()
	start := p.total()
	p.hull("osier-76")
	standard := p.total()
	p.choose("gelcoat-hull", "gelcoat-hull-navy")
	navy := p.total()
	if standard == start || navy == standard {
		p.Errorf("the totals are %s, %s with another hull and %s in navy", start, standard, navy)
	}
	p.answers(func() { p.press("#undo-button") })
	if p.total() != standard {
		p.Errorf("undone, the total is %s, want %s", p.total(), standard)
	}
	p.answers(func() { p.press("#redo-button") })
	link := in[string](p, "location.hash")
	if p.total() != navy || !strings.Contains(link, "gelcoat-hull=gelcoat-hull-navy") {
		p.Errorf("done again, the total is %s, want %s; the link is %s", p.total(), navy, link)
	}
}

// choosesByKeyboard takes another colour without a mouse, and takes it back by the keys for that.
func choosesByKeyboard(p *window) {
	p.Helper()
	link := in[string](p, "location.hash")
	p.tabTo(".skip")
	p.keys(keyEnter)
	p.await(`document.activeElement.id === "nav"`)
	p.tabTo(`#nav a[href='#section-hull']`)
	p.keys(keyEnter)
	p.await(`document.activeElement.id === "section-hull"`)
	p.tabTo("#summary-gelcoat-hull")
	p.keys(keyEnter)
	p.await(`document.getElementById("slot-gelcoat-hull").open`)
	p.tabTo("#choices-gelcoat-hull input")
	before := in[string](p, "document.activeElement.id")
	p.answers(func() { p.keys(keyDown) })
	if now := in[string](p, "document.activeElement.id"); now == before ||
		!in[bool](p, `document.activeElement.checked`) || in[string](p, "location.hash") == link {
		p.Errorf("the arrow key went from %s to %s", before, now)
	}
	p.answers(func() { p.keys("z", keyControl) })
	if now := in[string](p, "location.hash"); now != link {
		p.Errorf("undone, the link is %s, want %s", now, link)
	}
}

// linkIsKept loads the page again, and opens its link for somebody else.
func linkIsKept(p *window) {
	p.Helper()
	total, link := p.total(), in[string](p, "location.href")
	p.reload()
	if p.total() != total || in[string](p, "location.href") != link {
		p.Errorf("loaded again, the total is %s, want %s; the link %s, want %s", p.total(), total,
			in[string](p, "location.href"), link)
	}
	other := newWindow(p.TB)
	other.open(link)
	if other.total() != total || other.text("remarks") != "" {
		p.Errorf("the link gives %s, want %s; it says %q", other.total(), total, other.text("remarks"))
	}
}

// changesLanguageAndUnits has the page speak German and English again: names, numbers and all. Units are chosen from
// their list, which is the browser's own.
func changesLanguageAndUnits(p *window) {
	p.Helper()
	total := p.total()
	p.answers(func() { p.press("#language-de") })
	p.await(`document.documentElement.lang === "de"`)
	view, err := viewIn(packsOf(p)[pack.Buyer], "de")
	if err != nil {
		p.Fatal(err)
	}
	title, state := in[string](p, "document.title"), p.text("state")
	if title != view.Title() || state != view.Engine.Say("screen.ready") {
		p.Errorf("in German the page is called %q and says %q", title, state)
	}
	if digits(amountOf(p.total())) == digits(amountOf(total)) { // 1.234,00 beside 1 234.00
		p.Errorf("in German the total is %s, as in English", p.total())
	}
	p.answers(func() { p.press("#language-en") })
	if p.total() != total {
		p.Errorf("in English again the total is %s, want %s", p.total(), total)
	}
	before := p.text("title-block")
	p.unfold("panel-use")
	p.answers(func() { p.press("#units"); p.keys(keyDown + keyEnter) })
	if p.text("title-block") == before {
		p.Error("in other units the title block says the same")
	}
}

// waysOut asks for a top that does not go under the bridge: it says so, and one press makes it fit.
func waysOut(p *window) {
	p.Helper()
	p.hull("reed-65")
	p.unfold("panel-use")
	p.fill("use-bridge_m", "1.6")
	p.answers(func() { p.keys(keyEnter) })
	p.unfold("slot-top")
	why := in[string](p, `[...document.getElementById("option-top-solar").closest("li").querySelectorAll(".why")]
		.filter((e) => e.checkVisibility()).map((e) => e.textContent).join()`)
	if !strings.Contains(plain(why), "1.60 m") {
		p.Errorf("the reason does not tell the height of the bridge: %q", why)
	}
	p.answers(func() { p.press("#ask-option-top-solar") })
	p.await(`document.getElementById("reason-option-top-solar")?.checkVisibility()`)
	p.take("no")
	p.answers(func() { p.press("#repair-0") })
	if !in[bool](p, `document.getElementById("option-top-solar").checked`) ||
		!in[bool](p, `document.getElementById("clashing") === null`) {
		p.Errorf("after the way out the boat is %s", p.text("title-block"))
	}
}

// unlocks opens a sealed desk by its phrase.
func (p *window) unlocks(phrase string) {
	p.Helper()
	p.await(`document.activeElement?.id === "phrase"`)
	p.keys(phrase + keyEnter)
	p.await(answered)
}

// quotesOffline keeps the show desk, takes the network away, and issues a quotation; it gives what is in the yard's
// file.
func quotesOffline(t *testing.T, s site) *quote.Quote {
	h := newHost(t, map[string]site{"/": s})
	p := newWindow(t)
	p.goes(h.URL + "/show.html")
	p.unlocks(showPhrase)
	p.await(isKept)
	p.await(`navigator.serviceWorker.controller?.state === "activated"`)
	h.die(t)
	p.must("browsingContext.reload", object{"context": p.id, "wait": "complete"}, nil)
	p.unlocks(showPhrase)
	p.hull("reed-65")
	p.choose("bank", "bank-lfp-20")
	p.unfold("discounts-details")
	p.take("discounts")
	list := p.total()
	p.fill("discount-title", "Show week")
	p.fill("discount-value", "3 %")
	p.answers(func() { p.press("#add-discount button[type=submit]") })
	if p.total() == list {
		t.Errorf("3 %% off, the total is %s", p.total())
	}
	p.unfold("customer-details")
	p.fill("detail-name", "Ada Example")
	p.take("form")
	p.answers(func() { p.press("#quotation button[type=submit]") })
	text, total := p.paperText(), amountOf(p.total())
	for _, w := range []string{"Ada Example", "Reed 65", "Show week", total} {
		if !strings.Contains(text, w) {
			t.Errorf("the quotation lacks %q: %.600s", w, text)
		}
	}
	p.take("quotation")
	q, err := quote.Decode([]byte(p.saves(`#paper-files a[download$=".json"]`)))
	if err != nil {
		t.Fatal(err)
	}
	if got := digits(total); got != q.Price.Total.Fixed(2) {
		t.Errorf("the file says %s, the page %s", q.Price.Total.Fixed(2), got)
	}
	p.keys(keyEscape)
	p.await(`!document.getElementById("paper").open`)
	return q
}

// opensTheFile opens a quotation that the yard has signed, on the yard's desk.
func opensTheFile(t *testing.T, s site, file string) {
	p := newWindow(t)
	p.goes(serveHandler(t, s).URL + "/yard.html")
	p.unlocks(yardPhrase)
	before := p.total()
	p.answers(func() { p.gives("open-file", file) })
	if s := p.text("reopened"); !strings.Contains(s, "Ada Example") || !strings.Contains(s, "As quoted") {
		t.Errorf("reopened, it says %q", s)
	}
	if s := p.text("signature"); !strings.Contains(s, "Signed by this yard") {
		t.Errorf("of the signature it says %q", s)
	}
	if p.total() == before {
		t.Errorf("the total stays %s", before)
	}
	p.turn("hours-details")
	p.take("hours")
	p.answers(func() { p.press(`[data-do="sheet"]`) })
	if s := p.paperText(); !strings.Contains(s, "Build sheet") || !strings.Contains(s, "Hours by shop") {
		t.Errorf("the build sheet says %.300s", s)
	}
}
