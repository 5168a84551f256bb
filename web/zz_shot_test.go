package main

import (
	"os"
	"testing"

	"github.com/chromedp/chromedp"
)

func TestZZShot(t *testing.T) {
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + "/show.html")
	p.answers(chromedp.Click(chromedp.ID("hull-reed-65")))
	p.customerIs("Ada Example")
	p.issue()
	p.answers(chromedp.Evaluate[chromedp.Void](`document.querySelector('[data-do="deal-new"]').click()`))
	p.customerIs("Bo Example")
	p.issue()
	p.answers(chromedp.Click(chromedp.ID("hull-osier-76")))
	p.stores()
	p.listed("revision 2")
	for _, s := range [][2]int{{390, 844}, {1024, 768}, {1440, 900}} {
		p.do(chromedp.EmulateViewport(int64(s[0]), int64(s[1])))
		p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("deals-details").scrollIntoView()`))
		b, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		os.WriteFile("/tmp/shot-"+string(rune('0'+s[0]/390))+".png", b, 0o644)
	}
}
