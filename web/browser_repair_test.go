package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// undoes presses the keys for undo.
func undoes() chromedp.Action[chromedp.Void] {
	return chromedp.KeyEvent("z", chromedp.KeyModifiers(chromedp.ModifierCtrl))
}

// A blocked option is asked, repaired and taken back by keyboard alone; the focus stays near, and what was done is
// said.
func TestRepairByKeyboard(t *testing.T) {
	t.Parallel()
	p := visit(t, "/yard.html")
	p.hull("reed-65")
	p.choose("top", "top-canopy")
	option := repairable(p)
	link := of[string](p, "location.hash")
	slot := of[string](p, `document.getElementById("ask-option-`+option+`").closest("details").id`)
	p.unfold(slot)
	p.do(chromedp.Focus(chromedp.CSS("#" + slot + " > summary")))
	p.tabTo("#ask-option-" + option)
	p.answers(chromedp.KeyEvent(kb.Enter))
	p.await(`document.getElementById("reason-option-` + option + `")?.checkVisibility()`)
	if id := of[string](p, "document.activeElement.id"); id != "ask-option-"+option {
		t.Errorf("after asking the focus is on %q", id)
	}
	if said := p.text("live"); !strings.Contains(said, "cannot be had: shown below it") {
		t.Errorf("it is said: %q", said)
	}
	p.tabTo("#repair-0")
	what := p.text("repair-text-0")
	p.answers(chromedp.KeyEvent(kb.Enter))
	if s := p.status(option); s != "chosen" && s != "forced" && s != "open" {
		t.Errorf("after the repair %s is %s", option, s)
	}
	if said := p.text("live"); !strings.HasPrefix(said, "Changed: "+strings.TrimSuffix(what, ".")) {
		t.Errorf("%q was repaired, and it is said: %q", what, said)
	}
	if id := of[string](p, "document.activeElement.closest('details')?.id ?? document.activeElement.id"); id != slot {
		t.Errorf("after the repair the focus is in %q, not in %s", id, slot)
	}
	p.answers(undoes())
	if now := of[string](p, "location.hash"); now != link || !strings.HasPrefix(p.text("live"), "Undone: change.") {
		t.Errorf("undone, the link is %s, want %s; it is said: %q", now, link, p.text("live"))
	}
}

// repairable is a blocked option of the page with a repair; it leaves the answer closed.
func repairable(p *tab) string {
	p.Helper()
	for _, id := range of[[]string](p, `[...document.querySelectorAll("[data-act=reason][data-option]")].map(b => b.dataset.option)`) {
		p.unfold(of[string](p, `document.getElementById("ask-option-`+id+`").closest("details").id`))
		p.answers(chromedp.Click(chromedp.ID("ask-option-" + id)))
		found := of[bool](p, `document.getElementById("repair-0") !== null`)
		p.answers(chromedp.Click(chromedp.ID("ask-option-" + id)))
		if found {
			return id
		}
	}
	p.Fatal("nothing can be repaired on this boat; take another to test it")
	return ""
}

// Undo by its keys takes back a change of the boat, but not while somebody types: there the browser's own undo works.
func TestUndoByKeyboard(t *testing.T) {
	t.Parallel()
	p := visit(t, "")
	p.hull("reed-65")
	standard := p.total()
	p.choose("bank", "bank-lfp-20")
	p.answers(chromedp.Click(chromedp.ID("keep-bank")))
	if !of[bool](p, `document.querySelector("#line-bank .kept") !== null && location.hash.includes("/bank!/")`) {
		t.Error("what is kept is not marked")
	}
	p.answers(undoes())
	p.unfold("panel-use")
	count := of[string](p, answered)
	p.do(chromedp.Click(chromedp.ID("use-persons")), chromedp.KeyEvent("1"), undoes())
	if of[string](p, answered) != count || p.status("bank-lfp-20") != "chosen" {
		t.Error("typing was taken for a change of the boat")
	}
	p.do(chromedp.KeyEvent("a", chromedp.KeyModifiers(chromedp.ModifierCtrl)), chromedp.KeyEvent("4"))
	p.turn("option-bank-lfp-20")
	p.do(chromedp.Focus(chromedp.ID("option-bank-lfp-20")))
	p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("undo-button").focus()`))
	text := of[string](p, `document.getElementById("undo-button").getAttribute("aria-label")`)
	if text != "Undo: Battery bank" {
		t.Errorf("the button says %q", text)
	}
	p.answers(chromedp.KeyEvent(kb.Enter))
	if p.total() != standard || p.status("bank-lfp-20") == "chosen" {
		t.Errorf("undone, the total is %s, want %s", p.total(), standard)
	}
	if id := of[string](p, "document.activeElement.id"); id != "undo-button" {
		t.Errorf("the focus is on %q", id)
	}
}
