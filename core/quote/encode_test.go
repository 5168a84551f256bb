package quote_test

import (
	"bytes"
	"fmt"
	"strings"
	"testing"

	"ribband/core/engine/enginetest"
	"ribband/core/pack"
	"ribband/core/quote"
)

// What Encode writes Decode reads, and writes again byte for byte.
func TestQuoteRoundTrip(t *testing.T) {
	for name, s := range enginetest.DemoSpecs(t) {
		for _, desk := range []pack.Desk{pack.Buyer, pack.Yard} {
			e := enginetest.Demo()[desk]
			q := quote.Draft(e, enginetest.Answer(t, e, s))
			q.Details = quote.Details{Number: "N <1> & \u202f", Date: "2027-02-06",
				Customer: quote.Party{Name: "Ottilie", Address: []string{"7 Sluice Lane", ""}}}
			text := q.Encode()
			back, err := quote.Decode(text)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if again := back.Encode(); !bytes.Equal(text, again) {
				t.Errorf("%s: %s\nread and written again:\n%s", name, text, again)
			}
		}
	}
}

func TestDecodeErrors(t *testing.T) {
	text := string(enginetest.Frozen(t, enginetest.Small()[pack.Show], discounted(enginetest.Teasel(t, "top=top-fixed"),
		"0.03")).Encode())
	half := text[:len(text)/2]
	cutOff := fmt.Sprintf("reading a quote: line %d, column %d: the text ends too early; is it complete?",
		strings.Count(half, "\n")+1, len([]rune(half[strings.LastIndex(half, "\n"):])))
	change := func(old, put string) string {
		if strings.Count(text, old) == 0 {
			t.Fatalf("%q is not in the quote", old)
		}
		return strings.Replace(text, old, put, 1)
	}
	for name, c := range map[string]struct{ text, want string }{
		"nothing":        {"", "reading a quote: line 1, column 1: the text ends too early; is it complete?"},
		"cut off":        {half, cutOff},
		"something else": {`{"a": 1}`, "reading a quote: line 1, column 2: a: this key is not known here; correct or remove it"},
		"an empty object": {`{}`, "reading a quote: it is no quotation; choose the file that was saved when the " +
			"quotation was issued"},
		"two of them": {text + text, fmt.Sprintf("reading a quote: line %d, column 1: something stands behind the "+
			"end; remove it", strings.Count(text, "\n")+1)},
		"another format": {change(`"format": 1`, `"format": 2`),
			"reading a quote: a newer program wrote the file, in format 2; this one reads format 1: load the page " +
				"anew, or open the file where it was saved"},
		"another format with keys of its own": {change(`"format": 1`, `"format": 2, "hologram": true`),
			"reading a quote: a newer program wrote the file, in format 2; this one reads format 1: load the page " +
				"anew, or open the file where it was saved"},
		"an older format": {change(`"format": 1`, `"format": 0`),
			"reading a quote: the file is in format 0, and this program reads format 1; issue the quotation anew"},
		"a long language": {change(`"language": "en"`, `"language": "`+strings.Repeat("x", 301)+`"`),
			"reading a quote: language: 301 bytes are too many; shorten it to 300"},
		"another kind": {change(`"kind": "quote of a launch"`, `"kind": "invoice"`),
			"reading a quote: it is no quotation, but of the kind “invoice”; choose the file that was saved when the " +
				"quotation was issued"},
		"its spec": {change(`"share": "0.03"`, `"share": "3"`),
			`reading a quote: spec: reading a spec: discounts[0]: a discount needs a title and either a share between 0 and 1 or an amount above zero`},
		"a key twice": {change(`"number": "T-1",`, `"number": "T-1", "number": "T-2",`),
			"reading a quote: line 5, column 20: number: this key is there twice; remove one"},
		"no UTF-8": {change("Ottilie", "Ottili\xe9"),
			"reading a quote: line 9, column 20: the byte 0xe9 is not UTF-8; save the file as UTF-8, or correct the " +
				"text"},
		"unknown units": {change(`"number": "T-1",`, `"number": "T-1", "units": "furlongs",`),
			`reading a quote: units: “furlongs” are not known; ` +
				`write “sea”, “inland” or “us”, or leave them out`},
		"no date": {change(`"date": "2027-02-06"`, `"date": "2027-02-30"`),
			`reading a quote: date: “2027-02-30” is no date; write it as 2027-03-31`},
		"valid before": {change(`"date": "2027-02-06"`, `"date": "2028-02-06"`),
			`reading a quote: valid_until: 2027-03-08 is before the date, 2028-02-06; correct one of them`},
		"a long name": {change("Ottilie", strings.Repeat("O", 400)),
			`reading a quote: customer.name: 409 bytes are too many; shorten it to 300`},
		"too long": {strings.Repeat(" ", 4<<20+1),
			"reading a quote: 4194305 bytes are too many; at most 4194304"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := quote.Decode([]byte(c.text))
			enginetest.WantError(t, err, c.want)
		})
	}
}
