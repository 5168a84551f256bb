package main

import (
	"encoding/base64"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"

	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/paper"
)

var pictures = flag.Bool("pictures", false, "take the pictures of the README anew")

// TestPictures checks that the README has its pictures, and with -pictures takes them.
func TestPictures(t *testing.T) {
	dir := filepath.Join("..", "testdata", "pictures")
	if !*pictures {
		for _, name := range []string{"buyer", "slot", "phone", "quotation"} {
			if _, err := os.Stat(filepath.Join(dir, name+".png")); err != nil {
				t.Errorf("%v; take it with go test ./web -run Pictures -pictures", err)
			}
		}
		return
	}
	p := visit(t, "/")
	p.hull("reed-65")
	p.take(dir, "buyer", 1440, 900)
	p.unfold("slot-top")
	p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("slot-top").scrollIntoView()`))
	p.take(dir, "slot", 1024, 768)
	p.do(chromedp.EmulateViewport(390, 844), chromedp.Evaluate[chromedp.Void](`document.getElementById("profile").scrollIntoView()`))
	p.take(dir, "phone", 390, 844)
	p.do(chromedp.Navigate("data:text/html;base64," + quotationPage(t)))
	p.take(dir, "quotation", 760, 1000)
}

func (p *tab) take(dir, name string, width, height int64) {
	p.Helper()
	p.do(chromedp.EmulateViewport(width, height))
	png, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.Fatal(err)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		p.Fatal(err)
	}
	write(p, filepath.Join(dir, name+".png"), string(png))
}

// quotationPage is a frozen quotation of a demo spec, as base64.
func quotationPage(t *testing.T) string {
	t.Helper()
	e, err := engine.Compile(packsOf(t)[pack.Show])
	if err != nil {
		t.Fatal(err)
	}
	s, err := readSpec(&console{}, "../testdata/specs/extras-and-discount.json")
	if err != nil {
		t.Fatal(err)
	}
	a, err := e.Answer(s)
	if err != nil {
		t.Fatal(err)
	}
	q, err := frozen(e, a, "../testdata/details.json")
	if err != nil {
		t.Fatal(err)
	}
	of := &paper.Papers[0]
	made, err := of.Of(e, a, q, "") // with its pictures, as a customer gets it
	if err != nil {
		t.Fatal(err)
	}
	html, err := of.Write(made, paper.AsHTML)
	if err != nil {
		t.Fatal(err)
	}
	return base64.StdEncoding.EncodeToString(html)
}
