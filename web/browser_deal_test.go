package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// A deal by the keyboard alone: what is refused stays in the fields to be corrected, the focus stays where a person is
// at work, and what was added can be removed again. What was refused was once gone from the form.
func TestDealByKeyboard(t *testing.T) {
	t.Parallel()
	p := visit(t, "/show.html")
	p.unfold("discounts-details")
	list := p.total()
	p.do(chromedp.Focus(chromedp.CSS("#discounts-details > summary")))
	p.tabTo("#discount-title")
	p.do(chromedp.KeyEvent("Show week"), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent("2 per cent"))
	p.answers(chromedp.KeyEvent(kb.Enter))
	if s := p.text("state"); !strings.Contains(s, "not in EUR") || p.total() != list {
		t.Errorf("it says %q", s)
	}
	if got := of[string](p, `document.getElementById("discount-title").value + "|" + document.getElementById("discount-value").value + "|" + document.activeElement.id`); got != "Show week|2 per cent|discount-value" {
		t.Errorf("after a refusal the form and the focus are %q", got)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`document.activeElement.select()`), chromedp.KeyEvent("2 %"))
	p.answers(chromedp.KeyEvent(kb.Enter))
	if p.total() == list || of[string](p, `document.getElementById("discount-title").value`) != "" ||
		of[string](p, "document.activeElement.id") != "discount-value" {
		t.Errorf("the total is %s, the focus on %s", p.total(), of[string](p, "document.activeElement.id"))
	}

	p.tabTo("#free-title")
	// how the price is meant is not said
	p.do(chromedp.KeyEvent("Oars"), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent("119"), chromedp.KeyEvent(kb.Enter))
	if strings.Contains(p.text("ledger"), "Oars") ||
		of[bool](p, `document.getElementById("free-basis").checkValidity()`) {
		t.Error("an item is taken of which nobody said whether its price is net")
	}
	p.do(chromedp.Focus(chromedp.ID("free-basis")), chromedp.KeyEvent("w")) // with tax
	p.tabTo("#free-shop")
	p.do(chromedp.KeyEvent("A"))
	p.tabTo("#give-line")
	p.seen()
	p.answers(chromedp.KeyEvent(" "))
	if s := plain(p.text("ledger")); !strings.Contains(s, "Oars119.00") ||
		of[string](p, "document.activeElement.id") != "give-line" {
		t.Errorf("the ledger says %.400s, the focus is on %s", s, of[string](p, "document.activeElement.id"))
	}
	if s := plain(p.text("discounts")); !strings.Contains(s, "Oars: 119.00 EUR with tax, Assembly 0 h") {
		t.Errorf("the item is %.600s", s)
	}

	p.tabTo("#trade-in-title")
	p.do(chromedp.KeyEvent("Dinghy"), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent("999999"))
	p.answers(chromedp.KeyEvent(kb.Enter))
	if s := p.text("state"); !strings.Contains(s, "not less than the total") {
		t.Errorf("it says %q", s)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`document.activeElement.select()`), chromedp.KeyEvent("500"))
	p.answers(chromedp.KeyEvent(kb.Enter))
	if s := plain(p.text("ledger")); !strings.Contains(s, "Trade-in: Dinghy") || !strings.Contains(s, "Payable") {
		t.Errorf("the ledger says %.600s", s)
	}
	p.do(chromedp.Focus(chromedp.CSS("#discounts-details > summary")))
	p.tabTo("#remove-discount-0")
	p.answers(chromedp.KeyEvent(kb.Enter))
	if strings.Contains(p.text("ledger"), "Show week") || !of[bool](p, `document.activeElement !== document.body`) {
		t.Error("removed, the discount is there, or the focus is nowhere")
	}
}
