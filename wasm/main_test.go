//go:build js && wasm

package main

import (
	"encoding/json"
	"os"
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

// A request that is timed says how long each part took, and is answered as it is otherwise.
func TestBridgeTimesParts(t *testing.T) {
	plain := request(t, opened(t), desk.Request{Act: "open"})
	timed := request(t, opened(t), desk.Request{Act: "open", Timed: true})
	for _, part := range []string{"decode", "apply", "effects", "render"} {
		if ms, ok := timed.Took[part]; !ok || ms < 0 {
			t.Errorf("%s took %v ms, known: %v", part, ms, ok)
		}
	}
	if len(plain.Fragments) != len(timed.Fragments) || plain.Took != nil {
		t.Errorf("%d fragments timed, %d otherwise; took %v", len(timed.Fragments), len(plain.Fragments), plain.Took)
	}
}
