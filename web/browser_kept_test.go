package main

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"ribband/core/spec"
)

// dealAtTheShow makes a deal that is not issued yet: what a salesperson would lose if the page forgot it.
func (p *tab) dealAtTheShow() {
	p.Helper()
	p.hull("reed-65")
	p.unfold("discounts-details")
	p.fill("discount-title", "Show week")
	p.fill("discount-value", "2 %")
	p.hand("add-discount")
	p.fill("free-title", "Boat hook, oak")
	p.fill("free-price", "84,50")
	p.fill("free-cost", "31")
	p.fill("free-hours", "1.5")
	p.do(chromedp.SetValue(chromedp.ID("free-basis"), "with-tax"),
		chromedp.SetValue(chromedp.ID("free-shop"), "assembly"))
	p.hand("add-line")
	p.fill("trade-in-title", "Clinker dinghy")
	p.fill("trade-in-allowance", "900")
	p.fill("trade-in-value", "850")
	p.hand("add-trade-in")
	p.unfold("customer-details")
	p.fill("detail-number", "2027-014")
	p.fill("detail-name", "Ada Example")
	p.do(chromedp.SendKeys(chromedp.ID("detail-address"), "2 Alder Quay\nHeronmere"))
}

// hasDeal fails the test unless the deal is there, the typed fields too.
func (p *tab) hasDeal(when, total string) {
	p.Helper()
	if p.total() != total {
		p.Errorf("%s the total is %s, want %s", when, p.total(), total)
	}
	for id, words := range map[string][]string{"ledger": {"Show week", "Boat hook, oak", "Clinker dinghy", "Payable"},
		"discounts": {"Show week", "84.50 EUR with tax", "1.5 h", "850.00 EUR"}} {
		for _, w := range words {
			if !strings.Contains(plain(p.text(id)), w) {
				p.Errorf("%s %s lacks %q: %.300s", when, id, w, p.text(id))
			}
		}
	}
	for id, want := range map[string]string{"detail-number": "2027-014", "detail-name": "Ada Example",
		"detail-address": "2 Alder Quay\nHeronmere"} {
		if got := of[string](p, fmt.Sprintf("document.getElementById(%q).value", id)); got != want {
			p.Errorf("%s %s holds %q, want %q", when, id, got, want)
		}
	}
}

// Of a deal that was not issued a reload left the boat alone: discounts, extra items, trade-in, customer and number
// were gone.
func TestReloadKeepsTheDeal(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.dealAtTheShow()
	total := p.total()
	p.do(chromedp.Reload())
	p.await(answered)
	p.hasDeal("after a reload", total)
	p.do(chromedp.Navigate("about:blank")) // closed, and opened again: a tab of its own
	again := p.second()
	again.open(server.URL + "/show.html")
	again.hasDeal("in another tab", total)
	again.answers(chromedp.Evaluate[chromedp.Void](`document.getElementById("undo-button").click()`))
	if strings.Contains(again.text("ledger"), "Clinker "+
		"dinghy") || !strings.Contains(again.text("ledger"), "Boat hook") {
		t.Errorf("undone after all that the ledger says %.400s", again.text("ledger"))
	}
}

// A foreign fragment made the standard build of what was there, under an open page and at the start of a visit.
func TestForeignFragmentsKeepTheDeal(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.dealAtTheShow()
	total, link := p.total(), of[string](p, "location.hash")
	p.answers(chromedp.Evaluate[chromedp.Void](`void (location.hash = "#contact")`))
	p.hasDeal("after a foreign fragment", total)
	if got := of[string](p, "location.hash"); got != link {
		t.Errorf("the address ends in %s, want %s", got, link)
	}
	if s := p.text("remarks"); !strings.Contains(s, "#contact") {
		t.Errorf("it says %q", s)
	}
	p.do(chromedp.Navigate("about:blank"))
	again := p.second()
	again.open(server.URL + "/show.html#contact")
	again.hasDeal("opened with a foreign fragment", total)
}

// Back to the page after another finds the deal, whether the browser kept the page whole or loads it anew.
func TestBackKeepsTheDeal(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.dealAtTheShow()
	total := p.total()
	// away, and not to a file of the site, as the browser may ask for its icon; then back, behind the page's answer
	p.do(chromedp.Navigate("about:blank"))
	p.do(chromedp.Evaluate[chromedp.Void]("void setTimeout(() => history.back())"))
	eventually(p, `location.pathname === "/show.html" && Boolean(`+answered+`)`)
	p.hasDeal("after Back", total)
	before := of[string](p, answered) // and the page works
	p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("remove-trade-in-0").click()`))
	eventually(p, fmt.Sprintf("%s !== %q", answered, before))
	if p.total() != total || strings.Contains(p.text("ledger"), "Clinker dinghy") {
		t.Errorf("after Back the total is %s without the trade-in, want %s", p.total(), total)
	}
}

// eventually asks a condition, or the promise of one, of whatever page there is: between two pages there is none to
// ask.
func eventually(p *tab, js string) {
	p.Helper()
	for limit := time.Now().Add(20 * time.Second); time.Now().Before(limit); time.Sleep(50 * time.Millisecond) {
		if yes, err := chromedp.Run(p.ctx, chromedp.Evaluate[bool](js, chromedp.EvalAwaitPromise)); err == nil && yes {
			return
		}
	}
	p.Fatalf("waiting for %s; the page says %s", js, p.state())
}

// A link to another boat, sound or damaged, opens beside the deal, and says so; the list has the deal as it was.
func TestAnotherLinkOpensBesideTheDeal(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.dealAtTheShow()
	total := p.total()
	other := spec.Spec{Format: spec.Format, Hull: "osier-76"}
	damaged := strings.Replace(other.Link(), "osier", "rush", 1)
	for _, link := range []string{other.Link(), damaged} {
		p.answers(chromedp.Evaluate[chromedp.Void](fmt.Sprintf("void (location.hash = %q)", "#"+link)))
		if p.total() == total || strings.Contains(p.text("ledger"), "Show week") ||
			of[string](p, `document.getElementById("detail-name").value`) != "" {
			t.Fatalf("the link %s shows the old deal", link)
		}
		if s := p.text("state"); !strings.Contains(s, "kept in the list") {
			t.Errorf("it says %q", s)
		}
		p.listed("Ada Example", "Reed 65")
		p.do(chromedp.Reload()) // it stays there
		p.await(answered)
		p.listed("Ada Example", "Reed 65")
		p.answers(chromedp.Evaluate[chromedp.Void](`[...document.querySelectorAll("#deals li")].find((li) => li.innerText.includes("Ada Example")).querySelector('[data-do="deal-open"]').click()`))
		p.hasDeal("opened from the list", total)
	}
	p.do(chromedp.Navigate("about:blank"))
	again := p.second() // at the start of a visit too
	again.open(server.URL + "/show.html#" + damaged)
	again.listed("Ada Example", "Reed 65")
	if again.total() == total {
		t.Error("a link at the start of a visit opens the deal")
	}
}

// What is stored and cannot be read stays as it is, and is said.
func TestUnreadableRecordIsKept(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.dealAtTheShow()
	p.stores()
	const damaged = `{"format": 1, "hull": "reed-65", "extras": [{"ti`
	p.put("spec", damaged)
	p.do(chromedp.Reload())
	p.await(answered)
	if s := p.text("remarks"); !strings.Contains(s, "could not be read") {
		t.Errorf("it says %q", s)
	}
	p.hull("osier-76")
	p.stores()
	p.listed("Ada Example", "Reed 65")
	if specs := strings.Join(stored(p, ".spec"), " "); !strings.Contains(specs, damaged) || !strings.Contains(specs,
		"osier-76") {
		t.Errorf("stored are %s", specs)
	}
}

// Two tabs do not take each other's deal away.
func TestTwoTabsKeepTheirBoats(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.dealAtTheShow()
	total := p.total()
	other := p.second()
	other.open(server.URL + "/show.html")
	other.hull("osier-76")
	p.do(chromedp.Reload())
	p.await(answered)
	p.hasDeal("after the other tab went on", total)
	other.do(chromedp.Reload())
	other.await(answered)
	if of[string](other, `document.querySelector("#hulls input:checked").id`) != "hull-osier-76" {
		t.Error("the other tab has lost its hull")
	}
}

// The link of the show's desk is the buyer's: to the public page, with nothing that a salesperson added.
func TestShowDesksLinkIsTheBuyers(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.dealAtTheShow()
	p.do(chromedp.Evaluate[chromedp.Void](`void Object.defineProperty(navigator, "clipboard", { value: { writeText: (t) => { window.copied = t; return Promise.resolve(); } } })`),
		chromedp.Click(chromedp.CSS(`[data-do="link"]`)))
	p.await("window.copied")
	link := of[string](p, "window.copied")
	if !strings.HasPrefix(link, server.URL+"/?lang=en#1/reed-65/") || strings.Contains(link, "show") ||
		strings.Contains(link, "hook") {
		t.Errorf("the link is %s", link)
	}
	buyer := newTab(t)
	buyer.open(link)
	if of[string](buyer, `document.querySelector("#hulls input:checked").id`) != "hull-reed-65" ||
		buyer.text("remarks") != "" {
		t.Errorf("it opens as %s with %q", buyer.total(), buyer.text("remarks"))
	}
}
