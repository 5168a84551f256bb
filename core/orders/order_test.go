package orders_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/orders"
	"ribband/core/pack"
	"ribband/core/quote"
	"ribband/core/spec"
)

// issued is a quotation of the demo book as the quotation desk issues it.
func issued(t testing.TB, number string, revision int, s spec.Spec) []byte {
	t.Helper()
	e := enginetest.Demo()[pack.Show]
	a := enginetest.Answer(t, e, s)
	q, err := quote.Freeze(e, a, quote.Details{Number: number, Revision: revision, Date: "2027-01-11",
		Customer: quote.Party{Name: "Ottilie Sandmark", Address: []string{"7 Sluice Lane"}}})
	if err != nil {
		t.Fatal(err)
	}
	return q.Encode()
}

// launch is the plainest boat of a hull.
func launch(hull string) spec.Spec { return spec.Spec{Format: spec.Format, Hull: hull} }

// text is the file of an order with a few more keys.
func text(t testing.TB, number, more string) string {
	t.Helper()
	return `{"kind": "order of a launch", "format": 1, "number": "` + number + `", "accepted": "2027-01-18",
		"promised": "2027-W22", "quotation": ` + string(issued(t, "Q-"+number, 1, launch("sedge-46"))) + more + `}`
}

func TestOrderIsReadAsItWasWritten(t *testing.T) {
	o, err := orders.Decode([]byte(text(t, "2027-014", `, "done": [
		{"operation": "prepare-mould", "begun": "2027-02-01", "done": "2027-02-02", "hours": "5.5"},
		{"operation": "spray-gelcoat", "begun": "2027-02-02", "hours": "1"}],
		"paid": [{"stage": "With the order", "on": "2027-01-20", "amount": "6000.00"}]`)))
	if err != nil {
		t.Fatal(err)
	}
	if o.Promise().String() != "2027-W22" || o.Quote().Number != "Q-2027-014" || o.Done[0].Hours.String() != "5.5" ||
		!o.Done[1].Done.IsZero() {
		t.Errorf("read as %v %q %v", o.Promise(), o.Quote().Number, o.Done)
	}
	once, err := o.Encode()
	if err != nil {
		t.Fatal(err)
	}
	again, err := orders.Decode(once)
	if err != nil {
		t.Fatal(err)
	}
	twice, _ := again.Encode()
	if string(once) != string(twice) {
		t.Error("an order that was read and written twice is another one")
	}
}

// What is wrong with an order is told with its place and what to do.
func TestFaultsOfOrders(t *testing.T) {
	good := text(t, "2027-014", "")
	change := func(from, to string) string {
		if !strings.Contains(good, from) {
			t.Fatalf("the order has no %s", from)
		}
		return strings.Replace(good, from, to, 1)
	}
	for name, c := range map[string]struct{ text, want string }{
		"no JSON":         {"{", "line 1"},
		"another kind":    {change("order of a launch", "order of a lunch"), `kind: want "order of a launch"`},
		"another format":  {change(`"format": 1`, `"format": 2`), "format: it is 2, this program reads 1"},
		"no number":       {change(`"number": "2027-014"`, `"number": ""`), "number: give one"},
		"no such week":    {change("2027-W22", "2027-W53"), "there is no week 2027-W53: 2027 has the weeks W01 to W52"},
		"a week in words": {change("2027-W22", "late May"), "is no week; write it as 2027-W22"},
		"no such day":     {change("2027-01-18", "2027-02-30"), `"2027-02-30" is no day; write it as 2027-03-31`},
		"no quotation": {`{"kind": "order of a launch", "format": 1, "number": "1", "accepted": "2027-01-18",
			"promised": "2027-W22", "quotation": {}}`, "quotation: reading a quote: it is no quotation"},
		"an unknown key": {text(t, "2027-014", `, "price": 4`), "price"},
		"twice done": {text(t, "2027-014", done(`"2027-02-01", "hours": "1"`, `"2027-02-01", "hours": "2"`)),
			"done[1].operation: \"demould\" stands in done[0] already"},
		"negative hours":   {text(t, "2027-014", done(`"2027-02-01", "hours": "-1"`)), "done[0].hours: -1 h"},
		"absurd hours":     {text(t, "2027-014", done(`"2027-02-01", "hours": "123456"`)), "want 0 to 10000 h"},
		"a comma in hours": {text(t, "2027-014", done(`"2027-02-01", "hours": "1,5"`)), "1,5"},
		"done before begun": {text(t, "2027-014", done(`"2027-02-02", "done": "2027-02-01", "hours": `+
			`"1"`)), "2027-02-01 is before 2027-02-02"},
		"an unknown stage": {text(t, "2027-014", `, "paid": [{"stage": "Tip", "on": "2027-01-20", "amount": `+
			`"1"}]`), `paid[0].stage: the quotation has no "Tip"`},
		"change of another": {text(t, "2027-014", changed(issued(t, "Q-2", 2, launch("sedge-46")),
			"2027-02-01")),
			"want a later revision of Q-2027-014 than 1, not Q-2 revision 2"},
		"change of the past": {text(t, "2027-014", changed(issued(t, "Q-2027-014", 2, launch("sedge-46")),
			"2027-01-01")),
			"changes[0].accepted: 2027-01-01 is before 2027-01-18"},
	} {
		_, err := orders.Decode([]byte(c.text))
		if err == nil || !strings.Contains(err.Error(), c.want) ||
			!strings.HasPrefix(err.Error(), "reading an order: ") {
			t.Errorf("%s: %v; want %q", name, err, c.want)
		}
	}
}

// done are steps of one operation, from its day on.
func done(steps ...string) string {
	var list []string
	for _, s := range steps {
		list = append(list, `{"operation": "demould", "begun": `+s+`}`)
	}
	return `, "done": [` + strings.Join(list, ", ") + `]`
}

func changed(quotation []byte, on string) string {
	return `, "changes": [{"accepted": "` + on + `", "promised": "2027-W25", "quotation": ` + string(quotation) + `}]`
}

// The good orders of a folder are kept whatever is wrong with others.
func TestFolderKeepsWhatIsGood(t *testing.T) {
	f := orders.Read(map[string][]byte{
		"2027-014.json": []byte(text(t, "2027-014", "")),
		"2027-015.json": []byte(text(t, "2027-015", "")),
		"2027-016.json": []byte(text(t, "2027-014", "")), // copied, its number forgotten
		"2027-017.json": []byte(
			strings.Replace(text(t, "2027-015", ""), `"2027-015"`, `"2027-017"`, 1),
		), // the same quotation
		"2027-018.json": []byte("{"),
		"notes.txt":     []byte("to be asked"),
	})
	var got []string
	for _, o := range f.Orders {
		got = append(got, o.Number)
	}
	for _, fault := range f.Faults {
		got = append(got, fault.File)
	}
	if text := strings.Join(got, " "); text != "2027-014 2027-015 2027-016.json 2027-017.json 2027-018.json" {
		t.Errorf("read %s", text)
	}
	for i, want := range []string{`call the file 2027-014.json, or give it the number "2027-016"`,
		"Q-2027-015 stands in 2027-015.json already", "line 1"} {
		if !strings.Contains(f.Faults[i].Error(), want) {
			t.Errorf("%v; want %s", f.Faults[i], want)
		}
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(text(f, "2027-014", "")))
	f.Add([]byte(text(f, "2027-014", done(`"2027-02-01", "hours": "1"`))))
	f.Add([]byte(built(f, "2027-014", `{"hull_serial": "00031", "runs": [{"speed_kn": 4, "current_a": 17}]}`)))
	f.Fuzz(func(t *testing.T, b []byte) {
		o, err := orders.Decode(b)
		if err != nil {
			return
		}
		once, err := o.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := orders.Decode(once); err != nil {
			t.Fatalf("cannot read what it wrote: %v", err)
		}
	})
}
