package desk_test

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
)

// pageOnly is what the page's script does without the engine.
var pageOnly = map[string]bool{"go": true, "view": true, "face": true, "deal-compare": true, "link": true,
	"print": true, "close": true, "file": true, "deal-new": true,
	"deals-export": true,
	"deals-device": true, "deals-file": true, "deal-undelete": true, "deal-open": true, "deal-copy": true,
	"deal-revise":   true,
	"deal-accepted": true, "deal-declined": true, "deal-withdrawn": true, "deal-export": true, "deal-delete": true,
	"enquiry-mail": true, "enquiry-file": true,
	"edition": true, "edition-later": true}

// everything is a page with all that can be acted on: choices, a clash, discounts, lines, a warning. It is made once
// for each desk.
func everything(t *testing.T, p *pack.Pack) (page string) {
	if page, known := fullPages[p]; known {
		return page
	}
	v := opened(t, p)
	v.does(desk.Request{Act: "choose", Option: "bank-agm-48-10"})
	if p.Can(pack.Extras) {
		v.does(desk.Request{Act: "extra", Form: map[string]string{"title": "Name", "basis": "net", "price": "100"}})
		v.does(desk.Request{Act: "trade-in", Form: map[string]string{"title": "Dinghy", "allowance": "500"}})
	}
	if p.Can(pack.Discounts) {
		v.does(desk.Request{Act: "discount", Form: map[string]string{"title": "Show", "value": "9 %"}})
	}
	v.does(desk.Request{Act: "reason"})
	v.finds(map[string]string{"persons": "8"})
	fullPages[p] = v.page
	return v.page
}

var fullPages = map[*pack.Pack]string{}

// Whatever the page lets a person do, the engine knows.
func TestActsOfThePageAreKnown(t *testing.T) {
	acts := regexp.MustCompile(` data-(act|do)="([^"]*)"`)
	for name, p := range demo() {
		v := opened(t, p)
		seen := map[string]bool{}
		for _, m := range acts.FindAllStringSubmatch(everything(t, p), -1) {
			if m[1] == "do" && pageOnly[m[2]] || seen[m[2]] {
				continue
			}
			seen[m[2]] = true
			if r := v.desk.Handle(desk.Request{Version: desk.Version, Act: m[2]}); strings.Contains(r.Error,
				"does not know") {
				t.Errorf("%s: %s", name, r.Error)
			}
		}
		want := []string{"brief", "brief-take", "hull", "choose", "toggle", "count", "empty", "standard", "use",
			"units", "language", "specification", "reset", "reason", "repair", "keep", "undo", "find",
			"beside-add"}
		if p.Can(pack.Discounts) {
			want = append(want, "discount", "remove", "freeze")
		}
		if p.Can(pack.Extras) {
			want = append(want, "extra", "trade-in", "dealer")
		}
		if p.Can(pack.Sheets) {
			want = append(want, "sheet")
		}
		for _, act := range want {
			if !seen[act] {
				t.Errorf("the page of the %s has no %q", name, act)
			}
			delete(seen, act)
		}
		if len(seen) > 0 {
			t.Errorf("the page of the %s has %v, which no test here knows", name, seen)
		}
	}
}

// Whatever stands beside an act is what the page's script sends, and names something of the book.
func TestActsOfThePageSayWhatTheyMean(t *testing.T) {
	tag := regexp.MustCompile(`<[a-z]+ [^>]*data-act="[^>]*>`)
	attribute := regexp.MustCompile(` data-([a-z]+)="([^"]*)"`)
	for _, p := range demo() {
		known := map[string]bool{"discount": true, "extra": true, "trade-in": true, "0": true, "1": true, "2": true,
			"3": true, "4": true, "5": true, "6": true, "7": true, "8": true, "9": true}
		for _, s := range p.Slots {
			known["slot "+s.ID] = true
		}
		for _, o := range p.Options {
			known["option "+o.ID] = true
		}
		for _, u := range p.Use {
			known["field "+u.ID] = true
		}
		for i := range 10 { // the changes of the boat are numbered
			known["key "+strconv.Itoa(i)] = true
		}
		for _, e := range tag.FindAllString(everything(t, p), -1) {
			for _, m := range attribute.FindAllStringSubmatch(e, -1) {
				if m[1] != "act" && !known[m[1]+" "+m[2]] && (m[1] != "key" && m[1] != "field" || !known[m[2]]) {
					t.Errorf("%s=%q in %s", m[1], m[2], e)
				}
			}
		}
	}
}

// The forms of the page have the fields that the engine reads.
func TestFormsOfThePage(t *testing.T) {
	page := everything(t, demo()[pack.Yard])
	for act, fields := range map[string]string{
		"discount": "title value on",
		"extra":    "title price basis cost shop hours",
		"trade-in": "title allowance value",
		"freeze": "revision number date valid name address email phone language seller remarks approval serial " +
			"built listtest listed",
	} {
		_, form, _ := strings.Cut(page, `data-act="`+act+`"`)
		form, _, _ = strings.Cut(form, "</form>")
		var names []string
		for _, m := range regexp.MustCompile(` name="([^"]*)"`).FindAllStringSubmatch(form, -1) {
			names = append(names, m[1])
		}
		if got := strings.Join(names, " "); got != fields {
			t.Errorf("the form of %s has the fields %q, want %q", act, got, fields)
		}
	}
}
