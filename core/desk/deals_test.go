package desk_test

import (
	"encoding/json"
	"strings"
	"testing"

	"ribband/core/deals"
	"ribband/core/desk"
	"ribband/core/pack"
)

const day = "2027-03-31"

// asked is a request with what the page knows of day and device.
func asked(r desk.Request, given ...string) desk.Request {
	r.Today, r.Device, r.Given = day, "A", given
	return r
}

// saysAll looks for several words in a fragment.
func (v *visitor) saysAll(id string, words ...string) {
	v.t.Helper()
	for _, w := range words {
		v.says(id, w)
	}
}

func text(t *testing.T, v any) string {
	t.Helper()
	b, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// A quotation's number and dates are proposed at the start of a visit, for the next customer and on starting again;
// a buyer has none.
func TestNumbersAndDatesAreProposed(t *testing.T) {
	v := visit(t, demo()[pack.Show])
	v.does(asked(desk.Request{Act: "open"}, "2027-A007", "2026-A099"))
	v.saysAll("customer", `value="2027-A008"`, `value="2027-03-31"`)
	r := v.does(asked(desk.Request{Act: "freeze", Form: form("number", "2027-A008")}, "2027-A007"))
	if r.Quote == "" || !strings.Contains(r.Quote, `"number": "2027-A008"`) {
		t.Errorf("the reply has the quotation %.200s", r.Quote)
	}
	v.fails(asked(desk.Request{Act: "freeze", Form: form("number", " 2027-a008")}, "2027-A007", "2027-A008"),
		"The next free one is 2027-A009")
	r = v.does(asked(desk.Request{Act: "new", Form: map[string]string{"seller": "Bram Oakhollow"}}, "2027-A008"))
	if !r.Fresh || !r.Plain {
		t.Errorf("the next customer gets %+v", r)
	}
	v.saysAll("customer", `value="2027-A009"`, `value="Bram Oakhollow"`)
	if strings.Contains(v.shown["customer"], "Sandmark") {
		t.Error("the next customer's form has the last one's name")
	}
	// A boat that was stored before anything was typed for its quotation had neither number nor date when it was opened
	// again, and could not be issued.
	kept := v.last.Spec
	again := visit(t, demo()[pack.Show])
	again.does(asked(desk.Request{Act: "open", Text: kept}, "2027-A008"))
	again.saysAll("customer", `value="2027-A009"`, `value="2027-03-31"`)
	v.does(asked(desk.Request{Act: "freeze", Form: form("number", "2027-A009")}, "2027-A008"))
	v.does(asked(desk.Request{Act: "open", Text: kept}, "2027-A009"))
	if v.saysAll("customer", `value="2027-A010"`); strings.Contains(v.shown["customer"], "Sandmark") {
		t.Error("a record without a customer has the name of the one before")
	}
	b := visit(t, demo()[pack.Buyer])
	b.does(asked(desk.Request{Act: "open"}))
	if strings.Contains(b.page, "2027-A") {
		t.Error("the buyer's page proposes a number")
	}
}

// What the page keeps of the steps back brings them back, in another page too; a step that cannot be read ends them.
func TestUndoOutlivesThePage(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	var past []desk.Past
	for _, r := range []desk.Request{{Act: "hull", Value: "reed-65"}, {Act: "hull", Value: "osier-76"},
		{Act: "use", Field: "persons", Value: "4"}} {
		r := v.does(r)
		if r.Pushed == nil {
			t.Fatalf("nothing is pushed by %+v", r)
		}
		past = append(past, *r.Pushed)
	}
	kept := v.last.Spec
	again := visit(t, demo()[pack.Show])
	again.does(desk.Request{Act: "open", Text: kept, Past: past})
	for _, want := range []string{"osier-76", "reed-65", "sedge-46"} {
		if r := again.does(desk.Request{Act: "undo"}); !r.Popped || again.spec().Hull != want {
			t.Errorf("undone the hull is %s, want %s", again.spec().Hull, want)
		}
	}
	again.fails(desk.Request{Act: "undo"}, "nothing to undo")
	past[1].Spec = `{"format": 1, "hu`
	torn := visit(t, demo()[pack.Show])
	torn.does(desk.Request{Act: "open", Text: kept, Past: past})
	torn.does(desk.Request{Act: "undo"})
	torn.fails(desk.Request{Act: "undo"}, "nothing to undo")
}

// Another record has steps of its own, also none.
func TestAnotherRecordHasItsOwnSteps(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	v.does(desk.Request{Act: "hull", Value: "reed-65"})
	v.does(asked(desk.Request{Act: "new", Past: []desk.Past{}}))
	v.fails(desk.Request{Act: "undo"}, "nothing to undo")
}

func TestListShowsWhatIsSearched(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	rows := []deals.Row{
		{ID: "a", State: deals.Issued, Number: "2027-A001", Revision: 2, Customer: "Ada <Example>", Boat: "Reed 65",
			Total: "80 000.00 EUR", Date: "2027-02-01", Valid: "2027-03-30", Saved: "2027-02-01T09:00:00Z"},
		{ID: "b", State: deals.Draft, Revision: 1, Boat: "Osier 76", Saved: "2027-03-31T09:00:00Z", Open: true},
		{ID: "c", State: deals.Draft, Revision: 1, Boat: "Sedge 46", Saved: "2027-03-01T09:00:00Z", Plain: true},
	}
	v.does(asked(desk.Request{Act: "deals", Text: text(t, rows)}))
	v.saysAll("deals", "2027-A001, revision 2, Ada &lt;Example&gt;, Reed 65", "lapsed", "Osier 76", `data-key="a"`)
	if strings.Contains(v.shown["deals"], "Sedge 46") || strings.Contains(v.shown["deals"], `id="deal-open-b"`) {
		t.Errorf("an untouched boat is listed, or what is open can be opened: %s", v.shown["deals"])
	}
	v.does(asked(desk.Request{Act: "deals", Text: text(t, rows), Value: "lapsed ada"}))
	if strings.Contains(v.shown["deals"], "Osier 76") {
		t.Error("a search shows all")
	}
	v.does(asked(desk.Request{Act: "deals", Text: text(t, rows), Value: "<nobody>"}))
	v.saysAll("deals", "Nothing here matches “&lt;nobody&gt;”.")
	v.fails(desk.Request{Act: "deals", Text: `[{"idd": 1}]`}, "idd")
}

// A revision is laid beside what the customer has in hand: while it is a draft as the boat on the page is, once issued
// as it was issued.
func TestRevisionsAreCompared(t *testing.T) {
	v := opened(t, demo()[pack.Show])
	form := map[string]string{"number": "2027-A001", "date": day, "revision": "1", "name": "Ada Example"}
	record := func(quotation string) deals.Record { return deals.Record{ID: "a", Spec: v.last.Spec, Quote: quotation} }
	was := v.does(asked(desk.Request{Act: "freeze", Form: form})).Quote
	v.does(desk.Request{Act: "hull", Value: "reed-65"})
	compared := func(now string) *desk.Paper {
		t.Helper()
		r := v.does(desk.Request{Act: "deals-compare", Text: text(t, []deals.Record{record(was), record(now)})})
		if r.Paper == nil || len(r.Paper.Files) != 2 || r.Paper.Files[1].Name != "comparison-2027-A001.csv" {
			t.Fatalf("the reply is %+v", r)
		}
		return r.Paper
	}
	draft := compared("")
	form["revision"] = "2"
	now := v.does(asked(desk.Request{Act: "freeze", Form: form})).Quote
	v.does(desk.Request{Act: "hull", Value: "osier-76"})
	issued := compared(now)
	for p, words := range map[*desk.Paper][]string{draft: {"Sedge 46", "Reed 65", "2027-A001", "Specification and " +
		"price"},
		issued: {"Sedge 46", "Reed 65", "revision 2"}} {
		for _, w := range words {
			if !strings.Contains(p.HTML, w) {
				t.Errorf("%q is not in %.200s", w, p.HTML)
			}
		}
	}
	v.fails(desk.Request{Act: "deals-compare", Text: text(t, []deals.Record{record(was)})}, "the page gave one record")
	v.fails(desk.Request{Act: "deals-compare", Text: text(t, []deals.Record{record(""), record(was)})},
		"Reading a quote")
}

// A file from the show comes to the yard, which has gone on with one of the records; then it comes again.
func TestFilesOfQuotations(t *testing.T) {
	show, yard := opened(t, demo()[pack.Show]), opened(t, demo()[pack.Yard])
	record := func(id string) deals.Record {
		return deals.Record{ID: id, Created: "2027-03-01T09:00:00Z", Saved: "2027-03-01T09:00:00Z", State: deals.Draft,
			Revision: 1, Boat: "Reed 65", Spec: show.last.Spec,
			Form: map[string]string{"quotation.name": "Ada Example"}}
	}
	r := show.does(asked(desk.Request{Act: "deals-export", Text: text(t, []deals.Record{record("a"), record("b")}),
		Value: "2027-03-31T18:00:00Z"}))
	if r.File == nil || r.File.Name != "quotations-A-2027-03-31.json" || len(r.Put) != 2 || len(r.Put[0].Bases) != 1 {
		t.Fatalf("exported is %+v, to be stored %+v", r.File, r.Put)
	}
	have := r.Put[0]
	have.Spec = strings.Replace(have.Spec, "sedge-46", "osier-76", 1)
	gone := r.Put[0]
	gone.Form = map[string]string{"quotation.name": "Bo Example"}
	file := show.does(asked(desk.Request{Act: "deals-export", Text: text(t, []deals.Record{gone, r.Put[1]}),
		Value: "2027-04-01T18:00:00Z"})).File
	wanted := yard.does(desk.Request{Act: "deals-import", Text: file.Text}).Wanted
	if strings.Join(wanted, " ") != "a b" {
		t.Errorf("the page is asked for %q", wanted)
	}
	in := yard.does(desk.Request{Act: "deals-merge", Text: text(t, []deals.Record{have})})
	if len(in.Put) != 2 || in.Put[0].Origin != "a" || in.Put[1].ID != "b" {
		t.Errorf("to be stored are %+v", in.Put)
	}
	yard.saysAll("remarks", "1 added", "1 changed on both devices", "Bo Example, Reed 65: changed here and on the "+
		"other")
	yard.does(desk.Request{Act: "deals-import", Text: file.Text})
	in = yard.does(desk.Request{Act: "deals-merge", Text: text(t, append(in.Put, have))})
	if len(in.Put) != 0 {
		t.Errorf("the same file again stores %+v", in.Put)
	}
	yard.saysAll("remarks", "2 were here already")
	yard.fails(desk.Request{Act: "deals-import", Text: file.Text[:len(file.Text)/2]}, "file of quotations: line")
	if r := yard.does(desk.Request{Act: "file", Text: file.Text}); len(r.Wanted) != 2 {
		t.Error("a file of quotations is not taken in where a quotation is opened")
	}
}
