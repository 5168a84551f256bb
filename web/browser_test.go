package main

import (
	"context"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// chromium is one for the whole test binary; every test has a profile of its own in it.
type chromium struct {
	programs []string // the first that is on the machine
	flags    []chromedp.ExecAllocatorOption
	once     sync.Once
	ctx      context.Context
	stop     func()
	err      error
}

// fullBrowser is one as people have it. Most tests are over before an engine that is optimised pays, and would have the
// boat drawn without a graphics card for nobody: quickBrowser does neither, in two thirds of the time. Where the
// machine has the shell of the same engine, without windows and address bars, that opens a page for three quarters of
// the rest.
var (
	fullBrowser  = &chromium{programs: chromiums}
	quickBrowser = &chromium{programs: append([]string{"chromium-headless-shell"}, chromiums...),
		flags: []chromedp.ExecAllocatorOption{chromedp.Flag("js-flags", "--liftoff-only"),
			chromedp.Flag("disable-3d-apis", true)}}
	chromiums = []string{"/usr/bin/chromium", "chromium", "chromium-browser"}
)

// idle are features that would work beside the page for nobody. The popups of the address bar are pages of four hundred
// files, loaded anew for each window: a third of what opening a page of ours took. The first two are chromedp's.
const idle = "Translate,BlinkGenPropertyTrees,WebUIOmniboxPopup,WebUIOmniboxAimPopup,WebUIOmniboxFullPopup"

func (b *chromium) start(path string) {
	dir, err := os.MkdirTemp("", "ribband-browser-")
	if err != nil {
		b.err = err
		return
	}
	options := append(chromedp.DefaultExecAllocatorOptions[:], chromedp.ExecPath(path), chromedp.NoSandbox,
		chromedp.DisableGPU, chromedp.UserDataDir(dir),
		chromedp.Flag("disable-quic", true), chromedp.Flag("disable-component-update", true),
		chromedp.Flag("force-prefers-reduced-motion", true), // a click must not miss what is still scrolling
		chromedp.Flag("lang", "en-GB"), chromedp.Flag("disable-features", idle))
	allocator, stopAllocator := chromedp.NewExecAllocator(context.Background(), append(options, b.flags...)...)
	ctx, stop := chromedp.NewContext(allocator)
	b.ctx, b.err = ctx, chromedp.Do(ctx)
	b.stop = func() { stop(); stopAllocator(); os.RemoveAll(dir) }
}

func closeBrowsers() {
	for _, b := range []*chromium{fullBrowser, quickBrowser} {
		if b.stop != nil {
			b.stop()
		}
	}
}

// path is where the browser is. Where there is none the test is skipped.
func (b *chromium) path(t testing.TB) string {
	t.Helper()
	for _, name := range b.programs {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("RIBBAND_BROWSER") == "required" {
		t.Fatal("RIBBAND_BROWSER is required, and there is no chromium")
	}
	t.Skip("no chromium to test the page in, or to print with")
	return ""
}

// need gives the context of the browser, or skips the test where there is none.
func (b *chromium) need(t testing.TB) context.Context {
	t.Helper()
	path := b.path(t)
	b.once.Do(func() { b.start(path) })
	if b.err != nil {
		t.Fatal("starting chromium: ", b.err)
	}
	return b.ctx
}

// serveSite serves the demo site for one test. Serve before a tab is opened: then it is closed before the server.
func serveSite(t testing.TB) *httptest.Server {
	t.Helper()
	return serveHandler(t, siteOf(t))
}

// visit opens a page of the demo site, and waits for the engine's first answer.
func visit(t testing.TB, path string) *tab {
	t.Helper()
	server := serveSite(t)
	p := newTab(t)
	p.open(server.URL + path)
	return p
}

func serveHandler(t testing.TB, h http.Handler) *httptest.Server {
	server := httptest.NewServer(h)
	t.Cleanup(server.Close)
	return server
}

// tab is a page that a test looks at. Whatever it complains of in the console fails the test.
type tab struct {
	testing.TB
	ctx      context.Context
	mu       sync.Mutex
	messages []string
	allowed  []string // complaints that belong to the test
}

// patience is how long a tab may be open: longer than any test takes on a machine that others use too.
const patience = 10 * time.Minute

// newTab opens a tab in a profile of its own. What is measured, or looked at by people, has the full browser.
func newTab(t testing.TB, allowed ...string) *tab {
	t.Helper()
	b := quickBrowser
	if _, measured := t.(*testing.B); measured || *screens != "" || *pictures {
		b = fullBrowser
	}
	return b.tab(t, allowed...)
}

// tab opens one in this browser.
func (b *chromium) tab(t testing.TB, allowed ...string) *tab {
	t.Helper()
	return newTabIn(t, b.need(t), []chromedp.ContextOption{chromedp.WithNewBrowserContext()}, allowed...)
}

// second opens another tab in the same profile.
func (p *tab) second() *tab {
	p.Helper()
	return newTabIn(p.TB, p.ctx, nil)
}

func newTabIn(t testing.TB, parent context.Context, options []chromedp.ContextOption, allowed ...string) *tab {
	t.Helper()
	ctx, cancel := chromedp.NewContext(parent, options...)
	if err := chromedp.Do(ctx, chromedp.EmulateViewport(1440, 900)); err != nil { // the first use binds the tab to ctx
		cancel()
		t.Fatal("opening a tab: ", err)
	}
	ctx, stop := context.WithTimeout(ctx, patience)
	p := &tab{TB: t, ctx: ctx, allowed: allowed}
	console := chromedp.Console(ctx)
	done := make(chan struct{})
	go func() {
		defer close(done)
		for m, err := range console {
			if err != nil {
				return
			}
			p.note(m)
		}
	}()
	t.Cleanup(func() {
		_, _ = chromedp.Run(ctx, chromedp.Evaluate[bool](`true`)) // what the page said before is here by then
		stop()
		cancel()
		<-done
		for _, m := range p.complaints() {
			t.Error("the page complains: ", m)
		}
	})
	return p
}

func (p *tab) note(m chromedp.ConsoleMessage) {
	if !m.IsException() && m.Type != "error" && m.Type != "assert" {
		return
	}
	text := fmt.Sprintf("%s %s (%s:%d)", m.Type, m.Text, m.URL, m.Line)
	for _, a := range p.allowed {
		if strings.Contains(text, a) {
			return
		}
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	p.messages = append(p.messages, text)
}

func (p *tab) complaints() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.messages
}

// do carries out actions.
func (p *tab) do(actions ...chromedp.Action[chromedp.Void]) {
	p.Helper()
	if err := chromedp.Do(p.ctx, actions...); err != nil {
		p.Fatalf("%v; the page says %s", err, p.state())
	}
}

// of evaluates an expression in the page; of a promise it gives what comes of it.
func of[T any](p *tab, js string) T {
	p.Helper()
	v, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		p.Fatalf("%s: %v", js, err)
	}
	return v
}

// await waits for a condition in the page.
func (p *tab) await(js string) {
	p.Helper()
	if _, err := chromedp.Run(p.ctx, chromedp.Poll[bool]("Boolean("+js+")",
		chromedp.WithPollingInterval(20*time.Millisecond), chromedp.WithPollingTimeout(time.Minute))); err != nil {
		p.Fatalf("waiting for %s: %v; the page says %s", js, err, p.state())
	}
}

func (p *tab) state() string {
	s, err := chromedp.Run(p.ctx, chromedp.Evaluate[string](`(document.getElementById("state")?.textContent ?? "nothing") + " at " + location.href + ", " + document.documentElement.dataset.answered + " answered"`))
	if err != nil {
		return err.Error()
	}
	return s
}

const answered = `(document.documentElement.dataset.answered ?? "")`

// open goes to an address and waits for the engine's first answer.
func (p *tab) open(address string) {
	p.Helper()
	p.do(chromedp.Navigate(address))
	p.await(answered)
}

// answers carries out an action that the engine answers, and waits for the answer.
func (p *tab) answers(actions ...chromedp.Action[chromedp.Void]) {
	p.Helper()
	before := of[string](p, answered)
	p.do(actions...)
	p.await(fmt.Sprintf("%s !== %q", answered, before))
}

func (p *tab) text(id string) string {
	p.Helper()
	return of[string](p, fmt.Sprintf("document.getElementById(%q).textContent", id))
}

func (p *tab) total() string { p.Helper(); return p.text("total") }

// turn turns to the page of the specification that an element is on, by its link as a person would.
func (p *tab) turn(id string) {
	p.Helper()
	page := of[string](p, fmt.Sprintf(`document.getElementById(%q).closest(".page[hidden]")?.id ?? ""`, id))
	if page != "" {
		p.do(chromedp.Click(chromedp.CSS(`#nav a[href="#` + page + `"]`)))
		p.await(fmt.Sprintf(`!document.getElementById(%q).hidden`, page))
	}
}

// unfold opens a details element by its summary, as a person would. What does not fold is turned to.
func (p *tab) unfold(id string) {
	p.Helper()
	p.turn(id)
	if of[bool](p, fmt.Sprintf("document.getElementById(%q).open ?? true", id)) {
		return
	}
	p.do(chromedp.Click(chromedp.CSS("#" + id + " > summary")))
	p.await(fmt.Sprintf("document.getElementById(%q).open", id))
}

// hull clicks a hull and waits for the answer.
func (p *tab) hull(id string) {
	p.Helper()
	p.turn("hull-" + id)
	p.answers(chromedp.Click(chromedp.ID("hull-" + id)))
}

// choose clicks an option of a slot and waits for the answer.
func (p *tab) choose(slot, option string) {
	p.Helper()
	p.unfold("slot-" + slot)
	p.answers(chromedp.Click(chromedp.ID("option-" + option)))
	if s := p.status(option); s != "chosen" && s != "forced" {
		p.Fatalf("%s is %q after it was chosen; the page says %s", option, s, p.state())
	}
}

// status is how the page shows an option: chosen, forced, open or blocked.
func (p *tab) status(option string) string {
	p.Helper()
	return of[string](p, fmt.Sprintf(`document.getElementById("option-%s").closest("li").className`, option))
}

// confirms answers every question that the page asks with yes, and tells what was asked so far.
func (p *tab) confirms() (questions func() []string) {
	var asked []string
	events := chromedp.Events(p.ctx, page.JavascriptDialogOpening)
	go func() {
		for e, err := range events {
			if err != nil {
				return
			}
			p.mu.Lock()
			asked = append(asked, e.Message)
			p.mu.Unlock()
			// the tab may be gone
			_, _ = chromedp.Call(p.ctx, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true})
		}
	}()
	return func() []string {
		p.mu.Lock()
		defer p.mu.Unlock()
		return asked
	}
}

// wholePaper says whether the frame holds the paper that it was given, to the end: it shows what is read so far, and
// the paper before it until then.
const wholePaper = `((frame) => {
	const text = (paper) => paper?.querySelector("h1") && paper.body.textContent;
	return text(frame.contentDocument) && text(frame.contentDocument) ===
		text(new DOMParser().parseFromString(frame.srcdoc, "text/html"));
})(document.getElementById("paper-frame"))`

// paperText is the text of the paper that is open.
func (p *tab) paperText() string {
	p.Helper()
	p.await(`document.getElementById("paper").open`)
	p.await(wholePaper)
	return of[string](p, `document.getElementById("paper-frame").contentDocument.body.innerText`)
}

// plain takes the spaces out of money, which stand otherwise on paper than on the page.
func plain(s string) string {
	return strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ").Replace(s)
}
