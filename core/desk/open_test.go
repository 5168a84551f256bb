package desk_test

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
	"ribband/core/spec"
)

const asStandard = "{\n  \"format\": 1,\n  \"hull\": \"sedge-46\"\n}\n"

func TestOpenTheStandardBuild(t *testing.T) {
	v := visit(t, demo()[pack.Buyer])
	r := v.does(desk.Request{Act: "open"})
	if r.Spec != asStandard || !strings.HasPrefix(r.Link, "1/sedge-46/") || !strings.HasPrefix(r.Spoken, "Total ") || !strings.HasSuffix(r.Spoken, "EUR.") {
		t.Errorf("spec %s, link %q, spoken %q", r.Spec, r.Link, r.Spoken)
	}
	if len(r.Fragments) != len(v.shown) {
		t.Errorf("%d of %d fragments come first", len(r.Fragments), len(v.shown))
	}
	if r := v.does(desk.Request{Act: "open"}); len(r.Fragments) != 0 {
		t.Errorf("the second time %d fragments changed", len(r.Fragments))
	}
}

func TestOpenALink(t *testing.T) {
	s := spec.Spec{Format: 1, Hull: "osier-76", Choices: map[string]map[string]int{"table": {}}, Use: map[string]spec.Value{"persons": {Number: 8}, "region": {Choice: "fr"}}}
	v := visit(t, demo()[pack.Buyer])
	r := v.does(desk.Request{Act: "open", Link: s.Link(), Text: asStandard}) // the link goes before what is stored
	if r.Link != s.Link() || string(v.spec().Encode()) != string(s.Encode()) || v.shown["remarks"] != "" {
		t.Errorf("link %q, spec %s, remarks %q", r.Link, r.Spec, v.shown["remarks"])
	}
}

func TestOpenADamagedLink(t *testing.T) {
	s := spec.Spec{Format: 1, Hull: "osier-76", Use: map[string]spec.Value{"persons": {Number: 8}}}
	for _, c := range []struct{ link, remark, spec string }{
		{strings.Replace(s.Link(), "persons:8", "persons:7", 1), "The link is damaged", `"persons": 7`},
		{s.Link()[:12], "The link is damaged", `"hull": "osier-76"`},
		{"1/osier-76/persons:8/=/deadbeef", "could not be read", `"persons": 8`},
		{(&spec.Spec{Format: 1, Hull: "gone-99"}).Link(), "unknown hull", `"hull": "sedge-46"`},
		{(&spec.Spec{Format: 1, Hull: "reed-65", Choices: map[string]map[string]int{"top": {"top-gone": 1}, "gone": {}}, Use: map[string]spec.Value{"moon": {Number: 1}}}).Link(), "unknown option of this slot", `"hull": "reed-65"`},
		{"rubbish", "The link begins with", `"hull": "sedge-46"`},
	} {
		v := visit(t, demo()[pack.Buyer])
		r := v.does(desk.Request{Act: "open", Link: c.link})
		v.says("remarks", c.remark)
		if !strings.Contains(r.Spec, c.spec) || !strings.Contains(r.Spoken, c.remark) {
			t.Errorf("%q: spec %s, spoken %q", c.link, r.Spec, r.Spoken)
		}
		if strings.Contains(r.Spec, "gone") || strings.Contains(r.Spec, "moon") {
			t.Errorf("%q: unknown names stay: %s", c.link, r.Spec)
		}
	}
}

func TestOpenWhatWasStored(t *testing.T) {
	s := spec.Spec{Format: 1, Hull: "reed-65", Use: map[string]spec.Value{"persons": {Number: 6}}}
	v := visit(t, demo()[pack.Buyer])
	if v.does(desk.Request{Act: "open", Text: string(s.Encode())}); v.last.Spec != string(s.Encode()) {
		t.Errorf("spec %s", v.last.Spec)
	}
	v = visit(t, demo()[pack.Buyer])
	r := v.fails(desk.Request{Act: "open", Text: `{"format": 1, "hull": `}, "What was stored here could not be read, so this is the standard build: ")
	if r.Spec != asStandard {
		t.Errorf("spec %s", r.Spec)
	}
}

// A fault in a discount was once taken for an unknown hull, and the boat became another.
func TestFaultyDiscountKeepsTheHull(t *testing.T) {
	const text = `{"format": 1, "hull": "reed-65", "discounts": [{"title": "Top", "on": "top", "share": "0.1"}]}`
	v := opened(t, demo()[pack.Show])
	r := v.does(desk.Request{Act: "file", Text: text})
	if v.spec().Hull != "reed-65" || len(v.spec().Discounts) != 1 || strings.Contains(r.Spoken, "This is the") {
		t.Errorf("spec %s, spoken %q", r.Spec, r.Spoken)
	}
	v.says("remarks", "there is no line &#34;top&#34; to give &#34;Top&#34; on")
}

func TestVersionsAndActs(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	r := v.desk.Handle(desk.Request{Version: desk.Version + 1, ID: 7, Act: "open"})
	if r.ID != 7 || r.Error != "The page speaks version 2 and the engine version 1. Load the page again." {
		t.Errorf("%d: %q", r.ID, r.Error)
	}
	v.fails(desk.Request{Act: "sail"}, `The engine does not know what "sail" means. Load the page again.`)
	v.fails(desk.Request{}, `The engine does not know what "" means.`)
}

// The page has what a person tried, so everything goes to it again after an error. Once nothing did.
func TestErrorShowsTheTruthAgain(t *testing.T) {
	v := opened(t, demo()[pack.Buyer])
	v.does(desk.Request{Act: "choose", Option: "table-folding-sapele"})
	r := v.fails(desk.Request{Act: "choose", Option: "unicorn"}, `Choosing: unknown option "unicorn".`)
	if len(r.Fragments) != len(v.desk.View().Fragments()) {
		t.Errorf("%d fragments come back", len(r.Fragments))
	}
	if r := v.does(desk.Request{Act: "units", Value: "metric"}); len(r.Fragments) != 0 {
		t.Errorf("afterwards %d fragments changed", len(r.Fragments))
	}
}

func TestNewDeskWithoutHulls(t *testing.T) {
	p := *small()[pack.Yard]
	p.Hulls, p.Trade = nil, nil
	p.Prices = &pack.Prices{Options: p.Prices.Options}
	p.Rules, p.Slots, p.Options = nil, nil, nil
	if _, err := desk.New(&p); err == nil || !strings.Contains(err.Error(), "the book has no hull") {
		t.Errorf("%v", err)
	}
}
