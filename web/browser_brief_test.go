package main

import (
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// Wishes are stated, boats found, one taken and given back, all by keyboard; a search can be stopped.
func TestBriefByKeyboard(t *testing.T) {
	t.Parallel()
	p := visit(t, "/")
	link := of[string](p, "location.hash")
	p.do(chromedp.Focus(chromedp.CSS("#panel-brief > summary")))
	p.do(chromedp.KeyEvent(kb.Enter))
	p.await(`document.getElementById("wish-persons").checkVisibility()`)
	p.do(chromedp.Focus(chromedp.ID("wish-persons")), chromedp.KeyEvent("6"))
	p.do(chromedp.Focus(chromedp.ID("wish-range")), chromedp.KeyEvent("25"))
	p.do(chromedp.KeyEvent(kb.Enter))
	p.await(`document.getElementById("brief-verdict") !== null`)
	if found := p.text("brief-found"); !strings.Contains(found, "Lowest price") ||
		!strings.Contains(found, "Most range") {
		t.Errorf("found: %q", found)
	}
	if n := of[int](p, `document.querySelectorAll("#brief-found .drawing svg [data-do=go]").length`); n < 4 {
		t.Errorf("%d points in the plots, want at least 2 in each", n)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#brief-found .drawing svg [data-do=go][data-key=row-1]").dispatchEvent(new MouseEvent("click", {bubbles: true}))`))
	if id := of[string](p, "document.activeElement.id"); id != "row-1" {
		t.Errorf("a point leads to %q, want row-1", id)
	}
	p.do(chromedp.Focus(chromedp.ID("take-0")))
	p.answers(chromedp.KeyEvent(kb.Enter))
	if !of[bool](p, `document.getElementById("hull-rush-54").checked`) || p.text("take-0") != "In use" {
		t.Errorf("the boat was not taken; the button says %q", p.text("take-0"))
	}
	p.answers(undoes())
	if now := of[string](p, "location.hash"); now != link {
		t.Errorf("undone, the link is %s, want %s", now, link)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`for (const [id, text] of [["range", "60"], ["price", "40000"]]) document.getElementById("wish-" + id).value = text`))
	p.answers(chromedp.Click(chromedp.ID("brief-find")))
	// a step of the search may put the button in place anew between finding and clicking it from outside
	p.answers(chromedp.Evaluate[chromedp.Void](`document.getElementById("brief-stop").click()`))
	if found := p.text("brief-found"); !strings.HasPrefix(found, "Searched for") ||
		!strings.Contains(found, "Stopped.") {
		t.Errorf("stopped, it says %q", found)
	}
}
