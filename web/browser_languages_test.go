package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"

	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// speaks makes the browser of a tab ask for languages.
func (p *tab) speaks(languages string) {
	p.Helper()
	asked := emulation.SetUserAgentOverrideParams{UserAgent: of[string](p, "navigator.userAgent"),
		AcceptLanguage: languages}
	if _, err := chromedp.Call(p.ctx, emulation.SetUserAgentOverride, asked); err != nil {
		p.Fatal(err)
	}
}

// isIn fails the test unless the page is in a language: its tag, its title, what it says of itself and what the book
// calls its first section.
func (p *tab) isIn(when, tag string, desk pack.Desk) {
	p.Helper()
	view, err := viewIn(packsOf(p)[desk], tag)
	if err != nil {
		p.Fatal(err)
	}
	first := view.Engine.Public().Sections[0]
	for what, want := range map[string]string{
		`document.documentElement.lang`:                                            tag,
		`document.title`:                                                           view.Title(),
		`document.getElementById("state").textContent`:                             view.Engine.Say("screen.ready"),
		`document.querySelector("#nav-` + first.ID + `").firstChild.data`:          first.Title,
		`document.querySelector("#languages [aria-current]").textContent`:          msg.NameOf(tag),
		`document.querySelector("#title-section-` + first.ID + `").lastChild.data`: first.Title,
		`document.querySelectorAll("#languages [aria-current]").length + "-1"`:     "1-1",
	} {
		if got := of[string](p, what); got != want {
			p.Errorf("%s %s is %q, want %q", when, what, got, want)
		}
	}
}

// changeTo chooses a language by hand.
func (p *tab) changeTo(tag string) {
	p.Helper()
	p.answers(chromedp.Click(chromedp.ID("language-" + tag)))
	p.await(fmt.Sprintf("document.documentElement.lang === %q", tag))
}

// A visitor reads the page in the language that the address says, else in that chosen on the device before, else in the
// one that the browser asks for, else in the first of the book.
func TestLanguageIsFound(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	for _, c := range []struct{ asks, path, tag string }{
		{"fr-FR,fr", "/", "en"},
		{"fr,de-AT,en", "/", "de"},
		{"de", "/?lang=nl", "nl"},
		{"de", "/index.nl.html", "nl"},
		{"de", "/index.nl.html?lang=en", "en"},
		{"de", "/?lang=tlh", "de"},
	} {
		p.speaks(c.asks)
		p.open(server.URL + c.path)
		p.isIn(c.asks+" "+c.path, c.tag, pack.Buyer)
	}
	p.open(server.URL + "/")
	p.hull("reed-65")
	link := of[string](p, "location.hash")
	reader := newTab(t) // a link has no language of its own: it opens in that of whoever reads it
	reader.speaks("nl")
	reader.open(server.URL + "/" + link)
	reader.isIn("a link of a German page", "nl", pack.Buyer)
	if got := of[string](reader, "location.hash"); got != link {
		t.Errorf("the link is %s, want %s", got, link)
	}
	p.changeTo("nl")
	for _, c := range []struct{ path, tag string }{{"/", "nl"}, {"/?lang=en", "en"}, {"/", "nl"}} {
		p.open(server.URL + c.path)
		p.isIn("after a choice by hand "+c.path, c.tag, pack.Buyer)
	}
}

// shown are the words of a page: its panels, and what is around them, with what the script has yet to say.
const shown = `[...document.querySelectorAll("body *")]
	.filter((e) => !e.closest("#deals, #live, #state, #saved, #kept, #edition, #still, noscript"))
	.map((e) => [...e.childNodes].filter((n) => n.nodeType === 3).map((n) => n.data).join("|") +
		[...e.attributes].filter((a) => /^(data-(?!large|sent)|aria-|title|placeholder|alt|label)/.test(a.name))
			.map((a) => a.value).join("|"))
	.filter((s) => s.replaceAll("|", "") !== "").join("\n")`

// A page that changes its language by hand is, word for word, the page that is published in that language.
func TestLanguageChangesEveryWord(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	for _, c := range []struct {
		desk     pack.Desk
		from, to string
	}{{pack.Buyer, "en", "de"}, {pack.Show, "de", "nl"}, {pack.Yard, "nl", "en"}} {
		p := newTab(t)
		p.open(server.URL + "/" + pageName(c.desk, c.from, "en"))
		p.changeTo(c.to)
		p.isIn("by hand", c.to, c.desk)
		own := newTab(t)
		own.open(server.URL + "/" + pageName(c.desk, c.to, "en"))
		if got, want := of[string](p, shown), of[string](own, shown); got != want {
			t.Errorf("%s from %s to %s: changed by hand the page says otherwise than published: %s", c.desk, c.from,
				c.to, firstDifference(got, want))
		}
	}
}

// firstDifference is the first line in which two texts differ.
func firstDifference(got, want string) string {
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range min(len(a), len(b)) {
		if a[i] != b[i] {
			return fmt.Sprintf("%q, want %q", a[i], b[i])
		}
	}
	return fmt.Sprintf("%d lines, want %d", len(a), len(b))
}

// A salesperson changes the language amid a deal: the boat, its price, what was typed and the record stay, the change
// can be taken back, and the page comes back in that language.
func TestLanguageKeepsTheDeal(t *testing.T) {
	t.Parallel()
	p := visit(t, "/show.html")
	p.dealAtTheShow()
	p.choose("bank", "bank-lfp-20")
	p.stores()
	total, record := plain(p.total()), stored(p, ".id")
	link := of[string](p, "location.hash")
	p.do(chromedp.Evaluate[chromedp.Void](`window.sameDocument = true`))
	p.changeTo("de")
	p.isIn("amid a deal", "de", pack.Show)
	p.stores()
	if !of[bool](p, "window.sameDocument === true") || of[string](p, "location.hash") != link ||
		!strings.Contains(of[string](p, "location.search"), "lang=de") {
		t.Errorf("the address is %s", of[string](p, "location.href"))
	}
	if now := stored(p, ".id"); strings.Join(now, " ") != strings.Join(record, " ") {
		t.Errorf("the records are %v, want %v", now, record)
	}
	digits := func(s string) string {
		return strings.NewReplacer(".", "", ",", "", " ", "", "EUR", "").Replace(plain(s))
	}
	if digits(p.total()) != digits(total) {
		t.Errorf("the total is %s, want %s", p.total(), total)
	}
	for id, want := range map[string]string{"detail-number": "2027-014", "detail-name": "Ada Example",
		"detail-address": "2 Alder Quay\nHeronmere"} {
		if got := of[string](p, fmt.Sprintf("document.getElementById(%q).value", id)); got != want {
			t.Errorf("%s holds %q, want %q", id, got, want)
		}
	}
	p.answers(chromedp.Click(chromedp.ID("undo-button")))
	if p.status("bank-lfp-20") == "chosen" {
		t.Error("the change is not taken back")
	}
	p.do(chromedp.Evaluate[chromedp.Void](`delete document.documentElement.dataset.answered`), chromedp.Reload())
	p.await(answered)
	p.isIn("loaded again", "de", pack.Show)
	if got := of[string](p, `document.getElementById("detail-name").value`); got != "Ada Example" {
		t.Errorf("loaded again the customer is %q", got)
	}
}

// A Dutch customer gets a Dutch quotation from a desk that goes on in English; its file opens there without a
// difference, and the link on it leads to the Dutch page.
func TestQuotationInTheCustomersLanguage(t *testing.T) {
	t.Parallel()
	p := visit(t, "/show.html")
	p.hull("reed-65")
	p.customerIs("Ada Example")
	p.turn("detail-language")
	p.do(chromedp.SetValue(chromedp.ID("detail-language"), "nl"))
	p.hand("quotation")
	dutch, _ := msg.Named("nl")
	text := plain(p.paperText())
	for _, want := range []string{dutch.Say("paper.price"), "81.883,90", "Ada Example"} {
		if !strings.Contains(text, plain(want)) {
			t.Errorf("the quotation lacks %q: %.600s", want, text)
		}
	}
	got := of[string](p, `document.getElementById("paper-frame").contentDocument.documentElement.lang`)
	if got != "nl" {
		t.Errorf("the paper is in %q", got)
	}
	p.isIn("after a Dutch quotation", "en", pack.Show)
	_, file := p.saved("-for-the-yard.json")
	q, err := quote.Decode(file)
	if err != nil || q.Language != "nl" || !strings.Contains(q.Link(), "?lang=nl#") {
		t.Fatalf("the quotation is in %q, its link %s, %v", q.Language, q.Link(), err)
	}
	p.do(chromedp.Click(chromedp.CSS(`#paper [data-do="close"]`)))
	other := newTab(t) // another device, which has not heard Dutch yet
	other.open(of[string](p, "location.origin") + "/show.html")
	other.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`(() => {
		const input = document.getElementById("open-file"), files = new DataTransfer();
		files.items.add(new File([%q], "q.json"));
		input.files = files.files;
		input.dispatchEvent(new Event("change", { bubbles: true }));
	})()`, file)))
	other.await(`document.getElementById("reopened").textContent !== ""`)
	if n := of[int](other, `document.querySelectorAll("#reopened tr, #reopened li").length`); n > 0 {
		t.Errorf("opened, it differs: %s", other.text("reopened"))
	}
	if got := of[string](other, `document.getElementById("detail-language").value`); got != "nl" {
		t.Errorf("opened, its papers are in %q", got)
	}
	other.isIn("with a Dutch quotation open", "en", pack.Show)
}

// What was visited in one language opens without a network in each.
func TestLanguagesWithoutANetwork(t *testing.T) {
	t.Parallel()
	h := newHost(t, map[string]site{"/": siteOf(t)})
	p := newTab(t, "net::ERR")
	p.keeps(h.URL + "/")
	h.die(t)
	p.changeTo("nl")
	p.isIn("changed without a network", "nl", pack.Buyer)
	p.changeTo("de")
	p = p.second()
	p.allowed = []string{"net::ERR"}
	p.open(h.URL + "/")
	p.isIn("without a network", "de", pack.Buyer)
	before := p.total()
	p.hull("osier-76")
	if p.total() == before {
		t.Error("another hull has the same total")
	}
}

// Words that the host does not have are said to be missing, and the page goes on in the language that it has.
func TestWordsThatAreMissing(t *testing.T) {
	t.Parallel()
	s := site{}
	for file, text := range siteOf(t) {
		if !strings.HasPrefix(file, "assets/words-de") && file != "sw.js" {
			s[file] = text
		}
	}
	server := serveHandler(t, s)
	p := newTab(t, "404", "sw.js", "ServiceWorker")
	p.open(server.URL + "/")
	p.answers(chromedp.Click(chromedp.ID("language-de")))
	if got := p.text("state"); !strings.Contains(got, "Deutsch") || !strings.Contains(got, "404") {
		t.Errorf("it says %q", got)
	}
	total := p.total()
	p.hull("osier-76")
	if p.total() == total || of[string](p, "document.documentElement.lang") != "en" {
		t.Error("the page does not go on")
	}
}

// A desk that was unsealed stays open when its language changes.
func TestSealedDeskChangesItsLanguage(t *testing.T) {
	t.Parallel()
	server := serveHandler(t, sealedSite(t, nil))
	p := newTab(t)
	p.locked(server.URL + "/show.html")
	p.unlock(testPhrases[pack.Show])
	p.await(answered)
	p.changeTo("nl")
	p.isIn("unsealed", "nl", pack.Show)
	if !of[bool](p, `document.getElementById("lock") !== null`) {
		t.Error("the bar with the lock is gone")
	}
}
