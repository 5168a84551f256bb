package main

import (
	"bufio"
	"context"
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
	waiting map[int]chan<- bidiMessage // by number of the command; nil once the browser has ended
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
	id, err := b.expect(answer)
	if err != nil {
		return fmt.Errorf("%s: %w", method, err)
	}
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
			return fmt.Errorf("%s: %w", method, errEnded)
		} else if m.Type == "error" {
			return fmt.Errorf("%s: %s: %s", method, m.Error, m.Message)
		} else if result == nil {
			return nil
		}
		return json.Unmarshal(m.Result, result)
	}
}

var errEnded = errors.New("the browser has ended")

// expect gives the number of a command whose answer is waited for.
func (b *bidi) expect(answer chan<- bidiMessage) (id int, err error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.waiting == nil {
		return 0, errEnded
	}
	b.last++
	b.waiting[b.last] = answer
	return b.last, nil
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

// preferences keep the browser from asking the network for anything of its own, and the page from moving, where a press
// would miss. Firefox sets those that every automation needs by itself.
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
