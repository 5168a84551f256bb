//go:build js && wasm

// Command wasm is the engine in the page: a bridge between the web worker's script and package desk.
//
// It puts one function, ribbandEngine, into the worker's global scope. The first call takes the bytes of a pack, and of
// the words of the page's language where it is not English, and seats the desk. Every further one takes a request as
// JSON and gives the reply as JSON, or takes the words of another language. A panic ends this program: the
// worker starts it again before the last spec that was answered, as it does when the browser ends it.
package main

import (
	"encoding/json"
	"fmt"
	"runtime/debug"

	"github.com/hack-pad/safejs"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/msg"
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

// bridge holds pack and desk, nil until a pack was given. The worker calls it from one thread, one call at a time.
type bridge struct {
	pack *pack.Pack // in the first language of the book; those that engines hold share its words
	desk *desk.Desk
}

// call answers one message. Its argument is a string with a request, or Uint8Arrays with a pack and words. What it says
// itself is in English: it is for whoever mends the page, and speaks where there is no engine yet that has a language.
func (b *bridge) call(args []safejs.Value) string {
	if len(args) == 0 {
		return encode(desk.Reply{Version: desk.Version, Error: "The engine wants an argument."})
	}
	if text, err := args[0].String(); err == nil && args[0].Type() == safejs.TypeString {
		return b.request(text)
	}
	if err := b.take(args); err != nil {
		return encode(desk.Reply{Version: desk.Version, Error: err.Error()})
	}
	return encode(desk.Reply{Version: desk.Version})
}

// take takes in files: first the pack with the words of the page's language, before which it seats the desk, and later
// the words of another language.
func (b *bridge) take(args []safejs.Value) error {
	files := make([][]byte, len(args))
	for i, bytes := range args {
		var err error
		if files[i], err = copied(bytes); err != nil {
			return err
		}
	}
	// a worker has one book all its life: another edition comes with another page
	if b.pack != nil {
		_, err := b.learn(files)
		return err
	}
	p, err := pack.Decode(files[0])
	if err != nil {
		return err
	}
	b.pack = p
	// before the engine is made, so that it is made once, in the language that the page is in
	l, err := b.learn(files[1:])
	if err != nil {
		return err
	}
	e, err := engine.CompileIn(p, l)
	if err != nil {
		return err
	}
	b.desk, err = desk.New(e)
	return err
}

// copied are bytes in Go's memory: JavaScript's may be given away.
func copied(bytes safejs.Value) ([]byte, error) {
	n, err := bytes.Length()
	if err != nil {
		return nil, fmt.Errorf("reading a file of the page: %w", err)
	}
	text := make([]byte, n)
	if _, err = safejs.CopyBytesToGo(text, bytes); err != nil {
		return nil, fmt.Errorf("reading a file of the page: %w", err)
	}
	return text, nil
}

// learn reads the words of a language: the program's, and the book's where they lie apart from the pack. Without any it
// is English.
func (b *bridge) learn(files [][]byte) (*msg.Language, error) {
	if len(files) == 0 {
		return msg.English, nil
	}
	l, err := msg.Read("of the page", files[0])
	if err != nil {
		return nil, err
	}
	// on a desk that was sealed the words of the book are in its pack
	if len(files) > 1 {
		if err := b.pack.Learn(files[1]); err != nil {
			return nil, err
		}
	}
	msg.Learn(l)
	return l, nil
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
