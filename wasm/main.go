//go:build js && wasm

// Command wasm is the engine in the page: a bridge between the web worker's script and package desk.
//
// It puts one function, ribbandEngine, into the worker's global scope. The first call takes the bytes of a pack and
// seats the desk; every further one takes a request as JSON and gives the reply as JSON. A panic ends this program: the
// worker starts it again before the last spec that was answered, as it does when the browser ends it.
package main

import (
	"encoding/json"
	"fmt"
	"runtime/debug"

	"github.com/hack-pad/safejs"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/pack"
)

func main() {
	// boats tried out are short-lived: fewer rounds of collection take a few megabytes more and a fifth of the time
	// less
	debug.SetGCPercent(400)
	b := &bridge{}
	f, err := safejs.FuncOf(func(_ safejs.Value, args []safejs.Value) any { return b.call(args) })
	if err == nil {
		err = safejs.Global().Set("ribbandEngine", f)
	}
	if err != nil {
		panic(err) // there is no page to tell
	}
	select {} // the engine lives as long as the worker
}

// bridge holds the desk, nil until a pack was given. The worker calls it from one thread, one call at a time.
type bridge struct{ desk *desk.Desk }

// call answers one message. Its argument is a Uint8Array with a pack, or a string with a request. What it says itself
// is in English: it is for whoever mends the page, and speaks where there is no engine yet that has a language.
func (b *bridge) call(args []safejs.Value) string {
	if len(args) != 1 {
		return encode(desk.Reply{Version: desk.Version, Error: "The engine wants one argument."})
	}
	if text, err := args[0].String(); err == nil && args[0].Type() == safejs.TypeString {
		return b.request(text)
	}
	if err := b.open(args[0]); err != nil {
		return encode(desk.Reply{Version: desk.Version, Error: err.Error()})
	}
	return encode(desk.Reply{Version: desk.Version})
}

// open seats the desk before the book of a pack. The bytes are copied into Go's memory: JavaScript's may be given away.
func (b *bridge) open(bytes safejs.Value) error {
	n, err := bytes.Length()
	if err != nil {
		return fmt.Errorf("reading a pack: %w", err)
	}
	text := make([]byte, n)
	if _, err = safejs.CopyBytesToGo(text, bytes); err != nil {
		return fmt.Errorf("reading a pack: %w", err)
	}
	p, err := pack.Decode(text)
	if err != nil {
		return err
	}
	e, err := engine.Compile(p)
	if err != nil {
		return err
	}
	b.desk, err = desk.New(e)
	return err
}

// request has the desk answer, and measures where it was asked to: the desk itself is pure and reads no clock.
func (b *bridge) request(text string) string {
	if b.desk == nil {
		return encode(desk.Reply{Version: desk.Version, Error: "The engine has no price book yet."})
	}
	var r desk.Request
	started := now()
	if err := json.Unmarshal([]byte(text), &r); err != nil {
		return encode(desk.Reply{Version: desk.Version,
			Error: "The engine could not read the page's request: " + err.Error()})
	}
	// without a clock nothing is slowed down by being measured
	if !r.Timed {
		return encode(b.desk.Handle(r))
	}
	// the desk says when a part is done; what lies between two such moments is the later part's
	took, last := map[string]float64{}, started
	b.desk.Done = func(part string) {
		t := now()
		took[part], last = t-last, t
	}
	b.desk.Done("decode")
	reply := b.desk.Handle(r)
	b.desk.Done = nil
	reply.Took = took
	return encode(reply)
}

// now is the worker's clock, ms; 0 where it has none.
func now() float64 {
	clock, err := safejs.Global().Get("performance")
	if err != nil {
		return 0
	}
	v, err := clock.Call("now")
	if err != nil {
		return 0
	}
	ms, _ := v.Float()
	return ms
}

// encode writes a reply. As one text it crosses the bridge in one call; JavaScript objects would
// take one for each field.
func encode(r desk.Reply) string {
	text, err := json.Marshal(r)
	if err != nil { // a reply holds strings and numbers
		return `{"error":"The engine could not write its reply."}`
	}
	return string(text)
}
