package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// By keyboard alone: a word is typed, its first match is followed to the option, which is chosen there; it stands among
// what differs, and goes back from there.
func TestFindByKeyboard(t *testing.T) {
	t.Parallel()
	p := visit(t, "/")
	p.do(chromedp.Focus(chromedp.ID("find-text")))
	p.answers(chromedp.KeyEvent("canopy"))
	p.do(chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter))
	p.await(`document.activeElement.id === "option-top-canopy"`)
	p.answers(chromedp.KeyEvent(" "))
	if text := p.text("found"); !strings.Contains(text, "Fixed canvas canopyselected") {
		t.Errorf("found is %q", text)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#title-block .boat a").click()`))
	p.await(`document.getElementById("panel-differences").open`)
	p.answers(chromedp.Evaluate[chromedp.Void](`document.getElementById("standard-top").click()`))
	if text := p.text("differences"); !strings.Contains(text, "this is the standard build") {
		t.Errorf("taken back, what differs is %q", text)
	}
	p.answers(chromedp.Evaluate[chromedp.Void](`(() => {
		const e = document.getElementById("find-text");
		e.value = "";
		e.dispatchEvent(new Event("input", { bubbles: true }));
	})()`))
	if text := p.text("found"); text != "" {
		t.Errorf("nothing is looked for, and found is %q", text)
	}
}
