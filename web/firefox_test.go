package main

import (
	"bufio"
	"context"
	"encoding/base64"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/coder/websocket"
)

// bidi is a session of WebDriver BiDi (a draft standard of the W3C, https://w3c.github.io/webdriver-bidi): commands and
// events as JSON over one socket. Firefox has it built in, and no other protocol to be led by from here.
type bidi struct {
	socket  *websocket.Conn
	mu      sync.Mutex
	last    int
	waiting map[int]chan<- bidiMessage
	windows map[string]*window
}

// bidiMessage is what the browser says: the answer to a command, or an event.
type bidiMessage struct {
	Type    string          `json:"type"` // success, error or event
	ID      int             `json:"id"`
	Method  string          `json:"method"` // of an event
	Result  json.RawMessage `json:"result"`
	Params  json.RawMessage `json:"params"`
	Error   string          `json:"error"`
	Message string          `json:"message"`
}

// object is the parameters of a command.
type object = map[string]any

// call gives a command and decodes what comes of it into result, which may be nil.
func (b *bidi) call(ctx context.Context, method string, params object, result any) error {
	answer := make(chan bidiMessage, 1)
	b.mu.Lock()
	b.last++
	id := b.last
	b.waiting[id] = answer
	b.mu.Unlock()
	text, err := json.Marshal(object{"id": id, "method": method, "params": params})
	if err != nil {
		return err
	}
	if err := b.socket.Write(ctx, websocket.MessageText, text); err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
	select {
	case <-ctx.Done():
		return fmt.Errorf("%s: %w", method, ctx.Err())
	case m, open := <-answer:
		if !open {
			return fmt.Errorf("%s: the browser has ended", method)
		} else if m.Type == "error" {
			return fmt.Errorf("%s: %s: %s", method, m.Error, m.Message)
		} else if result == nil {
			return nil
		}
		return json.Unmarshal(m.Result, result)
	}
}

// listen takes what the browser says, until it ends.
func (b *bidi) listen(ctx context.Context) {
	for {
		var m bidiMessage
		_, text, err := b.socket.Read(ctx)
		if err == nil {
			err = json.Unmarshal(text, &m)
		}
		b.mu.Lock()
		if err != nil {
			for _, w := range b.waiting {
				close(w)
			}
			b.waiting = nil
			b.mu.Unlock()
			return
		}
		if m.Type == "event" {
			b.heard(m)
		} else if answer := b.waiting[m.ID]; answer != nil {
			delete(b.waiting, m.ID)
			answer <- m
		}
		b.mu.Unlock()
	}
}

// heard notes what the console of a window gets as an error.
func (b *bidi) heard(m bidiMessage) {
	var e struct {
		Level, Text, Type string
		Source            struct{ Context string }
		StackTrace        json.RawMessage
	}
	if json.Unmarshal(m.Params, &e) != nil || e.Level != "error" {
		return
	}
	if w := b.windows[e.Source.Context]; w != nil {
		w.messages = append(w.messages, fmt.Sprintf("%s: %s %.300s", e.Type, e.Text, e.StackTrace))
	}
}

// firefox is one browser for the whole test binary, beside Chromium.
var firefox struct {
	once sync.Once
	*bidi
	stop func()
	err  error
}

// preferences keep the browser from asking the network for anything of its own, and still where a click would miss what
// is moving. Firefox sets those that every automation needs by itself.
const preferences = `user_pref("intl.accept_languages", "en-GB, en");
user_pref("ui.prefersReducedMotion", 1);
user_pref("app.normandy.enabled", false);
user_pref("browser.backup.enabled", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("browser.download.alwaysOpenPanel", false);
`

var firefoxShown = flag.Bool("firefox-shown", false,
	"have Firefox open its windows on the display, where it may draw the boat by WebGL2")

func startFirefox(path string) error {
	dir, err := os.MkdirTemp("", "ribband-firefox-")
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "user.js"), []byte(preferences), 0o600); err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(context.Background())
	command := exec.CommandContext(ctx, path, "--no-remote", "--remote-debugging-port=0", "--profile", dir)
	if !*firefoxShown {
		command.Args = append(command.Args, "--headless")
	}
	command.Env = append(os.Environ(), "MOZ_CRASHREPORTER_DISABLE=1")
	command.Cancel = func() error { return command.Process.Signal(os.Interrupt) } // so that its processes go with it
	command.WaitDelay = 10 * time.Second
	said, err := command.StderrPipe()
	if err != nil {
		cancel()
		return err
	}
	if err := command.Start(); err != nil {
		cancel()
		return err
	}
	firefox.stop = func() {
		cancel()
		_ = command.Wait() // it was interrupted
		os.RemoveAll(dir)
	}
	address, err := addressIn(said)
	if err != nil {
		return err
	}
	go func() { _, _ = io.Copy(io.Discard, said) }()
	socket, _, err := websocket.Dial(ctx, address+"/session", nil)
	if err != nil {
		return err
	}
	socket.SetReadLimit(-1) // a picture is some megabytes
	firefox.bidi = &bidi{socket: socket, waiting: map[int]chan<- bidiMessage{}, windows: map[string]*window{}}
	go firefox.listen(ctx)
	if err := firefox.call(ctx, "session.new", object{"capabilities": object{"alwaysMatch": object{
		"unhandledPromptBehavior": object{"default": "accept"}}}}, nil); err != nil {
		return err
	}
	return firefox.call(ctx, "session.subscribe", object{"events": []string{"log.entryAdded"}}, nil)
}

// addressIn is where the browser says that it listens; it says other things before.
func addressIn(said io.Reader) (string, error) {
	lines := bufio.NewScanner(said)
	for lines.Scan() {
		if _, address, ok := strings.Cut(lines.Text(), "WebDriver BiDi listening on "); ok {
			return strings.TrimSpace(address), nil
		}
	}
	return "", errors.Join(errors.New("it ended before it listened"), lines.Err())
}

func closeFirefox() {
	if firefox.stop != nil {
		firefox.stop()
	}
}

// needFirefox skips the test where there is no Firefox.
func needFirefox(t testing.TB) *bidi {
	t.Helper()
	path := ""
	for _, name := range []string{"firefox-esr", "firefox"} {
		if found, err := exec.LookPath(name); err == nil && path == "" {
			path = found
		}
	}
	if path == "" && os.Getenv("RIBBAND_BROWSER") == "required" {
		t.Fatal("RIBBAND_BROWSER is required, and there is no firefox-esr")
	} else if path == "" {
		t.Skip("no firefox-esr to test the page in")
	}
	firefox.once.Do(func() { firefox.err = startFirefox(path) })
	if firefox.err != nil {
		t.Fatal("starting firefox: ", firefox.err)
	}
	return firefox.bidi
}

// window is a page that a test looks at in Firefox, as tab is one in Chromium. Whatever it complains of in the console
// fails the test.
type window struct {
	testing.TB
	*bidi
	ctx      context.Context
	id, user string // of the window, and of its profile
	messages []string
	allowed  []string // complaints that belong to the test
}

// complaining has the console say what Firefox says to nobody else: a file that does not come, a rule of the page that was
// broken.
const complaining = `() => {
	addEventListener("error", (e) => e.target !== window &&
		console.error("did not come:", e.target.src ?? e.target.href), true);
	addEventListener("securitypolicyviolation", (e) => console.error("refused:", e.violatedDirective, e.blockedURI));
}`

// newWindow opens a window in a profile of its own. Windows, not tabs: a tab behind another is not drawn.
func newWindow(t testing.TB, allowed ...string) *window {
	t.Helper()
	b := needFirefox(t)
	ctx, stop := context.WithTimeout(context.Background(), patience)
	p := &window{TB: t, bidi: b, ctx: ctx, allowed: allowed}
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

// evaluates an expression in the page; of a promise it gives what comes of it.
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
		list = append(list, object{"type": "keyDown", "value": string(key)}, object{"type": "keyUp", "value": string(key)})
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

// gives a field of files a file.
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
	p.must("browser.setDownloadBehavior", object{"downloadBehavior": object{"type": "allowed", "destinationFolder": dir},
		"userContexts": []string{p.user}}, nil)
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
	p.await(`document.getElementById("paper-frame").contentDocument?.querySelector("h1")`)
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
		p.await(`new Promise((f) => requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(f, 300, true))))`)
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
