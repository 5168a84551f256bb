package quote_test

import (
	"bytes"
	"errors"
	"os"
	"strings"
	"testing"

	"ribband/core/engine"
	"ribband/core/engine/enginetest"
	"ribband/core/msg"
	"ribband/core/pack"
	"ribband/core/quote"
)

// spoken is the small boat's engine in English under the tag of another language, with a word of its own.
func spoken(t testing.TB, tag string) *engine.Engine {
	t.Helper()
	file, err := os.ReadFile("../msg/en.json")
	if err != nil {
		t.Fatal(err)
	}
	file = bytes.Replace(file, []byte(`"language.tag": "en"`), []byte(`"language.tag": "`+tag+`"`), 1)
	file = bytes.Replace(file, []byte(`"quote.boat": "Boat"`), []byte(`"quote.boat": "Boot"`), 1)
	l, err := msg.Read(tag+".json", file)
	if err != nil {
		t.Fatal(err)
	}
	e, err := enginetest.Small()[pack.Show].In(l)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// A quotation is frozen in the language of who issued it and opened again in the same, whatever the desk speaks that
// opens it: or every word would be said to have changed.
func TestAQuotationKeepsItsLanguage(t *testing.T) {
	english, german := enginetest.Small()[pack.Show], spoken(t, "de")
	for name, e := range map[string]*engine.Engine{"en": english, "de": german} {
		q := enginetest.Frozen(t, e, enginetest.Teasel(t, "top=top-fixed"))
		if q.Language != name || !bytes.Contains(q.Encode(), []byte(`"language": "`+name+`"`)) {
			t.Fatalf("frozen in %q, want %s", q.Language, name)
		}
		if want := map[string]string{"en": "Boat", "de": "Boot"}[name]; q.Price.Lines[0].Section != want {
			t.Errorf("the first line stands under %q, want %q", q.Price.Lines[0].Section, want)
		}
		fresh, differences := reopened(t, e, q)
		if len(differences) > 0 || !bytes.Equal(fresh.Encode(), q.Encode()) {
			t.Errorf("%s: %s", name, strings.Join(differences, "\n"))
		}
	}
	fresh, differences := reopened(t, german, enginetest.Frozen(t, english, enginetest.Teasel(t)))
	if len(differences) > 0 || fresh.Language != "en" {
		t.Errorf("English, opened at a German desk, is %q with %v", fresh.Language, differences)
	}
}

// A language that the program does not speak is said first, and the rest is compared in English.
func TestReopenInAnUnknownLanguage(t *testing.T) {
	q := enginetest.Frozen(t, spoken(t, "pl"), enginetest.Teasel(t))
	fresh, differences := reopened(t, enginetest.Small()[pack.Show], q)
	if fresh.Language != "en" {
		t.Errorf("compared in %q", fresh.Language)
	}
	enginetest.WantList(t, "differences", differences, []string{
		"Language: pl -> The program does not speak this language: the words are compared in English."})
}

// What a salesperson reads when he freezes or opens a quotation is a message, in whatever language, with its cause in
// the same.
func TestErrorsAreMessages(t *testing.T) {
	e := enginetest.Small()[pack.Show]
	a := enginetest.Answer(t, e, enginetest.Teasel(t))
	_, frozen := quote.Freeze(e, a, quote.Details{Number: "1", Date: "soon"})
	_, read := quote.Decode([]byte(`{"kind": "invoice"}`))
	_, details := quote.DecodeDetails([]byte(`{"remarks": "` + strings.Repeat("x", 10_001) + `"}`))
	q := enginetest.Frozen(t, e, enginetest.Teasel(t))
	_, _, _, opened := quote.Reopen(enginetest.Demo()[pack.Show], q)
	l := enginetest.Marked(t)
	for name, err := range map[string]error{"freeze": frozen, "decode": read, "details": details} {
		var said *msg.Error
		if !errors.As(err, &said) {
			t.Errorf("%s: %v is no message", name, err)
			continue
		}
		own := []string{"soon", "invoice", "remarks"}
		if words := enginetest.Unmarked(l.Text(msg.Of(err)), own...); len(words) > 0 {
			t.Errorf("%s: %s", name, words)
		}
	}
	var said *msg.Error
	if !errors.As(opened, &said) || said.Message.Code != "quote.reopening" {
		t.Errorf("opening: %v", opened)
	}
}

// What is said to have changed is said in the language of who opened the file.
func TestDifferencesAreMessages(t *testing.T) {
	before := enginetest.Small()[pack.Show]
	after := enginetest.Edited(t, enginetest.Edit{"boat.yaml", `price: "1450"`, `price: "1500"`},
		enginetest.Edit{"yard.yaml", "title: At handover", "title: At the launch"},
		enginetest.Edit{"yard.yaml", `rate: "0.20", mode: inclusive`, `rate: "0.21", mode: inclusive`})[pack.Show]
	q := enginetest.Frozen(t, before, enginetest.Teasel(t, "top=top-fixed", "stowage=pocket*2"))
	q.Yard.Bank.IBAN = "DE00 1111"
	q.Price.Lines[1], q.Price.Lines[2] = q.Price.Lines[2], q.Price.Lines[1]
	_, _, differences, err := quote.Reopen(enginetest.InMarks(t, after), read(t, q))
	if err != nil {
		t.Fatal(err)
	}
	if len(differences) < 12 {
		t.Fatalf("only %d differences", len(differences))
	}
	l := enginetest.Marked(t)
	for _, d := range differences {
		if words := enginetest.Unmarked(l.Text(d.Place)); len(words) > 0 && !d.Place.Is("quote.within") {
			t.Errorf("the place: %s", words)
		}
	}
}
