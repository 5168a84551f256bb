package desk_test

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
)

// A page that changes its language amid the work has every word in it, also of what was done, typed and found before;
// the boat and the steps back stay.
func TestTheLanguageChangesAmidTheWork(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	v.does(desk.Request{Act: "choose", Option: "top-canopy"})
	v.does(desk.Request{Act: "use", Field: "persons", Value: "4"})
	v.does(desk.Request{Act: "undo", Key: "0"})
	v.does(desk.Request{Act: "hull", Value: "reed-65"})
	r := v.does(desk.Request{Act: "undo"})
	v.finds(map[string]string{"persons": "6"})
	v.does(desk.Request{Act: "brief", Form: map[string]string{"persons": "six"}})
	v.saysAll("revisions", "without: Top", "Do again: another hull")
	before := v.last.Spec
	r = v.does(desk.Request{Act: "language", Value: "de"})
	if r.Spec != before || r.Frame == nil || r.Frame.Language != "de" || r.Next == "" || r.Pushed != nil {
		t.Errorf("changed, the boat is %s, the frame %+v, the next step %q", r.Spec, r.Frame, r.Next)
	}
	for r.Next != "" {
		r = v.does(desk.Request{Act: "brief-step", Key: r.Next})
	}
	v.saysAll("revisions", "ohne: Verdeck", "Personen an Bord", "anderer Rumpf")
	v.saysAll("brief-form", "keine Zahl")
	v.saysAll("brief-found", "Boote gefunden", "Dieses Boot übernehmen")
	for id, html := range v.shown {
		for _, word := range []string{"without", "Persons on board", "another hull", "is no number", "boats found",
			"Use this boat"} {
			if strings.Contains(html, word) {
				t.Errorf("%s still has %q", id, word)
			}
		}
	}
	if v.does(desk.Request{Act: "undo"}); v.spec().Choices["top"]["top-canopy"] != 1 {
		t.Error("the change before is not taken back")
	}
	v.fails(desk.Request{Act: "language", Value: "fr"}, "gehört nicht zu den Sprachen")
}

// Numbers are shown and typed in the reader's units. What was typed for a wish keeps its unit when these change, and
// what is off the bounds of a field is said with units.
func TestNumbersInTheReadersUnits(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	v.saysAll("use", `value="4.5"`, "kn (8.3")
	v.does(desk.Request{Act: "units", Value: "inland"})
	v.saysAll("use", `value="8.3"`, " km/h")
	v.does(desk.Request{Act: "use", Field: "speed_kn", Value: "9,3"})
	if got := v.spec().Use["speed_kn"].Number; got != 5 {
		t.Errorf("9.3 km/h are %v kn, want 5", got)
	}
	v.fails(desk.Request{Act: "use", Field: "speed_kn", Value: "20"},
		"2\u00a0kn (3.7\u00a0km/h) to 6\u00a0kn (11.1\u00a0km/h)")
	v.finds(map[string]string{"persons": "4", "range": "46"})
	v.saysAll("brief-form", `value="46 km"`)
	v.saysAll("brief-found", "at least 46\u00a0km.")
	v.does(desk.Request{Act: "units", Value: "sea"})
	v.saysAll("brief-form", `value="46 km"`)
	v.finds(map[string]string{"persons": "4", "range": "46"})
	v.saysAll("brief-form", `value="46"`)
	v.saysAll("brief-found", "46\u00a0nm")
}
