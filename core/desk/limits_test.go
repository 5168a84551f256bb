package desk_test

import (
	"fmt"
	"strings"
	"testing"

	"ribband/core/desk"
	"ribband/core/pack"
	"ribband/core/spec"
)

// A request that is too large is refused with the part that is, and nothing changes.
func TestRequestsAreBounded(t *testing.T) {
	v := opened(t, small()[pack.Show])
	long := strings.Repeat("x", 1001)
	many := func(n int) (list []string) {
		for i := range n {
			list = append(list, fmt.Sprint(i))
		}
		return list
	}
	form := map[string]string{}
	for _, name := range many(501) {
		form[name] = ""
	}
	for _, c := range []struct {
		request desk.Request
		want    string
	}{
		{desk.Request{Act: long}, `"act" is 1001, and at most 1000 is taken`},
		{desk.Request{Act: "choose", Option: long}, `"option" is 1001`},
		{desk.Request{Act: "use", Field: "persons", Value: long}, `"value" is 1001`},
		{desk.Request{Act: "discount", Form: map[string]string{"title": strings.Repeat("x", 20_001)}},
			`"form.title" is 20001`},
		{desk.Request{Act: "discount", Form: form}, `"form" is 501`},
		{desk.Request{Act: "deals", Given: many(10_001)}, `"given" is 10001`},
		{desk.Request{Act: "open", Past: make([]desk.Past, 201)}, `"past" is 201`},
		{desk.Request{Act: "open", Link: strings.Repeat("x", 2<<20+1)}, `"link" is 2097153`},
		{desk.Request{Act: "file", Text: strings.Repeat(" ", 64<<20+1)}, `"text" is 67108865`},
	} {
		v.fails(c.request, c.want)
	}
}

// A link of a megabyte was read for 43 seconds, and each of its parts was remarked on.
func TestALargeBrokenLinkIsShortWork(t *testing.T) {
	for _, size := range []int{60_000, 1 << 20} {
		for _, part := range []string{"x/", "a!/", "no=such/", "slot=a+b+c/"} {
			v := opened(t, small()[pack.Buyer])
			r := v.does(desk.Request{Act: "open", Link: "1/teasel-48/" + strings.Repeat(part, size/len(part))})
			sent := 0
			for _, f := range r.Fragments {
				sent += len(f.HTML)
			}
			if sent > 200_000 {
				t.Errorf("a link of %d bytes of %q: %d bytes come back", size, part, sent)
			}
		}
	}
}

// What cannot be seen is left out of what was typed, and said; it reaches neither page, paper nor file. In a file from
// elsewhere it is refused by its name.
func TestWhatCannotBeSeenReachesNoPaper(t *testing.T) {
	hidden := []string{"\u202e", "\u200b", "\u2066", "\x1b", "\u00ad"}
	v := opened(t, small()[pack.Show])
	v.does(desk.Request{Act: "extra", Form: map[string]string{"title": "Fl\u200bag\u202e", "price": "40",
		"basis": "net"}})
	v.does(desk.Request{Act: "discount", Form: map[string]string{"title": "Show\u2066", "value": "1 %"}})
	f := form("name", "Ottilie\u202e Sandmark\x1b[2J", "address", "7 Sluice\u00ad Lane\nTarnwick", "remarks",
		"Mooring\u200b 12.\nNot before nine.", "number", "T-\u200b9")
	r := v.does(desk.Request{Act: "freeze", Form: f})
	if !strings.Contains(v.page, "Characters that cannot be seen were left out of what was typed.") {
		t.Error("it is not said that something was left out")
	}
	texts := map[string]string{"page": v.page, "paper": r.Paper.HTML, "quotation": r.Quote, "spec": r.Spec}
	for _, f := range r.Paper.Files {
		texts[f.Name] = f.Text
	}
	for name, text := range texts {
		for _, h := range hidden {
			if strings.Contains(text, h) {
				t.Errorf("%q is in the %s", h, name)
			}
		}
	}
	for _, want := range []string{"Ottilie Sandmark[2J", "7 Sluice Lane", "Mooring 12.", "T-9", "Flag"} {
		if !strings.Contains(r.Paper.HTML, want) {
			t.Errorf("%q is not on the paper", want)
		}
	}
	v.fails(desk.Request{Act: "file", Text: strings.Replace(r.Quote, "Ottilie", "Otti\u202elie", 1)},
		"customer.name: behind “Otti” there is a character that cannot be seen, U+202E")
	v.fails(desk.Request{Act: "file", Text: `{"format": 1, "hull": "teasel\u200b-48"}`},
		"hull: behind “teasel” there is a character that cannot be seen, U+200B")
	v.fails(desk.Request{Act: "choose", Option: "top\u202e"}, `top\u202e`)
	link := spec.Spec{Format: 1, Hull: "tea\u202esel"}.Link()
	v.does(desk.Request{Act: "open", Link: link})
	for _, h := range hidden {
		if strings.Contains(v.page, h) {
			t.Errorf("%q is on the page", h)
		}
	}
	rows := `[{"id":"a","state":"draft","number":"7","revision":1,"customer":"Ada\u202e","saved":"2027-03-01T08:00:00Z"}]`
	v.does(desk.Request{Act: "deals", Text: rows})
	if !strings.Contains(v.page, "Ada‹U+202E›") {
		t.Error("the list does not show what is in a customer's name")
	}
}
