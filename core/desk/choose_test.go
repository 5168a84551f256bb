package desk_test

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
)

func TestHull(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "bank-agm-24-5"}) // made for the small hulls only
	r := v.does(desk.Request{Act: "hull", Value: "osier-76"})
	if s := v.spec(); s.Hull != "osier-76" || s.Choices["bank"] != nil {
		t.Errorf("spec %s", r.Spec)
	}
	v.says("remarks", "is not made for the Osier 76")
	v.says("ledger", "Osier 76")
	if !strings.Contains(r.Announcement, "is not made for the Osier 76") || !strings.HasPrefix(r.Link, "1/osier-76/") {
		t.Errorf("spoken %q, link %q", r.Announcement, r.Link)
	}
	if v.does(desk.Request{Act: "hull", Value: "osier-76"}); v.shown["remarks"] != "" {
		t.Errorf("the remarks stay: %q", v.shown["remarks"])
	}
	v.fails(desk.Request{Act: "hull", Value: "ark"}, `Hull: unknown hull "ark"; the hulls are osier-76, `)
}

func TestChooseEmptyAndStandard(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	before := v.last.Announcement
	r := v.does(desk.Request{Act: "choose", Option: "table-folding-sapele"})
	if got := v.spec().Choices["table"]["table-folding-sapele"]; got != 1 || r.Announcement == before ||
		!strings.Contains(r.Link, "/table=table-folding-sapele") {
		t.Errorf("spec %s, spoken %q, link %q", r.Spec, r.Announcement, r.Link)
	}
	changed := ids(r)
	for _, id := range []string{"line-table", "choices-table", "ledger", "bar", "nav-joinery"} {
		if !changed[id] {
			t.Errorf("%s did not come", id)
		}
	}
	for _, id := range []string{"hulls", "use", "remarks", "clashes", "line-gelcoat-hull", "nav-power"} {
		if changed[id] {
			t.Errorf("%s came, and is the same as before", id)
		}
	}
	v.says("line-table", "Folding table in sapele")

	r = v.does(desk.Request{Act: "empty", Slot: "table"})
	if c, ok := v.spec().Choices["table"]; !ok || len(c) != 0 || r.Announcement != before ||
		!strings.Contains(r.Link, "/table=/") {
		t.Errorf("spec %s, spoken %q, link %q", r.Spec, r.Announcement, r.Link)
	}
	v.says("choices-table", "Your choice.")
	r = v.does(desk.Request{Act: "standard", Slot: "table"})
	if _, ok := v.spec().Choices["table"]; ok || r.Spec != asStandard {
		t.Errorf("spec %s", r.Spec)
	}
	v.fails(desk.Request{Act: "empty", Slot: "cabin"}, `Emptying: unknown slot "cabin".`)
	v.does(desk.Request{Act: "standard", Slot: "cabin"}) // what is not there needs no letting go
}

// A slot that a change closes is set aside, and the remarks say so.
func TestWhatAChangeCloses(t *testing.T) {
	v := opened(t, small()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "cloth-light"})
	r := v.does(desk.Request{Act: "empty", Slot: "top"})
	if _, ok := v.spec().Choices["cloth"]; ok ||
		!strings.Contains(r.Announcement, "Cloth is set aside: Without a top there is nothing to cover.") {
		t.Errorf("spec %s, spoken %q", r.Spec, r.Announcement)
	}
	v.says("remarks", "Cloth is set aside")
	v.says("line-cloth", "Without a top there is nothing to cover.")
}

func TestToggle(t *testing.T) {
	v := opened(t, small()[pack.Buyer])
	v.does(desk.Request{Act: "toggle", Option: "bag-top", Checked: true})
	if got := v.spec().Choices["stowage"]["bag-top"]; got != 1 {
		t.Errorf("spec %s", v.last.Spec)
	}
	v.does(desk.Request{Act: "count", Option: "pocket", Value: " 3 "})
	if got := v.spec().Choices["stowage"]; got["bag-top"] != 1 || got["pocket"] != 3 {
		t.Errorf("spec %s", v.last.Spec)
	}
	v.says("line-stowage", "3 × Side pocket")
	v.does(desk.Request{Act: "toggle", Option: "bag-top"})
	if got := v.spec().Choices["stowage"]; len(got) != 1 || got["pocket"] != 3 {
		t.Errorf("spec %s", v.last.Spec)
	}
	v.does(desk.Request{Act: "count", Option: "pocket", Value: "0"})
	if got, ok := v.spec().Choices["stowage"]; !ok || len(got) != 0 {
		t.Errorf("spec %s", v.last.Spec)
	}
	v.fails(desk.Request{Act: "count", Option: "pocket", Value: "many"}, `"many" is no count; write a whole number`)
	v.fails(desk.Request{Act: "count", Option: "pocket", Value: "2.5"}, "is no count")
	v.fails(desk.Request{Act: "count", Option: "pocket", Value: ""}, "is no count")
	v.fails(desk.Request{Act: "count", Option: "pocket", Value: "5"}, "Choosing Side pocket: 5 is not between 0 and 4")
	v.fails(desk.Request{Act: "count", Option: "pocket", Value: "-1"}, "-1 is not between 0 and 4")
	v.fails(desk.Request{Act: "toggle", Option: "hammock", Checked: true}, "unknown option")
}

// What cannot be built is shown with its clash, and let go of again.
func TestClash(t *testing.T) {
	v := opened(t, small()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "top-folding"})
	r := v.does(desk.Request{Act: "choose", Option: "cloth-heavy"})
	v.says("clashes", "The heavy cloth cracks where it is folded. Take the light cloth, or a fixed top.")
	v.says("bar", "Cannot be built")
	if !strings.Contains(r.Announcement, "This boat cannot be built: The heavy cloth cracks") {
		t.Errorf("spoken %q", r.Announcement)
	}
	v.does(desk.Request{Act: "standard", Slot: "top"})
	if v.shown["clashes"] != "" {
		t.Errorf("still %q", v.shown["clashes"])
	}
	v.says("line-top", "Fixed top") // follows from the cloth
}

func TestReset(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	v.does(desk.Request{Act: "hull", Value: "reed-65"})
	v.does(desk.Request{Act: "choose", Option: "table-folding-sapele"})
	v.does(desk.Request{Act: "discount", Form: map[string]string{"title": "Show", "value": "2"}})
	v.fails(desk.Request{Act: "freeze", Form: map[string]string{"name": "Ottilie Sandmark"}}, "it has no number")
	v.says("customer", "Ottilie Sandmark")
	v.does(desk.Request{Act: "reset"})
	if got := string(v.spec().Encode()); got != strings.Replace(asStandard, "sedge-46", "reed-65", 1) ||
		strings.Contains(v.shown["customer"], "Ottilie") {
		t.Errorf("spec %s", got)
	}
}
