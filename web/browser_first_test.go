package main

import (
	"net/http"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// Before the engine is there a hull that is touched shows its standard build, and the first one again; what was asked
// for meanwhile is answered when the engine is there, with the same price.
func TestHullTouchedBeforeTheEngine(t *testing.T) {
	t.Parallel()
	s, release := siteOf(t), make(chan struct{})
	server := serveHandler(t, http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if strings.Contains(r.URL.Path, "/engine-") {
			select {
			case <-release:
			case <-r.Context().Done():
			}
		}
		s.ServeHTTP(w, r)
	}))
	p := newTab(t)
	p.do(chromedp.Navigate(server.URL + "/"))
	total := p.total()
	touch := func(hull string) string {
		p.do(chromedp.Click(chromedp.ID("hull-" + hull)))
		p.await(`document.getElementById("state").textContent === document.getElementById("state").dataset.early`)
		return p.total()
	}
	other := touch("reed-65")
	if other == total || !of[bool](p, `Boolean(document.querySelector("#still svg")?.checkVisibility())`) {
		t.Errorf("a hull touched shows %s, and before %s", other, total)
	}
	if again := touch("sedge-46"); again != total {
		t.Errorf("the first hull touched again shows %s, want %s", again, total)
	}
	if again := touch("reed-65"); again != other {
		t.Errorf("another hull touched again shows %s, want %s", again, other)
	}
	if of[bool](p, "Boolean("+answered+")") {
		t.Error("the engine has answered, which is held up")
	}
	close(release)
	p.await(answered)
	p.await(`document.getElementById("hull-reed-65").checked`)
	if got := p.total(); got != other {
		t.Errorf("the engine says %s of the hull, and the page said %s", got, other)
	}
	if of[string](p, `document.getElementById("state").dataset.kind`) == "error" {
		t.Error("the page says ", p.state())
	}
}
