package screen_test

import (
	"strings"
	"testing"

	"ribband/core/pack"
)

// What somebody types is found by its title before its place and its note, in the order of the book, whatever the case
// and the accents; what a hull has not is found too, and says so.
func TestFind(t *testing.T) {
	for _, c := range []struct{ typed, first, has string }{
		{"hard top", "4.1Top: Hard top with solar panelsnot available on this hull", "Moulded hard top"},
		{"moulded hard", "4.1Top: Moulded hard topnot available on this hull", ""},
		{"TOP", "4.1Topnone", "Top cloth"},
		{"solar", "Solar panels", "4.1Top: Hard top with solar panelsnot available on this hull"},
		{"teak sole", "5.3Cockpit sole: Planked teak, left bare", ""},
		{"béds", "", ""},
		{"charg", "2.", ""},
		{"range", "Range", ""},
		{"lowest", "Lowest bridge", ""},
		{"vinyl stone", "6.3Upholstery: Marine vinyl, stone greyselected", ""},
	} {
		v := view(t, engines()[pack.Buyer], standard("sedge-46"))
		v.Find = c.typed
		found := fragment(t, v, "found")
		items := found.all("li")
		if c.first == "" {
			if len(items) > 0 {
				t.Errorf("%q finds %q", c.typed, items[0].text)
			}
			continue
		}
		if len(items) == 0 || !strings.HasPrefix(items[0].text, c.first) || !strings.Contains(found.text, c.has) {
			t.Errorf("%q finds %q", c.typed, found.text)
		}
		if len(items) > 12 || v.Found() < len(items) {
			t.Errorf("%q shows %d of %d", c.typed, len(items), v.Found())
		}
	}
}

// A word that is not in the book is answered by the one that is like it.
func TestFindNothing(t *testing.T) {
	v := view(t, engines()[pack.Buyer], standard("sedge-46"))
	for typed, want := range map[string]string{
		"canvass":    "Nothing in the book is called that. Did you mean “canvas”?",
		"qqqqqqqqqq": "Nothing in the book is called that.",
		"":           "", " ,. ": "",
	} {
		v.Find = typed
		if got := fragment(t, v, "found").text; got != want {
			t.Errorf("%q: it says %q, want %q", typed, got, want)
		}
	}
}

// Every result leads to something that is on the page, or comes there once its slot is open.
func TestFoundIsOnThePage(t *testing.T) {
	v := view(t, engines()[pack.Yard], standard("osier-76"))
	page := parse(t, v.Page())
	for _, typed := range []string{"a", "c", "s", "t", "w", "p", "m"} {
		v.Find = typed
		for _, a := range fragment(t, v, "found").all("a") {
			for _, id := range []string{a.attr["data-key"], a.attr["data-then"]} {
				if id != "" && page.byID(id) == nil {
					t.Errorf("%q finds %q, which leads to %q", typed, a.text, id)
				}
			}
		}
	}
}

// What differs from the standard build stands in one list, with the amount of the ledger and the way back.
func TestDifferencesAreListed(t *testing.T) {
	s := standard("reed-65")
	if v := view(t, engines()[pack.Buyer], s); len(fragment(t, v, "differences").all("li")) > 0 {
		t.Error("the standard build differs from itself")
	}
	s.Choices = map[string]map[string]int{"top": {"top-canopy": 1}, "gelcoat-hull": {"gelcoat-hull-navy": 1}}
	v := view(t, engines()[pack.Buyer], s)
	items := fragment(t, v, "differences").all("li")
	count := 0
	for slot := range v.Engine.Public().Slots {
		if v.Answer.Build.State.Slots[slot] != v.Answer.Standard.State.Slots[slot] {
			count++
		}
	}
	if len(items) <= count || len(items) < 3 {
		t.Errorf("%d slots are listed", len(items))
	}
	hull := items[0]
	if !strings.Contains(hull.text, "Hull colour") || !strings.Contains(hull.text, "Navy blue") ||
		!strings.Contains(hull.text, "Standard: White") || hull.byID("standard-gelcoat-hull") == nil {
		t.Errorf("the first is %q", hull.text)
	}
	along := 0
	for _, li := range items {
		if len(li.all("button")) == 0 {
			along++
			if !strings.Contains(li.text, "goes with another choice") {
				t.Errorf("there is no way back from %q, and no reason", li.text)
			}
		}
	}
	if along == 0 {
		t.Error("the frame goes with the top, and says nothing of it")
	}
	delete(s.Choices, "top")
	s.Choices["gelcoat-hull"] = map[string]int{"gelcoat-hull-white": 1}
	if v := view(t, engines()[pack.Buyer], s); len(fragment(t, v, "differences").all("li")) > 0 {
		t.Error("what was chosen as the standard build has it differs")
	}
}

// In German and Dutch what something is ends its name; in English a word begins where it begins.
func TestFindsWithinCompounds(t *testing.T) {
	for _, c := range []struct {
		tag, typed, name string
		found            bool
	}{{"de", "verdeck", "Klappverdeck", true}, {"nl", "kapping", "Overkapping", true},
		{"en", "adder", "Ladder", false},
		// what was probably meant is written as the book writes it
		{"de", "luftgekult", "„luftgekühlt“", true}} {
		e, ok, err := engines()[pack.Buyer].Speaking(c.tag)
		if !ok {
			t.Fatal(c.tag, err)
		}
		v := view(t, e, standard("sedge-46"))
		v.Find = c.typed
		if text := fragment(t, v, "found").text; strings.Contains(text, c.name) != c.found {
			t.Errorf("%s: %q finds %q", c.tag, c.typed, text)
		}
	}
}
