package desk_test

import (
	"slices"
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
	"ribband/core/spec"
)

func TestUse(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	r := v.does(desk.Request{Act: "use", Field: "persons", Value: "5"})
	if v.spec().Use["persons"] != (spec.Value{Number: 5}) || !strings.Contains(r.Link, "/persons:5/") {
		t.Errorf("spec %s, link %q", r.Spec, r.Link)
	}
	v.says("use", `value="5"`)
	r = v.does(desk.Request{Act: "use", Field: "region", Value: "us"})
	if v.spec().Use["region"] != (spec.Value{Choice: "us"}) || !ids(r)["ledger"] || !ids(r)["use"] {
		t.Errorf("spec %s", r.Spec)
	}
	v.says("title-block", "United States, without VAT")
	for _, c := range []struct{ field, value, words string }{
		{"persons", "100", "100 is not among the numbers that the book allows; write a number from 1 to 10"},
		{"persons", "4.5", "4.5 lies between two steps"},
		{"persons", "NaN", "is no number"},
		{"persons", "1e999", "is no number"},
		{"persons", "", "is no number"},
		{"persons", "many", `"many" is no number`},
		{"region", "atlantis", `nknown choice "atlantis"`},
		{"region", "", "nknown choice"},
		{"region", "7", `nknown choice "7"`},
		{"moon", "full", "nknown field"},
	} {
		v.fails(desk.Request{Act: "use", Field: c.field, Value: c.value}, c.words)
	}
}

// A battery of "48" volts is a choice, though it looks like a number; once it was taken for one, and refused.
func TestChoiceThatLooksLikeANumber(t *testing.T) {
	p := *small()[pack.Buyer]
	p.Use = append(slices.Clone(p.Use), pack.UseField{ID: "volts", Title: "Volts",
		Choices: []pack.Choice{{ID: "24", Title: "24 V"}, {ID: "48", Title: "48 V"}}})
	v := opened(t, &p)
	v.does(desk.Request{Act: "use", Field: "volts", Value: "48"})
	if v.spec().Use["volts"] != (spec.Value{Choice: "48"}) {
		t.Errorf("spec %s", v.last.Spec)
	}
	link := v.last.Link
	v = visit(t, &p)
	if v.does(desk.Request{Act: "open", Link: link}); v.last.Link != link {
		t.Errorf("the link %q becomes %q", link, v.last.Link)
	}
}

func TestUnits(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	r := v.does(desk.Request{Act: "units", Value: "us"})
	v.says("figures", "\u00a0lb")
	v.says("hulls", "15.09\u00a0ft")
	v.says("choices-bank", "\u00a0lb")
	v.says("profile", "length 15\u00a0ft\u00a01\u00a0in")
	changed := ids(r)
	for _, id := range []string{"figures", "hulls", "use", "brief-form", "choices-bank", "title-block",
		"profile", "plan", "sections"} {
		if !changed[id] {
			t.Errorf("%s did not come", id)
		}
		delete(changed, id)
	}
	for id := range changed { // beside the options stand figures
		if !strings.HasPrefix(id, "choices-") {
			t.Errorf("%s came", id)
		}
	}
	if r.Spec != asStandard {
		t.Errorf("spec %s", r.Spec)
	}
	v.does(desk.Request{Act: "units", Value: "sea"})
	v.says("figures", "\u00a0kg")
}
