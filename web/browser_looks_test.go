package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// TestLooks has each desk in the middle of the work, with a boat that was changed and a "no" with its ways out, as
// readers have it who set up their machines for themselves, and on paper. One page for all: what costs is to open it.
func TestLooks(t *testing.T) {
	t.Parallel()
	server := serveSite(t)
	for _, desk := range everyDesk {
		t.Run(desk, func(t *testing.T) {
			p := fullBrowser.tab(t)
			p.open(server.URL + "/" + desk + ".html")
			i := slices.IndexFunc(situations, func(s situation) bool { return s.name == "no" })
			situations[i].reach(p)
			if desk == "index" {
				p.forcedColours()
			}
			p.choose("gelcoat-hull", "gelcoat-hull-navy")
			p.media("prefers-color-scheme", "dark") // paper is white all the same
			p.printed("A4", chromedp.PaperA4)
			if desk == "index" {
				p.printed("Letter", chromedp.PaperLetter)
				p.nothingMoves()
			}
			p.media()
			p.largeText(desk == "index")
		})
	}
}

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
		if (e.matches("button, input:not([type=radio], [type=checkbox]), select, textarea")) add(e,
			e.getBoundingClientRect());
	}
	for (const { e, box, cutters, scroller } of boxes) {
		for (const { e: by, at } of cutters) {
			if (box.left < at.left - 2 || box.right > at.right + 2 || box.top < at.top - 2 ||
				box.bottom > at.bottom + 2) {
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

// largeText has the text at twice the reader's usual size, once as a setting of the browser, by which media queries go,
// and once by a style sheet of the reader's own, by which they do not (WCAG 2.2, 1.4.4): all of it is to be read and
// pressed, on every page of the desk. Unless all is asked for, each is tried on one size of screen: there are few rules
// of the style sheet that one desk has alone.
func (p *tab) largeText(all bool) {
	p.Helper()
	narrow, wide := [2]int64{390, 844}, [2]int64{1440, 900}
	for _, by := range []struct {
		setting      int64
		sheet        string
		first, other [2]int64 // screens
	}{{32, "100%", narrow, wide}, {16, "200%", wide, narrow}} {
		if _, err := chromedp.Call(p.ctx, page.SetFontSizes, page.SetFontSizesParams{
			FontSizes: &page.FontSizes{Standard: by.setting}}); err != nil {
			p.Fatal(err)
		}
		p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.documentElement.style.fontSize = %q`, by.sheet)))
		if size := of[string](p, `getComputedStyle(document.documentElement).fontSize`); size != "32px" {
			p.Fatalf("text is of %s", size)
		}
		sizes := [][2]int64{by.first}
		if all {
			sizes = append(sizes, by.other)
		}
		for _, size := range sizes {
			p.do(chromedp.EmulateViewport(size[0], size[1]))
			p.legible(fmt.Sprintf("%d × %d, %s of %d px", size[0], size[1], by.sheet, by.setting))
		}
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

// media has the reader's settings be these, by name and value.
func (p *tab) media(features ...string) {
	p.Helper()
	var list []*emulation.MediaFeature
	for i := 0; i < len(features); i += 2 {
		list = append(list, &emulation.MediaFeature{Name: features[i], Value: features[i+1]})
	}
	if _, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia,
		emulation.SetEmulatedMediaParams{Features: list}); err != nil {
		p.Fatal(err)
	}
}

// painted is what is painted within an element, as far as it is in view.
func (p *tab) painted(element string) image.Image {
	p.Helper()
	shot, err := chromedp.Run(p.ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.Fatal(err)
	}
	all, err := png.Decode(bytes.NewReader(shot))
	if err != nil {
		p.Fatal(err)
	}
	at := of[[]int](p, fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect();
		return [r.left, r.top, r.right, r.bottom].map(Math.round); })()`, element))
	return all.(interface {
		SubImage(image.Rectangle) image.Image
	}).SubImage(image.Rect(at[0], at[1], at[2], at[3]))
}

// share is how much of a picture has a colour, each part of it from 0 to 255, which a test tells.
func share(of image.Image, test func(r, g, b int) bool) float64 {
	n, all := 0, 0
	for y := of.Bounds().Min.Y; y < of.Bounds().Max.Y; y++ {
		for x := of.Bounds().Min.X; x < of.Bounds().Max.X; x++ {
			r, g, b, _ := of.At(x, y).RGBA()
			if all++; test(int(r>>8), int(g>>8), int(b>>8)) {
				n++
			}
		}
	}
	return float64(n) / float64(max(all, 1))
}

// untold lists states that forced colours leave no difference of: two elements of which one alone is chosen, pressed or
// shown must differ in border, outline, weight or line of the text, since their backgrounds do not. A "no" has a mark,
// and the focus a ring; words of drawings do not have the colour of what they stand on.
const untold = `(() => {
	const found = [], canvas = getComputedStyle(document.body).backgroundColor;
	const look = (e) => {
		const s = getComputedStyle(e);
		return [s.borderTopColor, s.borderTopWidth, s.borderBottomColor, s.borderBottomWidth, s.outlineStyle,
			s.outlineColor,
			s.fontWeight, s.textDecorationLine].join(" ");
	};
	for (const [is, not] of [["#nav a[aria-current]", "#nav a:not([aria-current])"],
		[".sights [aria-pressed=true]", ".sights [aria-pressed=false]"], [".view[data-large]",
			".view:not([data-large])"],
		[".hull:has(:checked)", ".hull:not(:has(:checked))"],
		["figcaption [aria-pressed=true]", "figcaption [aria-pressed=false]"]]) {
		const [a, b] = [document.querySelector(is), document.querySelector(not)];
		if (!a || !b) found.push(is + ": there is none");
		else if (look(a) === look(b)) found.push(is + " looks as the others do");
	}
	const no = document.querySelector(".absent .why, .blocked .why");
	if (!no || getComputedStyle(no, "::before").content === "none") found.push("a no has no mark");
	const button = document.querySelector("#ask-option-top-solar");
	button.focus({ focusVisible: true });
	const ring = getComputedStyle(button);
	if (ring.outlineStyle === "none" || ring.outlineColor === canvas) found.push("the focus has no ring");
	for (const t of document.querySelectorAll(".view[data-large] svg text, .views .narrow svg text")) {
		const under = t.previousElementSibling?.matches("circle") ?
			getComputedStyle(t.previousElementSibling).fill : canvas;
		if (getComputedStyle(t).fill === under) found.push(t.textContent + " cannot be read");
	}
	return found;
})()`

// forcedColours has the reader's system give all colours, dark and light (CSS Color Adjustment 1, section 3).
func (p *tab) forcedColours() {
	p.Helper()
	for _, scheme := range []string{"dark", "light"} {
		p.media("forced-colors", "active", "prefers-color-scheme", scheme)
		p.await(`matchMedia("(forced-colors: active)").matches`)
		for _, f := range of[[]string](p, untold) {
			p.Errorf("%s: %s", scheme, f)
		}
		p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("stage").scrollIntoView({ block: "start" })`))
		p.turnedBy("Home") // drawn with the colours of now
		// Lines are in the colour of text, which no part of the boat is: what is white is darker on a dark page.
		// Balloons and words over the boat are in it, too, and do not count.
		ink := func(r, g, b int) bool { return r > 225 && g > 225 && b > 225 }
		if scheme == "light" {
			ink = func(r, g, b int) bool { return r < 40 && g < 40 && b < 40 }
		}
		over := `document.querySelectorAll("#marks, #stage button, .view[data-large] figcaption, .preliminary")
			.forEach((e) => e.style.visibility = %q)`
		p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(over, "hidden")))
		got := share(p.painted("#stage"), ink)
		p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(over, "")))
		if got < 0.002 || got > 0.2 {
			p.Errorf("%s: %.4f of the drawing are lines", scheme, got)
		}
	}
	p.unfold("slot-upholstery")
	p.do(chromedp.Evaluate[chromedp.Void](
		`document.querySelector("#slot-upholstery .swatch").scrollIntoView({ block: "center" })`))
	var r, g, b int
	fill := of[string](p, `document.querySelector("#slot-upholstery .swatch rect").getAttribute("fill")`)
	if _, err := fmt.Sscanf(fill,
		"#%02x%02x%02x", &r, &g, &b); err != nil {
		p.Fatal(err)
	}
	if got := share(p.painted("#slot-upholstery .swatch"), func(x, y, z int) bool {
		return x == r && y == g && z == b
	}); got < 0.4 {
		p.Errorf("%.2f of a swatch are of its colour", got)
	}
}

// leaps goes to another view of the boat and to another part of the page, and says of both whether they are there at
// once, the boat in the next frame; and how many animations run.
const leaps = `new Promise((done) => {
	const button = document.querySelector(".sights [aria-pressed=false]");
	button.click();
	document.querySelector('.skip[href="#actions"]').click();
	const place = scrollY, running = document.getAnimations().length;
	requestAnimationFrame(() => {
		const turned = button.getAttribute("aria-pressed") === "true";
		setTimeout(() => done({ turned, scrolled: Math.abs(place - scrollY) < 4 && place > 0, running, place,
			end: scrollY }), 800);
	});
})`

// nothingMoves checks that nothing turns or glides by itself for who asked for less motion: the boat is seen from its
// new side in the next frame, and the page is where it was sent to (WCAG 2.2, 2.3.3). For others both go there.
func (p *tab) nothingMoves() {
	p.Helper()
	p.do(chromedp.EmulateViewport(390, 844)) // where there is a way to scroll
	for _, wish := range []string{"no-preference", "reduce"} {
		p.media("prefers-reduced-motion", wish)
		p.await(`(scrollTo({ top: 0, behavior: "instant" }), scrollY === 0)`) // again, while it glides elsewhere
		got := of[struct {
			Turned, Scrolled bool
			Running          int
			Place, End       float64
		}](p, leaps)
		if still := wish == "reduce"; got.Turned != still || got.Scrolled != still || got.Running > 0 {
			p.Errorf("%s: the boat is turned at once %v, the page scrolled at once %v (%v, then %v), %d animations",
				wish, got.Turned, got.Scrolled, got.Place, got.End, got.Running)
		}
	}
}

// specified are texts of the page that a print of it must hold, and those that it must not.
const specified = `(() => {
	const texts = (css) => [...document.querySelectorAll(css)].flatMap((e) => [...e.childNodes])
		.map((n) => n.textContent.trim()).filter(Boolean);
	return { must: texts("#title-block dd strong, #total, .slot .title, .slot .content, #use .field > label, " +
		"#ledger th, " +
			"#ledger td, #figures .unfold > summary > span, #differences h4, #stages-details td, .revisions .letter, " +
			"#title-block dt, .foot p, #clashes li, #remarks li, .view figcaption"),
		never: texts(".actions button, #find label, #brief-find, .private h2, .private h3, #option-top-hard + .name, " +
			".ask > button, .private > summary, #customer label, #enquiry label, .settled label"),
		headings: texts("main > .page > h2") };
})()`

// printed prints the page and reads it back: it is one specification, with all that is folded, and nothing that is
// pressed, typed, looked for, or of the yard alone.
func (p *tab) printed(name string, size chromedp.PaperSize) {
	p.Helper()
	pdf, err := chromedp.Run(p.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(size)))
	if err != nil {
		p.Fatal(err)
	}
	file := write(p, filepath.Join(p.TempDir(), name+".pdf"), string(pdf))
	pages := strings.Split(strings.TrimSuffix(said(p, "pdftotext", file, "-"), "\f"), "\f")
	if len(pages) < 4 || len(pages) > 8 {
		p.Errorf("%s: %d pages", name, len(pages))
	}
	text := of[struct{ Must, Never, Headings []string }](p, specified)
	flat := func(s string) string { return " " + strings.Join(strings.Fields(plain(s)), " ") + " " }
	all := flat(strings.Join(pages, " "))
	solid := strings.NewReplacer(" ", "", "\u00ad", "") // where lines are broken, and words apart, the print decides
	// of a title of two lines the reader may put what stands beside it between them: then as it was written
	whole := solid.Replace(all) + solid.Replace(flat(said(p, "pdftotext", "-raw", file, "-")))
	for _, s := range text.Must {
		if !strings.Contains(whole, solid.Replace(flat(s))) {
			p.Errorf("%s lacks %q", name, s)
		}
	}
	for _, s := range text.Never {
		if strings.Contains(all, flat(s)) {
			p.Errorf("%s has %q", name, s)
		}
	}
	if len(text.Must) < 150 || len(text.Never) < 10 {
		p.Errorf("only %d texts are asked for, and %d are not to be there", len(text.Must), len(text.Never))
	}
	for i, page := range pages {
		lines := strings.Split(strings.TrimSpace(page), "\n")
		lines = slices.DeleteFunc(lines, func(l string) bool {
			return strings.TrimSpace(l) == "" || regexp.MustCompile(`^\d+ / \d+$`).MatchString(l)
		})
		if len(lines) < 10 {
			p.Errorf("%s, page %d has only %q", name, i+1, lines)
		} else if last := lines[len(lines)-1]; slices.Contains(text.Headings, last) {
			p.Errorf("%s, page %d ends with the heading %q", name, i+1, last)
		}
	}
	// the boat in perspective is a picture, with more than paper on it
	said(p, "pdfimages", "-png", "-f", "1", "-l", "1", file, filepath.Join(filepath.Dir(file), name))
	boat := 0.0
	list, _ := filepath.Glob(filepath.Join(filepath.Dir(file), name+"-*.png"))
	for _, f := range list {
		data, err := os.ReadFile(f)
		if err != nil {
			p.Fatal(err)
		}
		if m, err := png.Decode(bytes.NewReader(data)); err == nil && m.Bounds().Dx() > 1000 {
			boat = max(boat, share(m, func(r, g, b int) bool { return b-r > 20 && r > 10 && r < 60 }))
		}
	}
	if n := of[int](p, `document.querySelectorAll("[data-opened], .printed").length`); n > 0 {
		p.Errorf("%d elements are as the print left them", n)
	}
	if boat < 0.03 { // navy, in its tones
		p.Errorf("%s: %.3f of the picture on the first page are of the colour of the hull, in %d pictures", name, boat,
			len(list))
	}
}
