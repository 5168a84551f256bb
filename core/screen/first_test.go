package screen_test

import (
	"strings"
	"testing"

	"ribband/core/pack"
)

// What is published has the boat, its price and a line for each slot, and neither choices nor large drawings: they come
// with the engine.
func TestFirstPageIsLean(t *testing.T) {
	for _, desk := range pack.Desks {
		v := view(t, engines()[desk], standard("sedge-46"))
		markup := v.First()
		page, all := parse(t, markup), map[string]string{}
		for _, e := range page.all() {
			all[e.attr["id"]] = e.text
		}
		for _, f := range v.Fragments() {
			text, there := all[f.ID]
			switch whole := parse(t, f.HTML).text; {
			case !there:
				t.Errorf("%s: the first page has no place for %s", desk, f.ID)
			case strings.HasPrefix(f.ID, "choices-") || f.ID == "solid" || f.ID == "figures":
				if strings.TrimSpace(text) != "" {
					t.Errorf("%s: %s is published, and nobody sees it", desk, f.ID)
				}
			case strings.HasPrefix(f.ID, "line-") || f.ID == "title-block" || f.ID == "hulls" || f.ID == "ledger":
				if text != whole || whole == "" {
					t.Errorf("%s: %s is published as %.60q, want %.60q", desk, f.ID, text, whole)
				}
			}
		}
		if all["total"] == "" || len(markup) > 3*len(v.Page())/5 {
			t.Errorf("%s: the first page has %d bytes of %d, and the total %q", desk, len(markup), len(v.Page()),
				all["total"])
		}
		// what is left out of the slots is there to be fetched
		if list := v.Folded(); len(list) != strings.Count(markup, `id="choices-`) || list[0].HTML == "" {
			t.Errorf("%s: %d slots can be unfolded, of %d", desk, len(list), strings.Count(markup, `id="choices-`))
		}
	}
}

// Of another hull is published what the engine shows of its standard build, and no drawing of the first boat stays.
func TestHullsAreShownAsTheEngineShowsThem(t *testing.T) {
	first := view(t, engines()[pack.Buyer], standard("sedge-46"))
	for i, hull := range first.Engine.Public().Hulls {
		list, err := first.OfHull(i)
		if err != nil {
			t.Fatal(err)
		}
		other := view(t, engines()[pack.Buyer], standard(hull.ID))
		want, before := map[string]string{}, map[string]string{}
		for _, f := range other.Fragments() {
			want[f.ID] = f.HTML
		}
		for _, f := range first.Fragments() {
			before[f.ID] = f.HTML
		}
		given := map[string]bool{}
		for _, f := range list {
			given[f.ID] = true
			switch f.ID {
			case "profile", "plan", "sections":
				if f.HTML != "" {
					t.Errorf("%s: %s stays", hull.ID, f.ID)
				}
			case "still":
				if !strings.Contains(f.HTML, "<svg") {
					t.Errorf("%s has no drawing", hull.ID)
				}
			default:
				if f.HTML != want[f.ID] || f.HTML == before[f.ID] {
					t.Errorf("%s: %s is shown as %.80q, want %.80q", hull.ID, f.ID, f.HTML, want[f.ID])
				}
			}
		}
		if i > 0 && (!given["title-block"] || !given["bar"]) {
			t.Errorf("%s is shown without its price: %v", hull.ID, given)
		}
	}
}
