package screen_test

import (
	"strings"
	"testing"

	"ribband/core/pack"
)

// A word of the trade can be pressed where it stands, and what it opens is in the page, once.
func TestWordsExplainThemselves(t *testing.T) {
	v := view(t, engines()[pack.Buyer], standard("reed-65"))
	page := parse(t, v.Page())
	buttons := map[string]string{}
	for _, b := range page.all("button") {
		target := b.attr["popovertarget"]
		if target == "" {
			continue
		}
		buttons[strings.ToLower(b.text)] = target
		if m := page.byID(target); m == nil || len(m.text) < 20 {
			t.Errorf("%q opens %v", b.text, m)
		}
	}
	for _, word := range []string{"draught", "freeboard", "antifouling", "gelcoat", "coaming", "air draught"} {
		if buttons[word] == "" {
			t.Errorf("%q explains itself nowhere", word)
		}
	}
	// A form of a word leads to the same entry, and part of a word to none.
	choices := fragment(t, v, "choices-bottom-paint").text
	if !strings.Contains(choices, "In plain words:") || strings.Contains(choices, "Boot top") {
		t.Errorf("of the bottom it explains %.200q", choices)
	}
	for typed, want := range map[string]string{"skeg": "Skeg The fin below", "knots": "Knot One nautical mile"} {
		v.Find = typed
		if got := fragment(t, v, "found").text; !strings.HasPrefix(got, want) {
			t.Errorf("%q is answered by %q", typed, got)
		}
	}
}
