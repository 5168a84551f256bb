package desk_test

import (
	"math/rand/v2"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/desk"
	"ribband/core/pack"
	"ribband/core/spec"
)

var allActs = []string{"open", "hull", "choose", "toggle", "count", "empty", "standard", "use", "units", "reset",
	"discount", "extra", "trade-in", "remove", "freeze", "file", "specification", "sheet", "reason", "repair", "keep",
	"undo", "redo"}

// words are what a request may hold: mostly something that means something somewhere.
type words struct {
	options, slots, fields, values, titles, numbers, texts, links []string
}

func wordsOf(p *pack.Pack) words {
	w := words{
		options: []string{"unicorn", ""}, slots: []string{"cabin", ""},
		fields: []string{"moon", "0", "1", "-1", "99", ""},
		values: []string{"0", "1", "2", "3", "4.5", "-1", "1e999", "NaN", "us", "sea", "home", "abroad", "", "\x00",
			"<b>", "1000000000000000000000"},
		titles:  []string{"A title", "", "<script>", "\xff", "ä\u202e"},
		numbers: []string{"3 %", "3,5%", "500", "0", "-1", "1,500", "", "much", "99999999999999", "0.000000001", "1 %"},
		texts: []string{"", "{}", "null", "rubbish", `{"format":1,"hull":"gone"}`,
			`{"format":1,"kind":"quote of a launch"}`},
		links: []string{"", "1/", "1/gone/x=/y:1/00000000", "rubbish"},
	}
	for _, o := range p.Options {
		w.options = append(w.options, o.ID)
	}
	for _, s := range p.Slots {
		w.slots = append(w.slots, s.ID)
	}
	for _, u := range p.Use {
		w.fields = append(w.fields, u.ID)
		for _, c := range u.Choices {
			w.values = append(w.values, c.ID)
		}
	}
	for _, h := range p.Hulls {
		w.values = append(w.values, h.ID)
		s := spec.Spec{Format: 1, Hull: h.ID, Use: map[string]spec.Value{p.Use[0].ID: {Number: 2}}}
		w.texts = append(w.texts, string(s.Encode()))
		w.links = append(w.links, s.Link(), s.Link()[:len(s.Link())-3])
	}
	return w
}

// request makes a request of what pick picks from lists. Files and links come from earlier replies too.
func (w words) request(v *visitor, frozen *string, pick func([]string) string) desk.Request {
	r := desk.Request{
		Act: pick(allActs), Slot: pick(w.slots), Option: pick(w.options), Field: pick(w.fields),
		Key: pick([]string{"extra", "discount", "trade-in", "x", "0", "1"}), Value: pick(w.values),
		Checked: pick([]string{"", "x"}) != "", Text: pick(append(w.texts, v.last.Spec, *frozen)),
		Link: pick(append(w.links, v.last.Link, "", "")),
		Form: map[string]string{
			"title": pick(w.titles), "value": pick(w.numbers), "on": pick([]string{"", "", "line-1", "top", "boat"}),
			"price": pick(w.numbers), "cost": pick(w.numbers), "hours": pick([]string{"", "2,5", "x", "-1"}),
			"shop": pick([]string{"", "assembly", "moon"}), "number": pick([]string{"", "7", "HL/7"}),
			"date": pick([]string{"2027-02-06", "2027-02-06", "soon"}), "name": pick(w.titles),
			"approval": pick(w.titles),
		},
	}
	return r
}

// remember keeps a quotation for later.
func remember(r desk.Reply, frozen *string) {
	if r.Paper == nil {
		return
	}
	for _, f := range r.Paper.Files {
		if strings.HasPrefix(f.Name, "quotation-") && strings.HasSuffix(f.Name, "-for-the-yard.json") {
			*frozen = f.Text
		}
	}
}

// Whatever is asked is answered, the page is as a fresh one would be, an error changes nothing, and the stored spec
// opens to the same boat.
func TestRandomRequests(t *testing.T) {
	for _, name := range pack.Desks {
		p := small()[name]
		w := wordsOf(p)
		rapid.Check(t, func(r *rapid.T) {
			v := opened(t, p)
			frozen := ""
			pick := func(list []string) string { return rapid.SampledFrom(list).Draw(r, "word") }
			for range rapid.IntRange(1, 8).Draw(r, "steps") {
				remember(v.asks(w.request(v, &frozen, pick)), &frozen)
			}
			again := visit(t, p)
			if got := again.does(desk.Request{Act: "open", Text: v.last.Spec}).Spec; got != v.last.Spec {
				t.Fatalf("stored as %s, opened as %s", v.last.Spec, got)
			}
		})
	}
}

// The demo book is too large to be asked as often: the same walk each time, every step on each desk.
func TestRandomRequestsOfTheDemoBook(t *testing.T) {
	for _, name := range pack.Desks {
		p := demo()[name]
		w := wordsOf(p)
		random := rand.New(rand.NewPCG(7, 54))
		pick := func(list []string) string { return list[random.IntN(len(list))] }
		v, frozen := opened(t, p), ""
		for range 12 {
			remember(v.asks(w.request(v, &frozen, pick)), &frozen)
		}
	}
}

// The same requests give the same replies, byte for byte.
func TestRepliesAreDeterministic(t *testing.T) {
	p := demo()[pack.Yard]
	w := wordsOf(p)
	var first []string
	for round := range 2 {
		random := rand.New(rand.NewPCG(1, 2))
		pick := func(list []string) string { return list[random.IntN(len(list))] }
		v, frozen := visit(t, p), ""
		for i := range 8 {
			r := v.asks(w.request(v, &frozen, pick))
			remember(r, &frozen)
			switch text := encoded(t, r); {
			case round == 0:
				first = append(first, text)
			case first[i] != text:
				t.Fatalf("step %d is answered by\n%.300s\nand by\n%.300s", i, first[i], text)
			}
		}
	}
}
