package deals_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ribband/core/deals"
)

func record(id, spec string) deals.Record {
	return deals.Record{ID: id, Created: "2027-03-01T08:00:00Z", Saved: "2027-03-01T08:30:00Z", State: deals.Draft,
		Revision: 1, Spec: spec, Form: map[string]string{"quotation.number": "2027-A001",
			"quotation.name": "Ada Example"}}
}

func TestFileReadsBackWhatItWrites(t *testing.T) {
	issued := record("b-2", "{}")
	issued.State, issued.Quote = deals.Issued, "{\n  \"number\": \"2027-A001\"\n}\n"
	f := deals.File{Device: "A", Written: "2027-03-01T09:00:00Z", Records: []deals.Record{record("a-1", "{}"), issued}}
	text := f.Encode()
	if !deals.Is(text) {
		t.Error("the file is not known for one")
	}
	read, err := deals.Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	for i, r := range read.Records {
		if r.Digest() != f.Records[i].Digest() || !slices.Equal(r.Bases, []string{r.Digest()}) {
			t.Errorf("record %d came back as %+v", i, r)
		}
	}
	if again := read.Encode(); string(again) != string(text) {
		t.Errorf("written again it is\n%s", again)
	}
}

func TestDecodeRefusesWithPlaceAndRemedy(t *testing.T) {
	sound := deals.File{Written: "2027-03-01T09:00:00Z", Records: []deals.Record{record("a-1", "{}")}}
	for _, c := range []struct{ old, new, want string }{
		{`"format": 1`, `"format": 2`, "format 2"},
		{`"id": "a-1"`, `"id": "a/1"`, "records[0].id: "},
		{`"state": "draft"`, `"state": "sold"`, "records[0].state: "},
		{`"state": "draft"`, `"state": "issued"`, "records[0].quote: "},
		{`"revision": 1`, `"revision": 0`, "records[0].revision: "},
		{`"saved": "2027-03-01T08:30:00Z"`, `"saved": "yesterday"`, "records[0].saved: "},
		{`"version": 0`, `"versions": 0`, "records[0].versions"},
		{`"spec": "{}"`, `"spec": {}`, "records[0].spec: this is an object"},
	} {
		text := strings.Replace(string(sound.Encode()), c.old, c.new, 1)
		if _, err := deals.Decode([]byte(text)); err == nil || !strings.Contains(err.Error(), c.want) ||
			!strings.HasPrefix(err.Error(), "reading a file of quotations: ") {
			t.Errorf("with %s: %v, want %q", c.new, err, c.want)
		}
	}
	twice := deals.File{Written: "2027-03-01T09:00:00Z", Records: []deals.Record{record("a-1", "{}"), record("a-1",
		"1")}}
	if _, err := deals.Decode(twice.Encode()); err == nil || !strings.Contains(err.Error(), "records[1].id: a-1 "+
		"stands here twice") {
		t.Errorf("a record twice: %v", err)
	}
}

func TestMerge(t *testing.T) {
	base := record("a-1", "base")
	changed := func(r deals.Record, spec string) deals.Record { r.Spec = spec; return r }
	left := leave(base) // it has been to another device
	for _, c := range []struct {
		name     string
		have, in deals.Record
		want     deals.Arrival
		put      string // the identifier to be stored
	}{
		{"new", record("b-2", "x"), base, deals.Added, "a-1"},
		{"the same again", left, left, deals.Same, ""},
		{"an old copy", changed(left, "on"), left, deals.Older, ""},
		{"a copy that went on", left, changed(left, "on"), deals.Newer, "a-1"},
		{"both went on", changed(left, "mine"), changed(left, "theirs"), deals.Diverged, "a-1-"},
		{"of one name, by chance", base, changed(record("a-1", "x"), "y"), deals.Diverged, "a-1-"},
	} {
		t.Run(c.name, func(t *testing.T) {
			have := []deals.Record{c.have}
			o := deals.Merge(have, []deals.Record{c.in})[0]
			if o.Arrival != c.want || (o.Put == nil) != (c.put == "") {
				t.Fatalf("it is %s, put %+v; want %s", o.Arrival, o.Put, c.want)
			}
			if o.Put == nil {
				return
			}
			if !strings.HasPrefix(o.Put.ID, c.put) {
				t.Errorf("it is stored as %s, want %s", o.Put.ID, c.put)
			}
			if c.want == deals.Diverged && (o.Put.Origin != c.have.ID || o.Put.Revision != 2) {
				t.Errorf("stored as revision %d of %s", o.Put.Revision, o.Put.Origin)
			}
			again := deals.Merge(stored(have, *o.Put), []deals.Record{c.in})[0]
			if again.Put != nil {
				t.Errorf("imported again it is %s, and stored as %s", again.Arrival, again.Put.ID)
			}
		})
	}
}

func TestTwoPapersOfOneNumberAreSaid(t *testing.T) {
	mine, theirs := record("a-1", "x"), record("b-2", "y")
	for _, r := range []*deals.Record{&mine, &theirs} {
		r.State, r.Quote = deals.Issued, "{}"
	}
	theirs.Form = map[string]string{"quotation.number": "2027-a001 "}
	if o := deals.Merge([]deals.Record{mine}, []deals.Record{theirs})[0]; o.Double != "a-1" ||
		o.Arrival != deals.Added {
		t.Errorf("got %+v", o)
	}
	theirs.Revision = 2
	if o := deals.Merge([]deals.Record{mine}, []deals.Record{theirs})[0]; o.Double != "" {
		t.Errorf("a revision is called a double of %s", o.Double)
	}
}

// leave is a record as it is after an export.
func leave(r deals.Record) deals.Record {
	f := deals.File{Written: r.Saved, Records: []deals.Record{r}}
	read, err := deals.Decode(f.Encode())
	if err != nil {
		panic(err)
	}
	return read.Records[0]
}

// stored is what a device has after it has stored a record.
func stored(have []deals.Record, put deals.Record) []deals.Record {
	have = slices.Clone(have)
	if i := slices.IndexFunc(have, func(r deals.Record) bool { return r.ID == put.ID }); i >= 0 {
		have[i] = put
		return have
	}
	return append(have, put)
}

// Three devices change records and exchange files in any order. Whatever one of them had before an import is there
// after it, unless it is what something that is there went on from.
func TestImportsNeverDestroy(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		devices := make([]map[string]deals.Record, 3)
		for i := range devices {
			devices[i] = map[string]deals.Record{}
		}
		from := map[string]string{} // the content that a content was made of
		made := 0
		for range rapid.IntRange(1, 40).Draw(r, "steps") {
			at := rapid.IntRange(0, 2).Draw(r, "device")
			ids := slices.Sorted(maps.Keys(devices[at]))
			switch what := rapid.IntRange(0, 2).Draw(r, "what"); {
			case what == 0 || len(ids) == 0:
				made++
				devices[at][fmt.Sprintf("r-%d", made)] = record(fmt.Sprintf("r-%d", made), fmt.Sprint("content ", made))
			case what == 1:
				made++
				old := devices[at][rapid.SampledFrom(ids).Draw(r, "record")]
				from[fmt.Sprint("content ", made)] = old.Spec
				old.Spec = fmt.Sprint("content ", made)
				devices[at][old.ID] = old
			default:
				to := (at + rapid.IntRange(1, 2).Draw(r, "to")) % 3
				exchange(r, devices[at], devices[to], from)
			}
		}
	})
}

func exchange(t *rapid.T, from, to map[string]deals.Record, parent map[string]string) {
	var out []deals.Record
	for _, id := range slices.Sorted(maps.Keys(from)) {
		from[id] = leave(from[id])
		out = append(out, from[id])
	}
	before := slices.Collect(maps.Values(to))
	for _, o := range deals.Merge(before, out) {
		if o.Put != nil {
			to[o.Put.ID] = *o.Put
		}
	}
	ancestors := map[string]bool{} // of what is there now, with itself
	for _, r := range to {
		for at, ok := r.Spec, true; ok; at, ok = parent[at] {
			ancestors[at] = true
		}
	}
	for _, r := range append(before, out...) {
		if !ancestors[r.Spec] {
			t.Fatalf("%q of %s is lost", r.Spec, r.ID)
		}
	}
	for _, o := range deals.Merge(slices.Collect(maps.Values(to)), out) {
		if o.Put != nil {
			t.Fatalf("imported twice, %s is %s", o.Record.ID, o.Arrival)
		}
	}
}

func TestSearchFindsEveryWord(t *testing.T) {
	rows := []deals.Row{
		{ID: "1", State: deals.Draft, Customer: "Ada Example", Boat: "Reed 65", Saved: "2027-03-01T08:00:00Z"},
		{ID: "2", State: deals.Issued, Number: "2027-A002", Customer: "Bo Example", Boat: "Reed 65", Date: "2027-02-01",
			Valid: "2027-03-03", Saved: "2027-02-01T08:00:00Z"},
	}
	for query, want := range map[string]string{"": "12", "example": "12", "reed bo": "2", "ADA 65": "1",
		"2027-a002": "2", "lapsed": "2", "draft": "1", "issued": "", "2027-02": "2", "nobody": ""} {
		got := ""
		for _, r := range deals.Search(rows, query, "2027-03-04", func(s deals.State) string { return string(s) }) {
			got += r.ID
		}
		if got != want {
			t.Errorf("%q finds %q, want %q", query, got, want)
		}
	}
	if rows[1].On("2027-03-03") != deals.Issued || rows[1].On("2027-03-04") != deals.Lapsed {
		t.Error("it does not lapse the day after it is valid")
	}
}

func FuzzDecode(f *testing.F) {
	file := deals.File{Device: "A", Written: "2027-03-01T09:00:00Z", Records: []deals.Record{record("a-1", "{}")}}
	f.Add(file.Encode())
	f.Add([]byte(`{"format":1,"kind":"quotations of a launch yard","written":"","records":[{}]}`))
	// a form of no fields was another record once it had been to another device
	f.Add([]byte(`{"format":1,"kind":"quotations of a launch yard","written":"","records":[{"id":"a","version":0,` +
		`"created":"2027-03-01T08:00:00Z","saved":"2027-03-01T08:00:00Z","state":"draft","revision":1,"spec":"{}",` +
		`"form":{}}]}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		read, err := deals.Decode(text)
		if err != nil {
			return
		}
		again, err := deals.Decode(read.Encode())
		if err != nil || len(again.Records) != len(read.Records) {
			t.Fatalf("what was read cannot be read again: %v", err)
		}
		for i := range again.Records {
			if again.Records[i].Digest() != read.Records[i].Digest() {
				t.Fatalf("record %d changed", i)
			}
		}
		for _, o := range deals.Merge(read.Records, again.Records) {
			if o.Put != nil {
				t.Fatalf("the same file again is %s", o.Arrival)
			}
		}
	})
}
