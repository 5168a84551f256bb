package desk_test

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/desk"
	"ribband/core/pack"
)

// pageSession is what the page's script holds of a session (web/page/engine.ts).
type pageSession struct {
	spec, now string
	past      []string
}

func (s *pageSession) hear(r desk.Reply) {
	s.spec, s.now = r.Spec, r.Now
	if r.Back != "" {
		s.past = append(s.past, r.Back)
	}
	if len(s.past) > r.Steps {
		if r.Back != "" {
			s.past = s.past[len(s.past)-r.Steps:] // the oldest is forgotten
		} else {
			s.past = s.past[:r.Steps] // taken back
		}
	}
}

func (s *pageSession) restore() desk.Request {
	return desk.Request{Act: "restore", Text: s.spec, Now: s.now, Past: s.past}
}

// asJSON is a request as it comes from the page: bytes that are no text do not get through.
func asJSON(t *testing.T, r desk.Request) (got desk.Request) {
	t.Helper()
	text, err := json.Marshal(r)
	if err == nil {
		err = json.Unmarshal(text, &got)
	}
	if err != nil {
		t.Fatal(err)
	}
	return got
}

// After whatever was asked, an engine that is started anew goes on as the one before: the same boat, customer,
// quotation and units, and each step of undo gives the same page.
func TestRestoredDeskGoesOn(t *testing.T) {
	for _, name := range pack.Desks {
		p := small()[name]
		w := wordsOf(p)
		rapid.Check(t, func(r *rapid.T) {
			v := visit(t, p)
			var s pageSession
			s.hear(v.does(desk.Request{Act: "open"}))
			frozen := ""
			pick := func(list []string) string { return rapid.SampledFrom(list).Draw(r, "word") }
			for range rapid.IntRange(1, 12).Draw(r, "steps") {
				reply := v.asks(asJSON(t, w.request(v, &frozen, pick)))
				remember(reply, &frozen)
				s.hear(reply)
			}
			again := visit(t, p)
			reply := again.does(s.restore())
			if reply.Spec != v.last.Spec || reply.Now != v.last.Now || reply.Steps != v.last.Steps {
				t.Fatalf("restored it is\n%s %s %d\nwant\n%s %s %d", reply.Spec, reply.Now, reply.Steps, v.last.Spec,
					v.last.Now, v.last.Steps)
			}
			for v.last.Steps > 0 {
				one, other := v.asks(desk.Request{Act: "undo"}), again.asks(desk.Request{Act: "undo"})
				if one.Spec != other.Spec || one.Error != other.Error || one.Now != other.Now ||
					v.shown["undo"] != again.shown["undo"] || v.shown["reopened"] != again.shown["reopened"] {
					t.Fatalf("undone it is\n%s %s %s\nwant\n%s %s %s", other.Spec, other.Now, other.Error, one.Spec,
						one.Now, one.Error)
				}
				if one.Error != "" {
					break
				}
			}
		})
	}
}

// Undo goes back as far after a restart as before, and no farther.
func TestRestoredUndoHasItsBound(t *testing.T) {
	p := small()[pack.Buyer]
	v := visit(t, p)
	var s pageSession
	s.hear(v.does(desk.Request{Act: "open"}))
	for i := range 60 {
		s.hear(v.does(desk.Request{Act: "choose", Option: []string{"top-folding", "top-fixed"}[i%2]}))
	}
	if len(s.past) != 50 || v.last.Steps != 50 {
		t.Fatalf("the page holds %d steps, the desk %d, want 50", len(s.past), v.last.Steps)
	}
	again := visit(t, p)
	again.does(s.restore())
	for range 50 {
		again.does(desk.Request{Act: "undo"})
	}
	again.fails(desk.Request{Act: "undo"}, "nothing to undo")
}

// What the page holds may be damaged: of the boat that is said, and the desk stays as it is; a damaged step ends undo.
func TestRestoreOfDamagedSessions(t *testing.T) {
	p := small()[pack.Show]
	v := visit(t, p)
	var s pageSession
	s.hear(v.does(desk.Request{Act: "open"}))
	for _, top := range []string{"top-folding", "top-fixed"} {
		s.hear(v.does(desk.Request{Act: "choose", Option: top}))
	}
	for _, c := range []pageSession{{"{}", s.now, nil}, {s.spec, "rubbish", nil}, {"", s.now, nil}} {
		visit(t, p).fails(c.restore(), "Taking up the boat again")
	}
	s.past[0] = `{"spec": 7}`
	again := visit(t, p)
	if r := again.does(s.restore()); r.Spec != s.spec || r.Steps != 1 {
		t.Errorf("restored with %d steps, want 1: %s", r.Steps, r.Spec)
	}
}
