package main

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

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
// either. After the first time only what has changed is judged, unless it is by colours alone.
const judged = `((colours) => {
	// what two states of an element have otherwise, as small as can be
	const changed = (was, is) => {
		if (was.isEqualNode(is)) return [];
		const alike = was.cloneNode().isEqualNode(is.cloneNode()) && was.childNodes.length === is.childNodes.length &&
			[...is.childNodes].every((n, i) => n.nodeType === was.childNodes[i].nodeType &&
				(n.nodeType === 1 || n.isEqualNode(was.childNodes[i])));
		return alike ? [...is.children].flatMap((e, i) => changed(was.children[i], e)) : [is];
	};
	const include = colours || !window.judgedBody ? [document.body] : changed(window.judgedBody, document.body);
	if (!colours) window.judgedBody = document.body.cloneNode(true);
	return axe.run({ include: include.filter((e) => !e.closest("svg")), exclude: [["svg"]] }, {
		runOnly: colours ? { type: "rule", values: ["color-contrast"] } :
			{ type: "tag", values: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
		resultTypes: ["violations", "incomplete"],
	});
})(%t).then((r) => {
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
		t.Run(desk, func(t *testing.T) {
			p := newTab(t)
			p.do(chromedp.EmulateViewport(1440, 4000)) // so that nothing that sticks to the top lies over a text
			p.open(server.URL + "/" + desk + ".html")
			p.do(chromedp.Evaluate[chromedp.Void](string(axe)))
			for _, s := range situations {
				if !slices.Contains(s.desks, desk) {
					continue
				}
				s.reach(p)
				p.do(chromedp.Evaluate[chromedp.Void](`scrollTo(0, 0)`))
				p.accessible(s.name, false)
				// colours alone are others at night: two situations have them all
				if s.name == "changed" || s.name == "no" {
					p.media("prefers-color-scheme", "dark")
					p.accessible(s.name+" at night", true)
					p.media()
				}
			}
			// what comes in between would be seen
			p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("main > .page:not([hidden])")
				.insertAdjacentHTML("afterbegin",
					'<button></button><p style="color: #777; background: #888">faint</p>')`))
			var planted []string
			for _, f := range of[[]finding](p, fmt.Sprintf(judged, false)) {
				planted = append(planted, f.ID)
			}
			slices.Sort(planted)
			if got, want := strings.Join(planted, " "), "button-name color-contrast"; got != want {
				t.Errorf("of what was planted axe says %q, want %q", got, want)
			}
		})
	}
}

// accessible has axe judge what has changed since the last time, or by colours alone the whole.
func (p *tab) accessible(situation string, colours bool) {
	p.Helper()
	for _, f := range of[[]finding](p, fmt.Sprintf(judged, colours)) {
		p.Errorf("%s: %s (%s)\n\t%s", situation, f.ID, f.Help, strings.Join(f.Nodes, "\n\t"))
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
