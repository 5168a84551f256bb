package main

import (
	"flag"
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

var (
	screens    = flag.String("screens", "", "a folder for pictures of every desk in every situation, to be looked at")
	screensFor = flag.String("screens-of", "", "the only situation to take, by name")
	screensIn  = flag.String("screens-in", "en,nl,de", "the languages to take them in")
)

// situation is one that the page can be in: how a person comes to it, and what is then in view.
type situation struct {
	name  string
	desks []string
	reach func(*tab)
	seen  string // the element that is scrolled to; "" for the top
}

var (
	everyDesk = []string{"index", "dealer-tarnwick-quay", "show", "yard"}
	quoting   = everyDesk[1:]
)

// situations are those that somebody who changes the page has to look at.
var situations = []situation{
	{"first", everyDesk, func(*tab) {}, ""},
	{"slot", everyDesk, func(p *tab) { p.unfold("slot-top") }, "slot-top"},
	{"closer", everyDesk[:1], func(p *tab) {
		p.unfold("slot-top")
		p.unfold("closer-option-top-folding")
	}, "closer-option-top-folding"},
	{"changed", everyDesk, func(p *tab) { p.choose("top", "top-canopy") }, ""},
	{"no", everyDesk, func(p *tab) {
		p.unfold("panel-use")
		p.fill("use-bridge_m", "1.6")
		p.answers(chromedp.KeyEvent(kb.Enter))
		p.unfold("slot-top")
		p.answers(chromedp.Evaluate[chromedp.Void](`document.getElementById("ask-option-top-solar").click()`))
	}, "slot-top"},
	{"swatches", everyDesk[:1], func(p *tab) { p.unfold("slot-upholstery") }, "slot-upholstery"},
	{"cushions", everyDesk[:1], func(p *tab) {
		p.choose("piping", "pipe-navy")
		p.unfold("slot-cushions")
	}, "slot-cushions"},
	{"found", everyDesk[:1], func(p *tab) {
		p.choose("gelcoat-hull", "gelcoat-hull-navy")
		p.unfold("panel-differences")
		p.answers(chromedp.SendKeys(chromedp.ID("find-text"), "teak"))
	}, ""},
	{"beside", everyDesk[:1], func(p *tab) {
		p.unfold("panel-use") // the low bridge of "no" would bar the next hulls' tops
		p.fill("use-bridge_m", "3")
		p.answers(chromedp.KeyEvent(kb.Enter))
		p.unfold("panel-beside")
		p.answers(chromedp.Click(chromedp.ID("set-beside")))
		p.hull("reed-65")
		p.choose("gelcoat-hull", "gelcoat-hull-green")
		p.unfold("panel-beside")
		p.answers(chromedp.Click(chromedp.ID("set-beside")))
		p.hull("osier-76")
	}, "panel-beside"},
	{"needs", everyDesk, func(p *tab) { p.unfold("panel-brief") }, "panel-brief"},
	{"boats", everyDesk[:1], func(p *tab) {
		p.unfold("panel-brief")
		p.fill("wish-persons", "6")
		p.do(chromedp.Click(chromedp.ID("brief-find")))
		p.await(`document.getElementById("brief-verdict") !== null`)
	}, "brief-found"},
	{"figures", everyDesk, func(p *tab) { p.unfold("figures-details") }, "figures-details"},
	{"list", quoting, func(p *tab) {
		p.customerIs("Ada Example")
		p.issue()
		p.turn("deals-details")
	}, ""},
	{"form", quoting, func(p *tab) { p.unfold("customer-details") }, "customer-details"},
	{"discounts", quoting, func(p *tab) { p.unfold("discounts-details") }, "discounts-details"},
	{"enquiry", everyDesk[:1], func(p *tab) { p.unfold("enquiry-details") }, "enquiry-details"},
	{"hours", everyDesk[3:], func(p *tab) { p.turn("hours-details") }, "hours-details"},
}

// inLanguages are desks, each with each of the languages.
func inLanguages(desks []string) (list [][2]string) {
	for _, desk := range desks {
		for _, tag := range strings.Split(*screensIn, ",") {
			list = append(list, [2]string{desk, tag})
		}
	}
	return list
}

// TestScreens takes pictures of the page, for whoever changes it to look at:
// go test ./web -run Screens -screens /tmp/screens -timeout 30m.
func TestScreens(t *testing.T) {
	if *screens == "" {
		t.Skip("no folder was given with -screens")
	}
	server := serveSite(t)
	for _, scheme := range []string{"light", "dark"} {
		for _, s := range situations {
			if *screensFor != "" && *screensFor != s.name {
				continue
			}
			for _, tagged := range inLanguages(s.desks) {
				name := strings.Join([]string{s.name, tagged[0], tagged[1], scheme}, "-")
				// each by itself, so that its tab is closed before the next is opened
				t.Run(name, func(t *testing.T) {
					p := newTab(t)
					_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
						Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
					if err != nil {
						t.Fatal(err)
					}
					p.open(server.URL + "/" + tagged[0] + ".html?lang=" + tagged[1])
					s.reach(p)
					for _, size := range [][2]int64{{390, 844}, {1024, 768}, {1440, 900}} {
						p.do(chromedp.EmulateViewport(size[0], size[1]), chromedp.Evaluate[chromedp.Void](
							fmt.Sprintf(`(document.getElementById(%q) ?? document.body).scrollIntoView()`, s.seen)))
						p.take(*screens, name+"-"+fmt.Sprint(size[0]), size[0], size[1])
					}
				})
			}
		}
	}
}
