//go:build js && wasm

// Command wasm is the engine in the page: a bridge between the web worker's script and package desk.
//
// It puts one function, ribbandEngine, into the worker's global scope. The first call takes the bytes of a pack and
// seats the desk; every further one takes a request as JSON and gives the reply as JSON. A panic becomes a reply with
// an error, and the desk is seated anew before the last spec that was answered, so that a fault in the engine never
// ends the page.
package main

import (
	"encoding/json"
	"fmt"
	"runtime/debug"

	"github.com/hack-pad/safejs"

	"ribband/core/desk"
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

// bridge holds the desk, and what is needed to seat it again.
type bridge struct {
	desk *desk.Desk
	pack *pack.Pack
	last string // the spec last answered
}

// call answers one message. Its argument is a Uint8Array with a pack, or a string with a request.
func (b *bridge) call(args []safejs.Value) (reply string) {
	var r desk.Request
	defer func() {
		if fault := recover(); fault != nil {
			before := b.reseat()
			before.Version, before.ID = desk.Version, r.ID
			before.Error = fmt.Sprintf("The engine failed on this and went back to the boat before it. Please report "+
				"it: %v.", fault)
			reply = encode(before)
		}
	}()
	if len(args) != 1 {
		return encode(desk.Reply{Version: desk.Version, Error: "The engine wants one argument."})
	}
	if text, err := args[0].String(); err == nil && args[0].Type() == safejs.TypeString {
		return b.request(text, &r)
	}
	if err := b.open(args[0]); err != nil {
		return encode(desk.Reply{Version: desk.Version, Error: err.Error()})
	}
	return encode(desk.Reply{Version: desk.Version})
}

func (b *bridge) open(bytes safejs.Value) error {
	n, err := bytes.Length()
	if err != nil {
		return fmt.Errorf("reading a pack: %w", err)
	}
	text := make([]byte, n)
	if _, err = safejs.CopyBytesToGo(text, bytes); err != nil {
		return fmt.Errorf("reading a pack: %w", err)
	}
	if b.pack, err = pack.Decode(text); err != nil {
		return err
	}
	b.desk, err = desk.New(b.pack)
	return err
}

func (b *bridge) request(text string, r *desk.Request) string {
	if b.desk == nil {
		return encode(desk.Reply{Version: desk.Version, Error: "The engine has no price book yet."})
	}
	if err := json.Unmarshal([]byte(text), r); err != nil {
		return encode(desk.Reply{Version: desk.Version,
			Error: "The engine could not read the page's request: " + err.Error()})
	}
	reply := b.desk.Handle(*r)
	b.last = reply.Spec
	return encode(reply)
}

// reseat begins again before the last spec that was answered, and gives all that the page shows then; a second fault
// there leaves the standard build.
func (b *bridge) reseat() (reply desk.Reply) {
	defer func() { _ = recover() }() // the standard build is what remains
	if d, err := desk.New(b.pack); err == nil {
		b.desk = d
		reply = d.Handle(desk.Request{Version: desk.Version, Act: "open", Text: b.last})
	}
	return reply
}

func encode(r desk.Reply) string {
	text, err := json.Marshal(r)
	if err != nil { // a reply holds strings and numbers
		return `{"error":"The engine could not write its reply."}`
	}
	return string(text)
}
