package paper_test

import (
	"encoding/json"
	"strings"
	"testing"

	"ribband/core/paper"
	"ribband/core/quote"
	"ribband/core/sheet"
)

// The customer's JSON is the quote without what is the yard's, to be opened again; the yard's is read by machines.
func TestJSONPapersAreRead(t *testing.T) {
	d := readDetails(t)
	q, y := papersOf(t, yardEngine(), frozenSpec, &d)
	again, err := quote.Decode([]byte(customer(t, q, paper.AsJSON)))
	if err != nil || string(again.Encode()) != string(q.ForCustomer().Encode()) ||
		strings.Contains(string(again.Encode()), `"cost"`) {
		t.Errorf("the quote is another after reading: %v", err)
	}
	var sheet struct {
		Cost      sheet.CostPart
		Purchases []sheet.PurchasePart
	}
	if err := json.Unmarshal([]byte(yard(t, y, q, paper.AsJSON)), &sheet); err != nil ||
		!sheet.Cost.Total.Equal(y.Cost.Total) || !sheet.Cost.Margin.Equal(y.Cost.Margin) ||
		len(sheet.Purchases) != len(y.Purchases) || asJSON(t, sheet.Cost) != asJSON(t, y.Cost) {
		t.Errorf("the yard sheet is another after reading: %v", err)
	}
}

func asJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A draft has neither number nor place to sign; a quotation has both. The yard sheet names the quotation.
func TestDraftAndQuotation(t *testing.T) {
	d := readDetails(t)
	draft, y := papersOf(t, yardEngine(), frozenSpec, nil)
	quotation, _ := papersOf(t, yardEngine(), frozenSpec, &d)
	for _, c := range []struct {
		q              *quote.Quote
		title, subject string
		signatures     int
	}{
		{draft, "Specification and price", "No quotation yet", 0},
		{quotation, "Quotation HL-2027-014", "Quotation HL-2027-014, 6\u00a0February\u00a02027, Ottilie Sandmark", 1},
	} {
		doc := parse(t, customer(t, c.q, paper.AsHTML))
		signed := 0
		for _, s := range doc.all("div") {
			if s.attr["class"] == "signatures" {
				signed++
			}
		}
		if h1 := doc.all("h1")[0].text; h1 != c.title || doc.all("title")[0].text != c.title || signed != c.signatures {
			t.Errorf("title %q with %d places to sign, want %q and %d", h1, signed, c.title, c.signatures)
		}
		if got := parse(t, yard(t, y, c.q, paper.AsHTML)).all("p")[1].text; got != c.subject {
			t.Errorf("the yard sheet is for %q, want %q", got, c.subject)
		}
	}
	if got := parse(t, yard(t, y, nil, paper.AsHTML)).all("p")[1].text; got != "No quotation yet" {
		t.Errorf("without a quote the yard sheet is for %q", got)
	}
}

// Nothing of the yard's is on a customer's paper; its JSON holds what the spec's own extra items say.
func TestCustomersPapersHoldNoCost(t *testing.T) {
	d := readDetails(t)
	q, y := papersOf(t, yardEngine(), frozenSpec, &d)
	secrets := []string{y.Cost.Total.Fixed(2), y.Cost.Labour.Fixed(2), y.Cost.Materials.Fixed(2),
		y.Cost.Margin.Percent(),
		"145", "4.5 h", "upplier"}
	for _, f := range []paper.Format{paper.AsText, paper.AsHTML, paper.AsCSV} {
		text := customer(t, q, f)
		for _, s := range secrets {
			if containsNumber(text, s) {
				t.Errorf("%s: %q is on the customer's paper", f, s)
			}
		}
	}
}
