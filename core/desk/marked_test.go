package desk_test

import (
	"regexp"
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/pack"
)

// What a desk says of what somebody did comes from the file of its language: remarks, announcements, what can be
// undone, titles of papers and errors. In a language that puts all its texts between marks nothing is left outside, but
// what a person typed ("quokka") and how the book is written.
func TestNoWordsStandInTheCode(t *testing.T) {
	for name, p := range demo() {
		e, err := engine.Compile(p)
		if err != nil {
			t.Fatal(err)
		}
		d, err := desk.New(enginetest.InMarks(t, e))
		if err != nil {
			t.Fatal(err)
		}
		errors := 0
		does := func(r desk.Request) desk.Reply {
			t.Helper()
			r.Version, r.Seen = desk.Version, []string{"remarks", "revisions", "clashes", "reopened", "brief-form"}
			reply := d.Handle(r)
			said := []string{reply.Error, reply.Announcement, strings.Join(d.View().Remarks, "\n"), d.View().Redo}
			if reply.Error != "" {
				errors++
			}
			if reply.Paper != nil {
				said = append(said, reply.Paper.Title)
			}
			for _, f := range reply.Fragments {
				if len(f.HTML) < 1e4 {
					said = append(said, enginetest.Perceived(f.HTML))
				}
			}
			text := digest.ReplaceAllString(strings.Join(said, "\n"), "")
			for _, found := range enginetest.Unmarked(text, "quokka", "ft", "lb") {
				t.Errorf("%s, %s %s: %s", name, r.Act, r.Key, found)
			}
			return reply
		}
		for _, r := range requests(e) {
			does(r)
		}
		if errors < 15 {
			t.Errorf("%s: only %d errors were made", name, errors)
		}
		// a search that ends with boats, one that ends with what has to give way, and one that is stopped
		for _, miles := range []string{"25", "90"} {
			r := does(desk.Request{Act: "brief", Form: map[string]string{"persons": "6", "range": miles}})
			for r.Next != "" {
				r = does(desk.Request{Act: "brief-step", Key: r.Next})
			}
			does(desk.Request{Act: "brief-take", Key: "0"})
			does(desk.Request{Act: "brief-relax", Key: "0"})
			does(desk.Request{Act: "brief-stop"})
		}
		if !e.Can(pack.Quotations) {
			continue
		}
		does(desk.Request{Act: "reset"})
		r := does(desk.Request{Act: "freeze", Form: map[string]string{"number": "7", "date": "2027-02-06",
			"approval": "quokka"}})
		text := file(t, r, "the-yard.json").Text
		does(desk.Request{Act: "file", Text: text})
		changed := strings.Replace(text, `"approval": "quokka"`, `"approval": "quokka's"`, 1)
		if r = does(desk.Request{Act: "file", Text: changed}); changed == text || len(d.View().Differences) == 0 {
			t.Errorf("%s: a quotation that was changed is not told: %s", name, r.Error)
		}
		does(desk.Request{Act: "undo"})
	}
}

var digest = regexp.MustCompile(`\b[0-9a-f]{64}\b`)

// requests are of every act, with what there is to be refused.
func requests(e *engine.Engine) []desk.Request {
	form := func(act string, pairs ...string) desk.Request {
		m := map[string]string{}
		for i := 0; i+1 < len(pairs); i += 2 {
			m[pairs[i]] = pairs[i+1]
		}
		return desk.Request{Act: act, Form: m}
	}
	list := []desk.Request{{Act: "open", Link: "quokka"}, {Act: "open", Text: "{}"}, {Act: "quokka"}, {Act: "undo"},
		{Act: "open", Text: `{"format":1,"hull":"quokka"}`}, {Act: "open", Link: "1/quokka/top=quokka/1"},
		{Act: "file", Text: "{"}, {Act: "hull", Value: "reed-65"}, {Act: "hull", Value: "quokka"},
		{Act: "use", Field: "persons", Value: "8"}, {Act: "use", Field: "persons", Value: "800"},
		{Act: "units", Value: "us"}, {Act: "count", Option: "quokka", Value: "quokka"},
		{Act: "reason", Option: "quokka"}, {Act: "reason"}, {Act: "reason", Option: e.Public().Options[0].ID},
		{Act: "empty", Slot: e.Public().Slots[0].ID}, {Act: "reason"}, {Act: "repair", Key: "99"},
		{Act: "repair", Key: "0"}, {Act: "undo"}, {Act: "repair", Key: "0"},
		{Act: "choose", Option: "bank-lfp-10"}, {Act: "keep", Slot: "bank", Checked: true}, {Act: "keep", Slot: "bank"},
		{Act: "standard", Slot: "bank"}, {Act: "keep", Slot: "bank", Checked: true},
		form("brief-take"), form("brief-relax"), form("brief", "persons", "quokka", "range", "1,500"),
		form("discount", "title", "quokka", "value", "3 %"), form("discount", "title", "quokka", "value", "1,500"),
		form("discount", "title", "quokka", "value", "5", "on", "quokka"),
		form("extra", "title", "quokka", "price", "100", "basis", "net", "hours", "2"),
		form("extra", "title", "quokka", "price", "100", "basis", "net", "shop", "quokka"),
		form("extra", "title", "quokka", "price", "100"), form("extra", "title", "quokka", "price", "9", "basis",
			"net"),
		form("trade-in", "title", "quokka", "allowance", "500", "value", "400"),
		form("freeze", "number", "1", "listtest", "quokka"), form("freeze", "number", "1", "listed", "quokka"),
		form("freeze"), {Act: "sheet", Value: "quokka"}, {Act: "specification"}}
	if e.Can(pack.Sheets) { // on the other desks nobody can ask for one
		list = append(list, desk.Request{Act: "sheet"}, desk.Request{Act: "sheet", Value: "lamination"})
	}
	for _, part := range []string{"discount", "extra", "trade-in", "quokka"} {
		list = append(list, desk.Request{Act: "remove", Key: part, Field: "0"}, desk.Request{Act: "undo"})
	}
	return list
}
