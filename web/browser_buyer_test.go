package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// amountOf is the number in a total such as "41 234.00 EUR", or "EUR 41 234.00" where the region writes it so.
func amountOf(total string) string {
	return strings.TrimSuffix(strings.TrimPrefix(plain(total), "EUR "), " EUR")
}

func TestBuyerByMouse(t *testing.T) {
	t.Parallel()
	p := visit(t, "")
	start := p.total()
	asked := p.confirms()

	p.hull("reed-65")
	if p.total() == start {
		t.Error("another hull has the same total")
	}
	standard, address := p.total(), of[string](p, "location.href")
	p.choose("bank", "bank-lfp-20")
	bigger := p.total()
	if bigger == standard {
		t.Error("a bigger bank has the same total")
	}
	p.choose("top", "top-canopy")
	p.choose("cloth", of[string](p, `document.querySelector("#choices-cloth li.open input").id`)[len("option-"):])
	if p.total() == bigger {
		t.Error("a top and cloth have the same total")
	}
	if now := of[string](p, "location.href"); now == address || !strings.Contains(now, "bank=bank-lfp-20") {
		t.Errorf("the address is %s", now)
	}
	if of[int](p, `document.querySelectorAll(".mark.changed").length`) < 2 {
		t.Error("the sheet does not mark what differs from the standard build")
	}
	blockedOptionsSayWhy(p)
	linkGivesTheSameBoat(p)
	paperHasTheTotal(p)

	p.answers(chromedp.Click(chromedp.CSS(`[data-do="reset"]`)))
	if p.total() != standard {
		t.Errorf("begun again, the total is %s, want %s", p.total(), standard)
	}
	if q := asked(); len(q) != 1 || !strings.Contains(q[0], "Reset every item") {
		t.Errorf("it asked %q before it began again", q)
	}
}

func blockedOptionsSayWhy(p *tab) {
	p.Helper()
	silent := of[[]string](p, `[...document.querySelectorAll("li.blocked")].filter(li => li.querySelector("input").ariaDisabled !== "true" || (li.querySelector(".why")?.textContent ?? "").length < 10).map(li => li.textContent)`)
	if len(silent) > 0 {
		p.Errorf("blocked without a reason: %q", silent)
	}
	if of[int](p, `document.querySelectorAll("li.blocked .why").length`) == 0 {
		p.Error("nothing is blocked on this boat; take another to test it")
	}
	id := of[string](p, `document.querySelector("li.blocked input").id`)
	p.unfold(of[string](p, `document.getElementById("`+id+`").closest("details").id`))
	if !of[bool](p, `document.querySelector("li.blocked .why").checkVisibility()`) {
		p.Error("the reason is not to be seen")
	}
}

func linkGivesTheSameBoat(p *tab) {
	p.Helper()
	other := newTab(p.TB) // somebody else's browser, with nothing stored
	other.open(of[string](p, "location.href"))
	if other.total() != p.total() {
		p.Errorf("the link gives %s, want %s", other.total(), p.total())
	}
	const contents = `[...document.querySelectorAll(".line .content")].map(e => e.textContent).join("\n")`
	if of[string](other, contents) != of[string](p, contents) {
		p.Error("the link gives another boat")
	}
	if r := other.text("remarks"); r != "" {
		p.Errorf("the link was remarked on: %s", r)
	}
}

func paperHasTheTotal(p *tab) {
	p.Helper()
	p.answers(chromedp.Click(chromedp.CSS(`[data-do="specification"]`)))
	if text := plain(p.paperText()); !strings.Contains(text, amountOf(p.total())) ||
		!strings.Contains(text, "Specification and price") {
		p.Errorf("the paper lacks %s: %.600s", p.total(), text)
	}
	if n := of[int](p, `document.querySelectorAll("#paper-files a[download]").length`); n != 3 {
		p.Errorf("%d files to save, want 3", n)
	}
	p.do(chromedp.Click(chromedp.CSS(`[data-do="close"]`)))
	p.await(`!document.getElementById("paper").open`)
}

// tabTo presses Tab until an element has the focus.
func (p *tab) tabTo(selector string) {
	p.Helper()
	for range 150 {
		p.do(chromedp.KeyEvent(kb.Tab))
		if of[bool](p, `document.activeElement.matches("`+selector+`")`) {
			return
		}
	}
	p.Fatalf("Tab does not get to %s", selector)
}

// seen fails the test unless the element in focus is drawn as such and on the screen.
func (p *tab) seen() {
	p.Helper()
	if !of[bool](p, `document.activeElement.matches(":focus-visible") && parseFloat(getComputedStyle(document.activeElement).outlineWidth) >= 2 && getComputedStyle(document.activeElement).outlineStyle !== "none"`) {
		p.Errorf("the focus on %s is not to be seen", of[string](p, "document.activeElement.outerHTML.slice(0, 200)"))
	}
	if !of[bool](p, `(r => r.bottom > 0 && r.top < innerHeight)(document.activeElement.getBoundingClientRect())`) {
		p.Errorf("%s is off the screen", of[string](p, "document.activeElement.outerHTML.slice(0, 200)"))
	}
}

func TestBuyerByKeyboard(t *testing.T) {
	t.Parallel()
	p := visit(t, "")
	p.tabTo(".skip")
	p.seen()
	p.do(chromedp.KeyEvent(kb.Enter)) // to the pages of the specification
	p.await(`document.activeElement.id === "nav"`)
	p.tabTo(`#nav a[href='#section-hull']`)
	p.seen()
	p.do(chromedp.KeyEvent(kb.Enter))
	p.await(`document.activeElement.id === "section-hull"`)
	p.tabTo("#summary-gelcoat-hull")
	p.seen()
	p.do(chromedp.KeyEvent(kb.Enter))
	p.await(`document.getElementById("slot-gelcoat-hull").open`)
	p.tabTo("#choices-gelcoat-hull input")
	p.seen()
	before, link := of[string](p, "document.activeElement.id"), of[string](p, "location.hash")
	p.answers(chromedp.KeyEvent(kb.ArrowDown))
	chosen := of[string](p, "document.activeElement.id")
	if chosen == before || !of[bool](p, `document.activeElement.checked && document.activeElement.closest("li").className === "chosen"`) {
		t.Errorf("the arrow key went from %s to %s", before, chosen)
	}
	p.seen()
	if of[string](p, "location.hash") == link {
		t.Error("another colour has the same link")
	}
	p.answers(chromedp.KeyEvent(kb.ArrowDown)) // on from where the focus stands
	if again := of[string](p, "document.activeElement.id"); again == chosen || again == before {
		t.Errorf("the second arrow key went to %s", again)
	}
	p.tabTo("#release-gelcoat-hull")
	p.answers(chromedp.KeyEvent(" "))
	if of[string](p, "location.hash") != link {
		t.Error("the colour is not reset to standard again")
	}
	if on := of[string](p, "document.activeElement.id"); on != "summary-gelcoat-hull" {
		t.Errorf("the button is gone and the focus on %q; it should be on what the button was in", on)
	}
	p.tabTo(`[data-do='specification']`)
	p.seen()
	p.answers(chromedp.KeyEvent(kb.Enter))
	if text := plain(p.paperText()); !strings.Contains(text, amountOf(p.total())) {
		t.Errorf("the paper lacks %s", p.total())
	}
	p.do(chromedp.KeyEvent(kb.Escape))
	p.await(`!document.getElementById("paper").open`)
	if !of[bool](p, `document.activeElement.matches("[data-do=specification]")`) {
		t.Error("closing the paper does not give the focus back")
	}
}
