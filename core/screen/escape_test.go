package screen_test

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/money"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/screen"
	"ribband/core/spec"
)

var nasty = []string{"<script>alert(1)</script>", "</textarea>", "</li></ul>", `" onfocus="alert(1)`, "'", "<!--",
	"-->", "]]>", "&", "&quot;", "\r\n", "\u202e", "\x00", "<img src=x>", "ä", " ", "plain"}

func dealt(t testing.TB, texts [3]string) *screen.View {
	t.Helper()
	s := standard("sedge-46")
	s.Extras = []spec.Extra{{ID: "line-1", Title: texts[0], Price: money.MustParse("10")}}
	s.Discounts = []spec.Discount{{Title: texts[1], Share: money.MustRate("0.01")}}
	v := view(t, engines()[pack.Show], s)
	v.Remarks = []string{texts[2]}
	v.Details = quote.Details{Number: texts[0], Seller: texts[1], Remarks: texts[2], Approval: texts[0],
		Customer: quote.Party{Name: texts[1], Address: []string{texts[2]}}}
	v.Reopened = quote.Draft(v.Engine, v.Answer)
	v.Reopened.Details = v.Details
	v.Differences = []quote.Difference{{Place: msg.Plain(texts[0]), Was: msg.Plain(texts[1]), Now: msg.Plain(texts[2])}}
	return v
}

// skeleton is the markup of what was typed, without text and values: names of elements and of attributes.
func skeleton(t testing.TB, v *screen.View) (tags, text string) {
	t.Helper()
	for _, f := range v.Fragments() {
		if !strings.Contains("discounts customer remarks reopened ledger", f.ID) {
			continue
		}
		for _, e := range parse(t, f.HTML).all() {
			tags += e.name
			for _, a := range []string{"id", "class", "type", "name", "required", "data-act", "data-key", "onfocus"} {
				if value, ok := e.attr[a]; ok {
					tags += " " + a + "=" + value
				}
			}
			tags += "\n"
			text += e.text + e.attr["value"] + e.attr["aria-label"]
		}
	}
	return tags, text
}

func TestTextsNeverBecomeMarkup(t *testing.T) {
	want, _ := skeleton(t, dealt(t, [3]string{"a", "b", "c"}))
	rapid.Check(t, func(r *rapid.T) {
		var texts [3]string
		for i := range texts {
			texts[i] = "x" + strings.Join(rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom(nasty), rapid.String()), 0,
				4).Draw(r, "text"), "")
		}
		tags, text := skeleton(t, dealt(t, texts))
		if tags != want {
			t.Fatalf("%q changes the markup", texts)
		}
		for _, s := range texts {
			if !strings.Contains(text, readable(s)) {
				t.Errorf("a reader does not see %q", s)
			}
		}
	})
}
