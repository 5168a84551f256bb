package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

// finding is what axe says of a page: a rule of WCAG that is broken, and where.
type finding struct {
	ID    string   `json:"id"`
	Help  string   `json:"help"`
	Nodes []string `json:"nodes"`
}

// judged runs axe (axe-core, a library that checks pages by the success criteria of WCAG 2.2, A and AA) in the page. A
// contrast that it cannot decide counts as broken: it is to be decided.
// Drawings are left out: axe cannot say what is behind a word of theirs. A text of one letter it does not decide
// either.
const judged = `axe.run({ exclude: [["svg"]] }, {
	runOnly: { type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
	resultTypes: ["violations", "incomplete"],
}).then((r) => {
	const decided = (n) => n.any.every((c) => c.data?.messageKey === "shortTextContent");
	const open = r.incomplete.filter((i) => i.id === "color-contrast")
		.map((i) => ({ ...i, nodes: i.nodes.filter((n) => !decided(n)) })).filter((i) => i.nodes.length > 0);
	return [...r.violations, ...open];
}).then((list) => list.map((v) => ({
	id: v.id, help: v.help,
	nodes: v.nodes.slice(0, 6).map((n) => n.target.join(" ") + ": " + n.html.slice(0, 120) + " " +
		[...n.any, ...n.all, ...n.none].map((c) => c.message).join("; ")),
})))`

// TestAccess asks axe about every desk in every situation, light and dark. It is skipped where there is no axe: give
// its file axe.min.js by RIBBAND_AXE (npm install axe-core).
func TestAccess(t *testing.T) {
	t.Parallel()
	file := os.Getenv("RIBBAND_AXE")
	if file == "" {
		t.Skip("no axe to ask: give the place of axe.min.js by RIBBAND_AXE")
	}
	axe, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	server := serveSite(t)
	for _, desk := range everyDesk {
		for _, scheme := range []string{"light", "dark"} {
			t.Run(desk+" "+scheme, func(t *testing.T) {
				p := newTab(t)
				_, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
					Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}}})
				if err != nil {
					t.Fatal(err)
				}
				p.do(chromedp.EmulateViewport(1440, 4000)) // so that nothing that sticks to the top lies over a text
				p.open(server.URL + "/" + desk + ".html")
				p.do(chromedp.Evaluate[chromedp.Void](string(axe)))
				for _, s := range situations {
					// colours alone are others at night: two situations have them all
					if !slices.Contains(s.desks, desk) || scheme == "dark" && s.name != "changed" && s.name != "no" {
						continue
					}
					s.reach(p)
					p.do(chromedp.Evaluate[chromedp.Void](`scrollTo(0, 0)`))
					for _, f := range of[[]finding](p, judged) {
						t.Errorf("%s: %s (%s)\n\t%s", s.name, f.ID, f.Help, strings.Join(f.Nodes, "\n\t"))
					}
				}
			})
		}
	}
}

// TestNarrow looks for what does not fit: at 320 CSS pixels, which is what 400 % zoom leaves of 1280 (WCAG 2.2,
// 1.4.10), nothing of the page is to be scrolled to sideways.
func TestNarrow(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	for _, desk := range everyDesk {
		t.Run(desk, func(t *testing.T) {
			p := newTab(t)
			p.do(chromedp.EmulateViewport(320, 640))
			p.open(server.URL + "/" + desk + ".html")
			for _, page := range strings.Fields(of[string](p,
				`[...document.querySelectorAll("main > .page")].map((e) => e.id).join(" ")`)) {
				p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(
					`document.querySelector('#nav a[href="#%s"]').click()`, page)))
				p.await(fmt.Sprintf(`!document.getElementById(%q).hidden`, page))
				wide := of[string](p, `document.documentElement.scrollWidth <= innerWidth ? "" :
					[...document.querySelectorAll("body *")].filter((e) => e.checkVisibility() &&
						e.getBoundingClientRect().right > innerWidth + 1 && !e.closest("#nav ol, svg, .drawing"))
						.slice(0, 5).map((e) => e.tagName + "#" + e.id + "." + e.className).join(", ")`)
				if wide != "" {
					t.Errorf("%s is wider than the screen: %s", page, wide)
				}
			}
		})
	}
}
