package desk_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/desk"
	"ribband/core/pack"
)

// Every kind of change is taken back, and is named where it can be.
func TestUndo(t *testing.T) {
	v := opened(t, small()[pack.Show])
	v.fails(desk.Request{Act: "undo"}, "There is nothing to undo.")
	if strings.Contains(v.shown["revisions"], `data-act="undo"`) {
		t.Errorf("there is nothing to undo, and it says %q", v.shown["revisions"])
	}
	v.does(desk.Request{Act: "choose", Option: "top-folding"})
	steps := []struct {
		what string
		does []desk.Request // only the last changes the boat
	}{
		{"Top", []desk.Request{{Act: "choose", Option: "top-fixed"}}},
		{"Stowage", []desk.Request{{Act: "count", Option: "pocket", Value: "2"}}},
		{"Top reset to standard", []desk.Request{{Act: "standard", Slot: "top"}}},
		{"change", []desk.Request{{Act: "reason", Option: "cloth-heavy"},
			{Act: "repair", Option: "cloth-heavy", Key: "0"}}},
		{"Top locked", []desk.Request{{Act: "keep", Slot: "top", Checked: true}}},
		{"Top", []desk.Request{{Act: "empty", Slot: "top"}}},
		{"Persons on board", []desk.Request{{Act: "use", Field: "persons", Value: "2"}}},
		{"extra item", []desk.Request{{Act: "extra",
			Form: map[string]string{"title": "Name", "basis": "net", "price": "100"}}}},
		{"discount", []desk.Request{{Act: "discount", Form: map[string]string{"title": "Show", "value": "1 %"}}}},
		{"extra item removed", []desk.Request{{Act: "remove", Key: "extra", Field: "0"}}},
		{"started again", []desk.Request{{Act: "reset"}}},
		{"link opened", []desk.Request{{Act: "open", Link: "1/teasel-48/top=top-fixed/ed30756c"}}},
	}
	for _, s := range steps {
		t.Run(s.what, func(t *testing.T) {
			v.t = t
			if s.what == "change" {
				v.does(desk.Request{Act: "choose", Option: "top-folding"})
			}
			var before map[string]string
			spec := v.last.Spec
			for _, r := range s.does {
				before = maps.Clone(v.shown)
				v.does(r)
			}
			if want := "Undo: " + s.what; !strings.Contains(v.shown["revisions"], `"`+want+`"`) ||
				!strings.Contains(v.shown["bar"], want) {
				t.Errorf("it says %q and %q, want %q", v.shown["revisions"], v.shown["bar"], want)
			}
			after := maps.Clone(v.shown)
			r := v.does(desk.Request{Act: "undo"})
			if r.Spec != spec || !strings.HasPrefix(r.Announcement, "Undone: "+s.what+".") {
				t.Errorf("undone it is %s, want %s; spoken %q", r.Spec, spec, r.Announcement)
			}
			for id, html := range before {
				if s.what != "change" && id != "remarks" && id != "revisions" && v.shown[id] != html {
					t.Errorf("%s is not as before: %.300s", id, v.shown[id])
				}
			}
			for _, r := range s.does {
				v.does(r)
			}
			if !maps.Equal(v.shown, after) {
				t.Error("done again it is another page")
			}
		})
	}
}

// A change is taken back from among others, which stay; that is a change itself. One that was changed again since
// cannot be.
func TestOneChangeIsTakenBack(t *testing.T) {
	v := opened(t, small()[pack.Show])
	standard := v.last.Spec
	v.does(desk.Request{Act: "choose", Option: "top-fixed"})
	v.does(desk.Request{Act: "use", Field: "persons", Value: "2"})
	v.saysAll("revisions", `>A</th><td>Top`, `>B</th><td>Persons on board`, `aria-label="Undo A: Top"`)
	v.does(desk.Request{Act: "undo", Key: "0"})
	if s := v.spec(); len(s.Choices) > 0 || s.Use["persons"].Number != 2 {
		t.Errorf("without the top it is %s", v.last.Spec)
	}
	v.saysAll("revisions", `>C</th><td>Without: Top`, "changed again since")
	v.fails(desk.Request{Act: "undo", Key: "0"}, "Top has been changed again since")
	v.fails(desk.Request{Act: "undo", Key: "3"}, "There is no such change any more")
	v.does(desk.Request{Act: "undo"})
	if v.spec().Choices["top"]["top-fixed"] != 1 {
		t.Errorf("with the top again it is %s", v.last.Spec)
	}
	v.does(desk.Request{Act: "undo"})
	v.does(desk.Request{Act: "undo"})
	if v.last.Spec != standard {
		t.Errorf("all taken back it is %s", v.last.Spec)
	}
}

// What was undone is done again, as often as it was undone, until something else is done.
func TestRedo(t *testing.T) {
	v := opened(t, small()[pack.Show])
	v.fails(desk.Request{Act: "redo"}, "There is nothing to do again")
	var specs []string
	for _, n := range []string{"1", "2", "3"} {
		v.does(desk.Request{Act: "count", Option: "pocket", Value: n})
		specs = append(specs, v.last.Spec)
	}
	for range 2 {
		v.does(desk.Request{Act: "undo"})
	}
	for _, want := range specs[1:] {
		if r := v.does(desk.Request{Act: "redo"}); r.Spec != want || r.Pushed == nil {
			t.Errorf("done again it is %s, want %s", r.Spec, want)
		}
	}
	v.fails(desk.Request{Act: "redo"}, "There is nothing to do again")
	v.does(desk.Request{Act: "undo"})
	v.says("revisions", "Do again: Stowage")
	v.does(desk.Request{Act: "use", Field: "persons", Value: "2"})
	v.fails(desk.Request{Act: "redo"}, "There is nothing to do again")
}

// The table says what a change made of price and figures, also after the page was left.
func TestRevisionsSayWhatTheyMade(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	r := v.does(desk.Request{Act: "choose", Option: "top-canopy"})
	if r.Pushed == nil || r.Pushed.Effect.Price.Sign() <= 0 || r.Pushed.Effect.Figures["mass_kg"] <= 0 {
		t.Fatalf("pushed is %+v", r.Pushed)
	}
	v.saysAll("revisions", "Weight\u00a0+", `<td class="number">+`)
	again := visit(t, demo()[pack.Show])
	again.does(desk.Request{Act: "open", Text: r.Spec, Past: []desk.Past{*r.Pushed}})
	again.saysAll("revisions", "Weight\u00a0+", `<td class="number">+`)
}

// What does not change the boat is no step, and the customer of a quotation stays while choices are taken back.
func TestUndoPassesOverWhatChangesNothing(t *testing.T) {
	v := opened(t, small()[pack.Show])
	v.does(desk.Request{Act: "choose", Option: "top-fixed"})
	v.does(desk.Request{Act: "units", Value: "us"})
	v.does(desk.Request{Act: "choose", Option: "top-fixed"})
	v.does(desk.Request{Act: "specification"})
	v.fails(desk.Request{Act: "hull", Value: "ark"}, "unknown hull")
	v.does(desk.Request{Act: "freeze", Form: map[string]string{"number": "7", "date": "2027-02-06",
		"name": "Ottilie Sandmark"}})
	v.does(desk.Request{Act: "undo"})
	if len(v.spec().Choices) > 0 || strings.Contains(v.shown["revisions"], `data-act="undo"`) {
		t.Errorf("spec %s, and %q", v.last.Spec, v.shown["revisions"])
	}
	v.says("customer", "Ottilie Sandmark")
	v.does(desk.Request{Act: "choose", Option: "top-fixed"})
	v.does(desk.Request{Act: "reset"})
	v.does(desk.Request{Act: "undo"})
	v.says("customer", "Ottilie Sandmark")
}

// The boat that a page opens with is no change; how far back it goes is bounded.
func TestUndoIsBounded(t *testing.T) {
	v := visit(t, small()[pack.Buyer])
	v.does(desk.Request{Act: "open", Link: "1/teasel-48/top=top-fixed/ed30756c"})
	v.fails(desk.Request{Act: "undo"}, "nothing to undo")
	for i := range 60 {
		v.does(desk.Request{Act: "count", Option: "pocket", Value: fmt.Sprint(i%4 + 1)})
	}
	for i := range 50 {
		r := v.asks(desk.Request{Act: "undo"})
		if want := (58-i)%4 + 1; r.Error != "" || v.spec().Choices["stowage"]["pocket"] != want {
			t.Fatalf("step %d back: %s, want %d; %s", i, r.Spec, want, r.Error)
		}
	}
	v.fails(desk.Request{Act: "undo"}, "nothing to undo")
}

// However a boat was changed, undo goes back through the same boats; and what is kept was always chosen.
func TestPropertyUndoGoesBackTheSameWay(t *testing.T) {
	p := small()[pack.Yard]
	w := wordsOf(p)
	rapid.Check(t, func(r *rapid.T) {
		v, frozen := opened(t, p), ""
		pick := func(list []string) string { return rapid.SampledFrom(list).Draw(r, "word") }
		specs := []string{v.last.Spec}
		for range rapid.IntRange(1, 12).Draw(r, "steps") {
			request := w.request(v, &frozen, pick)
			if request.Act == "undo" {
				continue
			}
			if reply := v.asks(request); reply.Spec != specs[len(specs)-1] {
				specs = append(specs, reply.Spec)
			}
			for _, slot := range v.spec().Keep {
				if _, chosen := v.spec().Choices[slot]; !chosen {
					t.Fatalf("%s is kept, and nobody chose in it", slot)
				}
			}
		}
		for _, want := range slices.Backward(specs[:len(specs)-1]) {
			if got := v.does(desk.Request{Act: "undo"}).Spec; got != want {
				t.Fatalf("undone it is %s, want %s", got, want)
			}
		}
		v.fails(desk.Request{Act: "undo"}, "nothing to undo")
	})
}

// To look for something is no change of the boat: there is nothing to take back, and what was said of the last change
// stays to be read.
func TestFindingIsNoChange(t *testing.T) {
	v := visit(t, demo()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "top-canopy"})
	remarks, before := v.shown["remarks"], v.shown["revisions"]
	r := v.does(desk.Request{Act: "find", Value: "  Teak "})
	if !strings.Contains(v.shown["found"], "Planked teak") || r.Announcement != "12 found." {
		t.Errorf("it finds %.200s and says %q", v.shown["found"], r.Announcement)
	}
	if v.shown["remarks"] != remarks || v.shown["revisions"] != before || r.Pushed != nil {
		t.Error("looking for something is taken for a change")
	}
	if r = v.does(desk.Request{Act: "find"}); v.shown["found"] != "" || r.Announcement == "0 found." {
		t.Errorf("of nothing it finds %q, and says %q", v.shown["found"], r.Announcement)
	}
}
