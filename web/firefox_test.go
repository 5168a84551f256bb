package main

import (
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// window is a page that a test looks at in Firefox, as tab is one in Chromium. Whatever it complains of in the console
// fails the test.
type window struct {
	testing.TB
	*bidi
	ctx      context.Context
	id, user string // of the window, and of its profile
	messages []string
}

// complaining has the console say what Firefox says to nobody else: a file that does not come, and what the page's
// policy refuses.
const complaining = `() => {
	addEventListener("error", (e) => e.target !== window &&
		console.error("did not come:", e.target.src ?? e.target.href), true);
	addEventListener("securitypolicyviolation", (e) => console.error("refused:", e.violatedDirective, e.blockedURI));
}`

// newWindow opens a window in a profile of its own. Windows, not tabs: a tab behind another is not drawn.
func newWindow(t testing.TB) *window {
	t.Helper()
	b := needFirefox(t)
	ctx, stop := context.WithTimeout(context.Background(), patience)
	p := &window{TB: t, bidi: b, ctx: ctx}
	var made struct{ Context, UserContext string }
	p.must("browser.createUserContext", object{}, &made)
	p.must("browsingContext.create", object{"type": "window", "userContext": made.UserContext}, &made)
	p.id, p.user = made.Context, made.UserContext
	b.mu.Lock()
	b.windows[p.id] = p
	b.mu.Unlock()
	p.must("script.addPreloadScript", object{"functionDeclaration": complaining, "contexts": []string{p.id}}, nil)
	p.size(1440, 900)
	t.Cleanup(func() {
		// the window goes with its profile
		err := b.call(ctx, "browser.removeUserContext", object{"userContext": p.user}, nil)
		stop()
		if err != nil {
			t.Error(err)
		}
		b.mu.Lock()
		defer b.mu.Unlock()
		delete(b.windows, p.id)
		for _, m := range p.messages {
			t.Error("the page complains: ", m)
		}
	})
	return p
}

// must gives a command that the test cannot go on without.
func (p *window) must(method string, params object, result any) {
	p.Helper()
	if err := p.call(p.ctx, method, params, result); err != nil {
		p.Fatal(err)
	}
}

// size gives the page a number of CSS pixels.
func (p *window) size(width, height int) {
	p.Helper()
	p.must("browsingContext.setViewport", object{"context": p.id, "devicePixelRatio": 1,
		"viewport": object{"width": width, "height": height}}, nil)
}

// remote is a value of the page as the protocol writes it.
type remote struct {
	Type     string
	Value    json.RawMessage
	SharedID string `json:"sharedId"` // of an element
}

// evaluate gives the value of an expression in the page; of a promise it gives what comes of it.
func (p *window) evaluate(js string) (remote, error) {
	var got struct {
		Type             string
		Result           remote
		ExceptionDetails struct{ Text string }
	}
	err := p.call(p.ctx, "script.evaluate", object{"expression": js, "awaitPromise": true, "userActivation": true,
		"target": object{"context": p.id}}, &got)
	if err == nil && got.Type != "success" {
		err = errors.New(got.ExceptionDetails.Text)
	}
	return got.Result, err
}

// in evaluates an expression in the page.
func in[T any](p *window, js string) (v T) {
	p.Helper()
	v, err := tried[T](p, js)
	if err != nil {
		p.Fatalf("%s: %v", js, err)
	}
	return v
}

// tried evaluates an expression that may fail: between two pages there is none to ask.
func tried[T any](p *window, js string) (v T, err error) {
	got, err := p.evaluate("(async () => JSON.stringify(await (" + js + ")) ?? 'null')()")
	if err != nil {
		return v, err
	}
	var text string
	if err := json.Unmarshal(got.Value, &text); err != nil {
		return v, err
	}
	return v, json.Unmarshal([]byte(text), &v)
}

// await waits for a condition in the page.
func (p *window) await(js string) {
	p.Helper()
	var err error
	for limit := time.Now().Add(30 * time.Second); time.Now().Before(limit); time.Sleep(20 * time.Millisecond) {
		var yes bool
		if yes, err = tried[bool](p, "Boolean(await ("+js+"))"); err == nil && yes {
			return
		}
	}
	p.Fatalf("waiting for %s: %v; the page says %q and %q", js, err, p.text("state"), p.text("remarks"))
}

// goes loads a page, and waits for no more than the browser does.
func (p *window) goes(address string) {
	p.Helper()
	p.must("browsingContext.navigate", object{"context": p.id, "url": address, "wait": "complete"}, nil)
}

// open goes to an address and waits for the engine's first answer.
func (p *window) open(address string) { p.Helper(); p.goes(address); p.await(answered) }

// reload loads the page again, as its button of the browser does.
func (p *window) reload() {
	p.Helper()
	p.must("browsingContext.reload", object{"context": p.id, "wait": "complete"}, nil)
	p.await(answered)
}

// answers does something that the engine answers, and waits for the answer.
func (p *window) answers(does func()) {
	p.Helper()
	before := in[string](p, answered)
	does()
	p.await(fmt.Sprintf("%s !== %q", answered, before))
}

func (p *window) text(id string) string {
	p.Helper()
	return in[string](p, fmt.Sprintf("document.getElementById(%q).textContent", id))
}

func (p *window) total() string { p.Helper(); return p.text("total") }

// press clicks an element with the mouse, in the middle of what is seen of it: that has to be it, or within it.
func (p *window) press(selector string) { p.Helper(); p.drag(selector, 0) }

// drag presses an element, and moves so far to the right before it lets go.
func (p *window) drag(selector string, far int) {
	p.Helper()
	at := in[struct {
		X, Y int
		What string
	}](p, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		if (!e) return { what: "nowhere" };
		const box = () => e.getClientRects()[0] ?? new DOMRect();
		if (box().top < 120 || box().bottom > innerHeight - 60) e.scrollIntoView({ block: "center" });
		const r = box(), x = Math.round(r.left + r.width / 2), y = Math.round(r.top + r.height / 2);
		const on = document.elementFromPoint(x, y);
		const is = on && (e.contains(on) || on.contains(e) || e.labels?.[0]?.contains(on));
		return { x, y, what: is ? "" : on?.outerHTML ?? "nothing" };
	})()`, selector))
	if at.What != "" {
		p.Fatalf("%s cannot be pressed at %d, %d: there is %.200q", selector, at.X, at.Y, at.What)
	}
	hand := []object{{"type": "pointerMove", "x": at.X, "y": at.Y}, {"type": "pointerDown", "button": 0}}
	if far != 0 {
		hand = append(hand, object{"type": "pointerMove", "x": at.X + far, "y": at.Y, "duration": 50})
	}
	p.must("input.performActions", object{"context": p.id, "actions": []object{{"type": "pointer", "id": "mouse",
		"actions": append(hand, object{"type": "pointerUp", "button": 0})}}}, nil)
}

// Keys without a letter, as the standard of WebDriver numbers them (https://w3c.github.io/webdriver/#keyboard-actions).
const (
	keyTab, keyEnter, keyEscape, keyControl, keyDown = "\uE004", "\uE007", "\uE00C", "\uE009", "\uE015"
)

// keys presses keys one after the other; those of held are down meanwhile.
func (p *window) keys(text string, held ...string) {
	p.Helper()
	var list []object
	for _, key := range held {
		list = append(list, object{"type": "keyDown", "value": key})
	}
	for _, key := range text {
		list = append(list, object{"type": "keyDown", "value": string(key)},
			object{"type": "keyUp", "value": string(key)})
	}
	for _, key := range held {
		list = append(list, object{"type": "keyUp", "value": key})
	}
	p.must("input.performActions", object{"context": p.id, "actions": []object{{"type": "key", "id": "keyboard",
		"actions": list}}}, nil)
}

// fill presses into a field and types over what is there.
func (p *window) fill(id, text string) {
	p.Helper()
	p.turn(id)
	p.press("#" + id)
	p.keys("a", keyControl)
	p.keys(text)
	if got := in[string](p, fmt.Sprintf("document.getElementById(%q).value", id)); got != text {
		p.Fatalf("%s holds %q, want %q", id, got, text)
	}
}

// tabTo presses Tab until an element has the focus, which has to be seen.
func (p *window) tabTo(selector string) {
	p.Helper()
	for range 150 {
		p.keys(keyTab)
		if !in[bool](p, `document.activeElement.matches("`+selector+`")`) {
			continue
		}
		if !in[bool](p, `((e, s) => e.matches(":focus-visible") && parseFloat(s.outlineWidth) >= 2 &&
			s.outlineStyle !== "none")(document.activeElement, getComputedStyle(document.activeElement))`) {
			p.Errorf("the focus on %s is not to be seen", selector)
		}
		return
	}
	p.Fatalf("Tab does not get to %s", selector)
}

// turn turns to the page of the specification that an element is on, by its link as a person would.
func (p *window) turn(id string) {
	p.Helper()
	page := in[string](p, fmt.Sprintf(`document.getElementById(%q).closest(".page[hidden]")?.id ?? ""`, id))
	if page != "" {
		p.press(`#nav a[href="#` + page + `"]`)
		p.await(fmt.Sprintf(`!document.getElementById(%q).hidden`, page))
	}
}

// unfold opens a details element by its summary, as a person would. What does not fold is turned to.
func (p *window) unfold(id string) {
	p.Helper()
	p.turn(id)
	if !in[bool](p, fmt.Sprintf("document.getElementById(%q).open ?? true", id)) {
		p.press("#" + id + " > summary")
		p.await(fmt.Sprintf("document.getElementById(%q).open", id))
	}
}

// hull presses a hull and waits for the answer.
func (p *window) hull(id string) {
	p.Helper()
	p.turn("hull-" + id)
	p.answers(func() { p.press("#hull-" + id) })
}

// choose presses an option of a slot and waits for the answer.
func (p *window) choose(slot, option string) {
	p.Helper()
	p.unfold("slot-" + slot)
	p.answers(func() { p.press("#option-" + option) })
	if !in[bool](p, fmt.Sprintf("document.getElementById(%q).checked", "option-"+option)) {
		p.Fatalf("%s is not chosen after it was pressed; the page says %q", option, p.text("state"))
	}
}

// gives hands a file to a field of files.
func (p *window) gives(id, file string) {
	p.Helper()
	e, err := p.evaluate(fmt.Sprintf("document.getElementById(%q)", id))
	if err != nil || e.SharedID == "" {
		p.Fatalf("%s is %+v, %v", id, e, err)
	}
	p.must("input.setFiles", object{"context": p.id, "element": object{"sharedId": e.SharedID},
		"files": []string{file}}, nil)
}

// saves presses a link to a file and gives what the browser has saved.
func (p *window) saves(selector string) string {
	p.Helper()
	dir := p.TempDir()
	p.must("browser.setDownloadBehavior", object{"userContexts": []string{p.user},
		"downloadBehavior": object{"type": "allowed", "destinationFolder": dir}}, nil)
	p.press(selector)
	for limit := time.Now().Add(10 * time.Second); time.Now().Before(limit); time.Sleep(20 * time.Millisecond) {
		files, _ := filepath.Glob(filepath.Join(dir, "*"))
		for _, file := range files {
			if text, err := os.ReadFile(file); err == nil && len(text) > 0 && !strings.HasSuffix(file, ".part") {
				return string(text)
			}
		}
	}
	p.Fatalf("%s was pressed, and nothing was saved", selector)
	return ""
}

// paperText is the text of the paper that is open.
func (p *window) paperText() string {
	p.Helper()
	p.await(`document.getElementById("paper").open`)
	p.await(wholePaper)
	return plain(in[string](p, `document.getElementById("paper-frame").contentDocument.body.innerText`))
}

// take writes a picture of what is seen, at two sizes, where -screens names a folder.
func (p *window) take(name string) {
	p.Helper()
	if *screens == "" {
		return
	}
	for _, s := range [][2]int{{390, 844}, {1440, 900}} {
		p.size(s[0], s[1])
		p.await(`new Promise((f) => requestAnimationFrame(() => requestAnimationFrame(() =>
			setTimeout(f, 300, true))))`)
		var shot struct{ Data string }
		p.must("browsingContext.captureScreenshot", object{"context": p.id}, &shot)
		png, err := base64.StdEncoding.DecodeString(shot.Data)
		if err == nil {
			err = os.MkdirAll(*screens, 0o755)
		}
		if err != nil {
			p.Fatal(err)
		}
		write(p, filepath.Join(*screens, fmt.Sprintf("firefox-%s-%d.png", name, s[0])), string(png))
	}
}
