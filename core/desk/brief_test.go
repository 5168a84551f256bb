package desk_test

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
)

// finds looks for boats to the end of the search, as the page's script does it.
func (v *visitor) finds(form map[string]string) {
	v.t.Helper()
	r := v.does(desk.Request{Act: "brief", Form: form})
	if r.Next == "" {
		v.t.Fatalf("nothing is looked for: %s", r.Announcement)
	}
	for steps := 0; r.Next != ""; steps++ {
		if steps > 2000 {
			v.t.Fatal("the search does not end")
		}
		r = v.does(desk.Request{Act: "brief-step", Key: r.Next})
	}
}

func TestBriefFindsAndTakesABoat(t *testing.T) {
	for name, p := range demo() {
		v := opened(t, p)
		v.finds(map[string]string{"persons": "6", "range": "25", "trailer": ""})
		v.says("brief-found", "Lowest price")
		v.says("brief-found", "Most range")
		v.says("brief-found", "Searched for: Persons on board: 6")
		if got := strings.Contains(v.shown["brief-found"], "Build hours"); got != p.Can(pack.Hours) {
			t.Errorf("%s: build hours are shown: %v", name, got)
		}
		before := string(v.spec().Encode())
		v.does(desk.Request{Act: "brief-take", Key: "0"})
		if s := v.spec(); s.Hull != "rush-54" || s.Use["persons"].Number != 6 {
			t.Errorf("%s: taken is %s", name, v.last.Spec)
		}
		v.says("remarks", "In use: Rush 54")
		v.says("brief-found", ">In use<")
		if v.shown["clashes"] != "" {
			t.Errorf("%s: the boat clashes: %s", name, v.shown["clashes"])
		}
		v.does(desk.Request{Act: "undo"})
		if string(v.spec().Encode()) != before {
			t.Errorf("%s: undo gives %s, want %s", name, v.last.Spec, before)
		}
	}
}

// Free lines and discounts are the salesperson's and stay.
func TestBriefKeepsLines(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	v.does(desk.Request{Act: "extra", Form: map[string]string{"title": "Name on the stern", "basis": "net",
		"price": "100"}})
	v.does(desk.Request{Act: "trade-in", Form: map[string]string{"title": "Punt", "allowance": "500"}})
	v.finds(map[string]string{"persons": "4"})
	v.does(desk.Request{Act: "brief-take", Key: "0"})
	if s := v.spec(); len(s.Extras) != 1 || s.TradeIn == nil {
		t.Errorf("%d free lines, want 1; the trade-in is %v", len(s.Extras), s.TradeIn)
	}
	v.says("brief-found", ">In use<")
}

func TestBriefWithoutABoatRelaxes(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	v.finds(map[string]string{"persons": "6", "water": "salt", "range": "20", "weather": "on", "price": "60000"})
	v.says("brief-found", "No boat meets all of these needs")
	v.says("brief-found", "Search with this change")
	r := v.does(desk.Request{Act: "brief-relax", Key: "0"})
	for r.Next != "" {
		r = v.does(desk.Request{Act: "brief-step", Key: r.Next})
	}
	v.says("brief-found", "Use this boat")
	v.says("brief-form", `value="4"`)
}

func TestBriefStops(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	first := v.does(desk.Request{Act: "brief", Form: map[string]string{"range": "20"}})
	v.says("brief-progress", "Stop")
	again := v.does(desk.Request{Act: "brief", Form: map[string]string{"range": "30"}})
	if r := v.does(desk.Request{Act: "brief-step", Key: first.Next}); r.Next != "" {
		t.Error("a search that was replaced goes on")
	}
	v.does(desk.Request{Act: "choose", Option: "table-folding-sapele"}) // a change of the boat leaves the search alone
	v.does(desk.Request{Act: "brief-step", Key: again.Next})
	v.does(desk.Request{Act: "brief-stop"})
	v.says("brief-found", "Stopped.")
	if r := v.does(desk.Request{Act: "brief-step", Key: again.Next}); r.Next != "" || v.shown["brief-progress"] != "" {
		t.Error("a search that was stopped goes on")
	}
}

func TestBriefRefusals(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	v.fails(desk.Request{Act: "brief-take", Key: "0"}, "No search was made yet")
	v.fails(desk.Request{Act: "brief-relax", Key: "0"}, "No search was made yet")
	for _, c := range []struct{ wish, typed, words string }{
		{"persons", "40", "write a number from 1 to 10"},
		{"persons", "many", "is no number"},
		{"range", "1,500", "can be read in two ways"},
		{"range", "NaN", "is no number"},
		{"price", "cheap", "cheap"},
		{"water", "lava", "nknown choice"},
	} {
		r := v.does(desk.Request{Act: "brief", Form: map[string]string{c.wish: c.typed}})
		if r.Next != "" || !strings.Contains(v.shown["brief-form"], c.words) ||
			!strings.Contains(r.Announcement, "No search was started") {
			t.Errorf("%s %q: %q is not at its field; spoken: %s", c.wish, c.typed, c.words, r.Announcement)
		}
	}
	v.finds(map[string]string{"persons": "8"})
	v.fails(desk.Request{Act: "brief-take", Key: "99"}, "There is no such boat")
	v.fails(desk.Request{Act: "brief-relax", Key: "0"}, "There is no such change")
	small := opened(t, small()[pack.Buyer])
	small.fails(desk.Request{Act: "brief"}, "declares no wishes")
}
