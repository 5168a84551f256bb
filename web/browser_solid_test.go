package main

import (
	"encoding/base64"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/evanw/esbuild/pkg/api"

	"ribband/core/drawing/solid"
	"ribband/core/engine"
	"ribband/core/look"
	"ribband/core/pack"
)

// counted notes frames that are asked for, from before the page's own scripts.
const counted = `(() => {
  window.frames = 0;
  const ask = window.requestAnimationFrame;
  window.requestAnimationFrame = (f) => { window.frames++; return ask.call(window, f); };
})()`

// stageTab opens the buyer's page in the full browser, with a script before its own.
func stageTab(t *testing.T, script string) *tab {
	t.Helper()
	server := serveSite(t)
	p := fullBrowser.tab(t)
	if _, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument,
		page.AddScriptToEvaluateOnNewDocumentParams{Source: script}); err != nil {
		t.Fatal(err)
	}
	p.open(server.URL)
	return p
}

// turnedBy gives the canvas a key, and waits until it is drawn at rest again.
func (p *tab) turnedBy(key string) {
	p.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.getElementById("solid-canvas").dispatchEvent(
		new KeyboardEvent("keydown", { key: %q, bubbles: true, cancelable: true }))`, key)))
	time.Sleep(500 * time.Millisecond)
}

// picture is the canvas as a URL of data, drawn anew and read before the browser takes its buffer away.
const picture = `new Promise((done) => {
  const canvas = document.getElementById("solid-canvas");
  canvas.dispatchEvent(new KeyboardEvent("keydown", { key: "Home", cancelable: true }));
  requestAnimationFrame(() => { // in the frame in which it is drawn, behind that
    const copy = document.createElement("canvas");
    [copy.width, copy.height] = [200, 112];
    copy.getContext("2d").drawImage(canvas, 0, 0, 200, 112);
    done(copy.toDataURL());
  });
})`

// The boat can be turned, and stands still when nobody turns it: then no frame is asked for.
func TestSolidTurnsAndRests(t *testing.T) {
	t.Parallel()
	p := stageTab(t, counted)
	p.await(`document.getElementById("solid-canvas")`)
	if of[bool](p, `document.getElementById("still").checkVisibility()`) {
		t.Error("the still picture stands beside the canvas")
	}
	before := of[string](p, picture)
	if len(before) < 3000 {
		t.Fatalf("the canvas is empty: %d characters", len(before))
	}
	p.turnedBy("ArrowRight")
	if of[string](p, picture) == before {
		t.Error("turned, the boat looks the same")
	}
	time.Sleep(500 * time.Millisecond)
	frames := of[int](p, "window.frames")
	time.Sleep(time.Second)
	if now := of[int](p, "window.frames"); now != frames {
		t.Errorf("%d frames were drawn while nothing moved", now-frames)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("[data-yaw='-90']").click()`))
	p.await(`document.querySelector("[data-yaw='-90']").getAttribute("aria-pressed") === "true"`)
}

// A change of the boat is drawn, and a person who asked for less motion sees the new view at once.
func TestSolidFollowsTheBoat(t *testing.T) {
	t.Parallel()
	p := stageTab(t, counted)
	p.await(`document.getElementById("solid-canvas")`)
	if _, err := chromedp.Call(p.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}}); err != nil {
		t.Fatal(err)
	}
	mesh := of[string](p, `document.querySelector("#solid [data-mesh]").dataset.mesh`)
	before := of[string](p, picture)
	p.choose("gelcoat-hull", "gelcoat-hull-burgundy")
	p.await(fmt.Sprintf(`document.querySelector("#solid [data-mesh]").dataset.mesh !== %q`, mesh))
	// the cloud is round what was changed, as revision A
	p.await(`document.querySelector("#marks .cloud text")?.textContent === "A"`)
	if of[string](p, picture) == before {
		t.Error("of another colour, the boat looks the same")
	}
	frames := of[int](p, "window.frames")
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("[data-yaw='-33']").click()`))
	time.Sleep(600 * time.Millisecond)
	if now := of[int](p, "window.frames"); now > frames+2 {
		t.Errorf("%d frames to another view, for a person who asked for less motion", now-frames)
	}
}

// A graphics card may take its memory back at any time: then the still picture of the boat as it is now stands there,
// the page goes on, and the boat is drawn again once there is memory. Nothing is complained of in the console.
func TestSolidOutlivesItsContext(t *testing.T) {
	t.Parallel()
	p := stageTab(t, `HTMLCanvasElement.prototype.getContext = ((get) => function (kind, ...more) {
		const context = get.call(this, kind, ...more);
		if (kind === "webgl2") window.lose = context.getExtension("WEBGL_lose_context");
		return context;
	})(HTMLCanvasElement.prototype.getContext)`)
	p.await(`document.getElementById("solid-canvas")`)
	p.choose("top", "top-canopy")
	p.await(`document.querySelector("#marks .balloon")`)
	before := of[string](p, picture)
	stale := of[string](p, `document.getElementById("still").innerHTML`)
	p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("solid-canvas").focus(); lose.loseContext()`))
	still := `document.querySelector("#still svg")?.checkVisibility() &&
		document.getElementById("still").innerHTML !== `
	p.await(still + fmt.Sprintf("%q", stale))
	if n := of[int](p, `document.querySelectorAll("#marks > *").length`); n > 0 {
		t.Errorf("%d balloons point at where the boat was", n)
	}
	canopy, total := of[string](p, `document.getElementById("still").innerHTML`), p.total()
	p.choose("gelcoat-hull", "gelcoat-hull-burgundy")
	p.await(still + fmt.Sprintf("%q", canopy))
	if p.total() == total {
		t.Error("the page does not go on: the price is as before")
	}
	p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("solid-canvas").focus(); lose.restoreContext()`))
	p.await(`document.getElementById("stage").classList.contains("drawn")`)
	p.await(`document.querySelector("#marks .balloon")`) // a frame was drawn
	if now := of[string](p, picture); len(now) < 3000 || now == before {
		t.Errorf("restored, the canvas shows %d characters, as before: %v", len(now), now == before)
	}
	if of[bool](p, `document.getElementById("still").checkVisibility()`) {
		t.Error("the still picture stands beside the canvas")
	}
	if at := of[string](p, `document.activeElement.id`); at != "solid-canvas" {
		t.Errorf("the focus is on %q", at)
	}
}

// To touch a part opens the slot that decides on it, and so does its entry in the list for who cannot point.
func TestSolidPartsLeadToTheirSlots(t *testing.T) {
	t.Parallel()
	p := stageTab(t, counted)
	p.await(`document.getElementById("solid-canvas")`)
	p.choose("top", "top-canopy")
	p.await(`document.querySelector("#solid [data-name=top]")`) // it is out of view, and comes behind
	// the canopy is what is seen from above over the middle of the boat
	p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("stage").scrollIntoView()`))
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("[data-pitch='72']").click()`))
	p.await(`document.querySelector("[data-pitch='72']").getAttribute("aria-pressed") === "true"`)
	p.do(chromedp.Evaluate[chromedp.Void](`(() => {
		document.getElementById("slot-top").open = false;
		const canvas = document.getElementById("solid-canvas");
		canvas.scrollIntoView({ block: "center" });
		const box = canvas.getBoundingClientRect();
		const at = { clientX: box.left + box.width * .45, clientY: box.top + box.height / 2, bubbles: true,
			pointerId: 1,
			pointerType: "mouse", button: 0 };
		canvas.setPointerCapture = () => {};
		canvas.dispatchEvent(new PointerEvent("pointermove", at));
	})()`))
	if name := p.text("solid-name"); !strings.HasPrefix(name, "Top: ") {
		t.Errorf("over the canopy the page names %q", name)
	}
	p.do(chromedp.Evaluate[chromedp.Void](`(() => {
		const canvas = document.getElementById("solid-canvas");
		const box = canvas.getBoundingClientRect();
		const at = { clientX: box.left + box.width * .45, clientY: box.top + box.height / 2, bubbles: true,
			pointerId: 1,
			pointerType: "mouse", button: 0 };
		canvas.dispatchEvent(new PointerEvent("pointerdown", at));
		canvas.dispatchEvent(new PointerEvent("pointerup", at));
	})()`))
	p.await(`document.getElementById("slot-top").open`)
	p.do(chromedp.Evaluate[chromedp.Void](`document.querySelector("#solid [data-name='rail'] button").click()`))
	slot := of[string](p, `document.querySelector("#solid [data-name='rail']").dataset.key`)
	p.await(fmt.Sprintf("document.getElementById(%q).open", slot))
	balloonsLead(p)
}

// balloonsLead checks that parts are numbered as the specification numbers their slots, that no two numbers lie on each
// other, and that each leads there.
func balloonsLead(p *tab) {
	p.Helper()
	p.await(`document.querySelectorAll("#marks .balloon").length > 3`)
	wrong := of[[]string](p, `[...document.querySelectorAll("#marks .balloon")].filter((b) => b.textContent !==
		document.querySelector("#" + b.dataset.key + " .item").textContent).map((b) => b.outerHTML)`)
	if len(wrong) > 0 {
		p.Errorf("numbers that are not those of the specification: %q", wrong)
	}
	near := of[int](p, `(() => {
		const at = [...document.querySelectorAll("#marks .ring")].map((c) => [c.cx.baseVal.value, c.cy.baseVal.value]);
		return at.filter((a, i) => at.some((b, k) => k > i && Math.hypot(a[0] - b[0], a[1] - b[1]) < 26)).length;
	})()`)
	if near > 0 {
		p.Errorf("%d numbers lie on another", near)
	}
	key := of[string](p, `(() => {
		const b = [...document.querySelectorAll("#marks .balloon")].find((b) =>
			!document.getElementById(b.dataset.key).open).querySelector(".ring");
		b.dispatchEvent(new MouseEvent("click", { bubbles: true }));
		return b.parentNode.dataset.key;
	})()`)
	p.await(fmt.Sprintf("document.getElementById(%q).open", key))
}

// Without WebGL2 the still picture stays, and follows the boat.
func TestStillWithoutWebGL(t *testing.T) {
	t.Parallel()
	p := stageTab(t, `HTMLCanvasElement.prototype.getContext = function () { return null; }`)
	if of[bool](p, `Boolean(document.getElementById("solid-canvas"))`) {
		t.Error("there is a canvas on which nothing can be drawn")
	}
	p.await(`document.querySelector("#still svg").checkVisibility()`)
	before := of[string](p, `document.getElementById("still").innerHTML`)
	p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("stage").scrollIntoView()`))
	p.do(chromedp.Evaluate[chromedp.Void](`document.getElementById("option-gelcoat-hull-burgundy").click()`))
	p.await(fmt.Sprintf(`document.getElementById("still").innerHTML !== %q`, before))
}

// The page takes the mesh apart as the engine put it together: as many faces, of the same places in the same order.
func TestMeshIsReadAsWritten(t *testing.T) {
	t.Parallel()
	node, err := exec.LookPath("node")
	if err != nil {
		t.Skip("no node to run the page's reader in: ", err)
	}
	bundle := api.Build(api.BuildOptions{EntryPoints: []string{filepath.Join("page", "mesh.ts")}, Bundle: true,
		Format: api.FormatIIFE, GlobalName: "mesh", Target: api.ES2022})
	if len(bundle.Errors) > 0 {
		t.Fatal(bundle.Errors[0].Text)
	}
	e, err := engine.Compile(packsOf(t)[pack.Buyer])
	if err != nil {
		t.Fatal(err)
	}
	for i := range e.Pack.Hulls {
		a, err := e.AnswerStandard(i, "")
		if err != nil {
			t.Fatal(err)
		}
		m, err := look.Solid(e, a.Build, solid.Fine)
		if err != nil {
			t.Fatal(err)
		}
		faces, sum := 0, int64(0)
		for _, f := range m.Faces() {
			faces++
			for i, q := range f.At {
				sum += int64(i+1) * (int64(q[0]) + 3*int64(q[1]) + 7*int64(q[2]))
			}
		}
		script := string(bundle.OutputFiles[0].Contents) + `
			const m = mesh.decode(Uint8Array.from(atob("` + base64.StdEncoding.EncodeToString(m.Encode()) + `"),
				(c) => c.charCodeAt(0)));
			let sum = 0;
			for (const f of m.faces) f.at.forEach((q, i) => {
				const [x, y, z] = mesh.xyz(m.places, q).map((v) => Math.round(v * 1000));
				sum += (i + 1) * (x + 3 * y + 7 * z);
			});
			const s = mesh.shape(m);
			if (!(s.solid > 0) || s.edges.some(Number.isNaN) || s.triangles.some(Number.isNaN))
				throw new Error("no shape");
			console.log(m.faces.length, sum, m.lines.length, m.waterline.length / 3);`
		cmd := exec.CommandContext(t.Context(), node, "-")
		cmd.Stdin = strings.NewReader(script)
		out, err := cmd.CombinedOutput()
		want := fmt.Sprintf("%d %d %d %d\n", faces, sum, len(m.Lines), len(m.Waterline))
		if err != nil || string(out) != want {
			t.Errorf("%s: the page reads %q, error %v; want %q", e.Pack.Hulls[i].ID, out, err, want)
		}
	}
}

// BenchmarkSolid turns the boat for three seconds on a telephone's screen, without a graphics card, and counts frames.
func BenchmarkSolid(b *testing.B) {
	server := serveSite(b)
	for range b.N {
		p := newTab(b)
		p.do(chromedp.EmulateViewport(390, 844))
		p.open(server.URL)
		p.await(`document.getElementById("solid-canvas")`)
		got := of[[]float64](p, `new Promise((done) => {
			const canvas = document.getElementById("solid-canvas");
			canvas.setPointerCapture = () => {};
			canvas.scrollIntoView();
			const at = (x) => ({ clientX: x, clientY: 200, bubbles: true, pointerId: 1, button: 0 });
			canvas.dispatchEvent(new PointerEvent("pointerdown", at(0)));
			let n = 0, x = 0, begun = 0, longest = 0, last = 0;
			const step = (now) => {
				if (!begun) begun = now;
				else { n++; longest = Math.max(longest, now - last); }
				last = now;
				canvas.dispatchEvent(new PointerEvent("pointermove", at(x += 4)));
				if (now - begun < 3000) return requestAnimationFrame(step);
				canvas.dispatchEvent(new PointerEvent("pointerup", at(x)));
				done([n / (now - begun) * 1000, longest, canvas.width / canvas.clientWidth]);
			};
			requestAnimationFrame(step);
		})`)
		b.ReportMetric(got[0], "frames/s")
		b.ReportMetric(got[1], "longest-ms")
		b.ReportMetric(got[2], "pixels")
		b.ReportMetric(0, "ns/op")
	}
}
