package desk_test

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
)

// Boats are set beside, changed, swapped and taken away; the page keeps them as links, and nothing of a deal is in
// them.
func TestBoatsSideBySide(t *testing.T) {
	v := visit(t, demo()[pack.Show])
	v.does(desk.Request{Act: "extra", Form: map[string]string{"title": "Secret " +
		"present", "basis": "net", "price": "100"}})
	first := v.spec().Boat()
	r := v.does(desk.Request{Act: "beside-add"})
	if r.Beside == nil || *r.Beside != first.Link() || strings.Contains(v.shown["beside"], "Secret") {
		t.Fatalf("the page keeps %v", r.Beside)
	}
	v.fails(desk.Request{Act: "beside-add"}, "his boat is there already")
	v.does(desk.Request{Act: "hull", Value: "osier-76"})
	v.does(desk.Request{Act: "choose", Option: "top-canopy"})
	v.says("beside", "Fixed canvas canopy")
	v.says("beside", "2. Sedge 46")
	r = v.does(desk.Request{Act: "beside-add"})
	v.fails(desk.Request{Act: "beside-add"}, "3 boats stand side by side")
	kept := *r.Beside
	second := v.spec().Boat()

	// to take one is a change of the boat, and keeps the other, and the deal
	v.does(desk.Request{Act: "beside-take", Key: "0"})
	if now := v.spec(); now.Boat().Link() != first.Link() || len(now.Extras) != 1 {
		t.Errorf("taken, the boat is %s with %d extra items", now.Link(), len(now.Extras))
	}
	if got := *v.last.Beside; got != second.Link()+"\n"+second.Link() {
		t.Errorf("beside it stand %q", got)
	}
	v.does(desk.Request{Act: "undo"})
	if v.spec().Boat().Link() != second.Link() {
		t.Error("the exchange cannot be taken back")
	}
	v.does(desk.Request{Act: "beside-remove", Key: "1"})
	v.fails(desk.Request{Act: "beside-remove", Key: "1"}, "")
	v.fails(desk.Request{Act: "beside-take", Key: "x"}, "")

	// another visit begins with what was kept; what is damaged is left out
	again := visit(t, demo()[pack.Show])
	again.does(desk.Request{Act: "beside-open", Text: kept + "\nno-link 1/sedge-46/00000000"})
	again.says("beside", "2. Sedge 46")
	again.says("beside", "3. Osier 76")
	if len(again.desk.View().Revisions) > 0 {
		t.Error("to set boats beside is taken for a change")
	}
	if *again.last.Beside != kept {
		t.Errorf("kept is %q, want %q", *again.last.Beside, kept)
	}
}
