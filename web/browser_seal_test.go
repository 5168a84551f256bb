package main

import (
	"fmt"
	"maps"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/target"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"ribband/core/pack"
	"ribband/core/seal"
)

// locked waits for the form of a locked desk.
func (p *tab) locked(address string) {
	p.Helper()
	p.do(chromedp.Navigate(address))
	p.await(`document.activeElement?.id === "phrase"`)
}

// unlock types a phrase and presses Enter, as a person without a mouse does.
func (p *tab) unlock(phrase string) {
	p.Helper()
	p.do(chromedp.Focus(chromedp.ID("phrase")), chromedp.Evaluate[chromedp.Void](`document.activeElement.select()`),
		chromedp.KeyEvent(phrase), chromedp.KeyEvent(kb.Enter))
}

// workers is how many web workers of the tab are at work.
func (p *tab) workers() (n int) {
	p.Helper()
	list, err := chromedp.CallBrowser(p.ctx, target.GetTargets, target.GetTargetsParams{})
	if err != nil {
		p.Fatal(err)
	}
	own := chromedp.FromContext(p.ctx).BrowserContextID
	for _, info := range list.TargetInfos {
		if info.Type == "worker" && info.BrowserContextID == own {
			n++
		}
	}
	return n
}

// private is what stands on the show's desk and nowhere before it is opened.
var private = []string{"Discounts", "margin-floor", "ledger", "Issue quotation", "Clinker dinghy", "Ada Example"}

func (p *tab) hasNothingPrivate(when string) {
	p.Helper()
	page := of[string](p, `document.documentElement.outerHTML`)
	for _, words := range private {
		if strings.Contains(page, words) {
			p.Errorf("%s the page holds %q", when, words)
		}
	}
	if n := p.workers(); n != 0 {
		p.Errorf("%s %d workers are at work", when, n)
	}
}

// A salesperson's day: a wrong phrase, the right one, a deal, locked by the keyboard, opened again, the deal is there.
func TestSealedDesk(t *testing.T) {
	t.Parallel()
	server := serveHandler(t, sealedSite(t, nil))
	p := newTab(t)
	p.locked(server.URL + "/show.html")
	p.hasNothingPrivate("before it is opened")
	p.unlock(showPhrase + "!")
	p.await(`document.getElementById("unlock-state").textContent.includes("pass phrase is wrong, or the sealed file is damaged")`)
	if got := of[string](p, `const e = document.activeElement; [e.id, e.type, e.ariaInvalid, document.getElementById(e.getAttribute("aria-describedby")).role].join()`); got != "phrase,password,true,alert" {
		t.Errorf("after a wrong phrase the focus is on %s", got)
	}
	p.hasNothingPrivate("after a wrong phrase")
	p.unlock(showPhrase)
	p.await(answered)
	if got := of[string](p, "document.activeElement.id"); got != "sheet" {
		t.Errorf("the focus is on %q", got)
	}
	if s := p.text("lock-state"); !strings.Contains(s, "15 minutes") {
		t.Errorf("the bar says %q", s)
	}
	p.dealAtTheShow()
	total := p.total()
	if n := p.workers(); n != 1 { // so that the count above can fail
		t.Errorf("%d workers are at work", n)
	}
	p.do(chromedp.Focus(chromedp.ID("lock")))
	p.do(chromedp.KeyEvent(kb.Enter))
	eventually(p, `document.activeElement?.id === "phrase"`)
	p.hasNothingPrivate("locked")
	if s := p.text("unlock-state"); !strings.Contains(s, "Nothing private is left") {
		t.Errorf("locked, it says %q", s)
	}
	p.unlock(showPhrase)
	p.await(answered)
	p.hasDeal("opened again", total)
	p.do(chromedp.Reload()) // a reload locks, too, and says nothing of it
	eventually(p, `document.activeElement?.id === "phrase"`)
	if s := p.text("unlock-state"); s != "" {
		t.Errorf("after a reload it says %q", s)
	}
	// what can be seen of the phrase is what a person asks for
	p.do(chromedp.Click(chromedp.ID("show-phrase")))
	if of[string](p, `document.getElementById("phrase").type`) != "text" {
		t.Error("the phrase is not shown")
	}
	// the yard's phrase beyond ASCII, typed as another keyboard composes it
	p.locked(server.URL + "/yard.html")
	p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.getElementById("phrase").value = %q.normalize("NFD")`,
		yardPhrase)), chromedp.KeyEvent(kb.Enter))
	p.await(answered)
	p.hull("reed-65")
}

// A desk that nobody uses warns and is locked; one that is used stays open.
func TestSealedDeskIsLockedByTime(t *testing.T) {
	t.Parallel()
	s := maps.Clone(sealedSite(t, nil))
	s["show.html"] = []byte(strings.Replace(string(s["show.html"]), `data-idle="900"`, `data-idle="8"`, 1))
	server := serveHandler(t, s)
	p := newTab(t)
	p.locked(server.URL + "/show.html")
	p.unlock(showPhrase)
	p.await(`document.getElementById("lock")`)
	// the engine may take its time on a busy machine; all in all longer than it takes to be locked
	for begin := time.Now(); time.Since(begin) < 10*time.Second || !of[bool](p, "Boolean("+answered+")"); {
		time.Sleep(500 * time.Millisecond)
		p.do(chromedp.KeyEvent(kb.Tab))
	}
	if of[bool](p, `document.getElementById("lock") === null`) {
		t.Error("it was locked while somebody used it")
	}
	p.await(`document.getElementById("lock-state").textContent.includes("within a minute")`)
	p.do(chromedp.KeyEvent(kb.Tab))
	p.await(`document.getElementById("lock-state").textContent.includes("Open in this tab")`)
	eventually(p, `document.activeElement?.id === "phrase"`)
	p.hasNothingPrivate("after some time")
	if s := p.text("unlock-state"); !strings.Contains(s, "after 15 minutes without use") {
		t.Errorf("it says %q", s)
	}
}

// Each thing that can be wrong with the file has its own words.
func TestSealedDeskThatDoesNotOpen(t *testing.T) {
	t.Parallel()
	whole := sealedSite(t, nil)
	file := string(sealedFile.FindSubmatch(whole["show.html"])[1])
	parts := strings.Split(string(whole[file]), ".")
	with := func(i int, part string) []byte {
		list := append([]string{}, parts...)
		list[i] = part
		return []byte(strings.Join(list, "."))
	}
	header := func(old, new string) []byte {
		head := decodeBase64(t, parts[0])
		if !strings.Contains(head, old) {
			t.Fatalf("the head %s has no %s", head, old)
		}
		return with(0, encodeBase64(strings.Replace(head, old, new, 1)))
	}
	other := "B"
	if strings.HasPrefix(parts[3], other) {
		other = "C"
	}
	p := newTab(t, "404")
	for name, c := range map[string]struct {
		file []byte
		page string
		want string
	}{
		"damaged":          {with(3, other+parts[3][1:]), "", "The sealed file is damaged"},
		"cut short":        {whole[file][:len(whole[file])/2], "", "The sealed file is damaged"},
		"a page of a host": {[]byte("<!doctype html><title>Welcome"), "", "The sealed file is damaged"},
		"another format":   {header(`"format":1`, `"format":2`), "", "older or newer version"},
		"too many rounds":  {header(fmt.Sprintf(`"p2c":%d`, seal.Rounds), `"p2c":10000001`), "", "asks for more work"},
		"another edition": {whole[file], strings.Replace(string(whole["show.html"]), `data-book="`, `data-book="0`, 1),
			"another edition of the price book"},
		"missing": {nil, "", "could not be loaded"},
	} {
		s := maps.Clone(whole)
		if s[file] = c.file; c.file == nil {
			delete(s, file)
		}
		if c.page != "" {
			s["show.html"] = []byte(c.page)
		}
		server := serveHandler(t, s)
		p.locked(server.URL + "/show.html")
		p.unlock(showPhrase)
		p.await(fmt.Sprintf(`document.getElementById("unlock-state").textContent.includes(%q)`, c.want))
		if of[string](p, `document.activeElement.id`) != "phrase" {
			t.Errorf("%s: the focus is elsewhere", name)
		}
		p.hasNothingPrivate(name)
	}
}

// The buyer's page beside sealed ones is as it was.
func TestBuyerBesideSealedDesks(t *testing.T) {
	t.Parallel()
	server := serveHandler(t, sealedSite(t, nil))
	p := newTab(t)
	p.open(server.URL)
	p.hull("reed-65")
	if packsOf(t)[pack.Buyer].Costs != nil || of[bool](p, `Boolean(document.getElementById("lock"))`) {
		t.Error("the buyer has costs, or something to lock")
	}
}
