package quote_test

import (
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/quote"
	"ribband/core/spec"
)

// The link of a quotation is the yard's page in the language of the quotation, with the boat alone: what a salesperson
// added is not in it, and it opens to the boat that the customer's paper specifies.
func TestLinkHasTheBoatAlone(t *testing.T) {
	e := enginetest.Demo()["show"]
	for _, s := range enginetest.DemoSpecs(t) {
		a, err := e.Answer(s)
		if err != nil {
			t.Fatal(err)
		}
		q := quote.Draft(e, a)
		page, fragment, ok := strings.Cut(q.Link(), "#")
		if !ok || page != e.Pack.Yard.Page+"?lang=en" || e.Pack.Yard.Page == "" {
			t.Fatalf("the link is %q", q.Link())
		}
		read, damage := spec.FromLink(fragment)
		want := spec.Spec{Format: s.Format, Hull: s.Hull, Choices: a.Spec.Choices, Keep: a.Spec.Keep, Use: a.Spec.Use}
		if len(damage) > 0 || string(read.Encode()) != string(want.Encode()) {
			t.Errorf("the link %s opens to %s, %v; want %s", fragment, read.Encode(), damage, want.Encode())
		}
		if q.ForCustomer().Link() != q.Link() {
			t.Error("the customer's paper has another link")
		}
	}
}

// A file that was changed by hand may name anything as its page; a link is followed without a look.
func TestLinkOfAForgedPage(t *testing.T) {
	for _, page := range []string{"", "javascript:alert(1)//", "http://yard.example/", "//yard.example", "HTTPS://x"} {
		q := quote.Quote{}
		q.Yard.Page = page
		if q.Link() != "" {
			t.Errorf("%q makes the link %q", page, q.Link())
		}
	}
}

// A revision stands on what the customer gets, and no file can have one that is no number of a revision.
func TestRevisionOfACustomersQuote(t *testing.T) {
	q := quote.Quote{Details: quote.Details{Number: "7", Revision: 2}}
	if q.ForCustomer().Revision != 2 {
		t.Error("the customer's quote has no revision")
	}
	for _, text := range []string{`{"revision":-1}`, `{"revision":10000}`} {
		if _, err := quote.DecodeDetails([]byte(text)); err == nil || !strings.Contains(err.Error(), "revision") {
			t.Errorf("%s: %v", text, err)
		}
	}
}
