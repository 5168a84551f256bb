package desk_test

import (
	"encoding/json"
	"os"
	"strings"
	"sync"
	"testing"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/publish"
	"ribband/core/screen"
	"ribband/core/spec"
)

func load(folder string) publish.Packs {
	packs, _, problems, err := publish.Load(os.DirFS(folder))
	if err != nil {
		panic(err)
	}
	if len(problems) > 0 {
		panic(problems[0].Error())
	}
	return packs
}

// The demo book, and a small one with a hull and three slots where a test asks often.
var (
	demo  = sync.OnceValue(func() publish.Packs { return load("../../rules") })
	small = sync.OnceValue(func() publish.Packs { return load("../../testdata/books/small") })
)

// visitor is a person with a page: what comes back is put into the page as the script does it.
type visitor struct {
	t     testing.TB
	desk  *desk.Desk
	page  string
	shown map[string]string // the fragments in the page
	count int
	last  desk.Reply
}

func visit(t testing.TB, p *pack.Pack) *visitor {
	t.Helper()
	e, err := engine.Compile(p)
	if err != nil {
		t.Fatal(err)
	}
	d, err := desk.New(e)
	if err != nil {
		t.Fatal(err)
	}
	v := &visitor{t: t, desk: d, page: d.View().Page(), shown: map[string]string{}}
	for _, f := range d.View().Fragments() {
		v.shown[f.ID] = f.HTML
	}
	return v
}

// opened is a page after its script has started.
func opened(t testing.TB, p *pack.Pack) *visitor {
	t.Helper()
	v := visit(t, p)
	v.does(desk.Request{Act: "open"})
	return v
}

// asks sends a request and checks what holds for every reply.
func (v *visitor) asks(r desk.Request) desk.Reply {
	v.t.Helper()
	before := v.last
	v.count++
	r.Version, r.ID = desk.Version, v.count
	reply := v.desk.Handle(r)
	v.last = reply
	if reply.Frame != nil { // every panel comes anew
		v.page = reply.Frame.HTML
		for id := range v.shown {
			v.shown[id] = ""
		}
	}
	for _, f := range reply.Fragments {
		v.put(f)
	}
	// Every second time: a page takes most of the time of a test, and what is stale stays so until it is drawn anew.
	if v.count%2 == 1 && v.page != v.desk.View().Page() {
		v.t.Fatalf("after %+v, or the request before it, the page is not what a fresh one would be", r)
	}
	if reply.Version != desk.Version || reply.ID != v.count || reply.Link == "" || reply.Spec == "" ||
		reply.Announcement == "" {
		v.t.Fatalf("%+v is answered by %+v", r, reply)
	}
	s := v.spec().Boat()
	linked, damage := spec.FromLink(reply.Link)
	if len(damage) > 0 || string(linked.Encode()) != string(s.Encode()) {
		v.t.Fatalf("the link %q is of another boat than %s", reply.Link, reply.Spec)
	}
	if reply.Error != "" {
		if before.Spec != "" && before.Spec != reply.Spec {
			v.t.Fatalf("%+v failed with %q, and the spec is another: %s", r, reply.Error, reply.Spec)
		}
		if len(reply.Fragments) != len(v.shown) {
			v.t.Fatalf("%+v failed, and %d of %d fragments come back", r, len(reply.Fragments), len(v.shown))
		}
	}
	return reply
}

// does asks for what must be done.
func (v *visitor) does(r desk.Request) desk.Reply {
	v.t.Helper()
	reply := v.asks(r)
	if reply.Error != "" {
		v.t.Fatalf("%+v: %s", r, reply.Error)
	}
	return reply
}

// fails asks for what must be refused, with these words.
func (v *visitor) fails(r desk.Request, words string) desk.Reply {
	v.t.Helper()
	reply := v.asks(r)
	if !strings.Contains(reply.Error, words) {
		v.t.Errorf("%+v: the error is %q, want %q in it", r, reply.Error, words)
	}
	return reply
}

// put replaces the inside of the element with the fragment's id.
func (v *visitor) put(f screen.Fragment) {
	v.t.Helper()
	old, ok := v.shown[f.ID]
	_, behind, found := strings.Cut(v.page, ` id="`+f.ID+`"`)
	before := v.page[:len(v.page)-len(behind)]
	end := strings.Index(behind, ">") + 1
	if !ok || !found || !strings.HasPrefix(behind[end:], old) {
		v.t.Fatalf("the page has no place for the fragment %q", f.ID)
	}
	v.page = before + behind[:end] + f.HTML + behind[end+len(old):]
	v.shown[f.ID] = f.HTML
}

// spec is the spec of the last reply.
func (v *visitor) spec() spec.Spec {
	v.t.Helper()
	s, err := spec.Decode([]byte(v.last.Spec))
	if err != nil {
		v.t.Fatal(err)
	}
	return s
}

// fragments are the ids of what came back.
func ids(r desk.Reply) map[string]bool {
	m := map[string]bool{}
	for _, f := range r.Fragments {
		m[f.ID] = true
	}
	return m
}

// says checks that a fragment of the page has some words in it.
func (v *visitor) says(id, words string) {
	v.t.Helper()
	if !strings.Contains(v.shown[id], words) {
		v.t.Errorf("%q is not in %s: %.600s", words, id, v.shown[id])
	}
}

func encoded(t testing.TB, r desk.Reply) string {
	t.Helper()
	text, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// file is a file of a reply's paper by the end of its name.
func file(t testing.TB, r desk.Reply, end string) desk.File {
	t.Helper()
	if r.Paper != nil {
		for _, f := range r.Paper.Files {
			if strings.HasSuffix(f.Name, end) {
				return f
			}
		}
	}
	t.Fatalf("no file %q", end)
	return desk.File{}
}
