package main

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// cramped lists what a reader cannot read or press of what is to be seen: text that lies beyond what its box shows,
// texts or controls that lie on each other, and what is beyond the side of the page. What scrolls is reached; what
// stays in place lies over the rest by intention, and is compared among itself. Drawings are left out: they are scaled
// as a whole, and words of theirs are placed by core/drawing.
const cramped = `((within) => {
	const found = new Set();
	const name = (e) => e.tagName.toLowerCase() + (e.id ? "#" + e.id : "") +
		[...e.classList].map((c) => "." + c).join("") + " " + JSON.stringify(e.textContent.trim().slice(0, 30));
	if (document.documentElement.scrollWidth > innerWidth + 1) found.add("the page scrolls sideways");
	const boxes = [];
	const add = (e, box, where = over(e)) => boxes.push({ e, box, ...where });
	// what is known of a box is asked for once: which box is over it that stays in place, scrolls, or cuts
	const known = new Map([[document.body, { layer: null, scroller: null, cutters: [] }]]);
	const over = (e) => {
		if (known.has(e)) return known.get(e);
		const style = getComputedStyle(e), up = over(e.parentElement), o = { ...up, size: parseFloat(style.fontSize) };
		known.set(e, o);
		if (style.display === "contents") return o;
		if (["fixed", "sticky"].includes(style.position)) o.layer = e;
		if (/auto|scroll/.test(style.overflow)) add(e, e.getBoundingClientRect(), up);
		if (/auto|scroll/.test(style.overflow)) [o.scroller, o.cutters] = [e, []];
		else if (/hidden|clip/.test(style.overflow)) o.cutters = [...up.cutters, { e, at: e.getBoundingClientRect() }];
		return o;
	};
	for (const e of document.querySelectorAll(within + " *")) {
		if (e.closest("svg, canvas, .unseen, .skip, .parts, dialog:not([open])")) continue;
		if (!e.checkVisibility({ visibilityProperty: true })) continue;
		for (const node of e.childNodes) {
			if (node.nodeType !== 3 || !node.data.trim()) continue;
			const range = document.createRange();
			range.selectNodeContents(node);
			for (const r of range.getClientRects()) {
				if (r.width < 2) continue;
				const air = Math.max(0, (r.height - over(e).size) / 2); // a line is higher than its letters
				add(e, { left: r.left, right: r.right, top: r.top + air, bottom: r.bottom - air });
			}
		}
		if (e.matches("button, input:not([type=radio], [type=checkbox]), select, textarea")) add(e, e.getBoundingClientRect());
	}
	for (const { e, box, cutters, scroller } of boxes) {
		for (const { e: by, at } of cutters) {
			if (box.left < at.left - 2 || box.right > at.right + 2 || box.top < at.top - 2 || box.bottom > at.bottom + 2) {
				found.add(name(e) + " is cut by " + name(by).split(" ")[0]);
			}
		}
		if (!scroller && (box.right > innerWidth + 1 || box.left < -1)) found.add(name(e) + " is beyond the side");
	}
	boxes.sort((a, b) => a.box.top - b.box.top);
	boxes.forEach((a, i) => {
		for (let k = i + 1; k < boxes.length && boxes[k].box.top < a.box.bottom - 2; k++) {
			const b = boxes[k];
			if (a.layer !== b.layer || a.scroller !== b.scroller || a.e.contains(b.e) || b.e.contains(a.e)) continue;
			const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
			const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
			if (wide > 2 && high > 2) found.add(name(a.e) + " lies on " + name(b.e));
		}
	});
	return [...found].slice(0, 12);
})(%q)`

// TestLargeText has the text at twice the reader's usual size, once as a setting of the browser, by which media queries
// go, and once by a style sheet of the reader's own, by which they do not (WCAG 2.2, 1.4.4): all of it is to be read
// and pressed, on every page of every desk.
func TestLargeText(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	for _, desk := range everyDesk {
		t.Run(desk, func(t *testing.T) {
			p := newTab(t)
			p.open(server.URL + "/" + desk + ".html")
			situations[3].reach(p) // a boat that was changed, and a "no" with its ways out
			for _, by := range []struct {
				setting int64
				sheet   string
			}{{32, "100%"}, {16, "200%"}} {
				if _, err := chromedp.Call(p.ctx, page.SetFontSizes, page.SetFontSizesParams{
					FontSizes: &page.FontSizes{Standard: by.setting}}); err != nil {
					t.Fatal(err)
				}
				p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.documentElement.style.fontSize = %q`,
					by.sheet)))
				if size := of[string](p, `getComputedStyle(document.documentElement).fontSize`); size != "32px" {
					t.Fatalf("text is of %s", size)
				}
				for _, size := range [][2]int64{{390, 844}, {1440, 900}} {
					p.do(chromedp.EmulateViewport(size[0], size[1]))
					p.legible(fmt.Sprintf("%d × %d, %s of %d px", size[0], size[1], by.sheet, by.setting))
				}
			}
		})
	}
}

// legible looks for what is cramped in the frame of the page, and on each page of the specification.
func (p *tab) legible(when string) {
	p.Helper()
	within := "body"
	for _, id := range strings.Fields(of[string](p,
		`[...document.querySelectorAll("main > .page")].map((e) => e.id).join(" ")`)) {
		p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(
			`document.querySelector('#nav a[href="#%s"]').click(); scrollTo(0, 0)`, id)))
		for _, f := range of[[]string](p, fmt.Sprintf(cramped, within)) {
			p.Errorf("%s, %s: %s", when, id, f)
		}
		within = "#sheet" // the rest stays
	}
}
