//go:build js && wasm

// Command nets times verdicts and net effects of all options in the worker of a page: nothing of desk, HTML or messages
// is in it. It puts one function, nets, into the global scope, which takes a pack and a number of rounds, and gives
// lines of a hull and the milliseconds of its rounds.
package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/hack-pad/safejs"

	"ribband/core/engine"
	"ribband/core/pack"
)

func main() {
	debug.SetGCPercent(400) // as the engine of the page does
	f, err := safejs.FuncOf(func(_ safejs.Value, args []safejs.Value) any {
		text, err := timed(args)
		if err != nil {
			return "error: " + err.Error()
		}
		return text
	})
	if err == nil {
		err = safejs.Global().Set("nets", f)
	}
	if err != nil {
		panic(err)
	}
	select {}
}

func timed(args []safejs.Value) (string, error) {
	n, err := args[0].Length()
	if err != nil {
		return "", err
	}
	bytes := make([]byte, n)
	if _, err := safejs.CopyBytesToGo(bytes, args[0]); err != nil {
		return "", err
	}
	rounds, err := args[1].Int()
	if err != nil {
		return "", err
	}
	p, err := pack.Decode(bytes)
	if err != nil {
		return "", err
	}
	e, err := engine.Compile(p)
	if err != nil {
		return "", err
	}
	var lines strings.Builder
	for h, hull := range p.Hulls {
		a, err := e.AnswerStandard(h, "")
		if err != nil {
			return "", err
		}
		for range 5 {
			nets(e, a) // until the browser has compiled what is hot
		}
		start, err := now()
		if err != nil {
			return "", err
		}
		for range rounds {
			nets(e, a)
		}
		end, err := now()
		if err != nil {
			return "", err
		}
		fmt.Fprintf(&lines, "%s %g\n", hull.ID, end-start)
	}
	return lines.String(), nil
}

func nets(e *engine.Engine, a *engine.Answer) {
	options, empty := e.Fit.Verdicts(a.Build)
	e.Effects(a, options, empty)
}

// now is the clock of the worker, ms.
func now() (float64, error) {
	clock, err := safejs.Global().Get("performance")
	if err != nil {
		return 0, err
	}
	v, err := clock.Call("now")
	if err != nil {
		return 0, err
	}
	return v.Float()
}
