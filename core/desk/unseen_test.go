package desk_test

import (
	"slices"
	"testing"

	"ribband/core/desk"
	"ribband/core/engine/enginetest"
	"ribband/core/pack"
	"ribband/core/screen"
)

// The still picture is not drawn for a page that shows the boat otherwise: no rest has it, and it is not waited for; it
// comes to a page in whose view it is.
func TestWhatIsNotInViewIsNotDrawn(t *testing.T) {
	d, err := desk.New(enginetest.Demo()[pack.Buyer])
	if err != nil {
		t.Fatal(err)
	}
	sent := func(f screen.Fragment) bool { return f.ID == "still" }
	reply := d.Handle(desk.Request{Version: desk.Version, Act: "open", Seen: []string{"solid"}})
	for steps := 0; reply.More; steps++ {
		if steps > 1000 {
			t.Fatal("the rest has no end")
		}
		reply = d.Handle(desk.Request{Version: desk.Version, Act: "rest", Seen: []string{}})
		if slices.ContainsFunc(reply.Fragments, sent) {
			t.Fatal("the rest has the still picture")
		}
	}
	reply = d.Handle(desk.Request{Version: desk.Version, Act: "rest", Seen: []string{"still"}})
	if !slices.ContainsFunc(reply.Fragments, sent) {
		t.Error("in view, the still picture is not sent")
	}
}
