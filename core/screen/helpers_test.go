package screen_test

import (
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"ribband/core/engine"
	"ribband/core/measure"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/quote"
	"ribband/core/screen"
	"ribband/core/spec"
)

// packs of the demo book, published once.
var packs = sync.OnceValue(func() publish.Packs {
	packs, _, problems, err := publish.Load(os.DirFS("../../rules"))
	if err != nil {
		panic(err)
	}
	if len(problems) > 0 {
		panic(problems[0].Error())
	}
	return packs
})

// engines of the desks of every book, compiled once.
var engines = sync.OnceValue(func() map[pack.Desk]*engine.Engine {
	m := map[pack.Desk]*engine.Engine{}
	for _, d := range pack.Desks {
		m[d] = compiled(d)
	}
	return m
})

// compiled is the engine of any desk of the demo book.
func compiled(d pack.Desk) *engine.Engine {
	e, err := engine.Compile(packs()[d])
	if err != nil {
		panic(err)
	}
	return e
}

// view shows a spec at a desk.
func view(t testing.TB, e *engine.Engine, s spec.Spec) *screen.View {
	t.Helper()
	a, err := e.Answer(s)
	if err != nil {
		t.Fatal(err)
	}
	return &screen.View{Engine: e, Answer: a, System: measure.Sea}
}

// alternative is an option as the page shows it.
func alternative(v *screen.View, option int) *engine.Alternative {
	return v.Engine.Alternatives(v.Answer).Option(v.Engine, option)
}

func standard(hull string) spec.Spec { return spec.Spec{Format: spec.Format, Hull: hull} }

// demoSpecs are the specs of the demo by name.
var demoSpecs = sync.OnceValue(func() map[string]spec.Spec {
	files, err := filepath.Glob("../../testdata/specs/*.json")
	if err != nil || len(files) == 0 {
		panic("no specs")
	}
	m := map[string]spec.Spec{}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			panic(err)
		}
		if m[strings.TrimSuffix(filepath.Base(f), ".json")], err = spec.Decode(text); err != nil {
			panic(err)
		}
	}
	return m
})

// shown is a rendered page.
type shown struct {
	*screen.View
	fragments []screen.Fragment
	markup    string
	page      *element
}

// pages are rendered once: at each desk some demo specs, and one page with everything on it that there can be. Tests do
// not change them.
var pages = sync.OnceValue(func() map[string]*shown {
	t := &testing.T{}
	m := map[string]*shown{}
	add := func(name string, v *screen.View) {
		markup := v.Page()
		m[name] = &shown{v, v.Fragments(), markup, parse(t, markup)}
	}
	for desk, e := range engines() {
		for _, name := range []string{"sedge-46-plainest", "reed-65-fullest", "clash-us-without-foam"} {
			add(string(desk)+" "+name, view(t, e, demoSpecs()[name]))
		}
		v := view(t, e, demoSpecs()["extras-and-discount"])
		v.System = measure.USCustomary
		v.Remarks = []string{"Something is set aside."}
		v.Details = quote.Details{Number: "1", Date: "2027-02-06", Approval: "The owner",
			Customer: quote.Party{Name: "Name", Address: []string{"1", "2"}}}
		v.Answer.Warnings = []msg.Message{msg.Plain("The discounts come to much.")}
		v.Reopened = quote.Draft(e, v.Answer)
		v.Differences = []quote.Difference{{Place: msg.Plain("price.total"), Was: msg.Plain("1"), Now: msg.Plain("2")}}
		add(string(desk)+" with everything", v)
	}
	return m
})

func fragment(t testing.TB, v *screen.View, id string) *element {
	t.Helper()
	for _, f := range v.Fragments() {
		if f.ID == id {
			return parse(t, f.HTML)
		}
	}
	t.Fatalf("there is no fragment %q", id)
	return nil
}
