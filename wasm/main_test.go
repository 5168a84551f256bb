//go:build js && wasm

package main

import (
	"encoding/json"
	"os"
	"strings"
	"syscall/js"
	"testing"

	"github.com/hack-pad/safejs"

	"ribband/core/desk"
	"ribband/core/pack"
	"ribband/core/publish"
)

// say sends a message to a bridge as the worker does.
func say(t *testing.T, b *bridge, message any) desk.Reply {
	t.Helper()
	v, err := safejs.ValueOf(message)
	if err != nil {
		t.Fatal(err)
	}
	var r desk.Reply
	if err := json.Unmarshal([]byte(b.call([]safejs.Value{v})), &r); err != nil {
		t.Fatal(err)
	}
	if r.Version != desk.Version {
		t.Errorf("the reply is of version %d", r.Version)
	}
	return r
}

func request(t *testing.T, b *bridge, r desk.Request) desk.Reply {
	t.Helper()
	r.Version = desk.Version
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return say(t, b, string(text))
}

// opened is a bridge with the yard's desk of the small book.
func opened(t *testing.T) *bridge {
	t.Helper()
	packs, _, problems, err := publish.Load(os.DirFS("../testdata/books/small"))
	if err != nil || len(problems) > 0 {
		t.Fatal(err, problems)
	}
	text, err := packs[pack.Yard].Encode()
	if err != nil {
		t.Fatal(err)
	}
	b := &bridge{}
	if r := say(t, b, bytesOf(text)); r.Error != "" {
		t.Fatal(r.Error)
	}
	return b
}

// bytesOf makes a Uint8Array.
func bytesOf(text []byte) js.Value {
	array := js.Global().Get("Uint8Array").New(len(text))
	js.CopyBytesToJS(array, text)
	return array
}

func TestBridgeAnswers(t *testing.T) {
	b := opened(t)
	r := request(t, b, desk.Request{ID: 7, Act: "open"})
	if r.Error != "" || r.ID != 7 || len(r.Fragments) < 5 || r.Link == "" || r.Spec == "" {
		t.Errorf("reply %d has %d fragments, link %q, spec %q; %s", r.ID, len(r.Fragments), r.Link, r.Spec, r.Error)
	}
}

func TestBridgeSaysWhatItCannotRead(t *testing.T) {
	for name, message := range map[string]any{"no pack yet": `{"v": 1}`,
		"damaged pack": bytesOf([]byte(`{"hulls": 4}`)), "empty pack": bytesOf(nil), "a number": 4, "nothing": nil} {
		if r := say(t, &bridge{}, message); r.Error == "" {
			t.Errorf("%s: no error", name)
		}
	}
	b := opened(t)
	for _, text := range []string{"", "{", "[]", `{"v": "1"}`, `{"v": 1, "act": "fly"}`, `{"v": 2, "act": "open"}`} {
		if r := say(t, b, text); r.Error == "" {
			t.Errorf("%q: no error", text)
		}
	}
	var r desk.Reply
	if err := json.Unmarshal([]byte(b.call(nil)), &r); err != nil || r.Error == "" {
		t.Errorf("without an argument: %v, %q", err, r.Error)
	}
}

// A panic goes back to the boat before it, and the reply puts the whole page back: it may show what was tried, or other
// units.
func TestPanicGoesBackToTheBoatBefore(t *testing.T) {
	b := opened(t)
	moved := request(t, b, desk.Request{ID: 1, Act: "hull", Value: b.pack.Hulls[len(b.pack.Hulls)-1].ID})
	all := len(request(t, opened(t), desk.Request{ID: 1, Act: "open"}).Fragments)
	b.desk = &desk.Desk{} // one without an engine, on which everything panics
	r := request(t, b, desk.Request{ID: 2, Act: "open"})
	if !strings.Contains(r.Error, "went back to the boat before it") || r.ID != 2 {
		t.Errorf("reply %d says %q", r.ID, r.Error)
	}
	if r.Spec != moved.Spec || r.Link != moved.Link {
		t.Errorf("it went back to %s, want %s", r.Spec, moved.Spec)
	}
	if len(r.Fragments) != all {
		t.Errorf("%d fragments, want all %d", len(r.Fragments), all)
	}
	if r = request(t, b, desk.Request{ID: 3, Act: "units", Value: "us"}); r.Error != "" || r.Spec != moved.Spec {
		t.Errorf("it does not go on: %q with %s", r.Error, r.Spec)
	}
}
