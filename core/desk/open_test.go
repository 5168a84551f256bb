package desk_test

import (
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/pack"
	"ribband/core/spec"
)

const asStandard = "{\n  \"format\": 1,\n  \"hull\": \"sedge-46\"\n}\n"

func TestOpenTheStandardBuild(t *testing.T) {
	v := visit(t, demo()[pack.Buyer])
	r := v.does(desk.Request{Act: "open"})
	if r.Spec != asStandard || !strings.HasPrefix(r.Link, "1/sedge-46/") || !strings.HasPrefix(r.Announcement,
		"Total ") ||
		!strings.HasSuffix(r.Announcement, "EUR.") {
		t.Errorf("spec %s, link %q, spoken %q", r.Spec, r.Link, r.Announcement)
	}
	if len(r.Fragments) != len(v.shown) {
		t.Errorf("%d of %d fragments come first", len(r.Fragments), len(v.shown))
	}
	if r := v.does(desk.Request{Act: "open"}); len(r.Fragments) != 0 {
		t.Errorf("the second time %d fragments changed", len(r.Fragments))
	}
}

func TestOpenALink(t *testing.T) {
	s := spec.Spec{Format: 1, Hull: "osier-76", Choices: map[string]map[string]int{"table": {}},
		Use: map[string]spec.Value{"persons": {Number: 8}, "region": {Choice: "fr"}}}
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
		{(&spec.Spec{Format: 1, Hull: "reed-65", Choices: map[string]map[string]int{"top": {"top-gone": 1}, "gone": {}},
			Use: map[string]spec.Value{"moon": {Number: 1}}}).Link(), "unknown option of this slot",
			`"hull": "reed-65"`},
		{"2/rubbish", "The link begins with", `"hull": "sedge-46"`},
	} {
		v := visit(t, demo()[pack.Buyer])
		r := v.does(desk.Request{Act: "open", Link: c.link})
		v.says("remarks", c.remark)
		if !strings.Contains(r.Spec, c.spec) || !strings.Contains(r.Announcement, c.remark) {
			t.Errorf("%q: spec %s, spoken %q", c.link, r.Spec, r.Announcement)
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
	r := v.fails(desk.Request{Act: "open", Text: `{"format": 1, "hull": `},
		"What was stored here could not be read: it stays in the list as it is, and this is the standard build: ")
	if r.Spec != asStandard || !r.Apart || !r.Plain {
		t.Errorf("spec %s, set aside: %v", r.Spec, r.Apart)
	}
}

// dealt is a spec with all that a salesperson adds.
const dealt = `{"format": 1, "hull": "reed-65", "extras": [{"id": "oars", "title": "Oars", "price": "90", "basis": "net", "cost": "40", "hours": {"assembly": "1"}}],
	"discounts": [{"title": "Show", "share": "0.02"}], "trade_in": {"title": "Dinghy", "allowance": "500", "value": "400"}}`

// A reload has the link and what was stored. Discounts and extra items are in no link, and were lost.
func TestReloadKeepsWhatIsInNoLink(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	before := v.does(desk.Request{Act: "file", Text: dealt})
	again := visit(t, demo()[pack.Show])
	if r := again.does(desk.Request{Act: "open", Link: before.Link, Text: before.Spec}); r.Spec != before.Spec ||
		r.Apart || r.Plain {
		t.Errorf("after a reload the spec is %s, set aside: %v", r.Spec, r.Apart)
	}
	// back to the same address
	if r := v.does(desk.Request{Act: "open", Link: before.Link}); r.Spec != before.Spec || r.Apart {
		t.Errorf("after its own link the spec is %s, set aside: %v", r.Spec, r.Apart)
	}
}

// Whatever else stands behind the address, what was stored is opened, or the page is told to set it aside.
func TestOpenLosesNothingThatWasStored(t *testing.T) {
	stored := spec.Spec{Format: 1, Hull: "reed-65", Choices: map[string]map[string]int{"table": {}}}
	other := spec.Spec{Format: 1, Hull: "osier-76"}
	cut := stored.Link()[:len(stored.Link())-12]
	for _, c := range []struct {
		name, link, text string
		hull             string
		apart            bool
		remark           string
	}{
		{"nothing", "", "", "sedge-46", false, ""},
		{"stored", "", string(stored.Encode()), "reed-65", false, ""},
		{"foreign fragment", "contact", string(stored.Encode()), "reed-65", false,
			"The address ended in “#contact”, which is no link to a boat."},
		{"fragment of the page", "section-hull", string(stored.Encode()), "reed-65", false, "no link to a boat"},
		{"its own link", stored.Link(), string(stored.Encode()), "reed-65", false, ""},
		{"another boat", other.Link(), string(stored.Encode()), "osier-76", true, ""},
		{"another boat over nothing to miss", other.Link(), asStandard, "osier-76", false, ""},
		{"its own link, damaged", cut, string(stored.Encode()), "reed-65", true, "The link is damaged"},
		{"of another format", "2/osier-76/", string(stored.Encode()), "sedge-46", true, "The link begins with"},
		{"a choice that is no more", "", `{"format": 1, "hull": "reed-65", "choices": {"gone": {}}}`, "reed-65", true,
			"unknown slot"},
		{"a hull that is no more", "", `{"format": 1, "hull": "gone"}`, "sedge-46", true, "unknown hull"},
		{"unreadable beside a link", other.Link(), "{damaged", "osier-76", true, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			v := visit(t, demo()[pack.Buyer])
			r := v.does(desk.Request{Act: "open", Link: c.link, Text: c.text})
			if v.spec().Hull != c.hull || r.Apart != c.apart {
				t.Errorf("hull %s, set aside: %v; want %s, %v", v.spec().Hull, r.Apart, c.hull, c.apart)
			}
			v.says("remarks", c.remark)
		})
	}
	v := visit(t, demo()[pack.Show]) // of a deal that the engine refuses now
	r := v.fails(desk.Request{Act: "open", Text: `{"format": 1, "hull": "reed-65", "extras": [{"id": "a",
		"title": "Gift", "price": "-999999", "basis": "net"}]}`}, "a quotation is above zero")
	if !r.Apart || r.Spec != asStandard {
		t.Errorf("spec %s, set aside: %v", r.Spec, r.Apart)
	}
}

// Behind an address that changes under an open page too: the deal is set aside, the form with it, and undo brings the
// boat back.
func TestAnotherLinkUnderAnOpenPage(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	before := v.does(desk.Request{Act: "file", Text: dealt})
	v.does(desk.Request{Act: "freeze", Form: form("approval", "The owner")})
	if r := v.does(desk.Request{Act: "open", Link: "contact"}); r.Spec != before.Spec || r.Apart || r.Fresh {
		t.Errorf("a foreign fragment gives %s", r.Spec)
	}
	r := v.does(desk.Request{Act: "open", Link: spec.Spec{Format: 1, Hull: "osier-76"}.Link()})
	if v.spec().Hull != "osier-76" || !r.Apart || !r.Fresh || strings.Contains(v.shown["customer"], "Sandmark") {
		t.Errorf("hull %s, set aside: %v", v.spec().Hull, r.Apart)
	}
	if r := v.does(desk.Request{Act: "undo"}); r.Spec != before.Spec || !r.Fresh {
		t.Errorf("undone it is %s", r.Spec)
	}
	v.says("customer", "Sandmark")
}

// A fault in a discount was once taken for an unknown hull, and the boat became another.
func TestFaultyDiscountKeepsTheHull(t *testing.T) {
	const text = `{"format": 1, "hull": "reed-65", "discounts": [{"title": "Top", "on": "top", "share": "0.1"}]}`
	v := opened(t, demo()[pack.Show])
	r := v.does(desk.Request{Act: "file", Text: text})
	if v.spec().Hull != "reed-65" || len(v.spec().Discounts) != 1 || strings.Contains(r.Announcement, "This is the") {
		t.Errorf("spec %s, spoken %q", r.Spec, r.Announcement)
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
	if r := v.does(desk.Request{Act: "units", Value: "sea"}); len(r.Fragments) != 0 {
		t.Errorf("afterwards %d fragments changed", len(r.Fragments))
	}
}

func TestNewDeskWithoutHulls(t *testing.T) {
	p := *small()[pack.Yard]
	p.Hulls, p.Costs, p.Work = nil, nil, nil
	p.Prices = &pack.Prices{Options: p.Prices.Options}
	p.Rules, p.Slots, p.Options = nil, nil, nil
	e, err := engine.Compile(&p)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := desk.New(e); err == nil || !strings.Contains(err.Error(), "the book has no hull") {
		t.Errorf("%v", err)
	}
}
